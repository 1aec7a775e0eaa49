"""Files opened without following links, and files written whole or not at all: new ones, and ones that replace old."""

import errno
import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from coach.errors import CoachError
from coach.text import sanitized

PRIVATE: Final = 0o600
"""Mode of what the coach keeps for itself beside a plan."""

ORDINARY: Final = 0o666
"""Mode of what the painter asked for, less what the umask takes away."""

_NO_LINK: Final = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0)
_BINARY: Final = getattr(os, "O_BINARY", 0)
_NO_HARD_LINKS: Final = frozenset({errno.EPERM, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOSYS, errno.EMLINK})


class NotOrdinaryError(OSError):
    """A link, a folder, a pipe or a device stands where an ordinary file is due."""

    def __init__(self, path: Path) -> None:
        """Name what stands there."""
        super().__init__(errno.EINVAL, "this is not an ordinary file", str(path))


def check_ordinary(path: Path) -> bool:
    """Return whether a file is there; it is not opened, and a link is not followed.

    Raises:
        NotOrdinaryError: Something else than a file is there.
        OSError: It cannot be looked at.
    """
    try:
        found = path.lstat()
    except FileNotFoundError:
        return False
    if not stat.S_ISREG(found.st_mode):
        raise NotOrdinaryError(path)
    return True


def open_ordinary(path: Path, flags: int, mode: int = PRIVATE) -> int:
    """Return the descriptor of an ordinary file; a link is not followed and a pipe is not waited for.

    Raises:
        NotOrdinaryError: Something else than a file is there.
        OSError: It cannot be opened.
    """
    check_ordinary(path)
    descriptor = os.open(path, flags | _NO_LINK | _BINARY, mode)
    if stat.S_ISREG(os.fstat(descriptor).st_mode):
        return descriptor
    os.close(descriptor)
    raise NotOrdinaryError(path)


def read_ordinary(path: Path, most_bytes: int) -> bytes:
    """Return what a file holds, at most `most_bytes` of it; errors as for `open_ordinary`."""
    with os.fdopen(open_ordinary(path, os.O_RDONLY), "rb") as file:
        return file.read(most_bytes)


def stamp_of(path: Path) -> object:
    """Return what changes whenever a file may have changed; None where it is gone."""
    try:
        found = path.stat()
    except (OSError, ValueError):  # the latter for a name that no file can have
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


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


def create(path: Path, content: bytes, *, mode: int = ORDINARY) -> None:
    """Write a file that is not there yet; its name appears only when all of it is on the disk.

    Raises:
        FileExistsError: There is a file, a folder or a link of that name.
        OSError: It cannot be written; nothing is left of it.
        ValueError: No file can have this name.
    """
    if os.path.lexists(path):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))
    with _draft(_free_name(path.parent), content, mode) as draft:
        try:
            os.link(draft, path)  # unlike a renaming, it takes nobody's name
        except OSError as fault:
            if fault.errno not in _NO_HARD_LINKS:
                raise
            draft.rename(path)
        _sync_folder(path.parent)


def replace(path: Path, content: bytes, *, is_synced: bool = True, draft: Path | None = None) -> None:
    """Write a file anew, whole or not at all; it keeps its mode, and its group where that is allowed.

    Args:
        path: An ordinary file, or none yet; a new one is private.
        content: What it is to hold.
        is_synced: Whether it must be on the disk when this returns. A kill costs nothing without it, a power cut may
            bring back the old content.
        draft: Where the content is written first, for a caller that is the only one to write there: what a kill leaves
            is then cleared away the next time; None for a name of its own.

    Raises:
        OSError: It cannot be written; the file stays as it was.
    """
    is_there = check_ordinary(path)
    if draft is not None and check_ordinary(draft):
        draft.unlink()
    with _draft(draft or _free_name(path.parent), content, PRIVATE, is_synced=is_synced) as written:
        if is_there:
            found = path.stat()
            with suppress(OSError, AttributeError):  # a group one is not in; Windows has none
                os.chown(written, -1, found.st_gid)
            written.chmod(stat.S_IMODE(found.st_mode))
        written.replace(path)
        if is_synced:
            _sync_folder(path.parent)


def overwrite(path: Path, content: bytes, *, spare: Path | None) -> None:
    """Write over a file that is there: in its place, or as the same file where a new one would part it from others.

    Args:
        path: An ordinary file.
        content: What it is to hold.
        spare: Where the content lies whole, and synced, while the same file is written over; None for a file that is
            replaced whatever other names and owners it has.

    Raises:
        OSError: It cannot be written.
    """
    if spare is None or not _must_stay(path):
        replace(path, content)
        return
    replace(spare, content)
    write_in_place(path, content)
    spare.unlink()


def _must_stay(path: Path) -> bool:
    """Return whether a new file in its place would part it from its other names, or take it from its owner."""
    found = path.stat()
    return found.st_nlink > 1 or (hasattr(os, "geteuid") and found.st_uid != os.geteuid())


def write_in_place(path: Path, content: bytes) -> None:
    """Write a file anew that must stay the same file; one that is cut short holds a part of each.

    Raises:
        OSError: It cannot be written, or not to its end.
    """
    with os.fdopen(open_ordinary(path, os.O_RDWR), "r+b") as file:
        file.write(content)
        file.truncate()
        file.flush()
        os.fsync(file.fileno())


def write_at(path: Path, offset: int, content: bytes, *, is_synced: bool) -> None:
    """Write over a part of a small file; one that is missing is made.

    Raises:
        OSError: It cannot be written.
    """
    descriptor = open_ordinary(path, os.O_WRONLY | os.O_CREAT)
    try:
        os.lseek(descriptor, offset, os.SEEK_SET)
        os.write(descriptor, content)
        if is_synced:
            os.fsync(descriptor)
    finally:
        os.close(descriptor)


def _free_name(folder: Path) -> Path:
    return folder / f".coach-{os.urandom(6).hex()}-new"


@contextmanager
def _draft(draft: Path, content: bytes, mode: int, *, is_synced: bool = True) -> Iterator[Path]:
    """Lend a new file with this content; it is cleared away if it is still there."""
    descriptor = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_LINK | _BINARY, mode)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(content)
            file.flush()
            if is_synced:
                os.fsync(file.fileno())
        yield draft
    finally:
        with suppress(OSError):
            draft.unlink()


def _sync_folder(folder: Path) -> None:
    """Sync the new name too; where folders cannot be opened, the system does it in its own time."""
    with suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
