"""The whole answer: whether the due day holds, why, and what to do."""

import datetime as dt
from itertools import accumulate
from typing import TYPE_CHECKING, Final, NamedTuple

from coach.forecast.adherence import Adherence
from coach.forecast.calendar import FARTHEST_DAYS, first_look_days, latest_last_stroke, promised_ahead_s
from coach.forecast.drying import slowest
from coach.forecast.drying_table import DaysRange
from coach.forecast.helps import Help, helps_of
from coach.forecast.outlook import Outlook, TurnTime, sorted_turns
from coach.forecast.pace import Pace
from coach.forecast.sentences import due_sentence, remarks_of
from coach.forecast.simulation import Simulation, chance_of, day_quantile, reached, reached_under, simulate
from coach.plan.commission import Plan

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


HALF_FRAC: Final = 0.50
LIKELY_FRAC: Final = 0.80
NEAR_CERTAIN_FRAC: Final = 0.95


class DayQuantiles(NamedTuple):
    """The days by which something is done with a chance of 50, 80 and 95 %; None for what lies too far ahead."""

    p50: dt.date | None
    p80: dt.date | None
    p95: dt.date | None


class Brief(NamedTuple):
    """The days, and the chance of the due day.

    Attributes:
        chance: Chance of the due day, 0 to 1 (0 or 1 in a forecast without spread); None without a due day.
        last_stroke: Day of the last stroke.
        touch_dry: Day on which everything is dry to touch.
        framed: Day on which it comes from the framer.
        delivered: Day on which it is handed over.
    """

    chance: float | None
    last_stroke: DayQuantiles
    touch_dry: DayQuantiles
    framed: DayQuantiles
    delivered: DayQuantiles


def brief_of(plan: Plan, outlook: Outlook) -> Brief:
    """Return the days of a plan."""
    return brief_of_simulation(simulate(plan, outlook))


def brief_of_simulation(simulation: Simulation) -> Brief:
    """Return the days of work that was played through."""
    days = reached(simulation)
    today = simulation.outlook.today
    return Brief(
        chance=chance_of(simulation, days),
        last_stroke=_quantiles(today, days.last_stroke),
        touch_dry=_quantiles(today, days.touch_dry),
        framed=_quantiles(today, days.framed),
        delivered=_quantiles(today, days.delivered),
    )


def _quantiles(today: dt.date, days: "NDArray[np.int64]") -> DayQuantiles:
    return DayQuantiles(*(day_quantile(today, days, frac) for frac in (HALF_FRAC, LIKELY_FRAC, NEAR_CERTAIN_FRAC)))


_TENTH_S: Final = 360


def hours_needed(simulation: Simulation, wanted_fracs: tuple[float, ...]) -> tuple[float | None, ...]:
    """Return for each wanted chance the least hours a day that reach it, in tenths of an hour.

    The same draws answer for every number of hours, so that only the hours make the difference. Today keeps the hours
    it has; every later day on which the plan promises any gets these hours instead.

    Args:
        simulation: The work that is left.
        wanted_fracs: Chances, each above 0, at most 1.

    Returns:
        Hours, or None where not even the hours of the plan's strong caution would do, or without a due day.
    """
    if simulation.plan.due is None:
        return tuple(None for _ in wanted_fracs)
    today = simulation.outlook.today
    promised_s = promised_ahead_s(simulation.plan, today, first_look_days(simulation.plan, today))
    most = simulation.plan.limits.strong_day_s // _TENTH_S
    known: dict[int, float] = {}

    def chance(tenths: int) -> float:
        if tenths not in known:
            hours = tuple(float(tenths * _TENTH_S) if own else 0.0 for own in promised_s[1:])
            known[tenths] = chance_of(simulation, reached_under(simulation, (float(promised_s[0]), *hours))) or 0.0
        return known[tenths]

    def least(wanted_frac: float) -> float | None:
        low, high = -1, most
        if chance(high) < wanted_frac:
            return None
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if chance(middle) >= wanted_frac else (middle, high)
        return high / 10

    return tuple(least(wanted) for wanted in wanted_fracs)


