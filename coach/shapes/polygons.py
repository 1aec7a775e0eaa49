"""Outlines as polygons that can be joined and cut: rings that tile a photo stay rings that tile it."""

from collections.abc import Iterable, Sequence
from functools import reduce
from itertools import combinations
from typing import TYPE_CHECKING, Final

from coach.shapes.outlines import Ring, area_of

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray
    from shapely import Point
    from shapely.geometry.base import BaseGeometry

GRID_PX: Final = 0.1
"""Outlines are kept to this, in pixels of the photo."""

_LEAST_CORNERS: Final = 3

_SMALL_PX: Final = 0.5
"""So much of a square pixel counted twice is no crossing."""


def polygon_of(rings: Iterable[Ring], *, is_even_odd: bool = True) -> "BaseGeometry":
    """Return what lies inside rings by the even-odd or the nonzero rule, also where they cross; it may be empty."""
    from shapely import LinearRing, MultiPolygon, Polygon, get_parts, polygonize, union_all  # noqa: PLC0415

    lines = [ring for ring in rings if len(ring) >= _LEAST_CORNERS]
    filled = [Polygon(line) for line in lines]
    if not filled:
        return MultiPolygon()
    if all(one.is_valid for one in filled) and (is_even_odd or len(filled) == 1):
        return reduce(lambda one, other: one.symmetric_difference(other), filled)
    faces = get_parts(polygonize([union_all([LinearRing(line) for line in lines])])).tolist()
    turns = [_turns(face.representative_point(), lines) for face in faces]
    return union_all(
        [face for face, own in zip(faces, turns, strict=True) if (len(own) % 2 if is_even_odd else sum(own))]
    )


def _turns(point: "Point", rings: Iterable[Ring]) -> list[int]:
    """Return 1 for each line downwards and -1 for each line upwards that lies to the right of a point."""
    x, y = point.x, point.y
    turns = []
    for ring in rings:
        for (x0, y0), (x1, y1) in zip(ring, (*ring[1:], ring[0]), strict=True):
            if (y0 <= y) != (y1 <= y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
                turns.append(1 if y1 > y0 else -1)
    return turns


def rings_of_polygon(polygon: "BaseGeometry") -> tuple[Ring, ...]:
    """Return the rings of a polygon or several, outer ones before their holes; what is no area is left out."""
    from shapely import get_parts  # noqa: PLC0415

    found: list[Ring] = []
    for part in get_parts(polygon).tolist():
        if part.geom_type == "Polygon" and not part.is_empty:
            found += [ring_of(line.coords) for line in (part.exterior, *part.interiors)]
    return tuple(ring for ring in found if len(ring) >= _LEAST_CORNERS)


def crosses_itself(outline: tuple[Ring, ...]) -> bool:
    """Return whether a ring crosses itself or another one by more than rounding does; one that only touches does not.

    Then what the shoelace formula gives, in which parts count twice or against each other, is not what is enclosed.
    """
    alone = [polygon_of([ring]) for ring in outline]
    return any(
        abs(area_of([ring]) - whole.area) > _SMALL_PX for ring, whole in zip(outline, alone, strict=True)
    ) or any(one.intersection(other).area > _SMALL_PX and one.overlaps(other) for one, other in combinations(alone, 2))


def is_clean(outline: Iterable[Ring]) -> bool:
    """Return whether no ring crosses itself or runs back along itself; it may touch itself in a corner."""
    from shapely import Polygon, is_valid_reason  # noqa: PLC0415  loaded when shapes are joined or cut

    for ring in outline:
        whole = Polygon(ring)
        touches = len(set(ring)) < len(ring) and is_valid_reason(whole).startswith("Ring Self-intersection")
        if not whole.is_valid and not touches:
            return False
    return True


def joined(outlines: Iterable[tuple[Ring, ...]]) -> tuple[Ring, ...]:
    """Return the outline of what lies inside any of the outlines."""
    from shapely import union_all  # noqa: PLC0415

    return rings_of_polygon(union_all([polygon_of(rings) for rings in outlines]))


def inside_mask(rings: "Iterable[NDArray[np.float64]]", window: tuple[int, int, int, int]) -> "NDArray[np.bool_]":
    """Return whether the middle of each pixel of a window lies inside rings by the even-odd rule.

    Shapes that share a border share no pixel and leave none out.

    Args:
        rings: Each of shape (n, 2), column and row in pixels; they may reach beyond the window.
        window: Left, top, right and bottom; the answer has shape (bottom - top, right - left).

    Source:
        The even-odd rule of SVG 2, 13.4.2: a ray from the point crosses the rings an odd number of times.
    """
    import numpy as np  # noqa: PLC0415

    left, top, right, bottom = window
    crossed = np.zeros((bottom - top, right - left + 1), dtype=bool)
    for ends in rings:
        starts = np.roll(ends, 1, axis=0)
        down = (starts[:, 1] < ends[:, 1])[:, None]  # each side downwards, so that both its shapes see the same numbers
        (x0, y0), (x1, y1) = np.where(down, starts, ends).T, np.where(down, ends, starts).T
        first = np.clip(np.ceil(y0 - 0.5), top, bottom).astype(int)
        count = np.clip(np.ceil(y1 - 0.5), top, bottom).astype(int) - first
        side = np.repeat(np.arange(len(count)), count)
        row = first[side] + np.arange(len(side)) - np.repeat(np.cumsum(count) - count, count)
        x = x0[side] + (row + 0.5 - y0[side]) * (x1[side] - x0[side]) / (y1[side] - y0[side])
        column = np.clip(np.ceil(x - 0.5), left, right).astype(int)
        np.logical_xor.at(crossed, (row - top, column - left), True)
    return np.logical_xor.accumulate(crossed, axis=1)[:, :-1]


def ring_of(points: Iterable[Sequence[float]]) -> Ring:
    """Return a closed line as a ring on the grid, without its last point and without a point twice in a row."""
    ring: list[tuple[float, float]] = []
    for x, y in ((round(point[0], 1), round(point[1], 1)) for point in points):
        if not ring or ring[-1] != (x, y):
            ring.append((x, y))
    while len(ring) > 1 and ring[-1] == ring[0]:
        ring.pop()
    return tuple(ring)
