"""The file a plan is written in: read as text, and saved whole or not at all, never over what another hand wrote."""

import codecs
import difflib
import errno
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.store.safe_files import check_ordinary, create, read_ordinary, replace, write_in_place
from coach.text import sanitized

if sys.platform == "win32":  # pragma: no cover  the tests run where flock is

    def _take(folder: Path) -> int | None:
        """Take nothing: Windows locks no folders, so that two coaches there are told apart a moment later only."""
        del folder

else:
    import fcntl

    def _take(folder: Path) -> int | None:
        """Return a folder's lock.

        Raises:
            TimeoutError: Another program keeps it longer than a painter waits.
        """
        descriptor = os.open(folder, os.O_RDONLY)
        for _ in range(_TRIES):
            try:
                fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                time.sleep(_PAUSE_S)
            except OSError:  # a disk that knows no locks still saves whole files
                return descriptor
            else:
                return descriptor
        os.close(descriptor)
        raise TimeoutError(errno.EAGAIN, "another program holds the folder")


MOST_BYTES: Final = 2 * 2**20
"""Size of the largest plan that is read: some ten thousand passages with all their figures."""

_PAUSE_S: Final = 0.05
_TRIES: Final = 40
"""How often another program's lock is tried: for two seconds."""

_MOST_SEPARATORS: Final = 80_000
"""Lines and commas of a plan of 3,000 passages with all their figures, twice over."""

_EDITED: Final = ".edited"
_SAVING: Final = ".saving"
_MOST_VERSIONS: Final = 1000


class PlanFileError(CoachError):
    """The file of a plan cannot be read as text."""


class PlanSavingError(CoachError):
    """A plan could not be saved; what lay on the disk lies there still."""


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
            return read_ordinary(Path(os.path.realpath(self.path)), MOST_BYTES + 1)
        except FileNotFoundError as error:
            raise PlanFileError("there is no such file", where=self.name) from error
        except (OSError, ValueError) as error:  # the latter for a name that no file can have
            why = getattr(error, "strerror", None) or error
            raise PlanFileError(f"the file cannot be read: {why}", where=self.name) from error


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """What became of a plan that was to be saved.

    Attributes:
        path: The plan's file.
        kept_beside: Where the new text lies instead, because the plan's file was changed meanwhile; else None.
        difference: What the new text would change in that file, as the lines of a unified diff without line ends,
            sanitized to show; or the one sentence why that file cannot be read; empty where the plan was saved.
    """

    path: Path
    kept_beside: Path | None = None
    difference: tuple[str, ...] = ()


def save_plan(path: Path, text: str, *, read_text: str | None) -> Saved:
    """Save a plan's text in its file, whole or not at all.

    The file keeps its mode, its kind of line ends and its byte order mark; a link stays a link, and what it leads to is
    written. One with further names or of another owner stays the same file: it is written over, once the new text lies
    beside it. A file that is gone is made again. Where another hand has changed the file since `read_text` was read, it
    is left alone and the text goes into a new file beside it, `NAME.edited.yaml`.

    Two coaches wait for each other, at most two seconds. An editor that writes in the very instant of the saving is
    not waited for.

    Args:
        path: The plan's file.
        text: The new text.
        read_text: The text that was read from the file, as `PlanFile.read` returns it; None for a plan that has no file
            yet.

    Raises:
        PlanSavingError: The text cannot be saved: a folder or a circle of links stands there, the folder or the file is
            write-protected, the disk is full.
    """
    where = sanitized(str(path))
    content = text.encode("utf-8")
    if len(content) > MOST_BYTES:
        raise PlanSavingError(f"the plan would be larger than {MOST_BYTES // 2**20} MiB", where=where)
    try:
        target = Path(os.path.realpath(path))
        with _folder_held(target.parent):
            return _save(path, target, text, read_text)
    except OSError as error:
        raise PlanSavingError(f"the plan cannot be saved: {error.strerror or error}", where=where) from error


