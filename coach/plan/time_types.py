"""What may stand behind a key that says when or how long: times, days of the week, days, rules."""

import datetime as dt
from typing import Final

from coach.plan import units
from coach.plan.delivery import DayRange
from coach.plan.problems import did_you_mean, quoted, shortened
from coach.plan.repeat_rule import rule_fault, rule_of
from coach.plan.units import NUMBER
from coach.plan.value_types import (
    MOST_CHARACTERS,
    NOT_ZERO,
    ValueType,
    WrongValueError,
    any_case,
    from_to,
    matching,
    wrong,
)
from coach.plan.yaml_text import scalar_text

DAY_S: Final = 24 * 3600
_TIME_EXAMPLE: Final = "14 min or 1 h 30 min"
_DAY_NAMES: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DAY_PATTERN: Final = "[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}"
_LONGEST_DAYS: Final = 3 * 366
_EARLIEST_YEAR: Final = 1900
_MOST_MEASURED_DAYS: Final = 365
_MINUTE_DIGITS: Final = 2
_LAST_HOUR, _LAST_MINUTE = 23, 59


def _time_s(text: str) -> int:
    if units.number(text) is not None:
        raise wrong(text, "has no unit", f"write {text} min or {text} h")
    seconds = units.duration_s(text)
    if seconds is None:
        raise wrong(text, "is not a time", _meant_time(text) or f"write {_TIME_EXAMPLE}")
    return seconds


def _meant_time(text: str) -> str:
    if text.startswith("-"):
        return f"a time is greater than 0: write {text.lstrip('-').strip()}"
    hours, colon, minutes = text.partition(":")
    if colon and hours.isdecimal() and minutes.isdecimal():
        return f"write {int(hours)} h {int(minutes)} min, or {int(hours)} min {int(minutes)} s"
    return ""


_DURATION_SCHEMA: Final = matching(f"(?=[0-9]){NOT_ZERO}{units.DURATION}")


def time_up_to(most_s: int) -> ValueType[int]:
    """Return the type of a time from 1 s to `most_s`, in seconds."""
    hours = most_s // 3600

    def read(text: str) -> int:
        return _bounded_s(_time_s(text), text, most_s)

    return ValueType("time", f"1 s to {hours} h", read, units.duration_text, _DURATION_SCHEMA)


def _bounded_s(seconds: int, text: str, most_s: int) -> int:
    if not 0 < seconds <= most_s:
        example = _TIME_EXAMPLE if most_s <= DAY_S else "hours, such as 48 h"
        raise wrong(text, f"is not between 1 s and {most_s // 3600} h", f"write {example}")
    return seconds


def _read_minutes(text: str) -> int:
    minutes = units.number(text)
    return _bounded_s(_time_s(text) if minutes is None else round(minutes * 60), text, DAY_S)


def _read_hours(text: str) -> int:
    seconds = _time_s(text)
    if seconds > DAY_S:
        raise wrong(text, "is more than the 24 h of a day", "write the hours that are painted, such as 5 h")
    return seconds


