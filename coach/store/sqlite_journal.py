"""The journal: an SQLite database that only grows.

Each append is one transaction, synced to the disk before it returns. Two triggers keep the table append-only
even against our own mistakes.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Final

from coach.journal.body import VERSION, body_of, event_of
from coach.journal.events import Event, JournalError
from coach.journal.reading import Reading
from coach.store.journal_database import FAILURES, in_words, open_to_append, open_to_look, sentence_for
from coach.text import sanitized

_APPEND: Final = """
INSERT INTO event (wall_ms, offset_s, elapsed_ms, boot, kind, version, body) VALUES (?, ?, ?, ?, ?, ?, ?)
"""
_AFTER: Final = """
SELECT seq, wall_ms, offset_s, elapsed_ms, boot, kind, version, body FROM event WHERE seq > ? ORDER BY seq
"""
_WHEN: Final = "SELECT wall_ms, elapsed_ms FROM event WHERE seq = ?"


class SqliteJournal:
    """A journal's file. One thread, one connection; `append` returns when the event is on the disk.

    Attributes:
        path: Where it lies.
        name: The same, sanitized to show.
        damage: Why it was not read to its end; empty as long as no damage was met. Nothing more is put into a
            damaged journal: what would be recorded there would rest on events that are not known.
    """

    def __init__(self, path: Path, *, writes: bool) -> None:
        """Open the journal; with `writes` it is made where there is none.

        Raises:
            JournalError: It cannot be opened, is of a newer coach or of another program, or is damaged and
                was to be written.
        """
        self.path = path
        self.name = sanitized(str(path))
        self.damage = ""
        self._connection = open_to_append(path) if writes else open_to_look(path)

    def append(self, event: Event) -> Event:
        """Put one event on the disk and return it with its number.

        Raises:
            JournalError: It is not on the disk; the journal is as it was.
        """
        if self.damage:
            raise JournalError(f"not recorded: {self.damage}")
        at = event.at
        row = (at.wall_ms, at.offset_s, at.elapsed_ms, at.boot, event.kind.value, VERSION, body_of(event))
        with in_words(self.name, "not recorded: "):
            try:
                self._connection.execute("BEGIN IMMEDIATE")
                cursor = self._connection.execute(_APPEND, row)
                self._connection.execute("COMMIT")
            finally:
                if self._connection.in_transaction:
                    with suppress(sqlite3.Error):
                        self._connection.execute("ROLLBACK")
        return event._replace(seq=cursor.lastrowid or 0)

    def after(self, seq: int) -> Iterator[Event]:
        """Return every event with a higher number, in order, as far as the file can be read.

        Where the file is damaged, or holds an event of a newer coach, the events before that come, and
        `damage` says what happened.
        """
        try:
            for row in self._connection.execute(_AFTER, (seq,)):
                number, wall_ms, offset_s, elapsed_ms, boot, kind, version, body = row
                at = Reading(wall_ms=wall_ms, offset_s=offset_s, elapsed_ms=elapsed_ms, boot=boot)
                yield event_of(number, at, kind, version, body)
                seq = number
        except FAILURES as error:
            self.damage = f"{self.name}: {sentence_for(error)}; it is read up to event {seq}"
        except JournalError as error:
            self.damage = f"{self.name}: {error.what}; it is read up to event {seq}"

    def holds(self, seq: int, at: Reading | None) -> bool:
        """Return whether the event with this number is known to have happened at this reading of the clocks."""
        try:
            found = self._connection.execute(_WHEN, (seq,)).fetchone()
        except FAILURES:
            return False
        return found is not None and at is not None and found == (at.wall_ms, at.elapsed_ms)

    def close(self) -> None:
        """Fold the journal into its one file and let it go; what cannot be folded now is folded next time."""
        with suppress(sqlite3.Error):
            self._connection.execute("PRAGMA busy_timeout = 0")  # nobody waits for one who reads
            self._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        with suppress(sqlite3.Error):
            self._connection.close()
