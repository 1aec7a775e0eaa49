"""What may stand behind a key that says when or how long: times, days of the week, days, rules."""

import datetime as dt
from typing import Final

from coach.plan import units
from coach.plan.commission import DayRange
from coach.plan.problems import did_you_mean, quoted, shortened
from coach.plan.repeat_rule import rule_fault, rule_of
from coach.plan.units import NUMBER
from coach.plan.value_types import MOST_CHARACTERS, NOT_ZERO, ValueType, WrongValueError, any_case, from_to, matching
from coach.plan.yaml_text import scalar_text

DAY_S: Final = 24 * 3600
_TIME_EXAMPLE: Final = "14 min or 1 h 30 min"
_DAY_NAMES: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DAY_PATTERN: Final = "[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}"
_LONGEST_DAYS: Final = 3 * 366
_EARLIEST_YEAR: Final = 1900
_MOST_MEASURED_DAYS: Final = 365
_AWAY_EXAMPLE: Final = "2027-03-04"


def _time_s(text: str) -> int:
    if units.number(text) is not None:
        raise WrongValueError(f"{quoted(text)} has no unit", f"write {text} min or {text} h")
    seconds = units.duration_s(text)
    if seconds is None:
        raise WrongValueError(f"{quoted(text)} is not a time", _meant_time(text) or f"write {_TIME_EXAMPLE}")
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
    bounds = f"1 s to {most_s // 3600} h"
    example = _TIME_EXAMPLE if most_s <= DAY_S else "hours, such as 48 h"

    def read(text: str) -> int:
        seconds = _time_s(text)
        if not 0 < seconds <= most_s:
            what = f"{quoted(text)} is not between {bounds.replace(' to ', ' and ')}"
            raise WrongValueError(what, f"write {example}")
        return seconds

    return ValueType(type="time", bounds=bounds, read=read, write=units.duration_text, schema=_DURATION_SCHEMA)


TIME: Final = time_up_to(DAY_S)


def _read_minutes(text: str) -> int:
    minutes = units.number(text)
    seconds = TIME.read(text) if minutes is None else round(minutes * 60)
    if not 0 < seconds <= DAY_S:
        raise WrongValueError(f"{quoted(text)} is not between 1 s and 24 h", f"write {_TIME_EXAMPLE}")
    return seconds


