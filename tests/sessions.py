"""Sittings for tests: a clock that is set by hand, a journal in memory, and plans of a few lines."""

from collections.abc import Iterator

from coach.journal.events import Event, JournalError, Kind
from coach.journal.reading import Reading
from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.session.moves import Move
from coach.session.session_service import SessionService

TWO_CANVASES = """
commission: The orchard keeper
canvases: [{name: Hall, place: left}, {name: School, place: right}]
order: snake
seed: 1
passes:
  - name: eyes
    passages:
      - {name: socket shadow, value: 2, minutes: 14}
      - {name: upper lid, minutes: 9, beside: socket shadow}
      - {name: iris, minutes: 10}
      - {name: lash line, minutes: 6}
  - name: nose
    passages: [{name: wing, minutes: 12}, {name: tip, minutes: 8}]
limits: {press: 0 s}
"""


def woke(time: str) -> Move:
    """Return the move by which old coaches recorded when the painter woke, HH:MM."""
    return lambda _, at: Event(seq=0, at=at, kind=Kind.WOKE, text=time)


class SetClock:
    """A clock that stands still until it is moved."""

    def __init__(self) -> None:
        self.wall_ms = 1_800_000_000_000
        self.elapsed_ms = 0
        self.boot = "first"

    def read(self) -> Reading:
        return Reading(wall_ms=self.wall_ms, offset_s=3600, elapsed_ms=self.elapsed_ms, boot=self.boot)

    def go(self, *, minutes: float = 0, seconds: float = 0) -> None:
        """Let time pass on every clock."""
        ms = round((minutes * 60 + seconds) * 1000)
        self.wall_ms += ms
        self.elapsed_ms += ms


class MemoryJournal:
    """A journal in memory; `is_full` makes it refuse."""

    notice = ""

    def __init__(self) -> None:
        self.events: list[Event] = []
        self.is_full = False

    def append(self, event: Event) -> Event:
        if self.is_full:
            raise JournalError("not recorded: the disk is full; make room and try again")
        kept = event._replace(seq=len(self.events) + 1)
        self.events.append(kept)
        return kept

    def after(self, seq: int) -> Iterator[Event]:
        return iter([event for event in self.events if event.seq > seq])


class PlanText:
    """A plan's file in memory."""

    name = "plan.yaml"

    def __init__(self, text: str) -> None:
        self.text = text

    def stamp(self) -> object:
        return self.text

    def read(self) -> str:
        return self.text


class LastWord:
    """The word of a running coach, in memory."""

    def __init__(self) -> None:
        self.reading: Reading | None = None

    def write(self, reading: Reading) -> None:
        self.reading = reading

    def read(self) -> Reading | None:
        return self.reading


class Easel:
    """A session with everything around it; `reopen` is what happens after a kill."""

    def __init__(self, text: str = TWO_CANVASES) -> None:
        self.clock, self.journal, self.source, self.word = SetClock(), MemoryJournal(), PlanText(text), LastWord()
        self.session = self.opened()

    @property
    def plan(self) -> Plan:
        return read_plan(self.source.text, self.source.name)

    def opened(self, *, read_only: str = "") -> SessionService:
        """Return a new session on the same journal."""
        session = SessionService(
            plan=self.plan,
            journal=self.journal,
            clock=self.clock,
            source=self.source,
            last_seen=self.word,
            read_only=read_only,
        )
        session.open(self.source.text)
        return session

    def reopen(self) -> None:
        """Forget the session as a kill does, and open another."""
        self.session = self.opened()

    def pass_time(self, minutes: float) -> None:
        """Let minutes pass while the coach ticks, ten seconds at a time."""
        for _ in range(round(minutes * 6)):
            self.clock.go(seconds=10)
            self.session.tick()
