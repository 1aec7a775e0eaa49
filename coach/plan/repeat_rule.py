"""Days that come again: a rule of RFC 5545, checked part by part, and the days it names."""

import datetime as dt
from collections.abc import Iterator, Mapping
from itertools import dropwhile, takewhile
from typing import Final

from coach.plan.delivery import Repeat
from coach.plan.problems import did_you_mean, quoted

_FREQUENCIES: Final = ("DAILY", "WEEKLY", "MONTHLY", "YEARLY")
_WEEKDAYS: Final = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
_EXAMPLE: Final = "FREQ=WEEKLY;BYDAY=FR"
_WITHIN_A_DAY: Final = ("HOURLY", "MINUTELY", "SECONDLY", "BYHOUR", "BYMINUTE", "BYSECOND")

_MOST: Final = {
    "INTERVAL": 9999,
    "COUNT": 9999,
    "BYMONTH": 12,
    "BYMONTHDAY": 31,
    "BYYEARDAY": 366,
    "BYWEEKNO": 53,
    "BYSETPOS": 366,
}
"""Parts that hold numbers from 1, each with its greatest. Source: RFC 5545 section 3.3.10; 9999 is ours."""

_COUNTED_FROM_THE_END: Final = ("BYMONTHDAY", "BYYEARDAY", "BYWEEKNO", "BYSETPOS")
_PARTS: Final = ("FREQ", "UNTIL", "WKST", "BYDAY", *_MOST)
_MOST_WEEK: Final = 53

_NEVER_WITH: Final = {
    "BYMONTHDAY": ("WEEKLY",),
    "BYYEARDAY": ("DAILY", "WEEKLY", "MONTHLY"),
    "BYWEEKNO": ("DAILY", "WEEKLY", "MONTHLY"),
    "BYSETPOS": ("DAILY",),
}
"""Parts and the FREQ they never stand with. Source: RFC 5545 section 3.3.10; the last is ours: a day is no set."""

_CYCLE_YEARS: Final = 400
"""The calendar repeats after so many years: 146 097 days, which are whole weeks. Source: arithmetic."""

_YEARS_SOUGHT: Final = 300
"""A day that does not come in so many years never comes, as far as a plan goes. Source: ours."""


def rule_of(text: str) -> str:
    """Return a rule in capitals, without spaces and without `RRULE:` in front."""
    return text.upper().replace(" ", "").removeprefix("RRULE:").strip(";")


def rule_fault(rule: str) -> tuple[str, str] | None:
    """Return what is wrong with a rule and a way out, or None where it is sound.

    Args:
        rule: As `rule_of` returns it.

    Source:
        RFC 5545 section 3.3.10. Parts that divide a day are refused, for a plan names whole days.
    """
    seen: dict[str, str] = {}
    for part in rule.split(";"):
        name, _, value = part.partition("=")
        if name in seen:
            return f"the rule says {name} twice", "keep one of them"
        fault = _part_fault(name, value)
        if fault:
            return fault
        seen[name] = value
    return _whole_fault(seen)


def _part_fault(name: str, value: str) -> tuple[str, str] | None:
    if name in _WITHIN_A_DAY or value in _WITHIN_A_DAY:
        return f"{quoted(f'{name}={value}')} divides a day, and a plan names whole days", f"write {_EXAMPLE}"
    if name not in _PARTS:
        return f"a rule has no part {quoted(name)}", did_you_mean(name, _PARTS) or f"write {_EXAMPLE}"
    if name == "FREQ" and value not in _FREQUENCIES:
        return f"there is no FREQ {quoted(value)}", did_you_mean(value, _FREQUENCIES)
    if name == "UNTIL" and _until(value) is None:
        return f"there is no day {quoted(value)} for UNTIL", "write year, month and day in eight figures: 20270501"
    return _values_fault(name, value.split(",") if name.startswith("BY") else [value])


def _values_fault(name: str, values: list[str]) -> tuple[str, str] | None:
    for value in values:
        if name in ("WKST", "BYDAY") and not _is_weekday(value, is_numbered=name == "BYDAY"):
            return f"there is no day {quoted(value)} for {name}", f"write one of: {', '.join(_WEEKDAYS)}"
        if name in _MOST and not _is_number(value, _MOST[name], is_signed=name in _COUNTED_FROM_THE_END):
            return f"{name} cannot be {quoted(value)}", f"write a number from 1 to {_MOST[name]}"
    return None


