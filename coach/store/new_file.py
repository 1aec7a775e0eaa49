"""A file written whole or not at all: a new one that takes nobody's name, or one in the place of its old self."""

import errno
import os
import stat
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from coach.errors import CoachError
from coach.text import sanitized


def write_new(target: Path, content: bytes, *, error: type[CoachError]) -> None:
    """Write a file that is not there yet, whole or not at all, and say in one sentence why it cannot be.

    Args:
        target: File to write; a link of that name counts as a file, wherever it leads.
        content: What it holds.
        error: Kind of the error.

    Raises:
        CoachError: Of the kind given: there is a folder or a file of that name, or it cannot be written.
    """
    where = sanitized(str(target))
    try:
        if target.is_dir():
            raise error("this is a folder; name a file to write", where=where)
        create(target, content)
    except FileExistsError as fault:
        raise error("there is such a file already; name another", where=where) from fault
    except OSError as fault:
        raise error(f"the file cannot be written: {fault.strerror or fault}", where=where) from fault
    except ValueError as fault:  # a name with a character that no file's name can hold
        raise error("no file can have this name", where=where) from fault


def create(path: Path, content: bytes) -> None:
    """Write a file that is not there yet; it appears only when all of it is on the disk.

    Raises:
        FileExistsError: There is a file, a folder or a link of that name.
        OSError: It cannot be written; nothing is left of it.
        ValueError: No file can have this name.
    """
    if os.path.lexists(path):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
    with _draft(path.parent, content) as draft:
        path.open("xb").close()  # the name is taken, so that a file that came this moment is not overwritten
        try:
            _take_place(draft, path)
        except BaseException:
            with suppress(OSError):
                path.unlink()
            raise


def replace(path: Path, content: bytes) -> None:
    """Write a file anew, whole or not at all; it keeps its mode.

    Raises:
        OSError: It cannot be written; the file stays as it was.
    """
    with _draft(path.parent, content) as draft:
        _take_place(draft, path)


@contextmanager
def _draft(folder: Path, content: bytes) -> Iterator[Path]:
    """Lend a file of a name of its own with this content, synced; it is cleared away if it is still there."""
    descriptor, name = tempfile.mkstemp(prefix=".coach-", suffix="-new", dir=folder)
    draft = Path(name)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        yield draft
    finally:
        with suppress(OSError):
            draft.unlink()


def _take_place(draft: Path, path: Path) -> None:
    """Let a draft take the place, the name and the mode of a file."""
    draft.chmod(stat.S_IMODE(path.stat().st_mode))
    draft.replace(path)
    _sync_folder(path.parent)


def _sync_folder(folder: Path) -> None:
    """Sync the new name too; where folders cannot be opened, the system does it in its own time."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
