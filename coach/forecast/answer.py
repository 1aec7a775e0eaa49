"""The whole answer: whether the due day holds, why, and what to do."""

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from math import ceil, exp
from typing import TYPE_CHECKING, Final

from coach.forecast.calendar import (
    BackPlan,
    Gone,
    after_last_stroke,
    back_plan,
    day_after,
    first_look_days,
    gone_canvases,
    latest_dry_day,
    promised_ahead_s,
)
from coach.forecast.drying import log_days, slowest
from coach.forecast.drying_table import DaysRange
from coach.forecast.helps import Help, helps_of, options_of
from coach.forecast.outlook import Outlook, sorted_turns
from coach.forecast.scenarios import LIKELY_FRAC, NO_CHANGE, Trials, chance
from coach.forecast.sentences import Reasons, due_sentence, reasons_of, remarks_of, states_no_hours
from coach.forecast.simulation import NEVER, Days, needed_s, quantile_day
from coach.forecast.steps import last_wet
from coach.forecast.what_if import Change
from coach.plan.commission import Plan

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

NEAR_CERTAIN_FRAC: Final = 0.95
"""A day is near certain from this chance on: no help is offered any more."""

_LIKELY_Z: Final = 0.8416
"""The 80 % point of a standard normal distribution."""

_TENTH_S: Final = 360


