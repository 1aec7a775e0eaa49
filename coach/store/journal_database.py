"""The database of a journal: made, opened, and looked over before it is trusted.

The pragmas follow the SQLite documentation (write-ahead logging, PRAGMA synchronous).
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from coach.journal.events import JournalError
from coach.text import sanitized

APPLICATION_ID: Final = 0x6561_736C
"""Says in the file's head whose database it is ("easl" in ASCII; a number of our own)."""

SCHEMA_VERSION: Final = 1

_SCHEMA: Final = f"""
BEGIN IMMEDIATE;
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
COMMIT;
"""

DAMAGED: Final = "the journal is damaged"

_SENTENCES: Final = {
    "SQLITE_FULL": "the disk is full; make room and try again",
    "SQLITE_IOERR_SHMSIZE": "the disk is full; make room and try again",
    "SQLITE_READONLY": "the disk or the file is read-only",
    "SQLITE_CANTOPEN": "the file cannot be opened",
    "SQLITE_IOERR": "the disk does not answer",
    "SQLITE_NOTADB": "this is not a journal of the coach",
    "SQLITE_CORRUPT": DAMAGED,
    "SQLITE_BUSY": "another program is writing to the journal",
    "SQLITE_LOCKED": "another program is writing to the journal",
    "SQLITE_PERM": "you may not open the file",
    "SQLITE_AUTH": "you may not open the file",
}
"""What is said for the result codes of SQLite that begin so; the first that fits counts."""

FAILURES: Final = (sqlite3.Error, UnicodeDecodeError)
"""What a database can fail with; the second where SQLite's report quotes bytes that damage left."""


def sentence_for(error: Exception) -> str:
    """Return in plain words what one of the `FAILURES` reports."""
    if isinstance(error, UnicodeDecodeError):
        return DAMAGED
    name = getattr(error, "sqlite_errorname", "") or ""
    for known, sentence in _SENTENCES.items():
        if name.startswith(known):
            return sentence
    return f"the journal cannot be used: {sanitized(str(error))}"


@contextmanager
def in_words(name: str, before: str = "") -> Iterator[None]:
    """Let what SQLite reports go on as a `JournalError` about the file of this name."""
    try:
        yield
    except FAILURES as error:
        raise JournalError(before + sentence_for(error), where=name) from error


def open_to_append(path: Path) -> sqlite3.Connection:
    """Return a connection that writes; the journal is made where there is none.

    Raises:
        JournalError: It cannot be opened, is damaged, is of a newer coach or of another program. The file is
            as it was.
    """
    return _prepared(path, writes=True)


def open_to_look(path: Path) -> sqlite3.Connection:
    """Return a connection that only reads; a damaged journal is opened as far as it goes.

    Raises:
        JournalError: It cannot be opened, is of a newer coach or of another program.
    """
    return _prepared(path, writes=False)


def _prepared(path: Path, *, writes: bool) -> sqlite3.Connection:
    name = sanitized(str(path))
    if path.exists() and not path.is_file():
        raise JournalError("this is not a file", where=name)
    was_left_open = _has_log(path)
    with in_words(name):
        connection = _connection(path, writes=writes)
        try:
            connection.execute("PRAGMA trusted_schema=OFF")
            connection.execute("PRAGMA cell_size_check=ON")
            if writes:
                _prepare_to_append(connection, name)
                _check_soundness(connection, name, was_left_open=was_left_open)
            else:
                # Lets a file that was cut off be read up to where it ends; a reader can break nothing.
                connection.execute("PRAGMA writable_schema=ON")
                _check_version(connection, name)
        except (*FAILURES, JournalError):
            connection.close()
            raise
    return connection


def _connection(path: Path, *, writes: bool) -> sqlite3.Connection:
    if writes:
        return sqlite3.connect(path, isolation_level=None)
    uri = f"{path.absolute().as_uri()}?mode=ro"
    connection = sqlite3.connect(uri, uri=True, isolation_level=None)
    try:
        connection.execute("PRAGMA schema_version")
    except sqlite3.OperationalError:
        connection.close()
        if _has_log(path):
            raise
        # A folder that takes no new file takes no shared memory either; without a log none is needed.
        return sqlite3.connect(f"{uri}&immutable=1", uri=True, isolation_level=None)
    except (sqlite3.DatabaseError, UnicodeDecodeError):
        return connection
    return connection


def _beside(path: Path, ending: str) -> Path:
    return path.with_name(path.name + ending)


def _has_log(path: Path) -> bool:
    logs = (_beside(path, "-wal"), _beside(path, "-journal"))
    return any(log.exists() and log.stat().st_size > 0 for log in logs)


def _is_blank(connection: sqlite3.Connection) -> bool:
    tables = connection.execute("SELECT count(*) FROM sqlite_schema").fetchone()[0]
    return bool(tables == _number(connection, "application_id") == 0)


def _number(connection: sqlite3.Connection, pragma: str) -> int:
    return int(connection.execute(f"PRAGMA {pragma}").fetchone()[0])


def _check_version(connection: sqlite3.Connection, name: str) -> None:
    if _number(connection, "application_id") != APPLICATION_ID:
        raise JournalError("this is not a journal of the coach", where=name)
    version = _number(connection, "user_version")
    if version > SCHEMA_VERSION:
        what = f"the journal is of version {version}, of a newer coach; this one knows version {SCHEMA_VERSION}"
        raise JournalError(what, where=name)


def _prepare_to_append(connection: sqlite3.Connection, name: str) -> None:
    """Make sure whose database it is before anything in it is changed."""
    if _is_blank(connection):
        connection.executescript(_SCHEMA)
    _check_version(connection, name)
    mode = connection.execute("PRAGMA journal_mode=WAL").fetchone()[0]
    # A disk without shared memory refuses the write-ahead log; there EXTRA syncs each commit.
    connection.execute(f"PRAGMA synchronous={'FULL' if mode == 'wal' else 'EXTRA'}")


def _check_soundness(connection: sqlite3.Connection, name: str, *, was_left_open: bool) -> None:
    """Look over a database that no coach has closed; with a million events this takes about 0.2 s."""
    if was_left_open and connection.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
        raise JournalError(DAMAGED, where=name)