def _whole_fault(parts: Mapping[str, str]) -> tuple[str, str] | None:
    if "FREQ" not in parts:
        return "the rule has no FREQ", f"write {_EXAMPLE}"
    if "COUNT" in parts and "UNTIL" in parts:
        return "COUNT and UNTIL never stand together", "keep one of them"
    freq = parts["FREQ"]
    for name in parts:
        if freq in _NEVER_WITH.get(name, ()):
            return f"{name} never stands with FREQ={freq}", f"delete {name} or write another FREQ"
    return _set_fault(freq, {name: value for name, value in parts.items() if name.startswith("BY")})


def _set_fault(freq: str, parts: Mapping[str, str]) -> tuple[str, str] | None:
    days = parts.get("BYDAY", "")
    if any(map(str.isdigit, days)) and (freq not in ("MONTHLY", "YEARLY") or "BYWEEKNO" in parts):
        return f"days with a number, as in BYDAY={days}, need a month or a year", "write FREQ=MONTHLY"
    if "BYWEEKNO" in parts and not days:
        return "BYWEEKNO does not say which day of the week", "add BYDAY=MO"
    if "BYSETPOS" in parts and len(parts) == 1:
        return "BYSETPOS has no set to count in", "add BYDAY=MO,TU,WE,TH,FR"
    return None


def _is_number(text: str, most: int, *, is_signed: bool) -> bool:
    digits = text[1:] if is_signed and text[:1] in ("+", "-") else text
    few = 4
    return digits.isascii() and digits.isdigit() and len(digits) <= few and 1 <= int(digits) <= most


def _is_weekday(text: str, *, is_numbered: bool) -> bool:
    number = text[:-2]
    return text[-2:] in _WEEKDAYS and (not number or (is_numbered and _is_number(number, _MOST_WEEK, is_signed=True)))


def _until(text: str) -> dt.date | None:
    day, sep, time = text.partition("T")
    length, time_length = 8, 6
    clock = time.removesuffix("Z")
    if not (day.isascii() and day.isdigit() and len(day) == length):
        return None
    if sep and not (clock.isascii() and clock.isdigit() and len(clock) == time_length):
        return None
    try:
        return dt.date(int(day[:4]), int(day[4:6]), int(day[6:]))
    except ValueError:
        return None


def days_of(repeat: Repeat, first: dt.date, last: dt.date) -> tuple[dt.date, ...]:
    """Return the days of a rule from `first` to `last`, both included, in order.

    The start is the first of them if it fits the rule; days that no calendar has are left out.

    Args:
        repeat: A rule in which `rule_fault` finds nothing, and the day it is counted from.
        first: First day asked for.
        last: Last day asked for; a rule without end is asked no further.

    Source:
        RFC 5545 sections 3.3.10 and 3.8.5.3, expanded by python-dateutil. A day has no zone, so of an UNTIL with
        a time only the day is read.
    """
    if last < repeat.start:
        return ()
    return tuple(dropwhile(lambda day: day < first, takewhile(lambda day: day <= last, _days(repeat, last.year))))


def has_days(repeat: Repeat) -> bool:
    """Return whether a rule, in which `rule_fault` finds nothing, names any day in the next 300 years."""
    return next(_days(repeat, repeat.start.year), None) is not None


def _days(repeat: Repeat, last_year: int) -> Iterator[dt.date]:
    from dateutil.rrule import rrulestr  # noqa: PLC0415  needed for a plan with repeating days only

    parts = dict(part.split("=") for part in repeat.rule.split(";"))
    until = _until(parts.pop("UNTIL", "")) or dt.date.max
    # The library seeks the next day as far as year 9999, a matter of seconds where no such day exists. The calendar
    # repeats, so the days are sought in its last turn, where there is not far to seek.
    years = max(dt.MAXYEAR - _YEARS_SOUGHT - last_year, 0) // _CYCLE_YEARS * _CYCLE_YEARS
    start = dt.datetime(repeat.start.year + years, repeat.start.month, repeat.start.day)  # noqa: DTZ001  a day
    rule = rrulestr(";".join(f"{name}={value}" for name, value in parts.items()), dtstart=start)
    days = (moment.date() for moment in rule)
    yield from takewhile(lambda day: day <= until, (day.replace(year=day.year - years) for day in days))
