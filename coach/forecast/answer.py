"""The whole answer: whether the due day holds, why, and what to do."""

import datetime as dt
from itertools import accumulate
from typing import NamedTuple

from coach.forecast.brief import LIKELY_FRAC, NEAR_CERTAIN_FRAC, DayQuantiles, brief_of_played
from coach.forecast.chance import Played, played
from coach.forecast.days_ahead import FARTHEST_DAYS, latest_last_stroke, promised_ahead_s
from coach.forecast.drying import slowest
from coach.forecast.drying_table import DaysRange
from coach.forecast.helps import Help, helps_of
from coach.forecast.hours_needed import hours_needed
from coach.forecast.kept_hours import Kept
from coach.forecast.outlook import Outlook
from coach.forecast.pace import Pace
from coach.forecast.remarks import remarks_of
from coach.forecast.sentences import due_sentence
from coach.forecast.turn_times import TurnTime, sorted_turns
from coach.plan.commission import Plan


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
        kept: How far promised hours are kept.
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
    kept: Kept


def forecast_of(plan: Plan, outlook: Outlook) -> ForecastAnswer:
    """Return whether the due day holds, and all that goes with it; same plan and outlook, same answer.

    Args:
        plan: The plan; its week, exceptions, paints, limits, days after the last stroke and forecast count.
        outlook: The turns still to be painted, what is laid, and what the log says of pace and hours.

    Returns:
        The answer. A plan that wants no spread is played once, without chance: every turn takes what is planned,
        every promised second is painted, paint dries at its slow end, and all quantiles are the same.
    """
    play = played(plan, outlook)
    brief, dries = brief_of_played(play), _dries(play)
    chance, is_spread = brief.chance, plan.forecast.is_spread
    latest = latest_last_stroke(plan, 0.0 if dries is None else dries.high_days)
    hours_for_80, hours_for_95 = hours_needed(play, (LIKELY_FRAC, NEAR_CERTAIN_FRAC))
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
        slack_h=None if latest is None else _slack_h(play, latest),
        needed_h=play.needed_s / 3600,
        hours_for_80=hours_for_80,
        hours_for_95=hours_for_95,
        helps=() if chance is None else helps_of(plan, outlook, chance),
        dries=dries,
        headline=due_sentence(plan.due, chance if is_spread else None, brief.delivered.p80),
        remarks=remarks_of(play, outliers, brief.delivered.p80),
        outliers=outliers,
        pace=play.pace,
        kept=play.kept,
    )


def _dries(play: Played) -> DaysRange | None:
    stated = play.plan.after.drying_days
    if stated is not None:
        return DaysRange(stated, stated)
    wet = [play.steps[number].drying for number in play.wet] or [dries for _, dries in play.laid]
    return slowest(wet) if wet else None


def _slack_h(play: Played, latest: dt.date) -> float:
    days = min(FARTHEST_DAYS, (latest - play.outlook.today).days + 1)
    if days < 1:
        return -play.needed_s / 3600
    usable_s = play.usable_s(promised_ahead_s(play.plan, play.outlook.today, days))
    *_, until_s = accumulate(usable_s)
    return (until_s * play.kept.mean_frac - play.needed_s) / 3600
