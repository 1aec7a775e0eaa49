"""The fold over a journal's events: what they add up to, now and as records of all that was."""

import datetime as dt
from collections.abc import Iterable
from copy import copy
from typing import TYPE_CHECKING, Final

from coach.journal.events import COMPARING, STAGE_WORDS, Announced, Event, Kind, Turn, in_force
from coach.journal.reading import Reading, local_time, passed_ms
from coach.limits.exceeded import NO_DEFERRALS
from coach.limits.hours import NIGHT_MS, Hours
from coach.limits.rule_table import Grade, Key
from coach.plan.commission import Address, Limits
from coach.session.records import (
    SKIPPED,
    Absence,
    ComparisonRecord,
    Moment,
    Phase,
    Piece,
    SessionRecord,
    Shape,
    TurnRecord,
)

if TYPE_CHECKING:
    from coach.journal.compared import Difference

_ABOUT_HOURS: Final = frozenset({Kind.REST_BEGUN, Kind.GRANTED, Kind.NOT_TODAY, Kind.WOKE, Kind.RETIMED})


class JournalState:
    """What events in force add up to; `add` takes them one by one.

    Attributes:
        seq: Number of the last event.
        at: The clocks at the last event; None before the first.
        phase: What the painter is doing.
        session: Number of the session, from 1; 0 before the first.
        session_begun: The clocks when the session was begun; None before the first.
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
        announced: The canvases of runs as they were announced last, by pass and first passage of a run.
        held: First passages of the runs that were in hand when they were held: they come before all others.
        held_canvas: The canvas that was in hand then, which comes first; empty once a turn is over.
        remark: What was said of the order when it was announced last; empty after a turn that kept to it.
        places: For every passage done on a canvas its place in the run, `SKIPPED` where it was passed over.
        turns: Every turn that is over, in the order painted.
        marks: The passages marked for return, in the order they were marked.
        painted_day_no: Number of the day on which the last turn that laid paint was taken up; None before the first.
        found_dry: The passages found dry to touch, each with the clocks when that was.
        found_wet: The passages found still wet, each with the clocks when that was last so.
        outlines: The outlines of shapes as they were painted last, by id.
        stages: What followed the last stroke, by canvas and kind, each with the clocks when that was.
        comparisons: Every comparison of two canvases, in the order recorded.
        meant: The differences that are meant so, each with the clocks when that was said.
        felt_seq: Number of the event of the last passage that was felt; 0 before the first.
        pieces: All work, in order; whatever lies between two pieces is time off.
        moments: What was said or done about the hours, in order; none lies within a piece.
    """

    def __init__(self, limits: Limits = Limits()) -> None:  # noqa: B008  it is never changed
        """Start before the first event; the limits say what counts as a rest."""
        self.hours = Hours(rest_ms=limits.rest_s * 1000, long_rest_ms=limits.long_rest_s * 1000)
        self.deferrals = NO_DEFERRALS
        self.seq = 0
        self.at: Reading | None = None
        self.phase = self._phase_left = Phase.NOT_BEGUN
        self.session = 0
        self.session_begun: Reading | None = None
        self.session_ms = 0
        self.turn_ms = 0
        self.begun: Reading | None = None
        self.in_hand: Turn | None = None
        self.notes: tuple[str, ...] = ()
        self.is_marked = False
        self.absence: Absence | None = None
        self.plan_text = ""
        self.announced: dict[Address, tuple[str, ...]] = {}
        self.held: tuple[Address, ...] = ()
        self.held_canvas = ""
        self.remark = ""
        self.places: dict[Shape, int] = {}
        self.turns: list[TurnRecord] = []
        self.marks: dict[Shape, None] = {}
        self.painted_day_no: int | None = None
        self.found_dry: dict[Shape, Reading] = {}
        self.found_wet: dict[Shape, Reading] = {}
        self.outlines: dict[str, str] = {}
        self.stages: dict[tuple[str, Kind], Reading] = {}
        self.comparisons: list[ComparisonRecord] = []
        self.meant: dict[Difference, Reading] = {}
        self.felt_seq = 0
        self.pieces: list[Piece] = []
        self.moments: list[Moment] = []
        self._turn_no: dict[Shape, int] = {}
        self._sessions_over: list[SessionRecord] = []
        self._session_ended: Reading | None = None
        self._on_duty_ms = 0
        self._begun_day_no = 0

    def copied(self) -> "JournalState":
        """Return a copy that goes on by itself."""
        twin = copy(self)
        twin.hours = self.hours.copied()
        for name, held in vars(self).items():
            if isinstance(held, dict | list):
                setattr(twin, name, held.copy())
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
    def is_on_record(self) -> bool:
        """Whether anything of the turn in hand is on record."""
        return bool(self.turn_ms or self.notes or self.is_marked)

    @property
    def is_morning(self) -> bool:
        """Whether nothing was painted yet since the night; a turn that was left over night is finished first."""
        is_left = self.is_on_record and self._begun_day_no != self.hours.day_no
        return not is_left and self.painted_day_no != self.hours.day_no

    @property
    def last(self) -> TurnRecord | None:
        """The turn that ended last."""
        return self.turns[-1] if self.turns else None

    @property
    def sessions(self) -> tuple[SessionRecord, ...]:
        """Every session, in order, the one that lasts included."""
        if self.session_begun is None:
            return ()
        ended = self._session_ended or self.session_begun
        last = SessionRecord(number=self.session, begun=self.session_begun, ended=ended, worked_ms=self.session_ms)
        return (*self._sessions_over, last)

    def record_of(self, shape: Shape) -> TurnRecord | None:
        """Return the last turn that a passage had on a canvas, or None where it had none."""
        no = self._turn_no.get(shape)
        return None if no is None else self.turns[no]

    def add(self, event: Event) -> TurnRecord | None:  # noqa: C901, PLR0912  one case a kind of event
        """Take one event in force; return the turn that it ended, if it ended one."""
        kind = event.kind
        self._let_time_pass(event)
        self.seq, self.at = event.seq, event.at
        record = None
        match kind:
            case Kind.TURN_DONE | Kind.SKIPPED:
                record = self._end_turn(event)
            case Kind.NOTED:
                self.notes = (*self.notes, event.text)
            case Kind.PAUSED:
                self.phase = Phase.PAUSED
            case Kind.REST_BEGUN:
                self.phase = Phase.RESTING
            case Kind.WORK_RESUMED:
                self.phase = Phase.WORKING
                self.hours.resume()
            case Kind.MARKED | Kind.UNMARKED:
                self.is_marked = kind is Kind.MARKED
            case Kind.WENT_OTHER_WAY:
                self.in_hand = event.turn
            case Kind.SESSION_BEGUN:
                self._begin_session(event)
            case Kind.SESSION_ENDED:
                self._phase_left, self.phase, self.absence = self.phase, Phase.NOT_BEGUN, None
            case Kind.UNDONE:  # of a session's end, which stands: all other undone moves are out of force
                self.phase = self._phase_left
            case Kind.TAKEN_UP:
                self._take_up(event)
            case Kind.FOUND_DRY | Kind.FOUND_WET:
                self._take_dryness(event)
            case Kind.PLAN_READ:
                self.plan_text = event.text
            case stage if stage in STAGE_WORDS:
                self.stages[event.text, stage] = event.at
            case comparing if comparing in COMPARING:
                self._take_comparing(event)
        self._settle(event)
        return record

    def _settle(self, event: Event) -> None:
        """Take what any kind of event may bring: hours, an order announced, the end of the session so far."""
        if event.kind in _ABOUT_HOURS:
            self._take_hours(event)
        if event.announced is not None:
            self.take_announced(event.announced)
        if not self.turn_ms:
            self._on_duty_ms = self.hours.day_ms
        if self.phase is not Phase.NOT_BEGUN or event.kind is Kind.SESSION_ENDED:
            self._session_ended = event.at

    def _let_time_pass(self, event: Event) -> None:
        if self.at is None:
            return
        if event.kind is Kind.CAME_BACK and event.since is not None and self.phase is not Phase.NOT_BEGUN:
            self._work_until(event.since)
            self._session_ended = event.since
            self._be_away(event, passed_ms(event.since, event.at))
        else:
            self._work_until(event.at)

    def _work_until(self, until: Reading) -> None:
        if self.at is None:
            return
        begin_ms = self.hours.now_ms
        self.let_pass(passed_ms(self.at, until))
        if self.phase is Phase.WORKING and self.hours.now_ms > begin_ms:
            self.pieces.append(Piece(len(self.turns), begin_ms, self.hours.now_ms, self.at, until))

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
        self._sessions_over = [*self.sessions]
        self.hours.resume()
        self.phase, self.absence = Phase.WORKING, None
        self.session, self.session_begun = self.session + 1, event.at
        self.session_ms = 0
        if not self.turn_ms:
            self._take_up_turn(event.at)

    def _take_hours(self, event: Event) -> None:
        hours, deferrals, before_ms = self.hours, self.deferrals, 0
        match event.kind:
            case Kind.GRANTED:
                self.deferrals = deferrals._replace(granted_ms=int(event.text), block_no=hours.block_no)
            case Kind.NOT_TODAY:
                before = deferrals.silenced if deferrals.day_no == hours.day_no else frozenset()
                silenced = before | silenced_in(event.text)
                self.deferrals = deferrals._replace(silenced=silenced, day_no=hours.day_no)
            case Kind.WOKE:
                woke, now = dt.time.fromisoformat(event.text), local_time(event.at)
                hours.woke(((now.hour - woke.hour) * 60 + now.minute - woke.minute) % (24 * 60) * 60_000)
                before_ms = hours.awake_ms or 0
            case Kind.RETIMED:
                before_ms = self._retime(event, int(event.text))
        self.moments.append(Moment(hours.now_ms, event, before_ms))

    def _retime(self, event: Event, worked_ms: int) -> int:
        """Put the time of a turn right wherever it counts; return what it was, 0 for an unknown turn."""
        turn = event.turn
        no = None if turn is None else self._turn_no.get((turn.pass_name, turn.passages[0], turn.canvas))
        if no is None:
            return 0
        before_ms = self.turns[no].worked_ms
        excess_ms = before_ms - worked_ms
        self.turns[no] = self.turns[no]._replace(worked_ms=worked_ms)
        self._cut_pieces(no, excess_ms)
        self.hours.retime(excess_ms, self.turn_ms)
        self.session_ms -= excess_ms
        return before_ms

    def _cut_pieces(self, turn_no: int, excess_ms: int) -> None:
        """Let a turn end so much earlier: what was too much is time off."""
        for at in reversed(range(len(self.pieces))):
            piece = self.pieces[at]
            if excess_ms <= 0 or piece.turn_no < turn_no:
                return
            if piece.turn_no > turn_no:
                continue
            if piece.worked_ms <= excess_ms:
                del self.pieces[at]
            else:
                self.pieces[at] = piece.shortened(piece.worked_ms - excess_ms)
            excess_ms -= piece.worked_ms

    def _take_dryness(self, event: Event) -> None:
        if event.turn is None:
            return
        self.felt_seq = event.seq
        found = self.found_dry if event.kind is Kind.FOUND_DRY else self.found_wet
        for passage in event.turn.passages:
            found[event.turn.pass_name, passage, event.turn.canvas] = event.at

    def _take_comparing(self, event: Event) -> None:
        if event.comparison is not None:
            self.comparisons.append(ComparisonRecord(event.at, event.comparison))
        if event.difference is not None and event.kind is Kind.MEANT:
            self.meant[event.difference] = event.at
        elif event.difference is not None:
            self.meant.pop(event.difference, None)
        if event.turn is not None:
            turn = event.turn
            self.marks |= dict.fromkeys((turn.pass_name, passage, turn.canvas) for passage in turn.passages)

    def take_announced(self, announced: Announced) -> None:
        """Let what was announced hold from now on."""
        self.announced |= announced.orders
        self.held = announced.held or self.held
        self.held_canvas = announced.canvas or self.held_canvas
        self.remark = announced.remark
        if self.in_hand is not None and announced.canvas not in {"", self.in_hand.canvas}:
            self.in_hand = None  # the canvas taken out of turn was away, so that another one was in hand

    def _take_up(self, event: Event) -> None:
        """Let what was passed over be to come again; that it was passed over stays among the turns."""
        turn = event.turn
        for passage in turn.passages if turn else ():
            shape = (turn.pass_name, passage, turn.canvas) if turn else ("", "", "")
            if self.places.get(shape) == SKIPPED:
                del self.places[shape]
                self._turn_no.pop(shape, None)

    def _take_up_turn(self, at: Reading) -> None:
        self.begun, self._begun_day_no = at, self.hours.day_no

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
            on_duty_ms=self._on_duty_ms,
            notes=self.notes,
            is_marked=self.is_marked,
            is_skipped=event.kind is Kind.SKIPPED,
            went_other_way=self.in_hand is not None,
            as_painted=event.as_painted,
            plan_text="" if event.as_painted or turn.check else self.plan_text,
            outlines={id_: data or self.outlines.get(id_, "") for id_, data in event.outlines.items()},
        )
        self.outlines |= record.outlines
        for shape in record.shapes:
            self.places[shape] = SKIPPED if record.is_skipped else turn.place
            self._turn_no[shape] = len(self.turns)
            if record.is_marked:
                self.marks[shape] = None
        if record.is_painted:
            self.painted_day_no = self._begun_day_no
        self.turns.append(record)
        self.turn_ms, self.notes, self.is_marked, self.in_hand, self.absence = 0, (), False, None, None
        self._take_up_turn(event.at)
        self.remark = self.held_canvas = ""
        if self.held and not any((turn.pass_name, passage) in self.held for passage in turn.passages):
            self.held = ()
        return record


def state_of(events: Iterable[Event], limits: Limits = Limits()) -> JournalState:  # noqa: B008  it is never changed
    """Return what every event of a journal adds up to."""
    state = JournalState(limits)
    for event in in_force(events):
        state.add(event)
    return state


def silenced_in(text: str) -> frozenset[tuple[Key, Grade]]:
    """Return the limits that the text of a NOT_TODAY event names; a limit that nobody knows any more is left out."""
    pairs = (pair.split(":") for pair in text.split(","))
    return frozenset(
        (Key(key), Grade(int(grade))) for key, grade in pairs if key in set(Key) and int(grade) in set(Grade)
    )


def text_of_silenced(silenced: frozenset[tuple[Key, Grade]]) -> str:
    """Return the text from which `silenced_in` reads the same limits."""
    return ",".join(sorted(f"{key}:{grade.value}" for key, grade in silenced))
