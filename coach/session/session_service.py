"""The service of a session at the easel: moves in, events on the disk, the situation out."""

from collections.abc import Iterable, Mapping
from contextlib import suppress
from typing import Protocol

from coach.errors import CoachError
from coach.journal.events import Announced, Event, Journal, JournalError, Kind, in_force
from coach.journal.reading import Reading, local_time, passed_ms
from coach.limits.hours import NIGHT_MS
from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.session.announcing import announced_by, announced_by_edit
from coach.session.go_on_keys import GoOnKeys
from coach.session.journal_state import JournalState
from coach.session.moves import Move, MoveRefused, Standing, go_on, in_words
from coach.session.records import Phase
from coach.session.situation import Situation, situation_of
from coach.session.wet_and_dry import DrynessQuestion, feature
from coach.session.work import Work, after_turn, work_of_journal

AWAY_MS = 30_000
"""A silence of the program this long is a time away: the lid was closed or the program stood still."""

REFUSAL_MS = 8_000
"""So long it is said why a move is refused."""


_ANEW = frozenset({Kind.TAKEN_UP, Kind.MARKED_FOR_RETURN, Kind.SESSION_BEGUN, Kind.SESSION_ENDED, Kind.CAME_BACK})
"""Kinds after which other runs may be to come, or other canvases there."""


class Clock(Protocol):
    """The clocks of the machine."""

    def read(self) -> Reading:
        """Return all clocks, read together."""


class PlanSource(Protocol):
    """The file the plan is written in."""

    @property
    def name(self) -> str:
        """Name of the file, for sentences."""

    def stamp(self) -> object:
        """Return something that differs whenever the file may have changed; None where it is gone."""

    def read(self) -> str:
        """Return the text.

        Raises:
            CoachError: The file cannot be read as text.
        """


class OutlineSource(Protocol):
    """The outlines of the shapes that lie beside the plan."""

    def prepare(self, name: str) -> None:
        """Begin to read the file of that name where it is new; nobody waits for it."""

    def read(self, name: str) -> Mapping[str, str]:
        """Return the outline of every shape by its id, as path data of SVG; none where the file cannot be read."""


class LastSeen(Protocol):
    """Where the coach leaves word, second by second, that it is running."""

    def write(self, reading: Reading) -> None:
        """Put the reading on the disk; a disk that refuses it is not an error."""

    def read(self) -> Reading | None:
        """Return the last reading, or None where there is none."""


