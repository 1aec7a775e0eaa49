"""What the events add up to: the turns done, the time on the turn in hand, and the hours of the body."""

import enum
from copy import copy
from typing import Final, NamedTuple

from coach.journal.events import Event, Kind, Turn
from coach.journal.reading import Reading, passed_ms
from coach.limits.due import NIGHT_MS

SHORT_REST_MS: Final = 10 * 60 * 1000

SKIPPED: Final = 0
"""Stands for the place of a passage that was passed over."""

MOST_RECORDS: Final = 512
"""How many of the latest passages are remembered with their minutes and notes; older ones are in the journal."""

Shape = tuple[str, str, str]
"""A passage on a canvas: name of the pass, of the passage, of the canvas."""


class Phase(enum.Enum):
    """What the painter is doing."""

    NOT_BEGUN = "not begun"
    WORKING = "working"
    PAUSED = "paused"
    RESTING = "resting"


class TurnRecord(NamedTuple):
    """A turn that is over.

    Attributes:
        turn: Which turn.
        begun: The clocks when it was taken in hand.
        ended: The clocks when it was over.
        worked_ms: Work on it, in milliseconds, without pauses, rests and absences.
        session: Number of its session, from 1.
        notes: What was noted on it.
        is_marked: Whether its passages are to be looked at again.
        is_skipped: Whether it was passed over unpainted.
        went_other_way: Whether its canvas was taken before its turn.
    """

    turn: Turn
    begun: Reading
    ended: Reading
    worked_ms: int
    session: int
    notes: tuple[str, ...] = ()
    is_marked: bool = False
    is_skipped: bool = False
    went_other_way: bool = False


class Absence(NamedTuple):
    """A time away that was counted as away: number of the event that ended it, and its milliseconds."""

    seq: int
    away_ms: int
    ended_session: bool


class Progress:
    """The fold over a journal's events; `add` takes them one by one.

    Attributes:
        rest_ms: Time off this long ends a block.
        seq: Number of the last event.
        at: The clocks at the last event; None before the first.
        phase: What the painter is doing.
        session: Number of the session, from 1; 0 before the first.
        session_ms: Work in the session.
        turn_ms: Work on the turn in hand.
        block_ms: Unbroken work.
        day_ms: Work of the day.
        off_ms: Time since work stopped; 0 while working.
        night_ms: Time off before the day's first work; None on the first day.
        begun: The clocks when the turn in hand was taken up.
        in_hand: The turn taken out of order; None where the order is kept.
        notes: Notes on the turn in hand.
        is_marked: Whether the turn in hand is marked for return.
        absence: The last time away that can still be counted as work.
        plan_text: The text of the plan in force.
        places: For every passage done on a canvas its place in the run, `SKIPPED` where it was passed over.
        records: The turns of the latest passages.
        marks: The passages marked for return, in the order they were marked.
    """

    def __init__(self, rest_ms: int = SHORT_REST_MS) -> None:
        """Start before the first event; time off of `rest_ms` or more ends a block."""
        self.rest_ms = rest_ms
        self.seq = 0
        self.at: Reading | None = None
        self.phase = Phase.NOT_BEGUN
        self.session = 0
        self.session_ms = 0
        self.turn_ms = 0
        self.block_ms = 0
        self.day_ms = 0
        self.off_ms = 0
        self.night_ms: int | None = None
        self.begun: Reading | None = None
        self.in_hand: Turn | None = None
        self.notes: tuple[str, ...] = ()
        self.is_marked = False
        self.absence: Absence | None = None
        self.plan_text = ""
        self.places: dict[Shape, int] = {}
        self.records: dict[Shape, TurnRecord] = {}
        self.marks: dict[Shape, None] = {}

    def copied(self) -> "Progress":
        """Return a copy that goes on by itself."""
        twin = copy(self)
        twin.places, twin.records, twin.marks = dict(self.places), dict(self.records), dict(self.marks)
        return twin

    def add(self, event: Event) -> TurnRecord | None:  # noqa: C901  one case a kind of event
        """Take one event in force; return the turn that it ended, if it ended one."""
        self._let_time_pass(event)
        self.seq, self.at = event.seq, event.at
        match event.kind:
            case Kind.SESSION_BEGUN:
                self._begin_session(event)
            case Kind.SESSION_ENDED:
                self.phase, self.absence = Phase.NOT_BEGUN, None
            case Kind.PAUSED:
                self.phase = Phase.PAUSED
            case Kind.REST_BEGUN:
                self.phase = Phase.RESTING
            case Kind.WORK_RESUMED:
                self.phase = Phase.WORKING
            case Kind.WENT_OTHER_WAY:
                self.in_hand = event.turn
            case Kind.NOTED:
                self.notes = (*self.notes, event.text)
            case Kind.MARKED:
                self.is_marked = True
            case Kind.PLAN_READ:
                self.plan_text = event.text
            case Kind.TURN_DONE | Kind.SKIPPED:
                return self._end_turn(event)
        return None

    def _let_time_pass(self, event: Event) -> None:
        if self.at is None:
            return
        if event.kind is Kind.CAME_BACK and event.since is not None and self.phase is not Phase.NOT_BEGUN:
            self.let_pass(passed_ms(self.at, event.since))
            self._be_away(event, passed_ms(event.since, event.at))
        else:
            self.let_pass(passed_ms(self.at, event.at))

    def let_pass(self, ms: int) -> None:
        """Let milliseconds go by in the phase that holds."""
        if self.phase is not Phase.WORKING:
            self.off_ms += ms
        elif ms:
            self._end_time_off()
            self.turn_ms += ms
            self.block_ms += ms
            self.day_ms += ms
            self.session_ms += ms

    def _end_time_off(self) -> None:
        if self.off_ms >= self.rest_ms:
            self.block_ms = 0
        if self.off_ms >= NIGHT_MS:
            self.day_ms, self.night_ms = 0, self.off_ms
        self.off_ms = 0

    def _be_away(self, event: Event, away_ms: int) -> None:
        ended = away_ms >= NIGHT_MS
        self.off_ms += away_ms
        self.absence = Absence(seq=event.seq, away_ms=away_ms, ended_session=ended)
        if ended:
            self.phase = Phase.NOT_BEGUN

    def _begin_session(self, event: Event) -> None:
        self._end_time_off()
        self.phase, self.absence = Phase.WORKING, None
        self.session += 1
        self.session_ms = 0
        self.begun = self.begun if self.turn_ms else event.at

    def _end_turn(self, event: Event) -> TurnRecord | None:
        turn = event.turn
        if turn is None:
            return None
        record = TurnRecord(
            turn=turn,
            begun=self.begun or event.at,
            ended=event.at,
            worked_ms=self.turn_ms,
            session=self.session,
            notes=self.notes,
            is_marked=self.is_marked,
            is_skipped=event.kind is Kind.SKIPPED,
            went_other_way=self.in_hand is not None,
        )
        for passage in turn.passages:
            shape = (turn.pass_name, passage, turn.canvas)
            self.places[shape] = SKIPPED if record.is_skipped else turn.place
            self.records[shape] = record
            if record.is_marked:
                self.marks[shape] = None
        for shape in tuple(self.records)[: max(0, len(self.records) - MOST_RECORDS)]:
            del self.records[shape]
        self.turn_ms, self.notes, self.is_marked, self.in_hand, self.absence = 0, (), False, None, None
        self.begun = event.at
        return record
