"""The journal: an SQLite database that only grows.

Each append is one transaction, synced to the disk before it returns. Two triggers keep the table append-only even
against our own mistakes; a hash in each event, over itself and all before it, shows what another hand has changed.
"""

import os
import sqlite3
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing, suppress
from itertools import chain
from pathlib import Path
from typing import Any, Final

from coach.journal.body import NewerEventError, body_of, check_clock, event_of, hash_of, version_of
from coach.journal.events import Event, JournalError
from coach.journal.reading import Reading
from coach.store.journal_database import (
    FAILURES,
    RAISED,
    WAIT_S,
    has_hashes,
    in_words,
    is_of_version_2,
    make,
    open_to_append,
    open_to_look,
    sentence_for,
)
from coach.store.last_seen import LastEvent, LastSeenFile
from coach.text import sanitized

MOST_JOURNALS: Final = 9
"""A plan has at most so many journals beside it: its own, and those in which painting went on."""

_APPEND: Final = "INSERT INTO event VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)"
_AFTER: Final = """
SELECT seq, wall_ms, offset_s, elapsed_ms, boot, kind, version, body, {hash} FROM event WHERE seq > ? ORDER BY seq
"""
_LAST: Final = "SELECT max(seq) FROM event"
_WRITE_VERSION, _READ_VERSION = 18, 19
"""Bytes of a database's head. Source: SQLite documentation, Database File Format 1.3."""

_CHANGED: Final = "event {}, or one before it, is not as it was recorded"

_Row = tuple[Any, ...]


def seen_path(path: Path) -> Path:
    """Return where the last word of the coach on a journal lies."""
    return path.with_name(path.name + "-seen")


def numbered(path: Path, number: int) -> Path:
    """Return the name of a journal in which painting goes on: `NAME.journal-2` and so on."""
    return path.with_name(f"{path.name.rpartition('.')[0]}.journal-{number}")


def go_on_beside(path: Path, rows: Sequence[_Row]) -> Path:
    """Make the next journal beside one, with these rows, and return where it lies.

    Raises:
        JournalError: It cannot be made, or there are too many already.
    """
    for number in range(2, MOST_JOURNALS + 1):
        other = numbered(path, number)
        if os.path.lexists(other):
            continue
        make(other, rows)
        return other
    what = f"there are {MOST_JOURNALS} journals beside the plan already; clear them away"
    raise JournalError(what, where=sanitized(str(path)))


def _rows(connection: sqlite3.Connection, seq: int = 0) -> Iterable[_Row]:
    return connection.execute(_AFTER.format(hash="hash" if has_hashes(connection) else "NULL"), (seq,))


def _chained(connection: sqlite3.Connection, most: int, later: Iterable[_Row] = ()) -> list[_Row]:
    """Return at most so many rows of a journal, and later ones, with their hashes, as far as each follows the last."""
    kept: list[_Row] = []
    before = b""
    with suppress(*FAILURES):
        for row in chain(_rows(connection), later):
            expected = hash_of(before, row[:-1])
            if row[0] != len(kept) + 1 or row[0] > most or row[-1] not in (None, expected):
                break
            kept.append((*row[:-1], expected))
            before = expected
    return kept


