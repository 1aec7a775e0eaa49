"""The database of a journal: made, opened, and looked over before it is trusted.

The pragmas follow the SQLite documentation (write-ahead logging, PRAGMA synchronous).
"""

import errno
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import Final

from coach.journal.events import JournalError
from coach.store.safe_files import PRIVATE, check_ordinary, create
from coach.text import sanitized

APPLICATION_ID: Final = 0x6561_736C
"""Says in the file's head whose database it is ("easl" in ASCII; a number of our own)."""

SCHEMA_VERSION: Final = 2
"""Version of a journal. From 2 on each event carries a hash over itself and all before it."""

WAIT_S: Final = 2.0
"""How long another program's lock is waited for."""

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
    body TEXT NOT NULL,
    hash BLOB
) STRICT;
CREATE TRIGGER event_is_never_changed BEFORE UPDATE ON event
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
CREATE TRIGGER event_is_never_deleted BEFORE DELETE ON event
    BEGIN SELECT RAISE(ABORT, 'the journal is append-only'); END;
PRAGMA application_id = {APPLICATION_ID};
PRAGMA user_version = {SCHEMA_VERSION};
COMMIT;
"""

RAISED: Final = (
    "ALTER TABLE event ADD COLUMN hash BLOB",
    f"PRAGMA user_version = {SCHEMA_VERSION}",
)
"""What makes a journal of version 1 one of version 2, within the transaction of its first new event."""

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
    _check_files(path)
    was_left_open = has_log(path)
    with in_words(sanitized(str(path))):
        if path.exists() and path.stat().st_nlink > 1:  # through each name another log and another lock are seen
            raise JournalError("the file has a second name", where=sanitized(str(path)))
        if not was_left_open and (not path.exists() or path.stat().st_size == 0):
            make(path)
        connection = sqlite3.connect(path, isolation_level=None, timeout=WAIT_S)
        return _prepared(connection, path, writes=True, was_left_open=was_left_open)


def open_to_look(path: Path, *, wait_s: float = WAIT_S) -> sqlite3.Connection:
    """Return a connection that only reads; a damaged journal is opened as far as it goes.

    Raises:
        JournalError: It cannot be opened, is of a newer coach or of another program.
    """
    _check_files(path)
    with in_words(sanitized(str(path))):
        return _prepared(_reading(path, wait_s), path, writes=False, was_left_open=False)


def make(path: Path, rows: Sequence[Sequence[object]] = ()) -> None:
    """Make a journal with these rows; it appears only when all of it is on the disk.

    Raises:
        JournalError: It cannot be written, or something of that name is there, other than a file that holds nothing.
    """
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
        connection.executescript(_SCHEMA)
        connection.execute("BEGIN")
        connection.executemany("INSERT INTO event VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)", rows)
        connection.execute("COMMIT")
        content = connection.serialize()
    try:
        if path.exists() and path.stat().st_size == 0:
            path.unlink()
        create(path, content, mode=PRIVATE)
    except OSError as error:
        is_full = error.errno == errno.ENOSPC
        what = _SENTENCES["SQLITE_FULL"] if is_full else f"the journal cannot be made: {error.strerror or error}"
        raise JournalError(what, where=sanitized(str(path))) from error


def _check_files(path: Path) -> None:
    """Refuse what is not an ordinary file: SQLite would follow a link, and wait for a pipe."""
    for one in (path, *(_beside(path, ending) for ending in ("-wal", "-shm", "-journal"))):
        try:
            check_ordinary(one)
        except OSError as error:
            raise JournalError(f"{error.strerror}", where=sanitized(str(one))) from error


def _prepared(connection: sqlite3.Connection, path: Path, *, writes: bool, was_left_open: bool) -> sqlite3.Connection:
    name = sanitized(str(path))
    try:
        connection.execute("PRAGMA trusted_schema=OFF")
        connection.execute("PRAGMA cell_size_check=ON")
        if not writes:
            # Lets a file that was cut off be read up to where it ends; a reader can break nothing.
            connection.execute("PRAGMA writable_schema=ON")
        check_version(connection, name)
        if writes:
            mode = connection.execute("PRAGMA journal_mode=WAL").fetchone()[0]
            # A disk without shared memory refuses the write-ahead log; there EXTRA syncs each commit.
            connection.execute(f"PRAGMA synchronous={'FULL' if mode == 'wal' else 'EXTRA'}")
            if was_left_open:
                _check_soundness(connection, name)
    except (*FAILURES, JournalError):
        connection.close()
        raise
    return connection


def _reading(path: Path, wait_s: float) -> sqlite3.Connection:
    uri = f"{path.absolute().as_uri()}?mode=ro"
    connection = sqlite3.connect(uri, uri=True, isolation_level=None, timeout=wait_s)
    try:
        connection.execute("PRAGMA schema_version")
    except sqlite3.OperationalError as error:
        connection.close()
        if has_log(path) or getattr(error, "sqlite_errorname", "").startswith(("SQLITE_BUSY", "SQLITE_LOCKED")):
            raise
        # A folder that takes no new file takes no shared memory either; without a log none is needed.
        return sqlite3.connect(f"{uri}&immutable=1", uri=True, isolation_level=None)
    except (sqlite3.DatabaseError, UnicodeDecodeError):
        return connection
    return connection


def _beside(path: Path, ending: str) -> Path:
    return path.with_name(path.name + ending)


def has_log(path: Path) -> bool:
    """Return whether something of a journal lies in a log beside it: no coach has closed it."""
    found = False
    for log in (_beside(path, "-wal"), _beside(path, "-journal")):
        with suppress(OSError):
            found = found or log.lstat().st_size > 0
    return found


def _number(connection: sqlite3.Connection, pragma: str) -> int:
    return int(connection.execute(f"PRAGMA {pragma}").fetchone()[0])


def is_of_version_2(connection: sqlite3.Connection) -> bool:
    """Return whether a journal says that its events carry hashes."""
    return _number(connection, "user_version") >= SCHEMA_VERSION


def has_hashes(connection: sqlite3.Connection) -> bool:
    """Return whether there is a place for hashes."""
    return bool(connection.execute("SELECT count(*) FROM pragma_table_info('event') WHERE name = 'hash'").fetchone()[0])


def check_version(connection: sqlite3.Connection, name: str) -> None:
    """Make sure whose database it is, before anything in it is read or changed."""
    if _number(connection, "application_id") != APPLICATION_ID:
        raise JournalError("this is not a journal of the coach", where=name)
    kind = connection.execute("SELECT type FROM sqlite_schema WHERE name = 'event'").fetchone()
    if kind not in (("table",), None):  # a view of this name may never come to an end
        raise JournalError("this is not a journal of the coach", where=name)
    version = _number(connection, "user_version")
    if version > SCHEMA_VERSION:
        what = f"the journal is of version {version}, of a newer coach; this one knows version {SCHEMA_VERSION}"
        raise JournalError(what, where=name)


def _check_soundness(connection: sqlite3.Connection, name: str) -> None:
    """Look over a database that no coach has closed; with a million events this takes about 0.2 s."""
    if connection.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok":
        raise JournalError(DAMAGED, where=name)
