"""Opening the journal of a commission: to write where that is possible, else to read, and why."""

import os
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Final, Protocol

from coach.journal.events import Event, JournalError
from coach.journal.reading import Reading
from coach.store.journal_database import WAIT_S, has_log
from coach.store.last_seen import LastSeenFile
from coach.store.plan_file import PlanFileError
from coach.store.safe_files import open_ordinary
from coach.store.sqlite_journal import MOST_JOURNALS, SqliteJournal, go_on_beside, numbered, seen_path
from coach.text import sanitized

if sys.platform == "win32":  # pragma: no cover  the tests run where flock is
    import msvcrt

    def _take(descriptor: int) -> None:
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)

else:
    import fcntl

    def _take(descriptor: int) -> None:
        fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)


def journal_path(plan_path: Path) -> Path:
    """Return where the journal of a plan lies: beside it, NAME.journal, or the last in which painting went on.

    Raises:
        PlanFileError: The path has no name, such as `/`.
    """
    if not plan_path.name:
        raise PlanFileError("this is not a file; name the plan's YAML file", where=sanitized(str(plan_path)))
    first = plan_path.with_suffix(".journal")
    later = (numbered(first, number) for number in range(MOST_JOURNALS, 1, -1))
    return next((path for path in later if os.path.lexists(path)), first)


OPEN_ELSEWHERE: Final = "this commission is open in another coach; here it is only shown"
"""Why nothing can be recorded while another coach writes the journal."""


class ClosableJournal(Protocol):
    """A journal that is let go at the end; a session leaves its word with it."""

    damage: str
    notice: str

    def append(self, event: Event) -> Event:
        """Put one event on the disk."""

    def after(self, seq: int) -> Iterator[Event]:
        """Return later events."""

    def leave_word(self, reading: Reading) -> None:
        """Leave word that the coach is running."""

    def last_word(self) -> Reading | None:
        """Return the clocks when the coach was last seen running."""

    def close(self) -> None:
        """Let it go."""


class NoJournal:
    """Stands where there is no journal to read and none can be made.

    Attributes:
        damage: What is wrong if there should be one.
        notice: Nothing.
    """

    notice = ""

    def __init__(self, damage: str = "") -> None:
        """Say what is wrong, where something is."""
        self.damage = damage

    def append(self, event: Event) -> Event:
        """Refuse: there is no journal."""
        raise JournalError(f"not recorded: there is no journal for {event.kind.value}")

    def after(self, seq: int) -> Iterator[Event]:  # noqa: ARG002  the port names it
        """Return nothing: nothing was recorded."""
        return iter(())

    def leave_word(self, reading: Reading) -> None:
        """Do nothing."""

    def last_word(self) -> Reading | None:
        """Return that there is no word."""
        return None

    def close(self) -> None:
        """Do nothing."""


class LastWord:
    """What a session leaves its word with, whichever file the journal lies in now."""

    def __init__(self, journal: ClosableJournal) -> None:
        """Serve one journal."""
        self._journal = journal

    def write(self, reading: Reading) -> None:
        """Leave word that the coach is running."""
        self._journal.leave_word(reading)

    def read(self) -> Reading | None:
        """Return the last word."""
        return self._journal.last_word()


class WriterLock:
    """One coach at a time writes a journal: a lock on a file, freed by the system when the process ends.

    The library for this (filelock) takes a fifth of what opening the coach may cost; the two system calls do not.
    """

    def __init__(self, path: Path) -> None:
        """Name the file; it is made by `take` and left lying, because deleting it would open a race."""
        self._path = path
        self._descriptor: int | None = None

    @property
    def is_held(self) -> bool:
        """Whether this coach holds it."""
        return self._descriptor is not None

    def take(self) -> bool:
        """Take the lock; return False where another process holds it.

        Raises:
            OSError: The file cannot be made or opened, is none, or its disk knows no locks.
        """
        descriptor = open_ordinary(self._path, os.O_RDWR | os.O_CREAT)
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """A journal that is open.

    Attributes:
        journal: The journal.
        last_seen: The word of the running coach beside it.
        read_only: Why nothing can be recorded; empty where it can.
        lock: Held while this coach may write.
        path: Where the journal lies.
    """

    journal: ClosableJournal
    last_seen: LastWord
    read_only: str
    lock: WriterLock
    path: Path

    @property
    def can_go_on_beside(self) -> bool:
        """Whether the journal is damaged or gone, so that painting may go on in a new one; it is read by now."""
        is_newer = isinstance(self.journal, SqliteJournal) and self.journal.is_newer
        return bool(self.journal.damage) and not is_newer and self.lock.is_held

    def go_on_beside(self) -> "Access":
        """Let this journal go as it is, and open a new one beside it with all its events that are sound.

        Raises:
            JournalError: It cannot be made.
        """
        rows = self.journal.sound_rows() if isinstance(self.journal, SqliteJournal) else []
        self.journal.close()
        path = go_on_beside(self.path, rows)
        return _access(SqliteJournal(path, writes=True), "", self.lock, path)

    def close(self) -> None:
        """Let everything go."""
        self.journal.close()
        self.lock.release()


def _access(journal: ClosableJournal, read_only: str, lock: WriterLock, path: Path) -> Access:
    return Access(journal=journal, last_seen=LastWord(journal), read_only=read_only, lock=lock, path=path)


def open_to_work(plan_path: Path) -> Access:
    """Open the journal of a plan to write, or to read where another coach, the disk or damage forbids it.

    Raises:
        JournalError: It can neither be written nor read.
    """
    path = journal_path(plan_path)
    lock = WriterLock(plan_path.with_suffix(".journal-lock"))
    reason = _why_not_writable(lock, path)
    lost = _lost(path)
    wait_s = WAIT_S
    if not reason and not lost:
        try:
            return _access(SqliteJournal(path, writes=True), "", lock, path)
        except JournalError as error:
            reason = f"nothing can be recorded: {error}"
            wait_s = 0  # another program's lock has been waited for already
    try:
        return _access(_opened_to_read(path, wait_s), reason or f"nothing can be recorded: {lost}", lock, path)
    except JournalError:
        lock.release()
        raise


def _why_not_writable(lock: WriterLock, path: Path) -> str:
    try:
        is_ours = lock.take()
    except OSError as error:
        return f"nothing can be recorded in {sanitized(str(path.parent))}: {error.strerror}"
    return "" if is_ours else OPEN_ELSEWHERE


def _lost(path: Path) -> str:
    """Return what is wrong where a journal is gone or empty, but was not once; else nothing."""
    if os.path.lexists(path) and path.lstat().st_size:
        return ""
    last = LastSeenFile(seen_path(path)).last()
    if last is None and not has_log(path):
        return ""
    held = f", though it held {last.seq} events" if last else ""
    return f"{sanitized(str(path))}: the journal is {'empty' if os.path.lexists(path) else 'gone'}{held}"


def open_to_read(plan_path: Path) -> ClosableJournal:
    """Open the journal of a plan to read.

    Raises:
        JournalError: It cannot be read.
    """
    return _opened_to_read(journal_path(plan_path), WAIT_S)


def _opened_to_read(path: Path, wait_s: float) -> ClosableJournal:
    is_blank = not os.path.lexists(path) or (path.is_file() and path.lstat().st_size == 0)
    return NoJournal(_lost(path)) if is_blank else SqliteJournal(path, writes=False, wait_s=wait_s)
