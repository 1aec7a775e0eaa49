"""What a forecast is asked about, drawn from the plan and from what the journal tells."""

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from coach.forecast.adherence import DayKept
from coach.forecast.calendar import promised_days
from coach.forecast.outlook import Laid, Outlook, RemainingTurn, TurnTime
from coach.journal.reading import local_time, passed_ms
from coach.plan.commission import RETURN_TO, Passage, Plan
from coach.session.journal_state import JournalState
from coach.session.records import Shape, TurnRecord
from coach.session.work import turns_ahead, work_of_journal

_DAY_MS = 24 * 3600 * 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastInput:
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


def forecast_input(
    plan: Plan, state: JournalState, today: dt.date, earlier: Mapping[str, JournalState]
) -> ForecastInput:
    """Return what a forecast of the plan is asked about.

    Args:
        plan: The plan in force.
        state: What its journal adds up to.
        today: The day it is asked on.
        earlier: For each journal of an earlier commission its name and what it adds up to.
    """
    before = [turn for name, other in earlier.items() for turn in _turn_times(other, f" ({name})")]
    painted_s = _painted_s(state)
    laid = _laid(state)
    outlook = Outlook(
        today=today,
        remaining=tuple(_remaining(plan, state, today)),
        turns=(*before, *_turn_times(state, "")),
        days=_days_kept(plan, painted_s, today),
        laid=tuple(_as_laid(shape, record) for shape, record in laid.items() if _may_be_wet(shape, record, state)),
        today_painted_s=painted_s.get(today, 0),
    )
    return ForecastInput(stated=plan, plan=_with_measured(plan, state, laid), outlook=outlook, painted_s=painted_s)


def _remaining(plan: Plan, state: JournalState, today: dt.date) -> Iterator[RemainingTurn]:
    """Yield the turns to come as they were announced; what a canvas that is away still needs comes after all others."""
    absent = plan.absent_on(today)
    away = {plan.canvases[number].name for number in absent}
    turns = list(turns_ahead(work_of_journal(plan, state, absent=absent), state.places))
    if away:
        everywhere = turns_ahead(work_of_journal(plan, state, absent=frozenset()), state.places)
        turns += [turn for turn in everywhere if turn.canvas in away]
    for turn in turns:
        yield RemainingTurn(turn.canvas, _feature(turn.pass_name), turn.passages, turn.place == 1, turn.planned_s)


def _turn_times(state: JournalState, of_journal: str) -> Iterator[TurnTime]:
    """Yield the turns that were painted; one that was passed over laid no paint."""
    for record in state.turns:
        if not record.is_skipped:
            turn, day = record.turn, local_time(record.ended)
            yield TurnTime(
                pass_name=_feature(turn.pass_name),
                is_lead=turn.place == 1,
                planned_s=turn.planned_s,
                worked_s=record.worked_ms / 1000,
                on_duty_s=record.on_duty_ms / 1000,
                words=f"{' + '.join(turn.passages)}, {turn.canvas}, {day.day} {day:%B}{of_journal}",
            )


def _painted_s(state: JournalState) -> dict[dt.date, float]:
    painted_s: dict[dt.date, float] = {}
    for piece in state.pieces:
        day = local_time(piece.begun).date()
        painted_s[day] = painted_s.get(day, 0) + piece.worked_ms / 1000
    return painted_s


def _laid(state: JournalState) -> dict[Shape, TurnRecord]:
    """Return for every passage and canvas the last turn that laid paint on it, a return to it included."""
    return {
        (_feature(record.turn.pass_name), passage, record.turn.canvas): record
        for record in state.turns
        if not record.is_skipped
        for passage in record.turn.passages
    }


def _feature(pass_name: str) -> str:
    """Return the pass of the plan that a pass, or a return to it, is about."""
    while pass_name.startswith(RETURN_TO):
        pass_name = pass_name.removeprefix(RETURN_TO)
    return pass_name


def _days_kept(plan: Plan, painted_s: Mapping[dt.date, float], today: dt.date) -> tuple[DayKept, ...]:
    gone = [day for day in painted_s if day < today]
    if not gone:
        return ()
    first, yesterday = min(gone), today - dt.timedelta(days=1)
    promised = promised_days(plan, first, yesterday)
    return tuple(
        DayKept(promised_s, painted_s.get(first + dt.timedelta(days=number), 0))
        for number, promised_s in enumerate(promised)
    )


def _may_be_wet(shape: Shape, record: TurnRecord, state: JournalState) -> bool:
    found = state.found_dry.get(shape)
    return found is None or found.wall_ms < record.ended.wall_ms


def _as_laid(shape: Shape, record: TurnRecord) -> Laid:
    pass_name, passage, canvas = shape
    return Laid(canvas=canvas, pass_name=pass_name, passage=passage, painted=local_time(record.ended).date())


def _with_measured(plan: Plan, state: JournalState, laid: Mapping[Shape, TurnRecord]) -> Plan:
    """Return the plan with the longest days to touch-dry that were measured of each mixture."""
    measured: dict[str, float] = {}
    passages: dict[tuple[str, str], Passage] = {(one.name, p.name): p for one in plan.passes for p in one.passages}
    for shape, found in state.found_dry.items():
        pass_name = _feature(shape[0])
        passage, record = passages.get((pass_name, shape[1])), laid.get((pass_name, *shape[1:]))
        if passage is None or record is None or passage.mixture is None:
            continue
        days = passed_ms(record.ended, found) / _DAY_MS
        if days > 0:
            measured[passage.mixture] = max(days, measured.get(passage.mixture, 0))
    return plan._replace(
        mixtures=tuple(mixture._replace(dries_days=measured.get(mixture.name)) for mixture in plan.mixtures)
    )
