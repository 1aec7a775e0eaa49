"""The file a plan is written in."""

import codecs
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.text import sanitized

MOST_BYTES: Final = 2 * 2**20
"""Size of the largest plan that is read: some ten thousand passages with all their figures."""


class PlanFileError(CoachError):
    """The file of a plan cannot be read as text."""


class PlanFile:
    """A plan's file on the disk."""

    def __init__(self, path: Path) -> None:
        """Name the file; nothing is read yet."""
        self.path = path
        self.name = sanitized(str(path))

    def stamp(self) -> object:
        """Return what changes whenever the file may have changed; None where it is gone."""
        try:
            found = self.path.stat()
        except OSError:
            return None
        return found.st_mtime_ns, found.st_size, found.st_ino

    def read(self) -> str:
        """Return the text, with every kind of line end as a newline.

        Raises:
            PlanFileError: The file is missing, not a file, too large, or not text in UTF-8.
        """
        data = self._bytes()
        if len(data) > MOST_BYTES:
            raise PlanFileError(f"the file is larger than {MOST_BYTES // 2**20} MiB; a plan is text", where=self.name)
        if data.startswith((b"\xff\xfe", b"\xfe\xff")):
            raise PlanFileError("the file is saved as UTF-16; save it as UTF-8", where=self.name)
        if b"\0" in data:
            raise PlanFileError("this is not a text file; a plan is YAML text", where=self.name)
        data = data.removeprefix(codecs.BOM_UTF8).replace(b"\r\n", b"\n").replace(b"\r", b"\n")
        try:
            return data.decode("utf-8")
        except UnicodeDecodeError as error:
            before = data[: error.start].decode("utf-8")
            line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
            what = f"byte 0x{data[error.start]:02X} is not UTF-8; save the file as UTF-8"
            raise PlanFileError(what, where=f"{self.name}:{line}:{column}") from error

    def _bytes(self) -> bytes:
        try:
            if self.path.exists() and not self.path.is_file():
                raise PlanFileError("this is not a file; name the plan's YAML file", where=self.name)
            with self.path.open("rb") as file:
                return file.read(MOST_BYTES + 1)
        except FileNotFoundError as error:
            raise PlanFileError("there is no such file", where=self.name) from error
        except OSError as error:
            raise PlanFileError(f"the file cannot be read: {error.strerror}", where=self.name) from error


def journal_path(plan_path: Path) -> Path:
    """Return where the journal of a plan lies: beside it, NAME.journal.

    Raises:
        PlanFileError: The path has no name, such as `/`.
    """
    if not plan_path.name:
        raise PlanFileError("this is not a file; name the plan's YAML file", where=sanitized(str(plan_path)))
    return plan_path.with_suffix(".journal")
