"""The weeks ahead as text: hours promised, and on which day each step is likely to be done."""

import datetime as dt
from collections.abc import Mapping
from typing import Final, NamedTuple

from coach.forecast.answer import Brief
from coach.forecast.calendar import promised_days
from coach.plan.commission import Plan

_CELL: Final = 11
_WEEK: Final = dt.timedelta(days=7)
_WEEKDAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MOST_WEEKS: Final = 520

COLUMNS: Final = _CELL * len(_WEEKDAYS)
"""How wide the calendar is, in cells."""

LEGEND: Final = (
    "h hours promised, before today painted; last stroke, dry, framed, handed over (80 % days);"
    " ~ dries, = at the framer, > on its way"
)
"""What the signs mean."""


class Weeks(NamedTuple):
    """What the calendar shows.

    Attributes:
        plan: Its week, its exceptions and its due day.
        today: Stands in brackets.
        brief: The days foretold; each step stands at its 80 % day.
        painted_s: Seconds painted on each day that was painted on.
    """

    plan: Plan
    today: dt.date
    brief: Brief
    painted_s: Mapping[dt.date, float]


def calendar_view(weeks: Weeks, most: int) -> tuple[str, ...]:
    """Return a line of weekdays and then a week a line, from a week ago to the hand-over.

    Args:
        weeks: What to show.
        most: How many lines there are for weeks; where they are too few, weeks without an event give way.
    """
    first = max(min([weeks.today, *weeks.painted_s]), weeks.today - _WEEK)
    monday = first - dt.timedelta(days=first.weekday())
    ends = [day for day in (weeks.plan.due, weeks.brief.delivered.p80) if day is not None]
    count = min(_MOST_WEEKS, (max([weeks.today, *ends]) - monday).days // 7 + 1)
    brief = weeks.brief
    steps = (brief.last_stroke, brief.touch_dry, brief.framed, brief.delivered)
    events = [weeks.today, weeks.plan.due, *(days.p80 for days in steps)]
    numbers = [(day - monday).days // 7 for day in events if day is not None and day >= monday]
    head = "".join(f"{name:<{_CELL}}" for name in _WEEKDAYS).rstrip()
    shown = _shown(count, numbers, most)
    return (head, *(_row(weeks, monday + no * _WEEK) if skipped == 0 else _gap(skipped) for no, skipped in shown))


def _gap(weeks: int) -> str:
    return f"   … {weeks} weeks …" if weeks > 1 else "   … 1 week …"


def _shown(count: int, events: list[int], most: int) -> list[tuple[int, int]]:
    """Return the lines: the number of a week and 0, or how many weeks are left out there.

    Weeks with an event come first, then the earliest, as long as they and the gaps between them fit.
    """
    kept: set[int] = set()
    lines: list[tuple[int, int]] = []
    for number in [*dict.fromkeys(no for no in events if no < count), *range(count)]:
        tried = _lines(count, kept | {number})
        if len(tried) > max(most, 3) and lines:
            continue
        kept.add(number)
        lines = tried
    return lines


def _lines(count: int, kept: set[int]) -> list[tuple[int, int]]:
    lines, skipped = [], 0
    for number in range(count):
        if number not in kept:
            skipped += 1
            continue
        if skipped:
            lines.append((number, skipped))
        lines.append((number, 0))
        skipped = 0
    return lines


def _row(weeks: Weeks, monday: dt.date) -> str:
    promised = promised_days(weeks.plan, monday, monday + dt.timedelta(days=6))
    cells = [_cell(weeks, monday + dt.timedelta(days=no), promised_s) for no, promised_s in enumerate(promised)]
    return "".join(f"{cell:<{_CELL}}" for cell in cells).rstrip()


def _cell(weeks: Weeks, day: dt.date, promised_s: int) -> str:
    number = f"1 {day:%b}" if day.day == 1 else f"{day.day}"
    date = f"[{number}]" if day == weeks.today else number
    return f"{date} {_told(weeks, day, promised_s)}"[: _CELL - 1]


def _told(weeks: Weeks, day: dt.date, promised_s: int) -> str:
    if day == weeks.plan.due:
        return "DUE"
    if day < weeks.today:
        painted_s = weeks.painted_s.get(day, 0)
        return f"{painted_s / 3600:.1f}h" if painted_s else "·"
    brief = weeks.brief
    steps = (
        (brief.delivered, "handed"),
        (brief.framed, "framed"),
        (brief.touch_dry, "dry"),
        (brief.last_stroke, "last"),
    )
    named = next((name for days, name in steps if days.p80 == day), "")
    if named:
        return named
    if brief.last_stroke.p80 is None or day < brief.last_stroke.p80:
        return f"{promised_s / 3600:.2g}h" if promised_s else "·"
    ahead = ((brief.touch_dry, "~"), (brief.framed, "="), (brief.delivered, ">"))
    return next((sign for days, sign in ahead if days.p80 is None or day < days.p80), "")
