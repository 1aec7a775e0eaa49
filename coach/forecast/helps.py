"""The changes that would help the due day most, each tried."""

import datetime as dt
from collections.abc import Iterator
from typing import Final, NamedTuple

from coach.forecast.calendar import day_after
from coach.forecast.outlook import Outlook
from coach.forecast.simulation import chance_of, reached, simulate
from coach.forecast.what_if import Change, changed_outlook, changed_plan
from coach.plan.commission import Plan

MOST_HELPS: Final = 3
"""So many changes are offered."""

WARM_ROOM_C: Final = 23.0
"""A warmer room that can still be worked in, in degrees Celsius: test air of ASTM D1640 (from memory)."""

MORE_DAYS: Final = 7
"""A later due day is asked for by so many days."""

LEAST_GAIN_FRAC: Final = 0.005
"""A change that raises the chance by less is not offered: it would not show in whole percent."""

_SATURDAY: Final = 5


class Help(NamedTuple):
    """A change and what it brings.

    Attributes:
        words: What would be done, for the painter.
        change: The change.
        chance: The chance of the due day with it, 0 to 1.
    """

    words: str
    change: Change
    chance: float


def helps_of(plan: Plan, outlook: Outlook, chance: float) -> tuple[Help, ...]:
    """Return the changes that raise the chance most, the greatest first; may be empty.

    Args:
        plan: The plan, with a due day.
        outlook: What is left.
        chance: The chance as the plan stands.
    """
    tried = (
        Help(words, change, _chance_with(plan, outlook, change)) for words, change in changes_to_try(plan, outlook)
    )
    better = [found for found in tried if found.chance >= chance + LEAST_GAIN_FRAC]
    return tuple(sorted(better, key=lambda found: -found.chance)[:MOST_HELPS])


def changes_to_try(plan: Plan, outlook: Outlook) -> Iterator[tuple[str, Change]]:
    """Yield the changes that this plan allows, each with words for the painter."""
    if outlook.remaining:
        yield from _of_hours(plan)
        yield from _of_work(plan, outlook)
    if plan.forecast.room_c < WARM_ROOM_C:
        yield f"a room of {WARM_ROOM_C:.0f} C", Change(room_c=WARM_ROOM_C)
    framing = plan.after.framing_working_days or 0
    if framing:
        yield "one working day less at the framer", Change(framing_working_days=framing - 1)
    if plan.due is not None and plan.due <= dt.date.max - dt.timedelta(days=MORE_DAYS):
        yield "a week more until the hand-over", Change(due=day_after(plan.due, MORE_DAYS))


def _of_hours(plan: Plan) -> Iterator[tuple[str, Change]]:
    """Yield an hour more on each day, and Saturdays; never past the hours of the plan's caution."""
    week = plan.week_s
    if week is None or not any(week):
        return
    more = tuple(day_s + 3600 if day_s else 0 for day_s in week)
    if max(more) <= plan.limits.caution_day_s and sum(more) <= plan.limits.week_s:
        yield "one hour more on each day you paint", Change(week_s=more)
    usual_s = sorted(day_s for day_s in week if day_s)[sum(map(bool, week)) // 2]
    if not week[_SATURDAY] and sum(week) + usual_s <= plan.limits.week_s:
        words = f"Saturdays too, {usual_s / 3600:.2g} h"
        yield words, Change(week_s=(*week[:_SATURDAY], usual_s, *week[_SATURDAY + 1 :]))


def _of_work(plan: Plan, outlook: Outlook) -> Iterator[tuple[str, Change]]:
    if plan.forecast.medium == "oil":
        yield "an alkyd medium from now on", Change(medium="alkyd")
    left_s: dict[str, float] = {}
    for turn in outlook.remaining:
        left_s[turn.pass_name] = left_s.get(turn.pass_name, 0.0) + turn.planned_s
    known = {one.name for one in plan.passes}
    longest = max(left_s, key=lambda name: left_s[name])
    if longest in known and len(known) > 1:
        yield f"leaving out the rest of {longest}", Change(without_pass=longest)


def _chance_with(plan: Plan, outlook: Outlook, change: Change) -> float:
    simulation = simulate(changed_plan(plan, change), changed_outlook(plan, outlook, change))
    return chance_of(simulation, reached(simulation)) or 0.0
