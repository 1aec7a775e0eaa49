"""Texts and quantities as a painter writes them in a plan; the reader takes each back as exactly the same."""

import datetime as dt
import re
from collections.abc import Iterable, Mapping
from typing import Final

import yaml

from coach.plan import units
from coach.plan.commission import CanvasSize

_DECIMALS: Final = 6
_LONGEST_KEY: Final = 1000
"""YAML takes a longer key only after a question mark. Source: YAML 1.1 section 7.2.2 allows 1024 (from memory)."""

_PLAIN: Final = re.compile(r"[^\W\d_](?:[\w/-]| (?! ))*(?<! )")
_WORDS_OF_YAML: Final = frozenset(("y", "n", "yes", "no", "on", "off", "true", "false", "null"))
_HALF_MIN_S: Final = 30
_UNITS: Final = ("cm", "in", "mm")


def scalar_text(text: str) -> str:
    """Return a text of one line as YAML that stands anywhere, in quotes only where it needs them.

    Source:
        What needs quotes is decided by PyYAML's emitter; letters and spaces are let through before it, for it is slow.
    """
    if _PLAIN.fullmatch(text) and text.isprintable() and text.lower() not in _WORDS_OF_YAML:
        return text
    written: str = yaml.dump(
        [text], Dumper=yaml.SafeDumper, default_flow_style=True, allow_unicode=True, width=float("inf")
    )
    return written.strip().removeprefix("[").removesuffix("]")


def key_text(text: str) -> str:
    """Return a text as a key of YAML."""
    written = scalar_text(text)
    return written if len(written) <= _LONGEST_KEY else f"? {written} "


def mapping_text(fields: Mapping[str, str]) -> str:
    """Return keys with their written values as a mapping on one line."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in fields.items()) + "}"


def list_text(entries: Iterable[str]) -> str:
    """Return written entries as a list on one line."""
    return "[" + ", ".join(entries) + "]"


def number_text(number: float) -> str:
    """Return a number of 0 or more with at most six decimals, none more than it needs."""
    return f"{number:.{_DECIMALS}f}".rstrip("0").removesuffix(".")


def duration_text(seconds: int) -> str:
    """Return a time such as `50 min`, `1 h 30 min` or `45 s`."""
    hours, rest_s = divmod(seconds, 3600)
    minutes, rest_s = divmod(rest_s, 60)
    parts = [f"{count} {unit}" for count, unit in ((hours, "h"), (minutes, "min"), (rest_s, "s")) if count]
    return " ".join(parts) or "0 h"


def minutes_text(seconds: int) -> str:
    """Return the time of a passage: bare minutes where they are whole or end in a half, else with its units."""
    return number_text(seconds / 60) if seconds % _HALF_MIN_S == 0 else duration_text(seconds)


def area_text(area_cm2: float) -> str:
    """Return an area in the unit, cm2 before in2 before mm2, that reads back as the same and is shortest to write."""
    per_unit_cm2 = {unit: (mm / 10) ** 2 for unit, mm in units.MM_PER_UNIT.items()}
    texts = [f"{number_text(area_cm2 / per_unit_cm2[unit])} {unit}2" for unit in _UNITS]
    return min((text for text in texts if units.area_cm2(text) == area_cm2), key=len, default=texts[0])


def size_text(size: CanvasSize) -> str:
    """Return a size in the unit, cm before in before mm, that reads back as the same and is shortest to write."""
    texts = [f"{_side(size.width_mm, unit)} x {_side(size.height_mm, unit)} {unit}" for unit in _UNITS]
    return min((text for text in texts if units.size_mm(text) == tuple(size)), key=len, default=texts[0])


def _side(side_mm: float, unit: str) -> str:
    return number_text(side_mm / units.MM_PER_UNIT[unit])


def days_text(count: float, kind: str = "") -> str:
    """Return a count such as `9 days`, `1 day` or, with `kind` "working ", `3 working days`."""
    return f"{number_text(count)} {kind}{'day' if count == 1 else 'days'}"


def range_text(first: dt.date, last: dt.date) -> str:
    """Return days from `first` to `last`, or the one day."""
    return first.isoformat() if first == last else f"{first.isoformat()}..{last.isoformat()}"
