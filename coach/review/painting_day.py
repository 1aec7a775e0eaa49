"""A day at the easel: what is ahead before its first stroke, and what was done when it is over."""

import datetime as dt
from dataclasses import dataclass
from math import ceil
from typing import Final, NamedTuple

from coach.composition.piles import Pile
from coach.composition.quantity import quantities_of
from coach.forecast.calendar import day_after, promised_days
from coach.forecast.layers import dry_days
from coach.forecast.outlook import Laid, Outlook, RemainingTurn, sorted_turns
from coach.forecast.pace import TOLD_FROM_TURNS
from coach.journal.reading import local_time
from coach.plan.commission import Plan
from coach.review.compared_passages import passages_on_top
from coach.review.comparison_history import ComparisonHistory, comparison_history
from coach.session.journal_state import JournalState
from coach.session.records import SKIPPED

_MOST_DAYS: Final = 366
"""So far the next day of painting is looked for."""


class WetCanvas(NamedTuple):
    """What may still be wet on a canvas: how many passages, and the day from which all are dry by the table."""

    canvas: str
    passages: int
    dry: dt.date


@dataclass(frozen=True, slots=True, kw_only=True)
class DayAhead:
    """What is ahead on a day.

    Attributes:
        turns: The turns that fit into its hours, one at least while any is left.
        hours_s: Hours still to be painted, in seconds; those of the limit where the plan promises none for it.
        turns_s: What the turns take, in seconds, at the painter's own pace where the log tells it.
        is_promised: Whether the plan promises hours for it.
        piles: What to mix for the turns: the whole pile of its pass, for all canvases.
        wet: The canvases on which something may still be wet.
    """

    turns: tuple[RemainingTurn, ...]
    hours_s: float
    turns_s: float
    is_promised: bool
    piles: tuple[Pile, ...]
    wet: tuple[WetCanvas, ...]


class CanvasDay(NamedTuple):
    """What a canvas had in a session: its turns, their milliseconds, and how many runs it led."""

    canvas: str
    turns: int
    worked_ms: int
    led: int


@dataclass(frozen=True, slots=True, kw_only=True)
class DayBehind:
    """What was done in the last session.

    Attributes:
        canvases: Every canvas of the plan, in its order.
        turns: Turns that are over.
        worked_ms: Work of the session, in milliseconds.
        rested_until: When the time off between two days is over, by the painter's clock.
        next_day: The next day for which the plan promises hours; None where it promises none within a year.
        compared: What comparisons of the canvases tell so far.
        can_compare: Whether something is finished on two canvases that photos of them could show.
    """

    canvases: tuple[CanvasDay, ...]
    turns: int
    worked_ms: int
    rested_until: dt.datetime
    next_day: dt.date | None
    compared: ComparisonHistory
    can_compare: bool


def day_ahead(plan: Plan, outlook: Outlook) -> DayAhead:
    """Return what is ahead today."""
    promised_s = promised_days(plan, outlook.today, outlook.today)[0]
    hours_s = max(0.0, (promised_s or plan.limits.day_s) - outlook.today_painted_s)
    pace = _pace(outlook)
    turns: list[RemainingTurn] = []
    turns_s = 0.0
    for turn in outlook.remaining:
        takes_s = max(0.0, turn.planned_s * pace - turn.worked_s)
        if turns and turns_s + takes_s > hours_s:
            break
        turns.append(turn)
        turns_s += takes_s
    return DayAhead(
        turns=tuple(turns),
        hours_s=hours_s,
        turns_s=turns_s,
        is_promised=promised_s > 0,
        piles=_piles(plan, turns),
        wet=tuple(_wet(plan, outlook)),
    )


def _pace(outlook: Outlook) -> float:
    """Return minutes painted over minutes planned; 1 while too few turns tell it."""
    counted = [turn for turn in sorted_turns(outlook.turns).counted if turn.planned_s]
    if len(counted) < TOLD_FROM_TURNS:
        return 1.0
    return sum(turn.worked_s for turn in counted) / sum(turn.planned_s for turn in counted)


def _piles(plan: Plan, turns: list[RemainingTurn]) -> tuple[Pile, ...]:
    wanted = {(turn.pass_name, name) for turn in turns for name in turn.passages if not turn.is_check}
    mixtures = {
        (one.name, passage.mixture)
        for one in plan.passes
        for passage in one.passages
        if (one.name, passage.name) in wanted
    }
    piles = quantities_of(plan).piles
    return tuple(
        pile for pile in piles if any((pile.before, mixture) in mixtures for mixture in (pile.mixture, *pile.also_for))
    )


def _wet(plan: Plan, outlook: Outlook) -> list[WetCanvas]:
    found = []
    for canvas in plan.canvases:
        days = [_dry_day(own) for own in outlook.laid if own.canvas == canvas.name]
        ahead = [day for day in days if day > outlook.today]
        if ahead:
            found.append(WetCanvas(canvas.name, len(ahead), max(ahead)))
    return found


def _dry_day(laid: Laid) -> dt.date:
    """Return the day from which a layer is dry by the table, and not before it was last found wet."""
    found = day_after(laid.painted, ceil(laid.wet_days))
    if laid.paint is not None:
        return max(found, dry_days(laid.paint, laid.painted).planned)
    return found if laid.dries is None else max(found, day_after(laid.painted, ceil(laid.dries.high_days)))


def day_behind(plan: Plan, state: JournalState, today: dt.date) -> DayBehind:
    """Return what was done in the last session of a journal that holds one."""
    session = state.sessions[-1]
    records = [record for record in state.turns if record.session == session.number and not record.is_skipped]
    canvases = []
    for canvas in plan.canvases:
        own = [record for record in records if record.turn.canvas == canvas.name]
        led = sum(record.turn.is_lead and record.is_painted for record in own)
        canvases.append(CanvasDay(canvas.name, len(own), sum(record.worked_ms for record in own), led))
    ahead = promised_days(plan, day_after(today, 1), day_after(today, _MOST_DAYS))
    next_no = next((number for number, seconds in enumerate(ahead, start=1) if seconds), None)
    return DayBehind(
        canvases=tuple(canvases),
        turns=len(records),
        worked_ms=session.worked_ms,
        rested_until=local_time(session.ended) + dt.timedelta(seconds=plan.limits.between_days_s),
        next_day=None if next_no is None else day_after(today, next_no),
        compared=comparison_history(plan, state),
        can_compare=_can_compare(plan, state),
    )


def _can_compare(plan: Plan, state: JournalState) -> bool:
    if plan.photo is None:
        return False
    names = [canvas.name for canvas in plan.canvases]
    return any(
        sum(state.places.get((*top.address, name), SKIPPED) != SKIPPED for name in names) > 1
        for top in passages_on_top(plan)
    )