MINUTES: Final[ValueType[int]] = ValueType(
    type="minutes, or a time",
    bounds=TIME.bounds,
    read=_read_minutes,
    write=units.minutes_text,
    schema={
        "anyOf": [
            {"type": "number", "exclusiveMinimum": 0, "maximum": DAY_S // 60},
            matching(NOT_ZERO + NUMBER),
            _DURATION_SCHEMA,
        ]
    },
)


def _read_hours(text: str) -> int:
    seconds = _time_s(text)
    if seconds > DAY_S:
        what = f"{quoted(text)} is more than the 24 h of a day"
        raise WrongValueError(what, "write the hours that are painted, such as 5 h")
    return seconds


HOURS_OF_DAY: Final[ValueType[int]] = ValueType(
    type="time",
    bounds="0 h to 24 h",
    read=_read_hours,
    write=units.duration_text,
    schema=matching(f"(?=[0-9]){units.DURATION}"),
)


def short_time(most_s: int, *, example: str) -> ValueType[float]:
    """Return the type of seconds, with or without decimals, from 0 to `most_s`."""

    def read(text: str) -> float:
        seconds = units.seconds(text)
        if seconds is None or seconds > most_s:
            raise WrongValueError(f"{quoted(text)} is not a time from 0 s to {most_s} s", f"write {example}")
        return seconds

    return ValueType(
        type="seconds",
        bounds=f"0 s to {most_s} s",
        read=read,
        write=lambda seconds: f"{units.number_text(seconds)} s",
        schema=matching(rf"{from_to(0, most_s)}\s*s"),
        unit="s",
    )


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
        raise WrongValueError(f"{quoted(key)} is no day of the week", meant)
    numbers = range(_DAY_NAMES.index(first), _DAY_NAMES.index(last) + 1)
    if named & set(numbers):
        raise WrongValueError(f"{quoted(key)} names a day twice", "name each day once")
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


DAY: Final[ValueType[dt.date]] = ValueType(
    type="day", bounds="year-month-day", read=_read_day, write=dt.date.isoformat, schema=matching(_DAY_PATTERN)
)


def _read_first_day(text: str) -> dt.date:
    day = _read_day(text)
    if day.year < _EARLIEST_YEAR:
        what = f"{quoted(day.isoformat())} lies before {_EARLIEST_YEAR}"
        raise WrongValueError(what, "write the first day that is meant")
    return day


FIRST_DAY: Final[ValueType[dt.date]] = ValueType(
    type="day", bounds=f"from {_EARLIEST_YEAR} on", read=_read_first_day, write=DAY.write, schema=DAY.schema
)


def _read_days(text: str) -> DayRange:
    first_text, dots, last_text = (part.strip() for part in text.partition(".."))
    named = units.days_in(text)
    if not dots and len(named) > 1:
        what = f"{quoted(text)} names more than one day"
        raise WrongValueError(what, f"write {named[0]}..{named[1]}, or one day for each entry")
    first = _read_day(first_text)
    last = _read_day(last_text) if dots else first
    if last < first:
        raise WrongValueError(f"{quoted(text)} ends before it begins", f"write {last}..{first}")
    if (last - first).days > _LONGEST_DAYS:
        raise WrongValueError(f"{quoted(text)} covers more than 3 years", "end it earlier")
    return DayRange(first=first, last=last)


def _days_text(days: DayRange) -> str:
    return days.first.isoformat() if days.first == days.last else f"{days.first.isoformat()}..{days.last.isoformat()}"


DAYS: Final[ValueType[DayRange]] = ValueType(
    type="day, or days from..to",
    bounds="at most 3 years",
    read=_read_days,
    write=_days_text,
    schema=matching(rf"{_DAY_PATTERN}(?:\s*\.\.\s*{_DAY_PATTERN})?"),
)


def _read_rule(text: str) -> str:
    rule = rule_of(text)
    fault = rule_fault(rule)
    if fault:
        raise WrongValueError(*fault)
    return rule


RULE: Final[ValueType[str]] = ValueType(
    type="rule of RFC 5545",
    bounds="whole days; COUNT and UNTIL never together",
    read=_read_rule,
    write=scalar_text,
    schema={
        "type": "string",
        "maxLength": MOST_CHARACTERS,
        "pattern": rf"^(?!(?=[\s\S]*{any_case('count')}\s*=)[\s\S]*{any_case('until')}\s*=)"
        rf"[\s\S]*{any_case('freq')}\s*=\s*{any_case('daily', 'weekly', 'monthly', 'yearly')}\s*(?:;|$)",
    },
)


def _read_away(text: str) -> tuple[str, dt.date]:
    name, until, day_text = (part.strip() for part in text.rpartition(" until "))
    back = units.day(day_text)
    if name and until and back:
        return name, back
    named = units.days_in(text)
    back = named[0] if named else units.guessed_day(day_text)
    name = name or text.removesuffix(f"{back}").strip().removesuffix("until").strip() or "NAME"
    day = back.isoformat() if back else _AWAY_EXAMPLE
    raise WrongValueError(
        f"{quoted(text)} does not name a canvas and the day it is back", f"write {shortened(name)} until {day}"
    )


AWAY: Final[ValueType[tuple[str, dt.date]]] = ValueType(
    type="canvas until day",
    bounds="a canvas of the plan and the day it is back",
    read=_read_away,
    write=lambda away: scalar_text(f"{away[0]} until {away[1].isoformat()}"),
    schema={"type": "string", "pattern": rf"\S\s+until\s+{_DAY_PATTERN}\s*$"},
)


def days_of(*, working: bool) -> ValueType[int]:
    """Return the type of a count of days or of working days."""
    unit = "working days" if working else "days"

    def read(text: str) -> int:
        count = units.days(text, working=working)
        if count is None:
            figure = text.partition(" ")[0]
            meant = figure if figure.isascii() and figure.isdigit() else "3"
            raise WrongValueError(f"{quoted(text)} is not a count of {unit}", f"write {meant} {unit}")
        return count

    return ValueType(
        type=unit,
        bounds="0 to 9999",
        read=read,
        write=lambda count: units.days_text(count, working=working),
        schema=matching(rf"[0-9]{{1,4}}\s*{'working ' if working else ''}days?".replace(" ", r"\s+")),
        unit=unit,
    )


def _read_measured_days(text: str) -> float:
    count = units.fractional_days(text)
    if count is None or not 0 < count <= _MOST_MEASURED_DAYS:
        figure = units.number(text)
        is_bare = figure and figure <= _MOST_MEASURED_DAYS
        meant = f"write {text} days" if is_bare else "write days, such as 3 days or 2.5 days"
        raise WrongValueError(f"{quoted(text)} is not a count of days from 0 to {_MOST_MEASURED_DAYS}", meant)
    return count


MEASURED_DAYS: Final[ValueType[float]] = ValueType(
    type="days",
    bounds=f"greater than 0, at most {_MOST_MEASURED_DAYS}",
    read=_read_measured_days,
    write=units.days_text,
    schema=matching(rf"{NOT_ZERO}{NUMBER}\s*days?"),
    unit="days",
)
