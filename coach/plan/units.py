"""Quantities as a painter writes them: times, sizes, areas, days."""

import re
from typing import Final

MM_PER_UNIT: Final = {"mm": 1.0, "cm": 10.0, "in": 25.4}
"""Millimetres in each unit of length. Source: the inch is 25.4 mm exactly (international inch, 1959)."""

_NUMBER = r"(\d{1,7}(?:\.\d{1,6}|,\d{1,2})?)"
"""A number with a decimal point or comma; a comma before three digits is refused, for it may part thousands."""

_DURATION = re.compile(rf"(?:{_NUMBER}\s*h(?:ours?)?)?\s*(?:{_NUMBER}\s*min(?:utes?)?)?\s*(?:{_NUMBER}\s*s)?", re.ASCII)
_SIZE = re.compile(rf"{_NUMBER}\s*[x×]\s*{_NUMBER}\s*(mm|cm|in)", re.ASCII)
_AREA = re.compile(rf"{_NUMBER}\s*(mm|cm|in)[2²]", re.ASCII)
_BARE = re.compile(_NUMBER, re.ASCII)
_DAYS = re.compile(r"(\d{1,4})\s*(working )?days?", re.ASCII)


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def number(text: str) -> float | None:
    """Return a plain number of 0 or more such as `14` or `2.5`, or None where `text` is not one."""
    return _number(text) if _BARE.fullmatch(text) else None


def duration_s(text: str) -> int | None:
    """Return a time such as `14 min`, `1 h 30 min` or `1.5 h` in whole seconds; None where it is not one."""
    found = _DURATION.fullmatch(text)
    if found is None or not any(found.groups()):
        return None
    hours, minutes, seconds = (_number(part) if part else 0.0 for part in found.groups())
    return round(hours * 3600 + minutes * 60 + seconds)


def size_mm(text: str) -> tuple[float, float] | None:
    """Return width and height of a size such as `40 x 50 cm` or `16 x 20 in` in millimetres, or None."""
    found = _SIZE.fullmatch(text)
    if found is None:
        return None
    per_unit = MM_PER_UNIT[found[3]]
    return _number(found[1]) * per_unit, _number(found[2]) * per_unit


def area_cm2(text: str) -> float | None:
    """Return an area such as `12 cm2` or `2 in²` in square centimetres, or None."""
    found = _AREA.fullmatch(text)
    return None if found is None else _number(found[1]) * (MM_PER_UNIT[found[2]] / 10) ** 2


def days(text: str, *, working: bool) -> int | None:
    """Return a count such as `9 days` (or, with `working`, `3 working days`), or None."""
    found = _DAYS.fullmatch(text)
    return int(found[1]) if found and bool(found[2]) == working else None


def fractional_days(text: str) -> float | None:
    """Return days such as `3 days` or `2.5 days`, or None where `text` is not that."""
    return _with_unit(text, "days", "day")


def seconds(text: str) -> float | None:
    """Return a short time such as `0.7 s` in seconds, or None where `text` is not one."""
    return _with_unit(text, "s")


def micrometres(text: str) -> float | None:
    """Return a thickness such as `100 um` in micrometres, or None where `text` is not one."""
    return _with_unit(text, "um", "\N{MICRO SIGN}m", "\N{GREEK SMALL LETTER MU}m")


def celsius(text: str) -> float | None:
    """Return a temperature such as `18 C`, `18 °C` or `18` in degrees Celsius, also below 0; None where it is none."""
    bare = text.removeprefix("-")
    degrees = _with_unit(bare, "°C", "° C", "C", "")
    return degrees if degrees is None or bare == text else -degrees


def _with_unit(text: str, *names: str) -> float | None:
    name = next((name for name in names if text.endswith(name)), None)
    return None if name is None else number(text.removesuffix(name).rstrip())
