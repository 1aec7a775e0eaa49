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
from coach.store.safe_files import read_ordinary, write_at

_WORD_BYTES: Final = 256
"""Room for a word, with its end of line."""

_WORDS: Final = 2
_OLD_PARTS: Final = 4
_NUMBER_AT: Final = 6


class LastEvent(NamedTuple):
    """The last event of a journal: its number, and the hash it carries."""

    seq: int
    hash: bytes


class LastSeenFile:
    """A small file that holds the latest reading with the last event, and behind or before it the word before.

    The two are written over in turn: a word that a power cut leaves in pieces costs no more than a second. To replace
    the file each time would take several times as long, and a painter waits for it at every key.
    """

    def __init__(self, path: Path) -> None:
        """Name the file; it is made by the first `write`."""
        self._path = path
        self._count: int | None = None

    def write(self, reading: Reading, last: LastEvent, *, is_synced: bool) -> None:
        """Put a new word in the place of the older one; a disk that refuses stops no painter."""
        if self._count is None:
            self._count = _number(self._parts())
        self._count += 1
        words = f"{reading.wall_ms} {reading.offset_s} {reading.elapsed_ms} {reading.boot or '-'}"
        text = f"{words} {last.seq} {last.hash.hex() or '-'} {self._count}"
        word = f"{text} {_sum(text)}".encode().ljust(_WORD_BYTES - 1) + b"\n"
        with suppress(OSError):
            write_at(self._path, _WORD_BYTES * (self._count % _WORDS), word, is_synced=is_synced)

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
        """Return the parts of the latest word; none where both are garbled."""
        try:
            found = read_ordinary(self._path, _WORDS * _WORD_BYTES)
        except OSError:
            return []
        words = (found[at : at + _WORD_BYTES] for at in range(0, len(found), _WORD_BYTES))
        return max(map(_parts_of, words), key=_number, default=[])


def _parts_of(word: bytes) -> list[str]:
    """Return the parts of a word without its sum; none where it is garbled.

    Older coaches left one word: at first of four parts and without a sum, then without a number of its own.
    """
    try:
        text = word.strip(b" \n\0").decode("ascii")
    except ValueError:
        return []
    parts = text.split()
    if len(parts) == _OLD_PARTS:
        return parts
    before, _, found = text.rpartition(" ")
    return parts[:-1] if found == _sum(before) else []


def _number(parts: list[str]) -> int:
    """Return the number of a word: 0 of one that an older coach left, -1 of none."""
    if not parts:
        return -1
    return int(parts[_NUMBER_AT]) if len(parts) > _NUMBER_AT else 0


def _sum(text: str) -> str:
    """Return what shows that the disk has garbled a word: a figure that it has changed reads as well as a right one."""
    return hashlib.blake2b(text.encode(), digest_size=4).hexdigest()
