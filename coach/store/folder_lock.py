"""The lock by which two coaches that save in one folder wait for each other."""

import errno
import os
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

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


_PAUSE_S: Final = 0.05
_TRIES: Final = 40
"""How often another program's lock is tried: for two seconds."""


@contextmanager
def folder_held(folder: Path) -> Iterator[None]:
    """Hold a folder against other coaches that save in it.

    Raises:
        TimeoutError: Another program keeps it longer than a painter waits.
    """
    descriptor = _take(folder)
    try:
        yield
    finally:
        if descriptor is not None:
            os.close(descriptor)
