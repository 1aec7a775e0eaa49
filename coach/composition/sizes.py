"""Canvases by name: the stock sizes, and sizes of the painter's own as typed."""

import re
from dataclasses import dataclass
from functools import cache
from typing import Final

from coach.errors import UsageError
from coach.plan.commission import CanvasSize
from coach.plan.problems import quoted
from coach.plan.units import MM_PER_UNIT, size_mm
from coach.text import sanitized

INCH_SIZES_IN: Final = (
    (8, 10),
    (9, 12),
    (11, 14),
    (12, 16),
    (14, 18),
    (16, 20),
    (18, 24),
    (20, 24),
    (22, 28),
    (24, 30),
    (24, 36),
    (30, 36),
    (30, 40),
    (36, 48),
)
"""Short and long side, in inches.

Source: general trade lists of stretched canvas; 14 x 18, 22 x 28 and 30 x 36 are common practice, no source.
"""

SERIES: Final = ("figure", "paysage", "marine")
"""Names of the French series, in the order of the short sides in `SERIES_CM`."""

PORTRAIT_SERIES: Final = "figure"
"""The series for portraits, as its name says; the other two are narrower."""

SERIES_CM: Final = {
    0: (18, 14, 12, 10),
    1: (22, 16, 14, 12),
    2: (24, 19, 16, 14),
    3: (27, 22, 19, 16),
    4: (33, 24, 22, 19),
    5: (35, 27, 24, 22),
    6: (41, 33, 27, 24),
    8: (46, 38, 33, 27),
    10: (55, 46, 38, 33),
    12: (61, 50, 46, 38),
    15: (65, 54, 50, 46),
    20: (73, 60, 54, 50),
    25: (81, 65, 60, 54),
    30: (92, 73, 65, 60),
    40: (100, 81, 73, 65),
    50: (116, 89, 81, 73),
    60: (130, 97, 89, 81),
    80: (146, 114, 97, 89),
    100: (162, 130, 114, 97),
    120: (195, 130, 114, 97),
}
"""Number to long side and the short sides of figure, paysage and marine, in centimetres.

Source: table of the French standard series, two copies of an encyclopaedia's table read.
"""

ISO_MM: Final = {
    "A0": (841, 1189),
    "A1": (594, 841),
    "A2": (420, 594),
    "A3": (297, 420),
    "A4": (210, 297),
    "A5": (148, 210),
    "B1": (707, 1000),
    "B2": (500, 707),
    "B3": (353, 500),
}
"""Short and long side, in millimetres. Source: ISO 216 tables (read)."""

LEAST_SIDE_MM: Final = 20.0
"""Shortest side of a canvas; the plan takes no shorter one either."""

MOST_SIDE_MM: Final = 5000.0
"""Longest side of a canvas; the plan takes no longer one either."""

_METRES: Final = re.compile(r"[\d.,\s]*[x×]?[\d.,\s]*m(?:et(?:re|er)s?)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class CanvasFormat:
    """A canvas that may stand upright or lie.

    Attributes:
        name: "40 x 50 cm", "16 x 20 in", "30 figure": as the trade or the painter says it.
        short_mm: Short side, in millimetres.
        long_mm: Long side, in millimetres, not below the short one.
        is_ordinary: Whether portraits are ordinarily painted on it; the narrow stock series are not.
    """

    name: str
    short_mm: float
    long_mm: float
    is_ordinary: bool = True

    @property
    def directions(self) -> dict[str, CanvasSize]:
        """Return its width and height by direction: "upright" and "lying"; a square has "upright" only."""
        upright = {"upright": CanvasSize(self.short_mm, self.long_mm)}
        lying = {"lying": CanvasSize(self.long_mm, self.short_mm)}
        return upright if self.short_mm == self.long_mm else upright | lying


@cache
def stock_canvases() -> tuple[CanvasFormat, ...]:
    """Return the inch list and the three French series, small to large within each list."""
    inches = (_format(f"{a} x {b} in", a, b, "in") for a, b in INCH_SIZES_IN)
    series = (
        _format(f"{number} {name}", long_cm, short_cm, "cm", is_ordinary=name == PORTRAIT_SERIES)
        for place, name in enumerate(SERIES)
        for number, (long_cm, *shorts) in SERIES_CM.items()
        for short_cm in shorts[place : place + 1]
    )
    return (*inches, *series)


def next_stock_names(height_mm: float, *, is_upright: bool) -> list[str]:
    """Return the names of the lowest ordinary canvases that are at least so high: one in inches, one in centimetres.

    Empty where none is; of two of one height the narrower is named.
    """
    lists = (_ordinary_sides(is_inch, is_upright) for is_inch in (True, False))
    found = (next((name for side_mm, _, name in sides if side_mm >= height_mm), None) for sides in lists)
    return [name for name in found if name is not None]


@cache
def _ordinary_sides(is_inch: bool, is_upright: bool) -> list[tuple[float, float, str]]:
    """Return height, width and name of the ordinary stock canvases of one unit, lowest first."""
    ordinary = (one for one in stock_canvases() if one.is_ordinary and one.name.endswith(" in") == is_inch)
    sizes = ((one.name, one.directions["upright" if is_upright else "lying"]) for one in ordinary)
    return sorted((size.height_mm, size.width_mm, name) for name, size in sizes)


def canvas_of(size: CanvasSize) -> CanvasFormat:
    """Return the canvas of a size, named by its centimetres."""
    short, long = sorted(size)
    return CanvasFormat(name=f"{short / 10:.5g} x {long / 10:.5g} cm", short_mm=short, long_mm=long)


def iso_formats() -> tuple[CanvasFormat, ...]:
    """Return the ISO A and B sizes, for panels and paper."""
    return tuple(_format(name, a, b, "mm") for name, (a, b) in ISO_MM.items())


def canvas_named(text: str) -> CanvasFormat:
    """Return the canvas that a painter means by "30 figure", "A3", "40 x 50 cm" or "16 x 20 in".

    Raises:
        UsageError: It is no stock name and no size of 2 to 500 cm a side in mm, cm or in.
    """
    name = " ".join(sanitized(text).split())
    stock = next((f for f in (*stock_canvases(), *iso_formats()) if f.name.lower() == name.lower()), None)
    return stock or _own_format(name)


def _own_format(name: str) -> CanvasFormat:
    sides = size_mm(name.lower())
    if sides is None:
        raise UsageError(f"{quoted(name)} is not a size of a canvas; {_meant(name)}")
    short, long = sorted(sides)
    if short <= 0:
        raise UsageError(f"{quoted(name)} is not a size of a canvas; both sides are greater than 0")
    if short < LEAST_SIDE_MM or long > MOST_SIDE_MM:
        raise UsageError(f"{quoted(name)} is not a size of 2 to 500 cm a side")
    return CanvasFormat(name=name, short_mm=short, long_mm=long)


def _meant(name: str) -> str:
    if "-" in name:
        return "both sides are greater than 0"
    if _METRES.fullmatch(name):
        return "write metres as centimetres: 0.4 m is 40 cm"
    return "write 40 x 50 cm, 16 x 20 in or 30 figure"


def _format(name: str, one: float, other: float, unit: str, *, is_ordinary: bool = True) -> CanvasFormat:
    short, long = (side * MM_PER_UNIT[unit] for side in sorted((one, other)))
    return CanvasFormat(name=name, short_mm=short, long_mm=long, is_ordinary=is_ordinary)
