"""The file a plan is written in: read as text, and saved whole or not at all, never over what another hand wrote."""

import codecs
import difflib
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.store.folder_lock import folder_held
from coach.store.pair_saving import SHAPES_ENDING, Pair, content_of, finish_pair, keep_beside, save_pair, spare_path
from coach.store.safe_files import check_ordinary, create, overwrite, read_ordinary, stamp_of, write_in_place
from coach.text import sanitized

MOST_BYTES: Final = 2 * 2**20
"""Size of the largest plan that is read: some ten thousand passages with all their figures."""

_MOST_SEPARATORS: Final = 80_000
"""Lines and commas of a plan of 3,000 passages with all their figures, twice over."""


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
        return stamp_of(self.path)

    def read(self) -> str:
        """Return the text, with every kind of line end as a newline; a saving that was cut short is finished first.

        Raises:
            PlanFileError: The file is missing, not a file, too large, or not text in UTF-8.
            CutSavingError: A saving of the plan and its shapes cannot be finished.
        """
        finish_pair(self.path)
        return self._text()

    def _text(self) -> str:
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
        shapes_beside: Where the new shapes lie instead, for the same reason; else None.
        difference: What the new text would change in that file, as the lines of a unified diff without line ends,
            sanitized to show; or the one sentence why that file cannot be read; empty where the plan was saved.
    """

    path: Path
    kept_beside: Path | None = None
    shapes_beside: Path | None = None
    difference: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapesToSave:
    """The shapes that are saved with a plan as one.

    Attributes:
        path: Their file, beside the plan.
        content: What it is to hold.
        read_content: What was read from it; None for shapes that have no file yet.
    """

    path: Path
    content: bytes
    read_content: bytes | None


def save_plan(path: Path, text: str, *, read_text: str | None, shapes: ShapesToSave | None = None) -> Saved:
    """Save a plan's text in its file, whole or not at all, and its shapes with it: both or neither.

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
        shapes: The shapes that go with it. Where another hand has changed them, the plan is not saved either, and both
            lie beside.

    Raises:
        PlanSavingError: The text cannot be saved: a folder or a circle of links stands there, the folder or the file is
            write-protected, the disk is full.
        CutSavingError: An earlier saving of the plan and its shapes cannot be finished.
    """
    where = sanitized(str(path))
    content = text.encode("utf-8")
    if len(content) > MOST_BYTES:
        raise PlanSavingError(f"the plan would be larger than {MOST_BYTES // 2**20} MiB", where=where)
    finish_pair(path)
    try:
        target = Path(os.path.realpath(path))
        with folder_held(target.parent):
            return _save(path, target, text, read_text, shapes)
    except OSError as error:
        raise PlanSavingError(f"the plan cannot be saved: {error.strerror or error}", where=where) from error


def _save(path: Path, target: Path, text: str, read_text: str | None, shapes: ShapesToSave | None) -> Saved:
    if target.is_symlink():
        raise PlanSavingError("this is a link that leads in a circle; name the plan's file", where=sanitized(str(path)))
    if target.exists() and not target.is_file():
        raise PlanSavingError("this is not a file; name the plan's YAML file", where=sanitized(str(path)))
    difference = _difference(path, target, text, read_text) if target.exists() else None
    held = None if shapes is None else content_of(shapes.path)
    is_other = shapes is not None and held not in (shapes.read_content, shapes.content)
    if difference is not None or is_other:
        kept = keep_beside(path, path.suffix, text.encode())
        drawn = None if shapes is None else keep_beside(shapes.path, SHAPES_ENDING, shapes.content)
        return Saved(path=path, kept_beside=kept, shapes_beside=drawn, difference=difference or ())
    if target.exists() and not os.access(target, os.W_OK):
        raise PlanSavingError("the plan cannot be saved: the file is write-protected", where=sanitized(str(path)))
    before = content_of(target)
    content = text.encode() if before is None else _as_before(before, text)
    if shapes is not None:
        both = Pair(plan=target, shapes=shapes.path, before=(before, held), after=(content, shapes.content))
        save_pair(path, both)
    elif before is None:
        create(target, content)
    else:
        overwrite(target, content, spare=spare_path(path))
    return Saved(path=path)


def cut_saving(path: Path) -> Path | None:
    """Return the file beside a plan that holds the whole text of a saving that was cut short; None where none was."""
    beside = spare_path(path)
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
    beside = spare_path(path)
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
        on_disk = PlanFile(target)._text()  # noqa: SLF001  the folder is held, so that nothing can be finished
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
