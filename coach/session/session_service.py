"""One sitting at the easel: moves in, events on the disk, the situation out."""

from typing import NamedTuple

from coach.errors import CoachError
from coach.journal.events import Event, Journal, JournalError, Kind, Turn, in_force
from coach.journal.reading import Reading, local_time, passed_ms
from coach.plan.commission import Plan
from coach.session.journal_state import JournalState, Phase
from coach.session.moves import Move, MoveRefused, Standing
from coach.session.ports import Clock, LastSeen, PlanSource
from coach.session.situation import Situation, situation_of
from coach.session.work import Work, after_turn, work_of

AWAY_MS = 30_000
"""A silence of the program this long is a time away: the lid was closed or the program stood still."""


class _Step(NamedTuple):
    """A turn that ended in this session: everything of it that the order depends on, and the work after it."""

    seq: int
    turn: Turn
    went_other_way: bool
    is_skipped: bool
    is_marked: bool
    work: Work


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
    ) -> None:
        """Read the journal; nothing is recorded before `open`."""
        self._journal, self._clock, self._source, self._last_seen = journal, clock, source, last_seen
        self.read_only = read_only
        self.stands_still = False
        self.remark = self.plan_fault = ""
        self._stamp = source.stamp()
        self._plan = plan
        self._base = JournalState(plan.limits)
        self._base_work: Work | None = None
        self._steps: list[_Step] = []
        self._read_journal()
        self._ticked = clock.read()

    def _absent(self) -> frozenset[int]:
        return self._plan.absent_on(local_time(self._clock.read()).date())

    def _read_journal(self) -> None:
        """Take in every event after the base, and move the base to the last beginning of a session."""
        events = list(self._journal.after(self._base.seq))
        begun = max((event.seq for event in events if event.kind is Kind.SESSION_BEGUN), default=0)
        split = next((no for no, event in enumerate(events) if event.seq == begun), 0)
        for event in in_force(events[:split]):
            self._base.add(event)
            self._base_work = None
        self._session_events, self._steps = events[split:], []
        self._refold()

    def _refold(self) -> None:
        """Fold the session's events anew onto the base: what was shown live, a replay shows again."""
        known, self._steps = self._steps, []
        if self._base_work is None:
            known = []
            self._base_work = work_of(self._plan, self._base.places, marks=self._base.marks, absent=self._absent())
        self._progress, self._work = self._base.copied(), self._base_work
        for event in in_force(self._session_events):
            known = self._fold(event, known)
        if self._session_events:
            self._progress.seq = self._session_events[-1].seq

    def _fold(self, event: Event, known: "list[_Step] | None" = None) -> "list[_Step]":
        """Take in an event; a step that is known already is not planned anew. Return the steps known beyond it."""
        record = self._progress.add(event)
        if record is None:
            return known or []
        step = _Step(event.seq, record.turn, record.went_other_way, record.is_skipped, record.is_marked, self._work)
        if known and known[0][:-1] == step[:-1]:
            step = known[0]
        else:
            known = []
            step = step._replace(work=after_turn(self._work, record, self._progress.places, self._progress.marks))
        self._work = step.work
        self._steps.append(step)
        return known[1:]

    @property
    def plan(self) -> Plan:
        """The plan in force."""
        return self._plan

    @property
    def state(self) -> JournalState:
        """What the journal adds up to; not to be changed."""
        return self._progress

    def open(self, plan_text: str) -> None:
        """Record the plan's text where it is new, and the return where a session was cut short."""
        if self.read_only:
            return
        now = self._clock.read()
        try:
            if plan_text != self._progress.plan_text:
                self._record(Event(seq=0, at=now, kind=Kind.PLAN_READ, text=plan_text))
            if self._progress.phase is not Phase.NOT_BEGUN:
                self._come_back(now, self._last_seen.read())
        except JournalError as error:
            self.remark = str(error)

    def _come_back(self, now: Reading, seen: Reading | None) -> None:
        since = self._progress.at
        if seen is not None and since is not None and passed_ms(since, seen) > 0 and passed_ms(seen, now) > 0:
            since = seen
        self._record(Event(seq=0, at=now, kind=Kind.CAME_BACK, since=since))

    @property
    def remarks(self) -> tuple[str, ...]:
        """What to tell the painter, gravest first."""
        said = (self.read_only, self._journal.notice, self.remark, self.plan_fault, self._work.remark)
        return tuple(text for text in said if text)

    def situation(self) -> Situation:
        """Return the situation now, or at the last event where the sitting stands still."""
        at = self._progress.at if self.stands_still else None
        return situation_of(self._work, self._progress, at or self._clock.read())

    def tick(self) -> None:
        """Leave word that the coach is running; to be called once a second."""
        if self.read_only:
            self._follow()
            return
        now = self._clock.read()
        self._notice_absence(now)
        if self._progress.phase is not Phase.NOT_BEGUN:
            self._last_seen.write(now)

    def _notice_absence(self, now: Reading) -> None:
        seen, self._ticked = self._ticked, now
        if self._progress.phase is Phase.NOT_BEGUN or passed_ms(seen, now) < AWAY_MS:
            return
        try:
            self._come_back(now, seen)
        except JournalError as error:
            self.remark = str(error)

    def _follow(self) -> None:
        """Take in what another coach has recorded meanwhile."""
        try:
            events = list(self._journal.after(self._progress.seq))
        except JournalError as error:
            self.remark = str(error)
            return
        if events:
            self._read_journal()

    def make(self, move: Move) -> None:
        """Record a move, or say in `remark` why it is not recorded; an edited plan is taken up first."""
        if self.read_only:
            self.remark = "nothing was recorded"
            return
        now = self._clock.read()
        self._notice_absence(now)
        self.remark = ""
        self._take_up_edited_plan()
        standing = Standing(work=self._work, progress=self._progress, session_events=self._session_events)
        try:
            self._record(move(standing, now))
        except (MoveRefused, JournalError) as error:
            self.remark = str(error)

    def _record(self, draft: Event) -> None:
        """Put an event on the disk, and only then into the state."""
        event = self._journal.append(draft)
        if event.kind is Kind.SESSION_BEGUN:
            self._base, self._session_events, self._steps = self._progress.copied(), [], []
            # Orders mended near those announced are known to this sitting alone; a session is planned from the
            # journal, so that it is planned the same wherever it is read.
            is_kept = self._base_work is not None and self._work.orders is self._base_work.orders
            self._base_work = self._work if is_kept and self._work.absent == self._absent() else None
        self._session_events.append(event)
        if event.kind in (Kind.UNDONE, Kind.AWAY_WORKED, Kind.SESSION_BEGUN):
            self._refold()
        else:
            self._fold(event)

    def _take_up_edited_plan(self) -> None:
        stamp = self._source.stamp()
        if stamp == self._stamp:
            return
        from coach.plan.reading import read_plan  # noqa: PLC0415  reading YAML is loaded for an edited plan only

        try:
            text = self._source.read()
            plan = read_plan(text, self._source.name)
            if text != self._progress.plan_text:
                self._record(Event(seq=0, at=self._clock.read(), kind=Kind.PLAN_READ, text=text))
        except JournalError:
            return
        except CoachError as error:
            self._stamp, self.plan_fault = stamp, str(error)
        else:
            self._stamp, self.plan_fault = stamp, ""
            self._plan = plan
            self._base.take_limits(plan.limits)
            self._base_work = None
            self._refold()
