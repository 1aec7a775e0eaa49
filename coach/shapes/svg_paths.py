"""Outlines in the words of SVG: path data, basic shapes and transforms read into rings, and rings written as path data.

Source: SVG 2 (W3C), chapters 8 (coordinate systems), 9 (paths), 10 (basic shapes) and 13.4.2 (fill rule).
"""

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.shapes.outlines import Ring
from coach.shapes.polygons import polygon_of, ring_of, rings_of_polygon

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from svgelements import PathSegment

    Pixels = NDArray[np.float64]

Matrix = tuple[float, float, float, float, float, float]
"""a to f of SVG: x' = a x + c y + e, y' = b x + d y + f."""

UPRIGHT: Final[Matrix] = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)

_FLAT_PX: Final = 0.15
"""So near to a curve its flattened line stays; rounding to the grid of outlines adds less than 0.1."""

_MOST_STEPS: Final = 2_000
"""Straight steps of one curve: no curve of a photo needs as many."""

MOST_POINTS: Final = 1_000_000
"""Points of all outlines of a file."""

_FARTHEST_PX: Final = 1e6

_NUMBER: Final = r"(?>[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)"
"""Atomic, as are the repeats below: a hostile text is given up at once."""

_PATH: Final = re.compile(rf"\s*+[Mm](?:[MmZzLlHhVvCcSsQqTtAa]|{_NUMBER}|[\s,])*+")
_STRAIGHT: Final = re.compile(rf"\s*+(?:M(?:[\s,L]*+{_NUMBER})++\s*+[Zz]\s*+)++")
_STEP: Final = re.compile(rf"([a-zA-Z]+)\s*\(\s*({_NUMBER}(?:[a-z]*[\s,]+{_NUMBER})*)[a-z]*\s*\)[\s,]*")
_COUNTS: Final[Mapping[str, tuple[int, ...]]] = {
    "matrix": (6,),
    "translate": (1, 2),
    "scale": (1, 2),
    "rotate": (1, 3),
    "skewX": (1,),
    "skewY": (1,),
}
"""How many numbers each transform takes."""


class UnreadOutlineError(ValueError):
    """An outline or transform is not as SVG has it; the message goes on from "its outline"."""


def matrix_of(transform: str) -> Matrix:
    """Return the transform of an element, that of an empty text being none.

    Raises:
        UnreadOutlineError: It is no transform of SVG.
    """
    found, at = UPRIGHT, len(transform) - len(transform.lstrip())
    while at < len(transform):
        step = _STEP.match(transform, at)
        numbers = [] if step is None else [float(number) for number in re.findall(_NUMBER, step[2])]
        if step is None or len(numbers) not in _COUNTS.get(step[1], ()):
            raise UnreadOutlineError("has a transform that cannot be read")
        found, at = times(found, _matrix(step[1], numbers)), step.end()
    return found


def times(first: Matrix, second: Matrix) -> Matrix:
    """Return the transform that does `second` inside `first`."""
    (a, b, c, d, e, f), (g, h, i, j, k, m) = first, second
    return a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * m + e, b * k + d * m + f


def placed(outline: Iterable[Ring], matrix: Matrix) -> tuple[Ring, ...]:
    """Return the rings as they must be drawn so that `matrix` brings them where they lie.

    Raises:
        ZeroDivisionError: The matrix draws everything onto a line.
    """
    a, b, c, d, e, f = matrix
    size = a * d - b * c
    return tuple(
        tuple(((d * (x - e) - c * (y - f)) / size, (a * (y - f) - b * (x - e)) / size) for x, y in ring)
        for ring in outline
    )


def path_data(outline: Iterable[Ring]) -> str:
    """Return rings as the `d` of a path."""
    return " ".join("M" + " ".join(f"{x:.10g},{y:.10g}" for x, y in ring) + "Z" for ring in outline)


def rings_in(tag: str, attributes: Mapping[str, str], matrix: Matrix, *, is_even_odd: bool) -> tuple[Ring, ...]:
    """Return the outline of an element, flattened to 0.25 pixels of the photo, for the even-odd rule.

    Args:
        tag: Local name of the element.
        attributes: Its attributes.
        matrix: From its coordinates to pixels of the photo.
        is_even_odd: Its fill rule; else nonzero.

    Raises:
        UnreadOutlineError: It cannot be read, or encloses nothing.
    """
    data = _data_of(tag, attributes)
    if _STRAIGHT.fullmatch(data):
        lines = [_pairs(part) for part in data.split("M")[1:]]
    elif _PATH.fullmatch(data):
        lines = _flattened(data, matrix)
    else:
        raise UnreadOutlineError("is no path that SVG knows")
    a, b, c, d, e, f = matrix
    turned = [line @ np.array(((a, b), (c, d))) + (e, f) for line in lines]
    if not all(np.isfinite(line).all() and np.abs(line).max(initial=0) < _FARTHEST_PX for line in turned):
        raise UnreadOutlineError("lies a million pixels away")
    rings = tuple(ring for line in turned if len(ring := ring_of(line.tolist())) > 2)  # noqa: PLR2004
    enclosed = polygon_of(rings)
    if not is_even_odd and not (whole := polygon_of(rings, is_even_odd=False)).equals(enclosed):
        enclosed, rings = whole, rings_of_polygon(whole)
    if enclosed.area <= 0:
        raise UnreadOutlineError("encloses nothing")
    return rings


