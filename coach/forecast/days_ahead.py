"""Hours promised on the days to come, and what becomes of a dry painting on the calendar."""

import datetime as dt
from collections.abc import Iterable
from functools import lru_cache
from math import ceil
from typing import Final

from coach.forecast.back_plan import after_last_stroke, back_plan
from coach.forecast.calendar import promised_days
from coach.forecast.layers import day_after
from coach.plan.commission import Plan

FARTHEST_DAYS: Final = 3653
"""No forecast looks further ahead than ten years. Source: ours."""

_FIRST_DAYS: Final = 128


def first_look_days(plan: Plan, today: dt.date) -> int:
    """Return how many days from today are looked at first: past the due day, at least a few months."""
    due_days = 0 if plan.due is None else (plan.due - today).days + 1
    return min(FARTHEST_DAYS, max(_FIRST_DAYS, due_days))


@lru_cache(maxsize=32)
def promised_ahead_s(plan: Plan, today: dt.date, days: int) -> tuple[int, ...]:
    """Return the seconds promised for so many days from today; all 0 where the plan states no hours."""
    return promised_days(plan, today, day_after(today, days - 1))


def latest_last_stroke(plan: Plan, dries_days: float) -> dt.date | None:
    """Return the last day on which the last stroke still lets it be dry, framed and delivered by the due day.

    Args:
        plan: The plan; None comes back where it states no due day.
        dries_days: Days until the last stroke is dry to touch.
    """
    if plan.due is None:
        return None
    return back_plan(plan, plan.due, drying_days=ceil(dries_days), needed_s=0).last_stroke


def framed_and_delivered(plan: Plan, dry: Iterable[dt.date]) -> dict[dt.date, tuple[dt.date, dt.date]]:
    """Return for each day on which everything is dry the days on which it is framed and delivered."""
    later = {day: after_last_stroke(plan, day, drying_days=0) for day in dry}
    return {day: (own.framed, own.delivered) for day, own in later.items()}
