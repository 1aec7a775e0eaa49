"""Single values of a plan: times, sizes, days, places, recipes, each with its own sentence when it is wrong."""

import datetime as dt
import re
from typing import Final

from yaml.nodes import MappingNode, Node

from coach.plan import units
from coach.plan.commission import CanvasSize
from coach.plan.node_reading import Asker, inside, text_of
from coach.plan.problems import did_you_mean, quoted

_DAY_NAMES: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DAY: Final = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})", re.ASCII)
_YEAR: Final = re.compile(r"\d{4}", re.ASCII)
DAY_S: Final = 24 * 3600
WEEK_S: Final = 7 * DAY_S
_TIME_EXAMPLE: Final = "14 min or 1 h 30 min"
_SIDE_MM: Final = (20.0, 5000.0)


def read_duration_s(ask: Asker, node: Node, where: str, *, bare_minutes: bool, most_s: int = DAY_S) -> int | None:
    """Return a time from 1 s to `most_s` in seconds; with `bare_minutes` a plain number counts minutes."""
    seconds = _read_time_s(ask, node, where, bare_minutes=bare_minutes)
    if seconds is None or 0 < seconds <= most_s:
        return seconds
    what = f"{quoted(text_of(node))} is not between 1 s and {most_s // 3600} h"
    ask.faults.note(node, where, what, f"write {_TIME_EXAMPLE}" if most_s <= DAY_S else "write hours, such as 48 h")
    return None


def read_hours_of_day_s(ask: Asker, node: Node, where: str) -> int | None:
    """Return the time of work promised for a day in seconds, 0 included."""
    seconds = _read_time_s(ask, node, where, bare_minutes=False)
    if seconds is None or seconds <= DAY_S:
        return seconds
    what = f"{quoted(text_of(node))} is more than the 24 h of a day"
    ask.faults.note(node, where, what, "write the hours that are painted, such as 5 h")
    return None


def _read_time_s(ask: Asker, node: Node, where: str, *, bare_minutes: bool) -> int | None:
    text = ask.text(node, where)
    if text is None:
        return None
    bare = units.number(text)
    if bare is not None and not bare_minutes:
        ask.faults.note(node, where, f"{quoted(text)} has no unit", f"write {text} min or {text} h")
        return None
    seconds = units.duration_s(text) if bare is None else round(bare * 60)
    if seconds is None:
        meant = _meant_time(text) or f"write {_TIME_EXAMPLE}"
        ask.faults.note(node, where, f"{quoted(text)} is not a time", meant)
    return seconds


def _meant_time(text: str) -> str:
    if text.startswith("-"):
        return f"a time is greater than 0: write {text.lstrip('-').strip()}"
    hours, colon, minutes = text.partition(":")
    if colon and hours.isdecimal() and minutes.isdecimal():
        return f"write {int(hours)} h {int(minutes)} min, or {int(hours)} min {int(minutes)} s"
    return ""


def read_number(ask: Asker, node: Node, where: str, *, most: float) -> float | None:
    """Return a number from 0 to `most`."""
    text = ask.text(node, where)
    if text is None:
        return None
    value = units.number(text)
    if value is None or value > most:
        ask.faults.note(
            node, where, f"{quoted(text)} is not a number from 0 to {most:g}", "write a number such as 3 or 2.5"
        )
        return None
    return value


def read_whole_number(ask: Asker, node: Node, where: str, *, least: int, most: int) -> int | None:
    """Return a whole number from `least` to `most`."""
    text = ask.text(node, where)
    if text is None:
        return None
    if not (text.isascii() and text.isdigit() and least <= int(text) <= most):
        ask.faults.note(node, where, f"{quoted(text)} is not a whole number from {least} to {most}", f"write {least}")
        return None
    return int(text)


def read_away(ask: Asker, node: Node, where: str, canvases: tuple[str, ...]) -> tuple[str, dt.date] | None:
    """Return a canvas that is away and the day it is back, written `NAME until 2027-03-04`."""
    text = ask.text(node, where)
    if text is None:
        return None
    name, until, day = (part.strip() for part in text.rpartition(" until "))
    back = _day(day)
    if not until or back is None:
        ask.faults.note(
            node, where, f"{quoted(text)} does not name a canvas and the day it is back", "write NAME until 2027-03-04"
        )
        return None
    if name not in canvases:
        ask.faults.note(node, where, f"there is no canvas {quoted(name)}", did_you_mean(name, canvases))
        return None
    return name, back


def read_one_of(ask: Asker, node: Node, where: str, words: tuple[str, ...]) -> str | None:
    """Return one of `words`, in small or capital letters."""
    text = ask.text(node, where)
    if text is None or text.lower() in words:
        return text and text.lower()
    ask.faults.note(node, where, f"{quoted(text)} is not known here", did_you_mean(text, words))
    return None


def read_measured_days(ask: Asker, node: Node, where: str) -> float | None:
    """Return days that were measured, greater than 0 and at most 365, with or without a fraction."""
    text = ask.text(node, where)
    if text is None:
        return None
    most = 365
    count = units.fractional_days(text)
    if count is None or not 0 < count <= most:
        number = units.number(text)
        meant = f"write {text} days" if number and number <= most else "write days, such as 3 days or 2.5 days"
        ask.faults.note(node, where, f"{quoted(text)} is not a count of days from 0 to {most}", meant)
        return None
    return count