class SqliteJournal:
    """A journal's file. One thread, one connection; `append` returns when the event is on the disk.

    Attributes:
        path: Where it lies; where that is lost under the running coach, another file beside it takes its place.
        name: The same, sanitized to show.
        damage: Why it was not read to its end; empty as long as no damage was met. Nothing more is put into a
            damaged journal: what would be recorded there would rest on events that are not known.
        is_newer: Whether the damage is an event of a newer coach.
        notice: What the painter must be told though painting goes on; empty where there is nothing.
    """

    def __init__(self, path: Path, *, writes: bool, wait_s: float = WAIT_S) -> None:
        """Open the journal; with `writes` it is made where there is none.

        Raises:
            JournalError: It cannot be opened, is of a newer coach or of another program, or is damaged and
                was to be written.
        """
        self.damage = self.notice = ""
        self.is_newer = False
        self._open(path, writes=writes, wait_s=wait_s)

    def _open(self, path: Path, *, writes: bool, wait_s: float) -> None:
        self.path, self.name = path, sanitized(str(path))
        self._seen = LastSeenFile(seen_path(path))
        self._word = self._seen.last()  # read before the events, for another coach may be adding to both
        self._connection = open_to_append(path) if writes else open_to_look(path, wait_s=wait_s)
        self._last = LastEvent(0, b"")
        self._is_chained = self._is_read = False
        self._copy: bytes | None = None
        self._since_copy: list[tuple[object, ...]] = []
        with in_words(self.name):
            self._is_hashed = has_hashes(self._connection)
        self._files = self._files_now()

    def append(self, event: Event) -> Event:
        """Put one event on the disk and return it with its number.

        Raises:
            JournalError: It is not on the disk; the journal is as it was.
        """
        if not self._is_read:
            deque(self.after(self._last.seq), maxlen=0)
        if self.damage:
            raise JournalError(f"not recorded: {self.damage}")
        check_clock(event.at)
        self.look_after()
        at, seq = event.at, self._last.seq + 1
        row = (
            seq,
            at.wall_ms,
            at.offset_s,
            at.elapsed_ms,
            at.boot,
            event.kind.value,
            version_of(event),
            body_of(event),
        )
        last = LastEvent(seq, hash_of(self._last.hash, row))
        with in_words(self.name, "not recorded: "):
            self._commit((*row, last.hash))
        self._last, self._is_hashed, self._is_chained = last, True, True
        self._since_copy.append((*row, last.hash))
        self._files = self._files_now()
        self._seen.write(at, last, is_synced=False)
        return event._replace(seq=seq)

    def _commit(self, row: tuple[object, ...]) -> None:
        """Put one row on the disk; the first of version 2 brings the journal to that version."""
        try:
            self._connection.execute("BEGIN IMMEDIATE")
            if (self._connection.execute(_LAST).fetchone()[0] or 0) != self._last.seq:
                raise JournalError("not recorded: another program has written to the journal", where=self.name)
            if not self._is_hashed:
                for step in RAISED:
                    self._connection.execute(step)
            self._connection.execute(_APPEND, row)
            self._connection.execute("COMMIT")
        finally:
            if self._connection.in_transaction:
                with suppress(sqlite3.Error):
                    self._connection.execute("ROLLBACK")

    def after(self, seq: int) -> Iterator[Event]:
        """Return every event with a higher number, in order, as far as the file can be read and is as it was written.

        Where the file is damaged, or holds an event of a newer coach, the events before that come, and
        `damage` says what happened.
        """
        reached = min(seq, self._last.seq)
        try:
            for row in _rows(self._connection, reached):
                number, wall_ms, offset_s, elapsed_ms, boot, kind, version, body, _ = row
                is_next = number > self._last.seq
                last = self._following(row) if is_next else self._last
                at = Reading(wall_ms=wall_ms, offset_s=offset_s, elapsed_ms=elapsed_ms, boot=boot)
                event = event_of(number, at, kind, version, body)
                if is_next:
                    self._last, self._is_chained = last, row[-1] is not None
                reached = number
                if number > seq:
                    yield event
            self._check_end()
        except FAILURES as error:
            self._say_damage(sentence_for(error), reached)
        except JournalError as error:
            self.is_newer = isinstance(error, NewerEventError)
            self._say_damage(error.what, reached)

    def _following(self, row: tuple[Any, ...]) -> LastEvent:
        """Return the next event as the last one.

        Raises:
            JournalError: It is not the one that followed.
        """
        seq, held = self._last.seq + 1, row[-1]
        if row[0] != seq:
            raise JournalError(f"event {seq} is missing")
        expected = hash_of(self._last.hash, row[:-1])
        is_recorded = self._word is None or self._word.seq != seq or self._word.hash in (b"", expected)
        if (held is None and self._is_chained) or held not in (None, expected) or not is_recorded:
            raise JournalError(_CHANGED.format(seq))
        return LastEvent(seq, expected)

    def _check_end(self) -> None:
        """Make sure that the end is there, or say that it is not known.

        Raises:
            JournalError: It is not.
        """
        seq = self._last.seq
        if self._word is not None and self._word.seq > seq:
            raise JournalError(f"its end is missing: event {self._word.seq} was the last")
        if seq and not self._is_chained and (self._is_hashed or is_of_version_2(self._connection)):
            raise JournalError(_CHANGED.format(seq))
        if self._is_chained and self._word is None and not self._is_read:
            what = f"whether its end is complete cannot be told, for {seen_path(self.path).name} is missing"
            self.notice = f"{self.name}: {sanitized(what)}"
        self._is_read = True

    def _say_damage(self, what: str, reached: int) -> None:
        self.damage = f"{self.name}: {what}; it is read up to event {reached}"

    def leave_word(self, reading: Reading) -> None:
        """Leave word that the coach is running, and say in `notice` if the journal is not there any more."""
        if self.damage or not self._is_read:
            return
        try:
            self.look_after()
        except JournalError as error:
            self.notice = str(error)
        else:
            self._seen.write(reading, self._last, is_synced=True)

    def last_word(self) -> Reading | None:
        """Return the clocks when the coach was last seen running, or None where there is no word of it."""
        return self._seen.read()

    def look_after(self) -> None:
        """Make sure that the file is still there, and go on in a new one beside it, with all its events, where not.

        Raises:
            JournalError: No file can be made, or what was recorded is lost; nothing more can be recorded.
        """
        now = self._files_now()
        if now == self._files or (_are_same(self._files, now) and self._is_as_recorded()):
            self._files = now
            if self._copy is None:
                with in_words(self.name):
                    self._copy, self._since_copy = self._connection.serialize(), []
            return
        rows = self._rows_recorded()
        if rows is None:
            self.damage = f"{self.name}: it was deleted or changed by another hand while the coach ran"
            raise JournalError(f"not recorded: {self.damage}")
        lost = self.path.name
        path = go_on_beside(self.path, rows)
        with suppress(sqlite3.Error):
            self._connection.close()
        self._open(path, writes=True, wait_s=WAIT_S)
        deque(self.after(0), maxlen=0)
        what = f"{lost} was deleted or changed by another hand; painting goes on in {path.name}"
        self.notice = sanitized(what)

    def _rows_recorded(self) -> list[_Row] | None:
        """Return every row that was recorded, from what is open still or from the copy; None where neither has all."""
        rows = _chained(self._connection, self._last.seq)
        if not self._are_all(rows) and self._copy is not None:
            with closing(sqlite3.connect(":memory:")) as copy:
                image = bytearray(self._copy)
                image[_WRITE_VERSION] = image[_READ_VERSION] = 1  # what lies in memory has no write-ahead log
                copy.deserialize(bytes(image))
                rows = _chained(copy, self._last.seq, self._since_copy)
        return rows if self._are_all(rows) else None

    def _are_all(self, rows: list[_Row]) -> bool:
        return (rows[-1][-1] if rows else b"") == self._last.hash

    def _files_now(self) -> tuple[object, ...]:
        """Return what tells whether the file, and the log beside it, are still those that are open."""
        log = _stat(self.path.with_name(self.path.name + "-wal"))
        here = _stat(self.path)
        if here is None:
            return (None, None, None)
        return ((here.st_dev, here.st_ino), log and log.st_ino, (here.st_size, here.st_mtime_ns))

    def _is_as_recorded(self) -> bool:
        """Return whether the file, read afresh, holds what it must: another program may only have tidied it."""
        try:
            with closing(open_to_look(self.path, wait_s=0)) as other:
                return self._are_all(_chained(other, self._last.seq))
        except (*FAILURES, JournalError):
            return False

    def sound_rows(self) -> list[_Row]:
        """Return what is stored of the events up to the first damage, each with its hash."""
        return _chained(self._connection, self._last.seq)

    def close(self) -> None:
        """Fold the journal into its one file and let it go; what cannot be folded now is folded next time."""
        with suppress(sqlite3.Error):
            self._connection.execute("PRAGMA busy_timeout = 0")  # nobody waits for one who reads
            self._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        with suppress(sqlite3.Error):
            self._connection.close()


def _stat(path: Path) -> os.stat_result | None:
    try:
        return path.stat()
    except OSError:
        return None


def _are_same(before: tuple[object, ...], now: tuple[object, ...]) -> bool:
    """Return whether these are the same files, though perhaps changed; a log may have come where there was none."""
    return before[0] == now[0] is not None and before[1] in (None, now[1])
