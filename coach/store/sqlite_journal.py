"""The journal: an SQLite database that only grows.

Each append is one transaction, synced to the disk before it returns. Two triggers keep the table append-only even
against our own mistakes. The pragmas follow the SQLite documentation (write-ahead logging, PRAGMA synchronous).
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

from coach.journal.body import VERSION, body_of, event_of
from coach.journal.events import Event, JournalError
from coach.journal.reading import Reading
from coach.plan.cleaning import harmless

APPLICATION_ID: Final = 0x6561_736C
"""Says in the file's head whose database it is ("easl" in ASCII; a number of our own)."""

SCHEMA_VERSION: Final = 1

_SCHEMA: Final = f"""
CREATE TABLE event (
    seq INTEGER PRIMARY KEY,
    wall_ms INTEGER NOT NULL,
    offset_s INTEGER NOT NULL,
    elapsed_ms INTEGER NOT NULL,
    boot TEXT NOT NULL,
    kind TEXT NOT NULL,
    version INTEGER NOT NULL,
    body TEXT NOT NULL
) STRICT;
CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON event
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
CREATE TRIGGER event_is_never_deleted BEFORE DELETE ON event
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
PRAGMA application_id = {APPLICATION_ID};
PRAGMA user_version = {SCHEMA_VERSION};
"""

_SENTENCES: Final = {
    "SQLITE_FULL": "the disk is full; make room and try again",
    "SQLITE_READONLY": "the disk or the file is read-only",
    "SQLITE_CANTOPEN": "the file cannot be opened",
    "SQLITE_IOERR": "the disk does not answer",
    "SQLITE_NOTADB": "this is not a journal of the coach",
    "SQLITE_CORRUPT": "the journal is damaged",
    "SQLITE_BUSY": "another program is writing to the journal",
    "SQLITE_LOCKED": "another program is writing to the journal",
    "SQLITE_PERM": "you may not open the file",
    "SQLITE_AUTH": "you may not open the file",
}


class SqliteJournal:
    """A journal's file. One thread, one connection; `append` returns when the event is on the disk."""

    def __init__(self, path: Path, *, writes: bool) -> None:
        """Open the journal; with `writes` it is made where there is none.

        Raises:
            JournalError: It cannot be opened, is damaged, is of a newer coach or of another program.
        """
        self.path = path
        self.name = harmless(str(path))
        self.damage = ""
        log = self.path.with_name(self.path.name + "-wal")
        was_left_open = log.exists()
        with self._in_words():
            self._connection = self._connect_to_write() if writes else self._connect_to_read(log)
            self._check_version()
            if was_left_open and self._connection.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
                raise JournalError("the journal is damaged", where=self.name)

    def _connect_to_read(self, log: Path) -> sqlite3.Connection:
        """Open for reading; in a folder that takes no new file only a journal without a log can be read."""
        uri = self.path.absolute().as_uri()
        connection = sqlite3.connect(f"{uri}?mode=ro", uri=True, isolation_level=None)
        try:
            connection.execute("PRAGMA user_version")
        except sqlite3.OperationalError:
            if not self.path.exists() or log.exists():
                raise
            connection = sqlite3.connect(f"{uri}?mode=ro&immutable=1", uri=True, isolation_level=None)
        return connection

    def _connect_to_write(self) -> sqlite3.Connection:
        connection = sqlite3.connect(self.path, isolation_level=None)
        mode = connection.execute("PRAGMA journal_mode=WAL").fetchone()[0]
        connection.execute(f"PRAGMA synchronous={'FULL' if mode == 'wal' else 'EXTRA'}")
        connection.execute("PRAGMA trusted_schema=OFF")
        connection.execute("PRAGMA cell_size_check=ON")
        if not connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]:
            connection.executescript(f"BEGIN IMMEDIATE;{_SCHEMA}COMMIT;")
        return connection

    def _check_version(self) -> None:
        application = self._connection.execute("PRAGMA application_id").fetchone()[0]
        version = self._connection.execute("PRAGMA user_version").fetchone()[0]
        if application != APPLICATION_ID:
            raise JournalError("this is not a journal of the coach", where=self.name)
        if version > SCHEMA_VERSION:
            what = f"the journal is of version {version}, written by a newer coach; this one knows {SCHEMA_VERSION}"
            raise JournalError(what, where=self.name)

    def append(self, event: Event) -> Event:
        """Put one event on the disk and return it with its number.

        Raises:
            JournalError: It is not on the disk; the journal is as it was.
        """
        at = event.at
        row = (at.wall_ms, at.offset_s, at.elapsed_ms, at.boot, event.kind.value, VERSION, body_of(event))
        with self._in_words("not recorded: "):
            try:
                self._connection.execute("BEGIN IMMEDIATE")
                cursor = self._connection.execute(
                    "INSERT INTO event (wall_ms, offset_s, elapsed_ms, boot, kind, version, body)"
                    " VALUES (?, ?, ?, ?, ?, ?, ?)",
                    row,
                )
                self._connection.execute("COMMIT")
            except sqlite3.Error:
                with suppress(sqlite3.Error):
                    self._connection.execute("ROLLBACK")
                raise
        return event._replace(seq=cursor.lastrowid or 0)

    def after(self, seq: int) -> Iterator[Event]:
        """Return every event with a higher number, in order, as far as the file can be read.

        Where the file is damaged the events before the damage come, and `damage` says what happened.

        Raises:
            JournalError: An event is of a newer coach.
        """
        try:
            for row in self._connection.execute("SELECT * FROM event WHERE seq > ? ORDER BY seq", (seq,)):
                number, wall_ms, offset_s, elapsed_ms, boot, kind, version, body = row
                at = Reading(wall_ms=wall_ms, offset_s=offset_s, elapsed_ms=elapsed_ms, boot=boot)
                yield event_of(number, at, kind, version, body)
                seq = number
        except sqlite3.Error as error:
            self.damage = f"{self.name}: {_sentence(error)}; it is read up to event {seq}"

    def holds(self, seq: int, at: Reading | None) -> bool:
        """Return whether the event with this number happened at this reading of the clocks."""
        with self._in_words():
            found = self._connection.execute(
                "SELECT wall_ms, elapsed_ms FROM event WHERE seq = ?", (seq,)
            ).fetchone()
        return found is not None and at is not None and found == (at.wall_ms, at.elapsed_ms)

    def close(self) -> None:
        """Fold the journal into its one file and let it go; what cannot be folded now is folded next time."""
        with suppress(sqlite3.Error):
            self._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        with suppress(sqlite3.Error):
            self._connection.close()

    @contextmanager
    def _in_words(self, before: str = "") -> Iterator[None]:
        try:
            yield
        except sqlite3.Error as error:
            raise JournalError(before + _sentence(error), where=self.name) from error


def _sentence(error: sqlite3.Error) -> str:
    name = getattr(error, "sqlite_errorname", "") or ""
    for known, sentence in _SENTENCES.items():
        if name.startswith(known):
            return sentence
    return f"the journal cannot be used: {harmless(str(error))}"
