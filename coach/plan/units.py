"""Quantities as a painter writes them, read from text and written as text that reads back as exactly the same."""

import datetime as dt
import re
from operator import mul
from typing import Final

MM_PER_UNIT: Final = {"cm": 10.0, "in": 25.4, "mm": 1.0}
"""Millimetres in each unit of length. Source: the inch is 25.4 mm exactly (international inch, 1959)."""

FRACTION: Final = r"(?:\.[0-9]{1,6}|,[0-9]{1,2})?"
"""Decimals behind a point or a comma; a comma before three digits is refused, for it may part thousands."""

NUMBER: Final = f"[0-9]{{1,7}}{FRACTION}"
DURATION: Final = rf"(?:{NUMBER}\s*h(?:ours?)?)?\s*(?:{NUMBER}\s*min(?:utes?)?)?\s*(?:{NUMBER}\s*s)?"
SIZE: Final = rf"{NUMBER}\s*[x×]\s*{NUMBER}\s*(?:mm|cm|in)"
LENGTH: Final = rf"{NUMBER}\s*(?:mm|cm|in)"
AREA: Final = rf"{NUMBER}\s*(?:mm|cm|in)[2²]"
"""Patterns of what is read; the published schema holds the same."""

_FIRST_DAY: Final = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})", re.ASCII)
_DAYS: Final = re.compile(r"(\d{1,4})\s*(working )?days?", re.ASCII)
_DECIMALS: Final = 6
_HALF_MIN_S: Final = 30


def _numbers(text: str) -> list[float]:
    return [float(found.replace(",", ".")) for found in re.findall(NUMBER, text)]


def number(text: str) -> float | None:
    """Return a plain number of 0 or more such as `14` or `2.5`, or None where `text` is not one."""
    return _numbers(text)[0] if re.fullmatch(NUMBER, text) else None


def number_text(figure: float) -> str:
    """Return a number of 0 or more with at most six decimals, none more than it needs."""
    return f"{figure:.{_DECIMALS}f}".rstrip("0").removesuffix(".")


def duration_s(text: str) -> int | None:
    """Return a time such as `14 min`, `1 h 30 min` or `1.5 h` in whole seconds; None where it is not one."""
    counts = _numbers(text) if re.fullmatch(DURATION, text) else []
    per_unit_s = {"h": 3600, "m": 60, "s": 1}
    letters = re.findall(r"(?<![a-z])[hms]", text)
    return round(sum(map(mul, counts, map(per_unit_s.__getitem__, letters)))) if counts else None


def duration_text(seconds: int) -> str:
    """Return a time such as `50 min`, `1 h 30 min` or `45 s`."""
    hours, rest_s = divmod(seconds, 3600)
    minutes, rest_s = divmod(rest_s, 60)
    parts = [f"{count} {unit}" for count, unit in ((hours, "h"), (minutes, "min"), (rest_s, "s")) if count]
    return " ".join(parts) or "0 h"


def minutes_text(seconds: int) -> str:
    """Return the time of a passage: bare minutes where they are whole or end in a half, else with its units."""
    return number_text(seconds / 60) if seconds % _HALF_MIN_S == 0 else duration_text(seconds)


def size_mm(text: str) -> tuple[float, float] | None:
    """Return width and height of a size such as `40 x 50 cm` or `16 x 20 in` in millimetres, or None."""
    if not re.fullmatch(SIZE, text):
        return None
    width, height = _numbers(text)
    return width * MM_PER_UNIT[text[-2:]], height * MM_PER_UNIT[text[-2:]]


def size_text(size_in_mm: tuple[float, float]) -> str:
    """Return a size in the unit, cm before in before mm, that reads back as the same and is shortest to write."""
    width, height = size_in_mm
    texts = [f"{number_text(width / mm)} x {number_text(height / mm)} {unit}" for unit, mm in MM_PER_UNIT.items()]
    return min((text for text in texts if size_mm(text) == (width, height)), key=len, default=texts[0])


def length_mm(text: str) -> float | None:
    """Return a length such as `6 mm`, `1.5 cm` or `0.25 in` in millimetres, to a thousandth, or None."""
    return round(_numbers(text)[0] * MM_PER_UNIT[text[-2:]], 3) if re.fullmatch(LENGTH, text) else None


def length_text(in_mm: float) -> str:
    """Return a length such as `6 mm`."""
    return f"{number_text(in_mm)} mm"


def area_cm2(text: str) -> float | None:
    """Return an area such as `12 cm2` or `2 in²` in square centimetres, or None."""
    if not re.fullmatch(AREA, text):
        return None
    return _numbers(text[:-1])[0] * (MM_PER_UNIT[text[-3:-1]] / 10) ** 2


def area_text(in_cm2: float) -> str:
    """Return an area in the unit, cm2 before in2 before mm2, that reads back as the same and is shortest to write."""
    texts = [f"{number_text(in_cm2 / (mm / 10) ** 2)} {unit}2" for unit, mm in MM_PER_UNIT.items()]
    return min((text for text in texts if area_cm2(text) == in_cm2), key=len, default=texts[0])


def days(text: str, *, working: bool) -> int | None:
    """Return a count such as `9 days` (or, with `working`, `3 working days`), or None."""
    found = _DAYS.fullmatch(text)
    return int(found[1]) if found and bool(found[2]) == working else None


def fractional_days(text: str) -> float | None:
    """Return days such as `3 days` or `2.5 days`, or None where `text` is not that."""
    return _with_unit(text, "days", "day")


def days_text(count: float, *, working: bool = False) -> str:
    """Return a count such as `9 days`, `1 day` or, with `working`, `3 working days`."""
    return f"{number_text(count)} {'working ' if working else ''}{'day' if count == 1 else 'days'}"


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


def day(text: str) -> dt.date | None:
    """Return a day such as `2027-05-01` or `2027-5-1`, or None where no calendar has it."""
    found = _FIRST_DAY.fullmatch(text)
    try:
        return dt.date(*map(int, found.groups())) if found else None
    except ValueError:
        return None


def days_in(text: str) -> list[dt.date]:
    """Return the days written as year-month-day anywhere in `text`."""
    return [found_day for found in _FIRST_DAY.finditer(text) if (found_day := day(found[0]))]


def guessed_day(text: str) -> dt.date | None:
    """Return the day that a text in another form seems to mean; only where it names a year of four figures.

    A year in front is never followed by the day.
    """
    from dateutil import parser  # noqa: PLC0415  needed for a faulty day only

    if not re.search(r"\d{4}", text, re.ASCII):
        return None
    day_first, first = not re.match(r"\d{4}", text, re.ASCII), dt.datetime(2000, 1, 1)  # noqa: DTZ001  a day
    try:
        return parser.parse(text, dayfirst=day_first, ignoretz=True, default=first).date()
    except (ValueError, OverflowError):
        return None


def day_in_words(text: str, today: dt.date) -> dt.date | None:
    """Return the day that a text with the name of a month means; without a year the next one from today on.

    None where it names no day, or not all of it.
    """
    from dateutil import parser  # noqa: PLC0415  needed for a day in words only

    found = []
    for year, month, number in ((today.year, 1, 1), (today.year, 2, 2)):
        default = dt.datetime(year, month, number)  # noqa: DTZ001  a day
        try:
            found.append(parser.parse(text, dayfirst=True, ignoretz=True, default=default).date())
        except (ValueError, OverflowError):
            return None
    one, other = found
    if one != other:
        return None
    has_year = re.search(r"\d{4}", text, re.ASCII) is not None
    return one if has_year or one >= today else day(f"{one.year + 1}-{one.month}-{one.day}")
