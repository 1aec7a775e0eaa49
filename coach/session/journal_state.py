"""What the events add up to: the turns done, the time on the turn in hand, and the hours of the body."""

import datetime as dt
import enum
from copy import copy
from typing import Final, NamedTuple

from coach.journal.events import Event, Kind, Turn
from coach.journal.reading import Reading, local_time, passed_ms
from coach.limits.exceeded import NO_DEFERRALS
from coach.limits.hours import NIGHT_MS, Hours
from coach.limits.rule_table import Grade, Key
from coach.plan.commission import Limits

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


class JournalState:
    """The fold over a journal's events; `add` takes them one by one.

    Attributes:
        seq: Number of the last event.
        at: The clocks at the last event; None before the first.
        phase: What the painter is doing.
        session: Number of the session, from 1; 0 before the first.
        session_ms: Work in the session.
        turn_ms: Work on the turn in hand.
        hours: The hours of the body.
        deferrals: What the painter answered when a limit was passed.
        begun: The clocks when the turn in hand was taken up.
        in_hand: The turn taken out of order; None where the order is kept.
        notes: Notes on the turn in hand.
        is_marked: Whether the turn in hand is marked for return.
        absence: The last time away that can still be counted as work.
        plan_text: The text of the plan in force.
        places: For every passage done on a canvas its place in the run, `SKIPPED` where it was passed over.
        records: The turns of the latest passages.
        marks: The passages marked for return, in the order they were marked.
        found_dry: The passages found dry to touch, each with the clocks when that was.
        found_wet: The passages found still wet, each with the clocks when that was last so.
    """

    def __init__(self, limits: Limits = Limits()) -> None:  # noqa: B008  it is never changed
        """Start before the first event; the limits say what counts as a rest."""
        self.hours = Hours(rest_ms=limits.rest_s * 1000, long_rest_ms=limits.long_rest_s * 1000)
        self.deferrals = NO_DEFERRALS
        self.seq = 0
        self.at: Reading | None = None
        self.phase = Phase.NOT_BEGUN
        self.session = 0
        self.session_ms = 0
        self.turn_ms = 0
        self.begun: Reading | None = None
        self.in_hand: Turn | None = None
        self.notes: tuple[str, ...] = ()
        self.is_marked = False
        self.absence: Absence | None = None
        self.plan_text = ""
        self.places: dict[Shape, int] = {}
        self.records: dict[Shape, TurnRecord] = {}
        self.marks: dict[Shape, None] = {}
        self.found_dry: dict[Shape, Reading] = {}
        self.found_wet: dict[Shape, Reading] = {}

    def copied(self) -> "JournalState":
        """Return a copy that goes on by itself."""
        twin = copy(self)
        twin.hours = self.hours.copied()
        twin.places, twin.records, twin.marks = dict(self.places), dict(self.records), dict(self.marks)
        twin.found_dry, twin.found_wet = dict(self.found_dry), dict(self.found_wet)
        return twin

    def seen_at(self, now: Reading) -> "JournalState":
        """Return what it comes to at a reading that is not earlier than the last event; not to be added to."""
        twin = copy(self)
        twin.hours = self.hours.copied()
        if self.at is not None:
            twin.let_pass(passed_ms(self.at, now))
        return twin

    def take_limits(self, limits: Limits) -> None:
        """Let other limits say from now on what counts as a rest."""
        self.hours.rest_ms, self.hours.long_rest_ms = limits.rest_s * 1000, limits.long_rest_s * 1000

    @property
    def last(self) -> TurnRecord | None:
        """The turn that ended last."""
        return next(reversed(self.records.values()), None)

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
                self.hours.resume()
            case Kind.GRANTED | Kind.NOT_TODAY | Kind.WOKE | Kind.RETIMED:
                self._take_hours(event)
            case Kind.FOUND_DRY | Kind.FOUND_WET:
                self._take_dryness(event)
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
            self.hours.off(ms)
        else:
            self.hours.work(ms)
            self.turn_ms += ms
            self.session_ms += ms

    def _be_away(self, event: Event, away_ms: int) -> None:
        ended = away_ms >= NIGHT_MS
        self.hours.off(away_ms)
        self.absence = Absence(seq=event.seq, away_ms=away_ms, ended_session=ended)
        if ended:
            self.phase = Phase.NOT_BEGUN

    def _begin_session(self, event: Event) -> None:
        self.hours.resume()
        self.phase, self.absence = Phase.WORKING, None
        self.session += 1
        self.session_ms = 0
        self.begun = self.begun if self.turn_ms else event.at

    def _take_hours(self, event: Event) -> None:
        hours, deferrals = self.hours, self.deferrals
        if event.kind is Kind.GRANTED:
            self.deferrals = deferrals._replace(granted_ms=int(event.text), block_no=hours.block_no)
        elif event.kind is Kind.NOT_TODAY:
            before = deferrals.silenced if deferrals.day_no == hours.day_no else frozenset()
            self.deferrals = deferrals._replace(silenced=before | silenced_in(event.text), day_no=hours.day_no)
        elif event.kind is Kind.WOKE:
            woke, now = dt.time.fromisoformat(event.text), local_time(event.at)
            hours.woke(((now.hour - woke.hour) * 60 + now.minute - woke.minute) % (24 * 60) * 60_000)
        else:
            self._retime(event, int(event.text))

    def _retime(self, event: Event, worked_ms: int) -> None:
        if event.turn is None:
            return
        shapes = [(event.turn.pass_name, passage, event.turn.canvas) for passage in event.turn.passages]
        record = self.records.get(shapes[0])
        if record is None:
            return
        excess_ms = record.worked_ms - worked_ms
        for shape in shapes:
            self.records[shape] = record._replace(worked_ms=worked_ms)
        self.hours.retime(excess_ms, self.turn_ms)
        self.session_ms -= excess_ms

    def _take_dryness(self, event: Event) -> None:
        if event.turn is None:
            return
        found = self.found_dry if event.kind is Kind.FOUND_DRY else self.found_wet
        for passage in event.turn.passages:
            found[event.turn.pass_name, passage, event.turn.canvas] = event.at

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


def silenced_in(text: str) -> frozenset[tuple[Key, Grade]]:
    """Return the limits that the text of a NOT_TODAY event names; a limit that nobody knows any more is left out."""
    pairs = (pair.split(":") for pair in text.split(","))
    return frozenset(
        (Key(key), Grade(int(grade))) for key, grade in pairs if key in set(Key) and int(grade) in set(Grade)
    )


def text_of_silenced(silenced: frozenset[tuple[Key, Grade]]) -> str:
    """Return the text from which `silenced_in` reads the same limits."""
    return ",".join(sorted(f"{key}:{grade.value}" for key, grade in silenced))
