"""Canvases by name: the stock sizes, and sizes of the painter's own as typed."""

import re
from dataclasses import dataclass
from typing import Final

from coach.composition.faults import CompositionUsageError
from coach.composition.format_table import INCH_SIZES_IN, ISO_MM, SERIES, SERIES_CM
from coach.plan.commission import CanvasSize
from coach.plan.problems import quoted
from coach.plan.units import MM_PER_UNIT, size_mm
from coach.text import sanitized

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
    """

    name: str
    short_mm: float
    long_mm: float

    @property
    def directions(self) -> dict[str, CanvasSize]:
        """Return its width and height by direction: "upright" and "lying"; a square has "upright" only."""
        upright = {"upright": CanvasSize(self.short_mm, self.long_mm)}
        lying = {"lying": CanvasSize(self.long_mm, self.short_mm)}
        return upright if self.short_mm == self.long_mm else upright | lying


def stock_canvases() -> tuple[CanvasFormat, ...]:
    """Return the inch list and the three French series, small to large within each list."""
    inches = (_format(f"{a} x {b} in", a, b, "in") for a, b in INCH_SIZES_IN)
    series = (
        _format(f"{number} {name}", long_cm, short_cm, "cm")
        for place, name in enumerate(SERIES)
        for number, (long_cm, *shorts) in SERIES_CM.items()
        for short_cm in shorts[place : place + 1]
    )
    return (*inches, *series)


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
        CompositionUsageError: It is no stock name and no size of 2 to 500 cm a side in mm, cm or in.
    """
    name = " ".join(sanitized(text).split())
    stock = next((f for f in (*stock_canvases(), *iso_formats()) if f.name.lower() == name.lower()), None)
    return stock or _own_format(name)


def _own_format(name: str) -> CanvasFormat:
    sides = size_mm(name.lower())
    if sides is None:
        raise CompositionUsageError(f"{quoted(name)} is not a size of a canvas; {_meant(name)}")
    short, long = sorted(sides)
    if short <= 0:
        raise CompositionUsageError(f"{quoted(name)} is not a size of a canvas; both sides are greater than 0")
    if short < LEAST_SIDE_MM or long > MOST_SIDE_MM:
        raise CompositionUsageError(f"{quoted(name)} is not a size of 2 to 500 cm a side")
    return CanvasFormat(name=name, short_mm=short, long_mm=long)


def _meant(name: str) -> str:
    if "-" in name:
        return "both sides are greater than 0"
    if _METRES.fullmatch(name):
        return "write metres as centimetres: 0.4 m is 40 cm"
    return "write 40 x 50 cm, 16 x 20 in or 30 figure"


def _format(name: str, one: float, other: float, unit: str) -> CanvasFormat:
    short, long = sorted((one, other))
    return CanvasFormat(name=name, short_mm=short * MM_PER_UNIT[unit], long_mm=long * MM_PER_UNIT[unit])
