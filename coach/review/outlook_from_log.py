"""What a forecast is asked about, drawn from the plan and from what the journal tells."""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from coach.forecast.adherence import DayKept
from coach.forecast.calendar import promised_days
from coach.forecast.outlook import Laid, Outlook, RemainingTurn, TurnTime
from coach.journal.events import Event, Kind, in_force
from coach.journal.reading import local_time, passed_ms
from coach.plan.commission import RETURN_TO, Plan
from coach.session.dryness import passage_named
from coach.session.journal_state import JournalState, Phase, Shape, TurnRecord
from coach.session.work import turns_ahead, work_of

_DAY_MS = 24 * 3600 * 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What a forecast is asked about.

    Attributes:
        stated: The plan as its file states it.
        plan: The same with the drying days that the log measured.
        outlook: Everything beside the plan that the day of delivery depends on.
        painted_s: Seconds painted on each day that was painted on.
    """

    stated: Plan
    plan: Plan
    outlook: Outlook
    painted_s: Mapping[dt.date, float]


@dataclass(slots=True)
class _Told:
    """What a journal tells of time and of paint.

    Attributes:
        progress: What the events add up to.
        taken_up_ms: Work of the day before the turn in hand was taken up.
        turns: Turns timed.
        painted_ms: Work of each day.
        records: The last turn of every passage, none forgotten.
    """

    progress: JournalState = field(default_factory=JournalState)
    taken_up_ms: int = 0
    turns: list[TurnTime] = field(default_factory=list)
    painted_ms: dict[dt.date, int] = field(default_factory=dict)
    records: dict[Shape, TurnRecord] = field(default_factory=dict)

    def add_work(self, day: dt.date, ms: int) -> None:
        """Add work of a day."""
        self.painted_ms[day] = self.painted_ms.get(day, 0) + ms

    def add_turn(self, record: TurnRecord, of_journal: str) -> None:
        """Add a turn that is over; one that was skipped laid no paint."""
        if record.is_skipped:
            return
        self.turns.append(_turn_time(record, self.taken_up_ms, of_journal))
        for passage in record.turn.passages:
            self.records[_feature(record.turn.pass_name), passage, record.turn.canvas] = record

    def retime(self, record: TurnRecord, of_journal: str) -> None:
        """Correct the time of the last turn."""
        was = self.turns.pop()
        self.add_work(local_time(record.begun).date(), round(record.worked_ms - was.worked_s * 1000))
        self.turns.append(_turn_time(record, round((was.on_duty_s or 0) * 1000), of_journal))


def asked_of(plan: Plan, events: Iterable[Event], today: dt.date, earlier: Mapping[str, Iterable[Event]]) -> Asked:
    """Return what a forecast of the plan is asked about.

    Args:
        plan: The plan in force.
        events: Every event of its journal.
        today: The day it is asked on.
        earlier: For each journal of an earlier commission its name and its events.
    """
    told = _told(events, "")
    before = [turn for name, others in earlier.items() for turn in _told(others, f" ({name})").turns]
    work = work_of(plan, told.progress.places, marks=told.progress.marks)
    outlook = Outlook(
        today=today,
        remaining=tuple(
            RemainingTurn(turn.canvas, _feature(turn.pass_name), turn.passages, turn.place == 1, turn.planned_s)
            for turn in turns_ahead(work, told.progress.places)
        ),
        turns=(*before, *told.turns),
        days=_days_kept(plan, told.painted_ms, today),
        laid=tuple(_laid(shape, record) for shape, record in told.records.items() if _may_be_wet(shape, told)),
        today_painted_s=told.painted_ms.get(today, 0) / 1000,
    )
    return Asked(
        stated=plan,
        plan=_with_measured(plan, told),
        outlook=outlook,
        painted_s={day: ms / 1000 for day, ms in told.painted_ms.items()},
    )


def _told(events: Iterable[Event], of_journal: str) -> _Told:
    told = _Told()
    progress = told.progress
    for event in in_force(events):
        if progress.phase is Phase.WORKING and progress.at is not None:
            told.add_work(local_time(progress.at).date(), passed_ms(progress.at, event.since or event.at))
        record = progress.add(event)
        if record is not None:
            told.add_turn(record, of_journal)
        elif event.kind is Kind.RETIMED and told.turns and progress.last is not None:
            told.retime(progress.last, of_journal)
        if not progress.turn_ms:
            told.taken_up_ms = progress.hours.day_ms
    return told


def _turn_time(record: TurnRecord, on_duty_ms: int, of_journal: str) -> TurnTime:
    turn, day = record.turn, local_time(record.ended)
    return TurnTime(
        pass_name=_feature(turn.pass_name),
        is_lead=turn.place == 1,
        planned_s=turn.planned_s,
        worked_s=record.worked_ms / 1000,
        on_duty_s=on_duty_ms / 1000,
        words=f"{' + '.join(turn.passages)}, {turn.canvas}, {day.day} {day:%B}{of_journal}",
    )


def _feature(pass_name: str) -> str:
    """Return the pass of the plan that a pass, or a return to it, is about."""
    while pass_name.startswith(RETURN_TO):
        pass_name = pass_name.removeprefix(RETURN_TO)
    return pass_name


def _days_kept(plan: Plan, painted_ms: Mapping[dt.date, int], today: dt.date) -> tuple[DayKept, ...]:
    gone = [day for day in painted_ms if day < today]
    if not gone:
        return ()
    first, yesterday = min(gone), today - dt.timedelta(days=1)
    promised = promised_days(plan, first, yesterday)
    return tuple(
        DayKept(promised_s, painted_ms.get(first + dt.timedelta(days=number), 0) / 1000)
        for number, promised_s in enumerate(promised)
    )


def _may_be_wet(shape: Shape, told: _Told) -> bool:
    found = told.progress.found_dry.get(shape)
    record = told.records[shape]
    return found is None or found.wall_ms < record.ended.wall_ms


def _laid(shape: Shape, record: TurnRecord) -> Laid:
    pass_name, passage, canvas = shape
    return Laid(canvas=canvas, pass_name=pass_name, passage=passage, painted=local_time(record.ended).date())


def _with_measured(plan: Plan, told: _Told) -> Plan:
    """Return the plan with the longest days to touch-dry that were measured of each mixture."""
    measured: dict[str, float] = {}
    for shape, found in told.progress.found_dry.items():
        passage, record = passage_named(plan, _feature(shape[0]), shape[1]), told.records.get(shape)
        if passage is None or record is None or passage.mixture is None:
            continue
        days = passed_ms(record.ended, found) / _DAY_MS
        if days > 0:
            measured[passage.mixture] = max(days, measured.get(passage.mixture, 0))
    return plan._replace(
        mixtures=tuple(mixture._replace(dries_days=measured.get(mixture.name)) for mixture in plan.mixtures)
    )
