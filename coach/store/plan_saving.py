"""A plan saved whole or not at all, and never over what somebody else has written meanwhile."""

import codecs
import difflib
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.store.new_file import create, replace
from coach.store.plan_file import MOST_BYTES, PlanFile, PlanFileError
from coach.text import sanitized

if sys.platform == "win32":  # pragma: no cover  the tests run where flock is

    def _take(folder: Path) -> int | None:
        """Take nothing: Windows locks no folders, so that two coaches there are told apart a moment later only."""
        del folder

else:
    import fcntl

    def _take(folder: Path) -> int | None:
        descriptor = os.open(folder, os.O_RDONLY)
        with suppress(OSError):  # a disk that knows no locks still saves whole files
            fcntl.flock(descriptor, fcntl.LOCK_EX)
        return descriptor


_EDITED: Final = ".edited"
_MOST_VERSIONS: Final = 1000


class PlanSavingError(CoachError):
    """A plan could not be saved; what lay on the disk lies there still."""


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
    written. A file that is gone is made again. Where another hand has changed the file since `read_text` was read, it
    is left alone and the text goes into a new file beside it, `NAME.edited.yaml`.

    Two coaches wait for each other. An editor that writes in the very instant of the saving is not waited for.

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
    replace(target, _as_before(target.read_bytes(), text))
    return Saved(path=path)


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