def _save(path: Path, target: Path, text: str, read_text: str | None) -> Saved:
    if target.is_symlink():
        raise PlanSavingError("this is a link that leads in a circle; name the plan's file", where=sanitized(str(path)))
    if target.exists() and not target.is_file():
        raise PlanSavingError("this is not a file; name the plan's YAML file", where=sanitized(str(path)))
    if not target.exists():
        create(target, text.encode())
        return Saved(path=path)
    difference = _difference(path, target, text, read_text)
    if difference is not None:
        return Saved(path=path, kept_beside=_keep_beside(path, text), difference=difference)
    if not os.access(target, os.W_OK):
        raise PlanSavingError("the plan cannot be saved: the file is write-protected", where=sanitized(str(path)))
    content = _as_before(target.read_bytes(), text)
    if _must_stay(target):
        _write_in_place(path, target, content)
    else:
        replace(target, content)
    return Saved(path=path)


def _must_stay(target: Path) -> bool:
    """Return whether a new file in its place would part it from its other names, or take it from its owner."""
    found = target.stat()
    return found.st_nlink > 1 or (hasattr(os, "geteuid") and found.st_uid != os.geteuid())


def _write_in_place(path: Path, target: Path, content: bytes) -> None:
    """Write over a file once the new text lies synced beside it: a saving that is cut short can be made good."""
    beside = _saving_path(path)
    replace(beside, content)
    write_in_place(target, content)
    beside.unlink()


def _saving_path(path: Path) -> Path:
    return path.with_name(f"{path.stem}{_SAVING}{path.suffix}")


def cut_saving(path: Path) -> Path | None:
    """Return the file beside a plan that holds the whole text of a saving that was cut short; None where none was."""
    beside = _saving_path(path)
    try:
        whole = read_ordinary(beside, MOST_BYTES + 1) if check_ordinary(beside) else None
        if whole is None or path.read_bytes() != whole:
            return None if whole is None else beside
        beside.unlink()  # all of it was written; only the clearing away was cut
    except OSError:
        return None
    return None


def finish_saving(path: Path) -> None:
    """Write the text of a saving that was cut short into the plan.

    Raises:
        PlanSavingError: It cannot be written; it lies beside the plan still.
    """
    beside = _saving_path(path)
    try:
        write_in_place(Path(os.path.realpath(path)), read_ordinary(beside, MOST_BYTES + 1))
        beside.unlink()
    except OSError as error:
        what = f"the plan cannot be saved: {error.strerror or error}"
        raise PlanSavingError(what, where=sanitized(str(path))) from error


def beyond_size(text: str) -> str:
    """Return what to say before a plan far beyond what the coach is built for is worked on; empty for any other."""
    if text.count("\n") + text.count(",") <= _MOST_SEPARATORS:
        return ""
    return "this plan is far longer than the coach is built for (3,000 passages): each answer may take minutes"


def _difference(path: Path, target: Path, text: str, read_text: str | None) -> tuple[str, ...] | None:
    """Return how the text differs from a file that is not what was read; None where it is that still."""
    try:
        on_disk = PlanFile(target).read()
    except PlanFileError as error:
        return (str(error),)
    if on_disk in (read_text, text):
        return None
    name = path.name
    lines = difflib.unified_diff(
        on_disk.split("\n"), text.split("\n"), f"{name} on the disk", f"{name} edited here", lineterm=""
    )
    return tuple(sanitized(line) for line in lines)


def _as_before(old: bytes, text: str) -> bytes:
    """Return the text with the line ends and the byte order mark of the file it replaces."""
    content = text.encode()
    if b"\r\n" in old:
        content = content.replace(b"\n", b"\r\n")
    mark = codecs.BOM_UTF8 if old.startswith(codecs.BOM_UTF8) and not content.startswith(codecs.BOM_UTF8) else b""
    return mark + content


def _keep_beside(path: Path, text: str) -> Path:
    for number in range(1, _MOST_VERSIONS):
        ending = _EDITED if number == 1 else f"{_EDITED}-{number}"
        beside = path.with_name(f"{path.stem}{ending}{path.suffix}")
        with suppress(FileExistsError):
            create(beside, text.encode())
            return beside
    what = f"there are {_MOST_VERSIONS - 1} edited versions beside the plan already; clear them away"
    raise PlanSavingError(what, where=sanitized(str(path)))


@contextmanager
def _folder_held(folder: Path) -> Iterator[None]:
    """Hold a folder against other coaches that save in it."""
    descriptor = _take(folder)
    try:
        yield
    finally:
        if descriptor is not None:
            os.close(descriptor)
