"""Opening the journal of a commission: to write where that is possible, else to read, and why."""

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from coach.journal.events import Event, JournalError
from coach.journal.reading import Reading
from coach.store.last_seen import LastSeenFile
from coach.store.plan_file import journal_path
from coach.store.sqlite_journal import SqliteJournal
from coach.store.writer_lock import WriterLock
from coach.text import sanitized


class ClosableJournal(Protocol):
    """A journal that is let go at the end."""

    damage: str

    def append(self, event: Event) -> Event:
        """Put one event on the disk."""

    def after(self, seq: int) -> Iterator[Event]:
        """Return later events."""

    def holds(self, seq: int, at: Reading | None) -> bool:
        """Return whether the event with this number happened at this reading."""

    def close(self) -> None:
        """Let it go."""


class NoJournal:
    """Stands where there is no journal to read and none can be made."""

    damage = ""

    def append(self, event: Event) -> Event:
        """Refuse: there is no journal."""
        raise JournalError(f"not recorded: there is no journal for {event.kind.value}")

    def after(self, seq: int) -> Iterator[Event]:  # noqa: ARG002  the port names it
        """Return nothing: nothing was recorded."""
        return iter(())

    def holds(self, seq: int, at: Reading | None) -> bool:
        """Return that there is no event."""
        return seq == 0 and at is None

    def close(self) -> None:
        """Do nothing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Access:
    """A journal that is open.

    Attributes:
        journal: The journal.
        last_seen: The word of the running coach beside it.
        read_only: Why nothing can be recorded; empty where it can.
        lock: Held while this coach may write.
    """

    journal: ClosableJournal
    last_seen: LastSeenFile
    read_only: str
    lock: WriterLock

    def close(self) -> None:
        """Let everything go."""
        self.journal.close()
        self.last_seen.close()
        self.lock.release()


def open_to_work(plan_path: Path) -> Access:
    """Open the journal of a plan to write, or to read where another coach, the disk or damage forbids it.

    Raises:
        JournalError: It can neither be written nor read.
    """
    path = _journal_file(plan_path)
    lock = WriterLock(path.with_name(path.name + "-lock"))
    reason = _why_not_writable(lock, path)
    journal: ClosableJournal | None = None
    if not reason:
        try:
            journal = SqliteJournal(path, writes=True)
        except JournalError as error:
            lock.release()
            reason = f"nothing can be recorded: {error}"
    return Access(
        journal=journal or open_to_read(plan_path),
        last_seen=LastSeenFile(path.with_name(path.name + "-seen")),
        read_only=reason,
        lock=lock,
    )


def _journal_file(plan_path: Path) -> Path:
    """Return the file itself: through two links to one journal two coaches would take two locks."""
    return Path(os.path.realpath(journal_path(plan_path)))


def _why_not_writable(lock: WriterLock, path: Path) -> str:
    try:
        is_ours = lock.take()
    except OSError as error:
        return f"nothing can be recorded in {sanitized(str(path.parent))}: {error.strerror}"
    return "" if is_ours else "this commission is open in another coach; here it is only shown"


def open_to_read(plan_path: Path) -> ClosableJournal:
    """Open the journal of a plan to read.

    Raises:
        JournalError: It cannot be read.
    """
    path = _journal_file(plan_path)
    is_blank = not path.exists() or (path.is_file() and path.stat().st_size == 0)
    return NoJournal() if is_blank else SqliteJournal(path, writes=False)
