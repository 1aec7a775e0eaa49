"""Word left on the disk, second by second, that the coach is running.

It is what makes a killed program cost nothing: work counts up to the last second the screen had shown. The
word lies in a file of its own, because it is overwritten and the journal never is; losing it costs only that
last stretch.
"""

import io
import os
from contextlib import suppress
from pathlib import Path

from coach.journal.reading import Reading

_BYTES = 128


class LastSeenFile:
    """A small file that always holds the latest reading."""

    def __init__(self, path: Path) -> None:
        """Name the file; it is made by the first `write`."""
        self._path = path
        self._file: io.FileIO | None = None

    def write(self, reading: Reading) -> None:
        """Overwrite the file with a reading and sync it; a disk that refuses stops no painter."""
        line = f"{reading.wall_ms} {reading.offset_s} {reading.elapsed_ms} {reading.boot or '-'}"
        with suppress(OSError):
            if self._file is None:
                self._file = io.FileIO(self._path, "r+" if self._path.exists() else "w+")
            self._file.seek(0)
            self._file.write(line.ljust(_BYTES).encode("ascii"))
            os.fsync(self._file.fileno())

    def read(self) -> Reading | None:
        """Return the latest reading, or None where there is none that can be read."""
        try:
            with self._path.open("rb") as file:
                wall_ms, offset_s, elapsed_ms, boot = file.read(_BYTES).decode("ascii").split()
            return Reading(
                wall_ms=int(wall_ms),
                offset_s=int(offset_s),
                elapsed_ms=int(elapsed_ms),
                boot="" if boot == "-" else boot,
            )
        except (OSError, ValueError):
            return None

    def close(self) -> None:
        """Let the file go; it stays for the next opening."""
        if self._file is not None:
            self._file.close()
            self._file = None