class SessionService:
    """Holds the journal's state in memory and changes it only by events that are on the disk.

    Attributes:
        remark: What to tell the painter about the last move; empty where there is nothing.
        plan_fault: Why the edited plan is not taken up; empty where the plan in force is the one in the file.
        read_only: Why nothing can be recorded; empty where it can.
        stands_still: Whether no time passes, because nobody paints: the journal is damaged and only shown.
    """

    def __init__(
        self,
        *,
        plan: Plan,
        journal: Journal,
        clock: Clock,
        source: PlanSource,
        last_seen: LastSeen,
        read_only: str = "",
        outlines: OutlineSource | None = None,
    ) -> None:
        """Read the journal; nothing is recorded before `open`. Without `outlines` no shape's is kept."""
        self._outlines = outlines
        self._journal, self._clock, self._source, self._last_seen = journal, clock, source, last_seen
        self.read_only = read_only
        self.stands_still = False
        self.remark = self.plan_fault = ""
        self._refused: Reading | None = None
        self._stamp = source.stamp()
        self._plan = plan
        self._keys = GoOnKeys()
        self._question = DrynessQuestion()
        # Undo folds anew what came since the last session but one was begun; before that nothing is undone.
        self._base = JournalState(plan.limits)
        self._events: list[Event] = []
        self._take_in(journal.after(0))
        self._ticked = clock.read()

    def _take_in(self, events: Iterable[Event]) -> None:
        """Take in every event since the base, and move the base to before the last session but one."""
        self._events = list(events)
        self._move_base()
        self._refold()

    def _move_base(self) -> None:
        in_order = in_force(self._events)
        begun = [event.seq for event in in_order if event.kind is Kind.SESSION_BEGUN]
        if len(begun) > 1:
            split = begun[-2]
            for event in in_order:
                if event.seq < split:
                    self._base.add(event)
            self._base.seq = split - 1
            self._events = [event for event in self._events if event.seq >= split]

    def _refold(self) -> None:
        """Fold the events since the base anew: what was shown live, a replay shows again."""
        self._state = self._base.copied()
        for event in in_force(self._events):
            self._state.add(event)
        if self._events:
            self._state.seq = self._events[-1].seq
        self._work = self._work_now(self._plan)

    def _work_now(self, plan: Plan) -> Work:
        work = work_of_journal(plan, self._state, absent=self._absent(plan))
        return work._replace(is_morning=self._is_morning())

    def _is_morning(self) -> bool:
        """Return whether nothing was painted since the night; between sessions the night may be over by now."""
        is_open = self._state.phase is not Phase.NOT_BEGUN
        return (self._state if is_open else self._state.seen_at(self._clock.read())).is_morning

    def _absent(self, plan: Plan) -> frozenset[int]:
        """Return the canvases that are away: for a whole session those that were when it was begun."""
        at = self._clock.read() if self._state.phase is Phase.NOT_BEGUN else self._state.session_begun
        return plan.absent_on(local_time(at or self._clock.read()).date())

    @property
    def plan(self) -> Plan:
        """The plan in force."""
        return self._plan

    @property
    def state(self) -> JournalState:
        """What the journal adds up to; not to be changed."""
        return self._state

    @property
    def work(self) -> Work:
        """Where the work stands."""
        return self._work

    def open(self, plan_text: str) -> None:
        """Record the plan's text where it is new, and the return where a session was cut short."""
        if self.read_only:
            return
        try:
            if plan_text != self._state.plan_text:
                plan = self._plan
                with suppress(CoachError):  # what was in hand under the plan before stays in hand
                    self._plan = read_plan(self._state.plan_text, self._source.name)
                self._work = self._work_now(self._plan)
                self._take_up(plan, plan_text)
            if self._state.phase is not Phase.NOT_BEGUN:
                self._come_back(self._clock.read(), self._last_seen.read())
        except JournalError as error:
            self.remark = str(error)

    def _come_back(self, now: Reading, seen: Reading | None) -> None:
        since = self._state.at
        if seen is not None and since is not None and passed_ms(since, seen) > 0 and passed_ms(seen, now) > 0:
            since = seen
        self._record(Event(seq=0, at=now, kind=Kind.CAME_BACK, since=since))

    @property
    def remarks(self) -> tuple[str, ...]:
        """What to tell the painter of the last move, and of a journal that takes none, gravest first."""
        said = (self.read_only, self._journal.notice, self.remark)
        return tuple(text for text in said if text)

    def situation(self) -> Situation:
        """Return the situation now, or at the last event where the service stands still."""
        at = self._state.at if self.stands_still else None
        return situation_of(self._work, self._state, at or self._clock.read(), self._question)

    def tick(self) -> None:
        """Leave word that the coach is running, and take up an edited plan; to be called once a second."""
        self._notice_new_day()
        if self.read_only:
            self._follow()
            return
        now = self._clock.read()
        if self._refused is not None and passed_ms(self._refused, now) >= REFUSAL_MS:
            self.remark, self._refused = "", None
        self._notice_absence(now)
        self._take_up_edited_plan()
        if self._outlines is not None and self._plan.shapes is not None:
            self._outlines.prepare(self._plan.shapes)
        if self._state.phase is not Phase.NOT_BEGUN:
            self._last_seen.write(now)

    def _notice_new_day(self) -> None:
        """Between sessions, let a canvas be there again on the day it is back, and a fresh eye come after a night."""
        if self._state.phase is not Phase.NOT_BEGUN:
            return
        if self._work.absent != self._absent(self._plan) or self._work.is_morning != self._is_morning():
            self._work = self._work_now(self._plan)

    def _notice_absence(self, now: Reading) -> None:
        seen, self._ticked = self._ticked, now
        if self._state.phase is Phase.NOT_BEGUN or passed_ms(seen, now) < AWAY_MS:
            return
        try:
            self._come_back(now, seen)
        except JournalError as error:
            self.remark = str(error)

    def _follow(self) -> None:
        """Take in what another coach has recorded meanwhile."""
        try:
            if any(True for _ in self._journal.after(self._state.seq)):
                self._take_in(self._journal.after(self._base.seq))
        except JournalError as error:
            self.remark = str(error)

    def press(self, move: Move) -> bool:
        """Make the move of a key and return whether it is recorded; of a held go-on key only the first counts."""
        if move is go_on:
            self._keys = self._keys.pressed(self._clock.read(), round(self._plan.limits.press_s * 1000))
            if self._keys.refused:
                self.remark = "Held down: counted once."
                return False
        return self.make(move)

    def allows(self, move: Move) -> bool:
        """Return whether a move makes sense now; nothing is recorded."""
        now = Standing(work=self._work, state=self._state, events=tuple(self._events))
        try:
            move(now, self._clock.read())
        except MoveRefused:
            return False
        return not self.read_only

    def make(self, move: Move) -> bool:
        """Record a move of what is shown, or say in `remark` why not; return whether it is recorded.

        An edited plan is taken up after it: what was painted was painted under the plan that was shown.
        """
        if self.read_only:
            self.remark = "Nothing was recorded."
            return False
        now = self._clock.read()
        self._notice_absence(now)
        self.remark, self._refused = "", None
        self._notice_new_day()
        before = Standing(work=self._work, state=self._state, events=tuple(self._events))
        try:
            event = self._record(self._with_outlines(move(before, now)))
        except (MoveRefused, JournalError) as error:
            self.remark, self._refused = str(error), now if isinstance(error, MoveRefused) else None
            event = None
        self.remark = self.remark if event is None else in_words(event, before)
        self._take_up_edited_plan()
        return event is not None

    def _record(self, draft: Event, announced: Announced | None = None) -> Event:
        """Put an event on the disk together with what it changes in the order, and only then into the state."""
        if draft.kind is not Kind.PLAN_READ:
            announced = announced_by(draft, self._work, self._state, is_end=self._is_end(draft))
        event = self._journal.append(draft._replace(announced=announced))
        self._events.append(event)
        if event.kind is Kind.SESSION_BEGUN:
            self._move_base()
        if event.kind in {Kind.UNDONE, Kind.AWAY_WORKED}:
            self._refold()
            return event
        record = self._state.add(event)
        if record is not None:
            self._work = after_turn(self._work, record, self._state)
        elif event.announced is not None or event.kind in _ANEW:
            self._work = self._work_now(self._plan)
        return event

    def _with_outlines(self, draft: Event) -> Event:
        """Return an event with the outlines of what it says is painted: an edit of the shapes changes them no more."""
        name, turn = self._plan.shapes, draft.turn
        if draft.kind is not Kind.TURN_DONE or turn is None or turn.check or name is None or self._outlines is None:
            return draft
        passages = [self._work.passages.get((feature(turn.pass_name), own)) for own in turn.passages]
        ids = [id_ for passage in passages if passage is not None for id_ in passage.shapes]
        drawn = self._outlines.read(name) if ids else {}
        known = self._state.outlines
        kept = {id_: "" if known.get(id_) == drawn[id_] else drawn[id_] for id_ in ids if id_ in drawn}
        return draft._replace(outlines=kept)

    def _is_end(self, draft: Event) -> bool:
        """Return whether an event ends a session, by its kind or after a night away."""
        is_night = draft.since is not None and passed_ms(draft.since, draft.at) >= NIGHT_MS
        return draft.kind is Kind.SESSION_ENDED or (draft.kind is Kind.CAME_BACK and is_night)

    def _take_up_edited_plan(self) -> None:
        stamp = self._source.stamp()
        if stamp == self._stamp or self.read_only:
            return
        try:
            text = self._source.read()
            plan = read_plan(text, self._source.name)
            self._take_up(plan, text)
        except JournalError as error:
            self.remark = str(error)
        except CoachError as error:
            self._stamp, self.plan_fault = stamp, str(error)
        else:
            self._stamp, self.plan_fault = stamp, ""

    def _take_up(self, plan: Plan, text: str) -> None:
        """Record the plan's text where it is new, with what it changes in the order, and put the plan into force."""
        if text != self._state.plan_text:
            draft = Event(seq=0, at=self._clock.read(), kind=Kind.PLAN_READ, text=text)
            absent = self._absent(plan)
            self._record(draft, announced_by_edit(draft, self._work, self._state, plan, absent))
        self._plan = plan
        self._base.take_limits(plan.limits)
        self._refold()