def _matrix(name: str, numbers: Sequence[float]) -> Matrix:
    first, *more = numbers
    if name == "matrix":
        a, b, c, d, e, f = numbers
        return a, b, c, d, e, f
    if name == "translate":
        return 1, 0, 0, 1, first, more[0] if more else 0
    if name == "scale":
        return first, 0, 0, more[0] if more else first, 0, 0
    angle = math.radians(first)
    if name == "rotate":
        x, y = more or (0, 0)
        turn = (math.cos(angle), math.sin(angle), -math.sin(angle), math.cos(angle), x, y)
        return times(turn, (1, 0, 0, 1, -x, -y))
    return (1, 0, math.tan(angle), 1, 0, 0) if name == "skewX" else (1, math.tan(angle), 0, 1, 0, 0)


def _data_of(tag: str, attributes: Mapping[str, str]) -> str:
    """Return any basic shape as path data."""

    def number(name: str) -> float:
        found = re.fullmatch(rf"\s*({_NUMBER})(?:px)?\s*", attributes.get(name, "0"))
        if found is None:
            raise UnreadOutlineError(f"has {'an' if name[0] in 'xr' else 'a'} {name} that is no number of pixels")
        return float(found[1])

    if tag == "path":
        return attributes.get("d", "")
    if tag in ("polygon", "polyline"):
        return f"M{attributes.get('points', '')}Z"
    if tag == "rect":
        x, y, width, height = (number(name) for name in ("x", "y", "width", "height"))
        rx, ry = number("rx" if "rx" in attributes else "ry"), number("ry" if "ry" in attributes else "rx")
        rx, ry = min(rx, width / 2), min(ry, height / 2)
        corner = f"a{rx},{ry} 0 0 1 "
        return (
            f"M{x + rx},{y} h{width - 2 * rx} {corner}{rx},{ry} v{height - 2 * ry} {corner}{-rx},{ry} "
            f"h{2 * rx - width} {corner}{-rx},{-ry} v{2 * ry - height} {corner}{rx},{-ry} Z"
        )
    rx, ry = (number("r"),) * 2 if tag == "circle" else (number("rx"), number("ry"))
    left, y = number("cx") - rx, number("cy")
    return f"M{left},{y} a{rx},{ry} 0 1 1 {2 * rx},0 a{rx},{ry} 0 1 1 {-2 * rx},0 Z"


def _pairs(part: str) -> "Pixels":
    numbers = [float(number) for number in re.findall(_NUMBER, part)]
    if len(numbers) % 2:
        raise UnreadOutlineError("has a point without its second number")
    return np.array(numbers).reshape(-1, 2)


def _flattened(data: str, matrix: Matrix) -> "list[Pixels]":
    """Return the subpaths of path data as lines of points, in its own coordinates."""
    from svgelements import Move, Path  # noqa: PLC0415  loaded when a drawing program has been at the file

    try:
        segments = list(Path(data))
    except (ValueError, TypeError, AttributeError, IndexError, ArithmeticError) as error:
        raise UnreadOutlineError("is no path that SVG knows") from error
    near = _FLAT_PX / max(float(np.linalg.norm(np.reshape(matrix[:4], (2, 2)), 2)), 1e-9)
    lines: list[list[tuple[float, float]]] = []
    for segment in segments:
        if segment.end is None or not all(map(math.isfinite, segment.end)):
            raise UnreadOutlineError("is no path that SVG knows")
        if isinstance(segment, Move) or not lines:
            lines.append([])
        lines[-1] += _points(segment, near)
    return [np.array(line, dtype=float).reshape(-1, 2) for line in lines]


def _points(segment: "PathSegment", near: float) -> list[tuple[float, float]]:
    """Return points along a segment behind its start, the last being its end."""
    from svgelements import Arc, CubicBezier, QuadraticBezier  # noqa: PLC0415

    bend, steps = 0.0, 1.0
    if isinstance(segment, Arc) and segment.rx and segment.ry:
        radius = max(segment.rx, segment.ry)
        steps = abs(segment.sweep) / (2 * math.acos(max(-1.0, 1 - min(near / radius, 1))) or 1e-9)
    elif isinstance(segment, CubicBezier):
        one, two, three, four = map(complex, (segment.start, segment.control1, segment.control2, segment.end))
        bend = 6 * max(abs(one - 2 * two + three), abs(two - 2 * three + four))
    elif isinstance(segment, QuadraticBezier):
        bend = 2 * abs(complex(segment.start) - 2 * complex(segment.control) + complex(segment.end))
    steps = max(steps, math.sqrt(bend / (8 * near)))
    if not steps < _MOST_STEPS:
        raise UnreadOutlineError("has a curve longer than any photo")
    if steps <= 1:
        return [(segment.end.x, segment.end.y)]
    found: list[tuple[float, float]] = segment.npoint(np.linspace(0, 1, math.ceil(steps) + 1)[1:]).tolist()
    return found
