"""One coach at a time writes a journal: a lock on a file, freed by the system when the process dies.

The library for this (filelock) takes a fifth of what opening the coach may cost; the two system calls do not.
"""

import os
import sys
from contextlib import suppress
from pathlib import Path

if sys.platform == "win32":  # pragma: no cover  the tests run where flock is
    import msvcrt

    def _take(descriptor: int) -> None:
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _take(descriptor: int) -> None:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)


class WriterLock:
    """A lock that is held until `release`, or until the process ends."""

    def __init__(self, path: Path) -> None:
        """Name the file; it is made by `take` and left lying, because deleting it would open a race."""
        self._path = path
        self._descriptor: int | None = None

    def take(self) -> bool:
        """Take the lock; return False where another process holds it.

        Raises:
            OSError: The file cannot be made or opened, or its disk knows no locks.
        """
        descriptor = os.open(self._path, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            _take(descriptor)
        except (BlockingIOError, PermissionError):  # flock has the first, Windows the second
            os.close(descriptor)
            return False
        except OSError:
            os.close(descriptor)
            raise
        self._descriptor = descriptor
        return True

    def release(self) -> None:
        """Let the lock go, if it is held."""
        if self._descriptor is not None:
            with suppress(OSError):
                os.close(self._descriptor)
            self._descriptor = None