@dataclass(frozen=True, slots=True, kw_only=True)
class DayQuantiles:
    """The days by which something is done with a chance of 50, 80 and 95 %; None for what lies too far ahead."""

    p50: dt.date | None
    p80: dt.date | None
    p95: dt.date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """The days, and the chance of the due day: what a change is tried with while the painter looks on.

    Attributes:
        chance: Chance of the due day, 0 to 1 (0 or 1 in a forecast without spread); None without a due day, or where
            the plan states no hours.
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


@dataclass(frozen=True, slots=True, kw_only=True)
class ForecastAnswer:
    """What is foretold; its fields are the keys of JSON.

    Attributes:
        today: The day it was asked on.
        due: The due day, or None.
        chance: Chance of the due day, 0 to 1, to two places: the third would be noise of the draws; None without a due
            day, where the plan states no hours, or where it wants no spread.
        last_stroke: Day of the last stroke.
        touch_dry: Day on which everything is dry to touch.
        framed: Day on which it comes from the framer.
        delivered: Day on which it is handed over.
        delivered_chance: The chance of the 80 % day of delivery itself: days are whole, so it is 80 % or more.
        latest_last_stroke: Last day for the last stroke that still lets the due day hold with 80 %; None without one.
        slack_hours: Hours of painting left over before work must begin, below 0 where they are lacking; None as before.
        needed_hours: Hours of painting still needed (median).
        hours_a_day_for: Least hours a day for a chance of 80 and of 95 %; None where none would do.
        helps: The changes that would help, the least that is enough first.
        drying_days: Days until what is still to be painted, or else what is laid, is dry to touch; None with neither.
        headline: Whether the due day holds, in a sentence.
        why: What it rests on, in sentences.
        remarks: What else the painter should know, in sentences.
        latest: The latest days that still hold the due day with 80 %; None without one, where it is past, or where
            every canvas has left the studio.
    """

    today: dt.date
    due: dt.date | None
    chance: float | None
    last_stroke: DayQuantiles
    touch_dry: DayQuantiles
    framed: DayQuantiles
    delivered: DayQuantiles
    delivered_chance: float | None
    latest_last_stroke: dt.date | None
    slack_hours: float | None
    needed_hours: float
    hours_a_day_for: Mapping[str, float | None]
    helps: tuple[Help, ...]
    drying_days: DaysRange | None
    headline: str
    why: tuple[str, ...]
    remarks: tuple[str, ...]
    latest: BackPlan | None


def brief_of(plan: Plan, outlook: Outlook) -> Brief:
    """Return the days of a plan."""
    trials = Trials(plan, outlook)
    (days,) = trials.days_of([trials.play_of(NO_CHANGE)])
    return _brief(trials, days)


def forecast_of(plan: Plan, outlook: Outlook) -> ForecastAnswer:
    """Return whether the due day holds, and all that goes with it; same plan and outlook, same answer.

    Args:
        plan: The plan; its week, exceptions, paints, limits, days after the last stroke and forecast count.
        outlook: The turns still to be painted, what is laid, and what the log says of pace and hours.

    Returns:
        The answer. A plan that wants no spread is played once, without chance: every turn takes what is planned,
        every promised second is painted, paint dries at its slow end, and all quantiles are the same.
    """
    is_asked = plan.due is not None and not states_no_hours(plan)
    groups = options_of(plan, outlook) if is_asked else ()
    redrawn = [option.change for group in groups for option in group if _is_redrawn(option.change)]
    trials = Trials(plan, outlook, redrawn)
    (days,) = trials.days_of([trials.play_of(NO_CHANGE)])
    brief, is_spread = _brief(trials, days), plan.forecast.is_spread
    chances = (LIKELY_FRAC, NEAR_CERTAIN_FRAC)
    hours = [_hours_needed(trials, frac) if is_asked else None for frac in chances]
    latest = _latest(trials, brief) if is_asked else None
    reasons = _reasons(trials, days, brief, latest, hours)
    shown = brief.chance if is_spread else None
    return ForecastAnswer(
        today=outlook.today,
        due=plan.due,
        chance=None if shown is None else round(shown, 2),
        last_stroke=brief.last_stroke,
        touch_dry=brief.touch_dry,
        framed=brief.framed,
        delivered=brief.delivered,
        delivered_chance=reasons.delivered_chance,
        latest_last_stroke=reasons.latest_last_stroke,
        slack_hours=reasons.slack_hours,
        needed_hours=reasons.needed_hours,
        hours_a_day_for=dict(zip(("80", "95"), hours, strict=True)),
        helps=()
        if brief.chance is None or brief.chance >= NEAR_CERTAIN_FRAC
        else helps_of(trials, brief.chance, groups),
        drying_days=reasons.drying_days,
        headline=due_sentence(plan, shown, brief.delivered.p80, outlook.today),
        why=reasons_of(trials.simulation, reasons),
        remarks=remarks_of(trials.simulation, reasons),
        latest=latest,
    )


def _reasons(
    trials: Trials, days: Days, brief: Brief, latest: BackPlan | None, hours: Sequence[float | None]
) -> Reasons:
    return Reasons(
        needed_hours=round(needed_s(trials.simulation) / 3600, 1),
        slack_hours=None if latest is None else _slack_hours(trials, brief, latest),
        latest_last_stroke=None if latest is None else latest.last_stroke,
        drying_days=_drying_days(trials),
        hours_for=tuple(zip((80, 95), hours, strict=True)),
        delivered=brief.delivered.p80,
        delivered_chance=_delivered_chance(trials, days, brief) if trials.plan.forecast.is_spread else None,
        last_stroke=brief.last_stroke.p80,
        outliers=sorted_turns(trials.outlook.turns).outliers,
    )


def _is_redrawn(change: Change) -> bool:
    return change.without_pass is not None or change.room_c is not None or change.medium is not None


def _brief(trials: Trials, days: Days) -> Brief:
    import numpy as np  # noqa: PLC0415  painting never waits for a numeric library

    plan, today = trials.plan, trials.outlook.today
    numbers = sorted(set(days.touch_dry.tolist()))
    later = [None if number >= NEVER else _later(trials, day_after(today, int(number))) for number in numbers]
    dry = np.array([NEVER if own is None else (own.left - today).days for own in later])
    places = np.searchsorted(numbers, days.touch_dry)
    framed = np.array([NEVER if own is None else (own.framed - today).days for own in later])[places]
    delivered = np.array([NEVER if own is None else (own.delivered - today).days for own in later])[places]
    is_asked = plan.due is not None and not states_no_hours(plan)
    return Brief(
        chance=chance(days, trials.play_of(NO_CHANGE).limit_day) if is_asked else None,
        last_stroke=_quantiles(today, days.last_stroke),
        touch_dry=_quantiles(today, dry[places] if _is_all_gone(trials) else days.touch_dry),
        framed=_quantiles(today, framed),
        delivered=_quantiles(today, delivered),
    )


def _is_all_gone(trials: Trials) -> bool:
    gone = gone_canvases(trials.plan, trials.outlook)
    return len(gone) == len(trials.plan.canvases) and not trials.simulation.steps


def _later(trials: Trials, dry: dt.date) -> Gone:
    """Return the days on which the last canvas is framed and handed over, those that are on their way among them."""
    plan = trials.plan
    every = list(gone_canvases(plan, trials.outlook))
    if not _is_all_gone(trials):
        after = after_last_stroke(plan, dry, drying_days=0)
        every.append(Gone(dry, after.framed, after.delivered))
    return Gone(*(max(days) for days in zip(*every, strict=True)))


def _quantiles(today: dt.date, days: "NDArray[np.integer]") -> DayQuantiles:
    p50, p80, p95 = (quantile_day(today, days, frac) for frac in (0.5, LIKELY_FRAC, NEAR_CERTAIN_FRAC))
    return DayQuantiles(p50=p50, p80=p80, p95=p95)


def _delivered_chance(trials: Trials, days: Days, brief: Brief) -> float | None:
    """Return the chance of the 80 % day of delivery itself."""
    if brief.delivered.p80 is None:
        return None
    if _is_all_gone(trials):
        return 1.0
    dry = latest_dry_day(trials.plan, brief.delivered.p80)
    return round(chance(days, (dry - trials.outlook.today).days), 2)


def _hours_needed(trials: Trials, wanted_frac: float) -> float | None:
    """Return the least hours a day that reach a chance, in tenths of an hour.

    Today keeps the hours it has; every later day on which the plan promises any gets these hours instead. None where
    not even the hours of the plan's strong caution would do.
    """
    plan, today = trials.plan, trials.outlook.today
    promised_s = promised_ahead_s(plan, today, first_look_days(plan, today))
    tenths = trials.least(
        plan.limits.strong_day_s // _TENTH_S,
        lambda tenths: trials.play_of(
            NO_CHANGE,
            (float(promised_s[0]), *(float(tenths * _TENTH_S) if own else 0.0 for own in promised_s[1:])),
        ),
        wanted_frac,
    )
    return None if tenths is None else tenths / 10


def _latest(trials: Trials, brief: Brief) -> BackPlan | None:
    """Return the latest days with which the due day holds with 80 %, on usable hours and with every wait."""
    plan, today = trials.plan, trials.outlook.today
    if plan.due is None or plan.due < today or _is_all_gone(trials):
        return None
    plain = back_plan(plan, plan.due, drying_days=_likely_drying_days(trials), needed_s=0)
    most = min((plan.due - today).days, trials.days - 1)
    promised_s = promised_ahead_s(plan, today, trials.days)
    if not trials.simulation.steps:
        return replace(plain, first_painting_day=None, last_painting_day=None)
    if brief.chance is None or brief.chance < LIKELY_FRAC or most < 0:
        return replace(plain, first_painting_day=None)
    # The chance rises with the days between the first one and the due day.
    before_due = trials.least(
        most,
        lambda number: trials.play_of(NO_CHANGE, (*(0.0,) * (most - number), *promised_s[most - number :])),
        LIKELY_FRAC,
    )
    first = 0 if before_due is None else most - before_due
    first = next((number for number in range(first, len(promised_s)) if promised_s[number]), first)
    return replace(plain, first_painting_day=day_after(today, first))


def _likely_drying_days(trials: Trials) -> int:
    """Return the days until what is painted last is dry with 80 %; the slow end in a forecast without spread."""
    stated = trials.plan.after.drying_days
    days = _drying_days(trials)
    if stated is not None or days is None:
        return stated or 0
    if not trials.plan.forecast.is_spread or not 0 < days.low_days < days.high_days:
        return ceil(days.high_days)
    mean, spread = log_days(days)
    return ceil(exp(mean + spread * _LIKELY_Z))


def _drying_days(trials: Trials) -> DaysRange | None:
    stated, simulation = trials.plan.after.drying_days, trials.simulation
    if stated is not None:
        return DaysRange(stated, stated)
    steps = [simulation.steps[number].drying for number in last_wet(simulation.steps)]
    wet = [own for own in steps if own is not None] or [own.dries for own in simulation.laid]
    if not wet:
        return None
    low, high = slowest(wet)
    return DaysRange(round(low, 1), round(high, 1))


def _slack_hours(trials: Trials, brief: Brief, latest: BackPlan) -> float | None:
    """Return the hours that are likely painted before work must begin, or, below 0, after it should have ended."""
    plan, outlook, simulation = trials.plan, trials.outlook, trials.simulation
    days = trials.days
    until_s = [0.0, *accumulate(simulation.usable_s(promised_ahead_s(plan, outlook.today, days)))]

    def hours(first: dt.date, last: dt.date) -> float:
        ends = [min(max((day - outlook.today).days, 0), days) for day in (first, last)]
        return (until_s[ends[1]] - until_s[ends[0]]) * simulation.adherence.mean_frac / 3600

    if latest.first_painting_day is not None:
        return round(hours(outlook.today, latest.first_painting_day), 1)
    if not simulation.steps or brief.last_stroke.p80 is None or brief.delivered.p80 is None or plan.due is None:
        return None
    lacking = round(hours(day_after(latest.last_stroke, 1), day_after(brief.last_stroke.p80, 1)), 1)
    return -lacking if lacking > 0 else None
