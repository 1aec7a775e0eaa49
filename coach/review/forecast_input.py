"""What a forecast is asked about, drawn from the plan and from what the journal tells."""

import datetime as dt
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from coach.forecast.adherence import DayKept
from coach.forecast.calendar import promised_days
from coach.forecast.drying import DryAnswer
from coach.forecast.layers import dry_days
from coach.forecast.outlook import Laid, Outlook, RemainingTurn, Stage, TurnTime
from coach.journal.events import STAGE_WORDS, Kind
from coach.journal.reading import Reading, local_time, passed_ms
from coach.plan.commission import Passage, Plan
from coach.session.journal_state import JournalState
from coach.session.records import Shape, TurnRecord
from coach.session.wet_and_dry import feature, paint_laid, paint_on_canvases
from coach.session.work import turns_to_come

_DAY_MS = 24 * 3600 * 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastInput:
    """What a forecast is asked about.

    Attributes:
        stated: The plan as its file states it.
        plan: The plan that is asked about.
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
    painted_s, laid = _painted_s(state), _laid(state)
    remaining = tuple(_remaining(plan, state, today))
    stages = tuple(_stages(plan, state))
    gone = {stage.canvas for stage in stages if stage.kind is not Kind.PHOTOGRAPHED}
    wet = tuple(_may_be_wet(plan, laid, state))
    outlook = Outlook(
        today=today,
        remaining=remaining,
        turns=(*before, *_turn_times(state, "")),
        days=_days_kept(plan, painted_s, today, set(_waited(plan, state, remaining, today))),
        laid=tuple(own for own in wet if own.canvas not in gone),
        gone_laid=tuple(own for own in wet if own.canvas in gone),
        passes_painted=_passes_painted(laid),
        stages=stages,
        paint=paint_on_canvases(plan, state),
        answers=tuple(_answers(plan, laid, state)),
        today_painted_s=painted_s.get(today, 0),
    )
    return ForecastInput(stated=plan, plan=plan, outlook=outlook, painted_s=painted_s)


def _remaining(plan: Plan, state: JournalState, today: dt.date) -> Iterator[RemainingTurn]:
    """Yield the turns to come, with what was worked on the one in hand."""
    for number, turn in enumerate(turns_to_come(plan, state, plan.absent_on(today))):
        worked_s = 0.0 if number else state.turn_ms / 1000
        name = feature(turn.pass_name)
        yield RemainingTurn(
            turn.canvas, name, turn.passages, turn.is_lead, turn.planned_s, worked_s, is_check=bool(turn.check)
        )


def _turn_times(state: JournalState, of_journal: str) -> Iterator[TurnTime]:
    """Yield the turns that were painted; one that was passed over, and a check, laid no paint."""
    for record in state.turns:
        if record.is_painted:
            turn, day = record.turn, local_time(record.ended)
            yield TurnTime(
                pass_name=feature(turn.pass_name),
                is_lead=turn.is_lead,
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
        (feature(record.turn.pass_name), passage, record.turn.canvas): record
        for record in state.turns
        if record.is_painted
        for passage in record.turn.passages
    }


def _stages(plan: Plan, state: JournalState) -> Iterator[Stage]:
    for canvas in plan.canvases:
        for kind in STAGE_WORDS:
            at = state.stages.get((canvas.name, kind))
            if at is not None:
                yield Stage(canvas.name, kind, local_time(at).date())


def _passes_painted(laid: Mapping[Shape, TurnRecord]) -> dict[str, dt.date]:
    painted: dict[str, dt.date] = {}
    for (pass_name, _, _), record in laid.items():
        painted[pass_name] = max(local_time(record.ended).date(), painted.get(pass_name, dt.date.min))
    return painted


def _days_kept(
    plan: Plan, painted_s: Mapping[dt.date, float], today: dt.date, waited: Container[dt.date]
) -> tuple[DayKept, ...]:
    """Return the days since the first session.

    Of a day on which the painter waited for paint to dry only what was painted counts as promised.
    """
    gone = [day for day in painted_s if day < today]
    if not gone:
        return ()
    first, yesterday = min(gone), today - dt.timedelta(days=1)
    days = (first + dt.timedelta(days=number) for number in range((today - first).days))
    kept = []
    for day, promised_s in zip(days, promised_days(plan, first, yesterday), strict=True):
        own_s = painted_s.get(day, 0)
        if day not in waited:
            kept.append(DayKept(promised_s, own_s))
        elif own_s:
            kept.append(DayKept(min(promised_s, own_s), own_s))
    return tuple(kept)


def _waited(plan: Plan, state: JournalState, ahead: Sequence[RemainingTurn], today: dt.date) -> Iterator[dt.date]:
    """Yield the days on which the next turn was not begun because it lay over paint that was not dry by the table."""
    covered = _Covered(plan, _found(state.found_dry))
    stopped: dt.date | None = None
    for record in state.turns:
        if not record.is_painted:
            continue
        name, turn = feature(record.turn.pass_name), record.turn
        if stopped is not None:
            ready = covered.ready([(name, own, turn.canvas) for own in turn.passages])
            yield from _days_until(stopped, min(ready, local_time(record.begun).date()))
        stopped = local_time(record.ended).date()
        covered.laid |= {(name, own, turn.canvas): record for own in turn.passages}
    for next_turn in ahead[:1]:
        if stopped is not None:
            shapes = [(next_turn.pass_name, own, next_turn.canvas) for own in next_turn.passages]
            yield from _days_until(stopped, min(covered.ready(shapes), today))


class _Covered:
    """Tells from which day paint that was laid may be painted over."""

    def __init__(self, plan: Plan, found: Mapping[Shape, Reading]) -> None:
        """Start with nothing laid."""
        self.laid: dict[Shape, TurnRecord] = {}
        self._plan, self._found, self._passages = plan, found, _passages(plan)

    def ready(self, shapes: Iterable[Shape]) -> dt.date:
        """Return the day from which all below some passages is dry: by the table, or as it was found earlier."""
        ready = dt.date.min
        for pass_name, name, canvas in shapes:
            passage = self._passages.get((pass_name, name))
            below = None if passage is None else passage.over
            if below is None or below not in self._passages or (*below, canvas) not in self.laid:
                continue
            shape = (*below, canvas)
            record = self.laid[shape]
            paint = paint_laid(self._plan, record, below[1])
            planned = dry_days(paint, local_time(record.ended).date()).planned
            found = self._found.get(shape)
            ready = max(ready, planned if found is None else min(planned, local_time(found).date()))
        return ready


def _days_until(first: dt.date, last: dt.date) -> Iterator[dt.date]:
    yield from (first + dt.timedelta(days=number) for number in range(max(0, (last - first).days)))


def _may_be_wet(plan: Plan, laid: Mapping[Shape, TurnRecord], state: JournalState) -> Iterator[Laid]:
    """Yield what is laid and was not found dry."""
    dry, wet = _found(state.found_dry), _found(state.found_wet)
    for (pass_name, passage, canvas), record in laid.items():
        shape = (pass_name, passage, canvas)
        if _days_after(record, dry.get(shape)) is None:
            yield Laid(
                canvas=canvas,
                pass_name=pass_name,
                passage=passage,
                painted=local_time(record.ended).date(),
                wet_days=_days_after(record, wet.get(shape)) or 0.0,
                paint=paint_laid(plan, record, passage),
            )


def _answers(plan: Plan, laid: Mapping[Shape, TurnRecord], state: JournalState) -> Iterator[DryAnswer]:
    """Yield what was found of each layer that was asked about."""
    dry, wet = _found(state.found_dry), _found(state.found_wet)
    for shape, record in laid.items():
        wet_days, felt_dry_days = (_days_after(record, found.get(shape)) for found in (wet, dry))
        if wet_days or felt_dry_days:
            paint = paint_laid(plan, record, shape[1])
            yield DryAnswer(
                mixture=paint.mixture, medium=paint.medium, wet_days=wet_days or 0.0, dry_days=felt_dry_days
            )


def _found(found: Mapping[Shape, Reading]) -> dict[Shape, Reading]:
    """Return what was found of each passage of the plan; what was found of a return to it was found later."""
    return {(feature(pass_name), name, canvas): at for (pass_name, name, canvas), at in found.items()}


def _passages(plan: Plan) -> dict[tuple[str, str], Passage]:
    return {(one.name, passage.name): passage for one in plan.passes for passage in one.passages}


def _days_after(record: TurnRecord, found: Reading | None) -> float | None:
    """Return how many days after its last stroke a layer was found so; None where it was not, or not this layer."""
    if found is None or found.wall_ms < record.ended.wall_ms:
        return None
    return passed_ms(record.ended, found) / _DAY_MS