_MINUTES: Final = {"type": "number", "exclusiveMinimum": 0, "maximum": DAY_S // 60}
_MINUTES_SCHEMA: Final = {"anyOf": [_MINUTES, matching(NOT_ZERO + NUMBER), _DURATION_SCHEMA]}
_HOURS_SCHEMA: Final = matching(f"(?=[0-9]){units.DURATION}")
TIME: Final = time_up_to(DAY_S)
MINUTES: Final = ValueType("minutes, or a time", TIME.bounds, _read_minutes, units.minutes_text, _MINUTES_SCHEMA)
HOURS_OF_DAY: Final = ValueType("time", "0 h to 24 h", _read_hours, units.duration_text, _HOURS_SCHEMA)


def short_time(most_s: int, *, example: str) -> ValueType[float]:
    """Return the type of seconds, with or without decimals, from 0 to `most_s`."""

    def read(text: str) -> float:
        seconds = units.seconds(text)
        if seconds is None or seconds > most_s:
            raise wrong(text, f"is not a time from 0 s to {most_s} s", f"write {example}")
        return seconds

    schema, bounds = matching(rf"{from_to(0, most_s)}\s*s"), f"0 s to {most_s} s"
    return ValueType("seconds", bounds, read, lambda seconds: f"{units.number_text(seconds)} s", schema, "s")


def _clock_s(text: str) -> int:
    hours, colon, minutes = text.partition(":")
    if not colon or not (hours.isdecimal() and minutes.isdecimal() and len(minutes) == _MINUTE_DIGITS):
        raise wrong(text, "is no time of day", "write it as 12:30")
    if int(hours) > _LAST_HOUR or int(minutes) > _LAST_MINUTE:
        raise wrong(text, "is no time of day", "write it from 0:00 to 23:59")
    return int(hours) * 3600 + int(minutes) * 60


CLOCK_TIME: Final = ValueType(
    "time of day",
    "0:00 to 23:59",
    _clock_s,
    lambda seconds: f"{seconds // 3600}:{seconds % 3600 // 60:02}",
    matching("([01]?[0-9]|2[0-3]):[0-5][0-9]"),
)
"""A time of day by the clock, in seconds after midnight."""


def weekdays(key: str, named: set[int]) -> range:
    """Return the numbers, from 0 for Monday, of the days that a key such as `mon` or `mon-fri` names.

    Args:
        key: The text of the key.
        named: Numbers of days that are named already; those of this key are added.

    Raises:
        WrongValueError: It names none, or one that is named already.
    """
    first, dash, last = (part.strip() for part in key.lower().partition("-"))
    last = last if dash else first
    if first not in _DAY_NAMES or last not in _DAY_NAMES or _DAY_NAMES.index(first) > _DAY_NAMES.index(last):
        meant = "write mon-fri, the earlier day first" if dash else did_you_mean(key, _DAY_NAMES)
        raise wrong(key, "is no day of the week", meant)
    numbers = range(_DAY_NAMES.index(first), _DAY_NAMES.index(last) + 1)
    if named & set(numbers):
        raise wrong(key, "names a day twice", "name each day once")
    named |= set(numbers)
    return numbers


def weekday_text(first: int, last: int) -> str:
    """Return the key of the days from one number to another."""
    return _DAY_NAMES[first] if first == last else f"{_DAY_NAMES[first]}-{_DAY_NAMES[last]}"


WEEKDAYS_PATTERN: Final = rf"^\s*{any_case(*_DAY_NAMES)}(?:\s*-\s*{any_case(*_DAY_NAMES)})?\s*$"


def _read_day(text: str) -> dt.date:
    day = units.day(text)
    if day is None:
        meant = units.guessed_day(text)
        suggestion = f"did you mean {meant.isoformat()}" if meant else "write year-month-day: 2027-05-01"
        raise WrongValueError(f"there is no day {quoted(text)}", suggestion)
    return day


def _read_first_day(text: str) -> dt.date:
    day = _read_day(text)
    if day.year < _EARLIEST_YEAR:
        raise wrong(day.isoformat(), f"lies before {_EARLIEST_YEAR}", "write the first day that is meant")
    return day


def _read_days(text: str) -> DayRange:
    first_text, dots, last_text = (part.strip() for part in text.partition(".."))
    named = units.days_in(text)
    if not dots and len(named) > 1:
        raise wrong(text, "names more than one day", f"write {named[0]}..{named[1]}, or one day for each entry")
    first = _read_day(first_text)
    last = _read_day(last_text) if dots else first
    if last < first:
        raise wrong(text, "ends before it begins", f"write {last}..{first}")
    if (last - first).days > _LONGEST_DAYS:
        raise wrong(text, "covers more than 3 years", "end it earlier")
    return DayRange(first=first, last=last)


def _days_text(days: DayRange) -> str:
    return days.first.isoformat() if days.first == days.last else f"{days.first.isoformat()}..{days.last.isoformat()}"


def _read_rule(text: str) -> str:
    rule = rule_of(text)
    fault = rule_fault(rule)
    if fault:
        raise WrongValueError(*fault)
    return rule


def _read_away(text: str) -> tuple[str, dt.date]:
    name, until, day_text = (part.strip() for part in text.rpartition(" until "))
    back = units.day(day_text)
    if name and until and back:
        return name, back
    back = next(iter(units.days_in(text)), None) or units.guessed_day(day_text)
    name = name or text.removesuffix(f"{back}").strip().removesuffix("until").strip() or "NAME"
    form = f"{shortened(name)} until {back or '2027-03-04'}"
    raise wrong(text, "does not name a canvas and the day it is back", f"write {form}")


def _away_text(away: tuple[str, dt.date]) -> str:
    return scalar_text(f"{away[0]} until {away[1].isoformat()}")


_RULE_PATTERN: Final = (
    rf"^(?!(?=[\s\S]*{any_case('count')}\s*=)[\s\S]*{any_case('until')}\s*=)"
    rf"[\s\S]*{any_case('freq')}\s*=\s*{any_case('daily', 'weekly', 'monthly', 'yearly')}\s*(?:;|$)"
)
_RULE_SCHEMA: Final = {"type": "string", "maxLength": MOST_CHARACTERS, "pattern": _RULE_PATTERN}
_DAYS_SCHEMA: Final = matching(rf"{_DAY_PATTERN}(?:\s*\.\.\s*{_DAY_PATTERN})?")
_AWAY_SCHEMA: Final = {"type": "string", "pattern": rf"\S\s+until\s+{_DAY_PATTERN}\s*$"}
DAY: Final = ValueType("day", "year-month-day", _read_day, dt.date.isoformat, matching(_DAY_PATTERN))
FIRST_DAY: Final = ValueType("day", f"from {_EARLIEST_YEAR} on", _read_first_day, DAY.write, DAY.schema)
DAYS: Final = ValueType("day, or days from..to", "at most 3 years", _read_days, _days_text, _DAYS_SCHEMA)
RULE: Final = ValueType(
    "rule of RFC 5545", "whole days; COUNT and UNTIL never together", _read_rule, scalar_text, _RULE_SCHEMA
)
AWAY: Final = ValueType(
    "canvas until day", "a canvas of the plan and the day it is back", _read_away, _away_text, _AWAY_SCHEMA
)


def days_of(*, working: bool) -> ValueType[int]:
    """Return the type of a count of days or of working days."""
    unit = "working days" if working else "days"

    def read(text: str) -> int:
        count = units.days(text, working=working)
        if count is None:
            figure = text.partition(" ")[0]
            meant = figure if figure.isascii() and figure.isdigit() else "3"
            raise wrong(text, f"is not a count of {unit}", f"write {meant} {unit}")
        return count

    kind = r"working\s+" if working else ""
    schema = matching(rf"[0-9]{{1,4}}\s*{kind}days?")
    return ValueType(unit, "0 to 9999", read, lambda count: units.days_text(count, working=working), schema, unit)


def _read_measured_days(text: str) -> float:
    count = units.fractional_days(text)
    if count is None or not 0 < count <= _MOST_MEASURED_DAYS:
        figure = units.number(text)
        is_bare = figure and figure <= _MOST_MEASURED_DAYS
        meant = f"write {text} days" if is_bare else "write days, such as 3 days or 2.5 days"
        raise wrong(text, f"is not a count of days from 0 to {_MOST_MEASURED_DAYS}", meant)
    return count


_MEASURED: Final = matching(rf"{NOT_ZERO}{NUMBER}\s*days?")
_MEASURED_BOUNDS: Final = f"greater than 0, at most {_MOST_MEASURED_DAYS}"
MEASURED_DAYS: Final = ValueType("days", _MEASURED_BOUNDS, _read_measured_days, units.days_text, _MEASURED, "days")
