"""Word left on the disk, second by second, that the coach is running, and of the last event it has recorded.

It is what makes a killed program cost nothing: work counts up to the last second the screen had shown. And it is what
shows that the end of a journal was cut off, which no hash within the journal can.
"""

import hashlib
from contextlib import suppress
from pathlib import Path
from typing import Final, NamedTuple

from coach.journal.body import reading_of
from coach.journal.reading import Reading
from coach.store.safe_files import read_ordinary, replace

_MOST_BYTES: Final = 512
_OLD_PARTS: Final = 4


class LastEvent(NamedTuple):
    """The last event of a journal: its number, and the hash it carries."""

    seq: int
    hash: bytes


class LastSeenFile:
    """A small file that always holds the latest reading, and the last event."""

    def __init__(self, path: Path) -> None:
        """Name the file; it is made by the first `write`."""
        self._path = path
        self._draft = path.with_name(path.name + "-new")

    def write(self, reading: Reading, last: LastEvent, *, is_synced: bool) -> None:
        """Put a new word in the place of the old one; a disk that refuses stops no painter.

        The new name is not synced: a power cut may bring back the word before, never half a word.
        """
        words = f"{reading.wall_ms} {reading.offset_s} {reading.elapsed_ms} {reading.boot or '-'}"
        text = f"{words} {last.seq} {last.hash.hex() or '-'}"
        with suppress(OSError):
            replace(self._path, f"{text} {_sum(text)}\n".encode(), is_synced=is_synced, draft=self._draft)

    def read(self) -> Reading | None:
        """Return the latest reading, or None where there is none that can be read."""
        parts = self._parts()
        try:
            wall_ms, offset_s, elapsed_ms = map(int, parts[:3])
            return reading_of(wall_ms, offset_s, elapsed_ms, "" if parts[3] == "-" else parts[3])
        except (ValueError, IndexError):
            return None

    def last(self) -> LastEvent | None:
        """Return the last event that was recorded, or None where there is no word of it that can be read."""
        parts = self._parts()[_OLD_PARTS:]
        if not parts:
            return None
        return LastEvent(int(parts[0]), b"" if parts[1] == "-" else bytes.fromhex(parts[1]))

    def _parts(self) -> list[str]:
        """Return the words of the file; none where it is garbled. An older coach left four words and no sum."""
        try:
            text = read_ordinary(self._path, _MOST_BYTES).decode("ascii").strip()
        except (OSError, ValueError):
            return []
        parts = text.split()
        if len(parts) == _OLD_PARTS:
            return parts
        before, _, found = text.rpartition(" ")
        return parts[:-1] if found == _sum(before) else []


def _sum(text: str) -> str:
    """Return what shows that the disk has garbled a word: a figure that it has changed reads as well as a right one."""
    return hashlib.blake2b(text.encode(), digest_size=4).hexdigest()