class ForecastAnswer(NamedTuple):
    """What is foretold.

    Attributes:
        today: The day it was asked on.
        due: The due day, or None.
        chance: Chance of the due day, 0 to 1; None without a due day, or where the plan wants no spread.
        last_stroke: Day of the last stroke.
        touch_dry: Day on which everything is dry to touch.
        framed: Day on which it comes from the framer.
        delivered: Day on which it is handed over.
        latest_last_stroke: Last day for the last stroke if the due day is to hold, by the slow end of drying; None
            without a due day.
        slack_h: Hours of painting left over until that day, below 0 where they are lacking; None as before.
        needed_h: Hours of painting still needed (median).
        hours_for_80: Least hours a day for a chance of 80 %; None where none would do, or without a due day.
        hours_for_95: The same for 95 %.
        helps: The changes that would help most, the greatest chance first.
        dries: Days until what is still to be painted, or else what is laid, is dry to touch; None with neither.
        headline: Whether the due day holds, in a sentence.
        remarks: What else the painter should know, in sentences.
        outliers: Turns left out of the pace until they are corrected.
        pace: The painter's pace.
        adherence: How far promised hours are kept.
    """

    today: dt.date
    due: dt.date | None
    chance: float | None
    last_stroke: DayQuantiles
    touch_dry: DayQuantiles
    framed: DayQuantiles
    delivered: DayQuantiles
    latest_last_stroke: dt.date | None
    slack_h: float | None
    needed_h: float
    hours_for_80: float | None
    hours_for_95: float | None
    helps: tuple[Help, ...]
    dries: DaysRange | None
    headline: str
    remarks: tuple[str, ...]
    outliers: tuple[TurnTime, ...]
    pace: Pace
    adherence: Adherence


def forecast_of(plan: Plan, outlook: Outlook) -> ForecastAnswer:
    """Return whether the due day holds, and all that goes with it; same plan and outlook, same answer.

    Args:
        plan: The plan; its week, exceptions, paints, limits, days after the last stroke and forecast count.
        outlook: The turns still to be painted, what is laid, and what the log says of pace and hours.

    Returns:
        The answer. A plan that wants no spread is played once, without chance: every turn takes what is planned,
        every promised second is painted, paint dries at its slow end, and all quantiles are the same.
    """
    simulation = simulate(plan, outlook)
    brief, dries = brief_of_simulation(simulation), _dries(simulation)
    chance, is_spread = brief.chance, plan.forecast.is_spread
    latest = latest_last_stroke(plan, 0.0 if dries is None else dries.high_days)
    hours_for_80, hours_for_95 = hours_needed(simulation, (LIKELY_FRAC, NEAR_CERTAIN_FRAC))
    outliers = sorted_turns(outlook.turns).outliers
    return ForecastAnswer(
        today=outlook.today,
        due=plan.due,
        chance=chance if is_spread else None,
        last_stroke=brief.last_stroke,
        touch_dry=brief.touch_dry,
        framed=brief.framed,
        delivered=brief.delivered,
        latest_last_stroke=latest,
        slack_h=None if latest is None else _slack_h(simulation, latest),
        needed_h=simulation.needed_s / 3600,
        hours_for_80=hours_for_80,
        hours_for_95=hours_for_95,
        helps=() if chance is None else helps_of(plan, outlook, chance),
        dries=dries,
        headline=due_sentence(plan.due, chance if is_spread else None, brief.delivered.p80),
        remarks=remarks_of(simulation, outliers, brief.delivered.p80),
        outliers=outliers,
        pace=simulation.pace,
        adherence=simulation.adherence,
    )


def _dries(simulation: Simulation) -> DaysRange | None:
    stated = simulation.plan.after.drying_days
    if stated is not None:
        return DaysRange(stated, stated)
    wet = [simulation.steps[number].drying for number in simulation.wet] or [dries for _, dries in simulation.laid]
    return slowest(wet) if wet else None


def _slack_h(simulation: Simulation, latest: dt.date) -> float:
    days = min(FARTHEST_DAYS, (latest - simulation.outlook.today).days + 1)
    if days < 1:
        return -simulation.needed_s / 3600
    usable_s = simulation.usable_s(promised_ahead_s(simulation.plan, simulation.outlook.today, days))
    *_, until_s = accumulate(usable_s)
    return (until_s * simulation.adherence.mean_frac - simulation.needed_s) / 3600