def read_area_cm2(ask: Asker, node: Node, where: str) -> float | None:
    """Return an area in square centimetres, greater than 0."""
    text = ask.text(node, where)
    if text is None:
        return None
    area = units.area_cm2(text)
    if not area:
        meant = f"write {text} cm2" if units.number(text) else "write an area such as 12 cm2"
        ask.faults.note(node, where, f"{quoted(text)} is not an area greater than 0", meant)
        return None
    return area


def read_size(ask: Asker, node: Node, where: str) -> CanvasSize | None:
    """Return the size of a canvas, each side from 2 cm to 5 m."""
    text = ask.text(node, where)
    if text is None:
        return None
    sides = units.size_mm(text)
    low, high = _SIDE_MM
    if sides is None or not all(low <= side <= high for side in sides):
        ask.faults.note(
            node,
            where,
            f"{quoted(text)} is not a size of 2 to 500 cm a side",
            "write width x height: 40 x 50 cm",
        )
        return None
    return CanvasSize(width_mm=sides[0], height_mm=sides[1])


def read_place(ask: Asker, node: Node, where: str) -> str | None:
    """Return "left", "right" or a number from 1 to 12 as text."""
    text = ask.text(node, where)
    if text is None:
        return None
    place = text.lower()
    known = ("left", "right", *(str(n) for n in range(1, 13)))
    if place not in known:
        ask.faults.note(node, where, f"{quoted(text)} is not a place", "write left, right or a number from 1 to 12")
        return None
    return place


def read_day(ask: Asker, node: Node, where: str) -> dt.date | None:
    """Return a day written as year-month-day."""
    text = ask.text(node, where)
    return None if text is None else day_written(ask, node, where, text)


def day_written(ask: Asker, node: Node, where: str, text: str) -> dt.date | None:
    """Return the day that `text`, a part of what `node` holds, writes as year-month-day."""
    day = _day(text)
    if day is None:
        meant = _meant_day(text)
        suggestion = f"did you mean {meant.isoformat()}" if meant else "write year-month-day: 2027-05-01"
        ask.faults.note(node, where, f"there is no day {quoted(text)}", suggestion)
    return day


def days_in(text: str) -> list[dt.date]:
    """Return the days written as year-month-day anywhere in `text`."""
    return [day for found in _DAY.finditer(text) if (day := _day(found[0]))]


def _day(text: str) -> dt.date | None:
    found = _DAY.fullmatch(text)
    try:
        return dt.date(*map(int, found.groups())) if found else None
    except ValueError:
        return None


def _meant_day(text: str) -> dt.date | None:
    """Guess only where a year is named; a year in front is never followed by the day."""
    from dateutil import parser  # noqa: PLC0415  needed for a faulty day only

    if not _YEAR.search(text):
        return None
    day_first, first = not _YEAR.match(text), dt.datetime(2000, 1, 1)  # noqa: DTZ001  a day has no zone
    try:
        return parser.parse(text, dayfirst=day_first, ignoretz=True, default=first).date()
    except (ValueError, OverflowError):
        return None


def read_days(ask: Asker, node: Node, where: str, *, working: bool) -> int | None:
    """Return a count of days, 0 or more."""
    text = ask.text(node, where)
    if text is None:
        return None
    count = units.days(text, working=working)
    if count is None:
        unit = "working days" if working else "days"
        number = text.partition(" ")[0]
        count_meant = number if number.isascii() and number.isdigit() else "3"
        ask.faults.note(node, where, f"{quoted(text)} is not a count of {unit}", f"write {count_meant} {unit}")
    return count


def read_week_s(ask: Asker, node: Node, where: str) -> tuple[int, ...] | None:
    """Return the seconds of work promised from Monday to Sunday; days not named have none."""
    week_s = [0] * 7
    named: set[int] = set()
    for key_node, key, value_node in ask.pairs(node, where, "mon-fri: 5 h"):
        numbers = _days_named(key)
        if numbers is None:
            meant = "write mon-fri, the earlier day first" if "-" in key else did_you_mean(key, _DAY_NAMES)
            ask.faults.note(key_node, where, f"{quoted(key)} is no day of the week", meant)
            continue
        if named & set(numbers):
            ask.faults.note(key_node, where, f"{quoted(key)} names a day twice", "name each day once")
            continue
        named |= set(numbers)
        hours = read_hours_of_day_s(ask, value_node, inside(where, key))
        for number in numbers:
            week_s[number] = hours or 0
    return tuple(week_s)


def _days_named(key: str) -> range | None:
    first, dash, last = (part.strip() for part in key.lower().partition("-"))
    last = last if dash else first
    if first not in _DAY_NAMES or last not in _DAY_NAMES:
        return None
    numbers = range(_DAY_NAMES.index(first), _DAY_NAMES.index(last) + 1)
    return numbers or None


def read_parts(ask: Asker, node: Node, where: str) -> tuple[tuple[str, int], ...]:
    """Return the parts of a mixture: names of paints with whole numbers from 1 to 1000."""
    parts: list[tuple[str, int]] = []
    most_parts = 1000
    if isinstance(node, MappingNode) and not node.value:
        ask.faults.note(node, where, "no parts are named", "write {a paint: 2, another paint: 1}")
    for _, paint, value_node in ask.pairs(node, where, "{a paint: 2, another paint: 1}"):
        text = ask.text(value_node, inside(where, paint))
        if text is None:
            continue
        if not (text.isascii() and text.isdigit() and 1 <= int(text) <= most_parts):
            ask.faults.note(
                value_node,
                inside(where, paint),
                f"{quoted(text)} is not a whole number of parts",
                f"write a whole number from 1 to {most_parts}",
            )
            continue
        parts.append((paint, int(text)))
    return tuple(parts)
