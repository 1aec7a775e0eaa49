"""Plain arithmetic on the calendar: back from the due day, and on from the last stroke."""

import datetime as dt
from dataclasses import dataclass
from itertools import accumulate
from typing import Final

from coach.forecast.calendar import promised_days, working_days_after, working_days_before
from coach.forecast.layers import day_after
from coach.plan.commission import Plan

MOST_DAYS: Final = 3653
"""Painting days are sought within ten years. Source: ours."""

VARNISH_MONTHS: Final = 6
"""Months from the last stroke to the varnish. Source: trade facts B5.5 (3 to 12 quoted; second-hand)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BackPlan:
    """The latest days that still hold the due day.

    Attributes:
        leave_studio: Day it goes on its way.
        to_framer: Day it goes to the framer, dry to touch.
        last_stroke: Day of the last stroke, whether or not hours are promised on it.
        last_painting_day: The last day up to then on which hours are promised, or None in ten years.
        first_painting_day: Day to begin so that the hours needed are there, or None where ten years are too few.
    """

    leave_studio: dt.date
    to_framer: dt.date
    last_stroke: dt.date
    last_painting_day: dt.date | None
    first_painting_day: dt.date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AfterLastStroke:
    """What follows the last stroke, each on its day."""

    last_stroke: dt.date
    touch_dry: dt.date
    framed: dt.date
    delivered: dt.date


def back_plan(plan: Plan, due: dt.date, *, drying_days: int, needed_s: int) -> BackPlan:
    """Return the latest days that still hold the due day; the last painting day counts as one.

    Args:
        plan: Its week, days off and working days for framing and transport (none where it states none).
        due: Day of delivery.
        drying_days: Days from the last stroke until it is dry to touch, 0 or more.
        needed_s: Seconds of work, 0 or more; where none is needed the first painting day is the last.
    """
    leave_studio = working_days_before(plan, due, plan.after.transport_working_days or 0)
    to_framer = working_days_before(plan, leave_studio, plan.after.framing_working_days or 0)
    last_stroke = day_after(to_framer, -drying_days)
    backward_s = promised_days(plan, day_after(last_stroke, -MOST_DAYS), last_stroke)[::-1]
    last, first = (_first_reaching(backward_s, enough_s) for enough_s in (1, max(needed_s, 1)))
    return BackPlan(
        leave_studio=leave_studio,
        to_framer=to_framer,
        last_stroke=last_stroke,
        last_painting_day=None if last is None else day_after(last_stroke, -last),
        first_painting_day=None if first is None else day_after(last_stroke, -first),
    )


def after_last_stroke(plan: Plan, last_stroke: dt.date, *, drying_days: int) -> AfterLastStroke:
    """Return the days on which it is dry to touch, framed and delivered.

    Args:
        plan: Its days off and working days for framing and transport (none where it states none).
        last_stroke: Day of the last stroke.
        drying_days: Days until it is dry to touch, 0 or more.
    """
    touch_dry = day_after(last_stroke, drying_days)
    framed = working_days_after(plan, touch_dry, plan.after.framing_working_days or 0)
    delivered = working_days_after(plan, framed, plan.after.transport_working_days or 0)
    return AfterLastStroke(last_stroke=last_stroke, touch_dry=touch_dry, framed=framed, delivered=delivered)


def varnish_day(last_stroke: dt.date) -> dt.date:
    """Return the day so many calendar months after the last stroke, the month's last where it has no such day."""
    from dateutil.relativedelta import relativedelta  # noqa: PLC0415  needed for the varnish only

    return last_stroke + relativedelta(months=VARNISH_MONTHS)


def _first_reaching(days_s: tuple[int, ...], enough_s: int) -> int | None:
    """Return the number, from 0, of the day by whose end so much has been promised; None where it never has."""
    return next((number for number, sum_s in enumerate(accumulate(days_s)) if sum_s >= enough_s), None)
