"""The borders between shapes as lines, each simplified once, so that outlines tile the picture without gaps."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely import LineString

    Labels = NDArray[np.int32]
    Pixels = NDArray[np.float64]

OUTSIDE: Final = -1
"""Stands for what lies beyond the crop."""

_TOLERANCE_PX: Final = 0.5
_SMOOTHING: Final = 3.0
"""Corners of pixels over which the steps of a border are smoothed; the line stays within a pixel of them. Ours."""

_SMOOTHING_FRAC: Final = 1 / 32
"""At most this part of a closed border, so that a small shape does not shrink."""

Step = tuple[int, int, int]
"""The next corner of pixels along a border, and the shapes left and right of the way there."""

Point = tuple[float, float]
Ring = tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Border:
    """A stretch of border between two shapes, from one meeting of three to the next, or a closed line.

    Attributes:
        left: The shape on its left, seen along its points with rows going down; `OUTSIDE` beyond the crop.
        right: The shape on its right.
        corners: Every corner of pixels along it, shape (n, 2), column and row.
        simplified: The same without the steps of the pixels, and with as few points as stay within a pixel.
    """

    left: int
    right: int
    corners: "Pixels"
    simplified: "Pixels"


def borders_of(labels: "Labels", of: Sequence[int] | None = None) -> list[Border]:
    """Return every border between shapes, and between a shape and the outside, in a fixed order.

    Args:
        labels: The shape of each pixel.
        of: Only the borders of these shapes; None for all.
    """
    steps = _steps(labels, of)
    meets = {corner for corner, found in steps.items() if _is_meeting(found)}
    high = labels.shape[0] + 1
    borders: list[Border] = []
    walked: set[int] = set()
    left_from: set[tuple[int, int]] = set()
    for start in [*sorted(meets), *sorted(steps)]:
        if start in walked:
            continue
        for towards, left, right in steps[start]:
            if (start, towards) in left_from or towards in walked:
                continue
            corners = _walk(start, towards, steps, meets)
            walked.update(corners[1:-1], () if start in meets else (start,))
            left_from |= {(start, towards), (corners[-1], corners[-2])}
            points = np.stack(np.divmod(corners, high), axis=1).astype(float)
            simplified = _simplified(points, is_frame=OUTSIDE in (left, right))
            borders.append(Border(left=left, right=right, corners=points, simplified=simplified))
    return borders


def rings_of(borders: Sequence[Border], place: "Callable[[Pixels], Pixels] | None" = None) -> Mapping[int, list[Ring]]:
    """Return the outline of each shape: closed rings of column and row, its outer ones and its holes, even-odd.

    Args:
        borders: All borders of the shapes.
        place: Where points, of shape (n, 2), come to lie, rounded as they are kept; None leaves them where they are. A
            line that would cross another one there keeps the steps of the pixels.
    """
    lines: dict[int, dict[Point, list[Pixels]]] = defaultdict(lambda: defaultdict(list))
    for border, line in zip(borders, _uncrossed(borders, place or np.asarray), strict=True):
        for shape, turned in ((border.left, line[::-1]), (border.right, line)):
            if shape != OUTSIDE:
                lines[shape][tuple(turned[0])].append(turned)
    return {shape: _rings(starts) for shape, starts in sorted(lines.items())}


def _uncrossed(borders: Sequence[Border], place: "Callable[[Pixels], Pixels]") -> "list[Pixels]":
    """Return the simplified lines, but where one crosses itself or another, one with the steps of the pixels."""
    from shapely import LineString, STRtree  # noqa: PLC0415  loaded when a photo is taken apart

    lines = [place(border.simplified) for border in borders]
    is_raw = [False] * len(lines)
    while True:
        drawn = [LineString(line) for line in lines]
        crossed = {no for no, line in enumerate(drawn) if not line.is_simple}
        for one, other in STRtree(drawn).query(drawn, predicate="intersects").T.tolist():
            if one < other and _cross(drawn[one], drawn[other]):
                crossed |= {one, other}
        mended = [no for no in crossed if not is_raw[no]]
        if not mended:
            return lines
        for no in mended:
            lines[no], is_raw[no] = place(borders[no].corners[_turns(borders[no].corners)]), True


def _cross(one: "LineString", other: "LineString") -> bool:
    """Return whether two lines meet elsewhere than in ends of both, or run together."""
    from shapely import get_coordinates  # noqa: PLC0415  loaded when a photo is taken apart

    ends = {one.coords[0], one.coords[-1]} & {other.coords[0], other.coords[-1]}
    shared = one.intersection(other)
    return shared.length > 0 or not set(map(tuple, get_coordinates(shared).tolist())) <= ends


def area_of(rings: list[Ring]) -> float:
    """Return the area inside rings, holes taken off, in square pixels. Source: the shoelace formula."""
    total = 0.0
    for ring in rings:
        x, y = np.array(ring).T
        total += float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2
    return abs(total)


def _steps(labels: "Labels", of: Sequence[int] | None) -> dict[int, list[Step]]:
    """Return for each corner the steps along borders away from it.

    A corner is a number: its column times the corners of a column, and its row.
    """
    framed = np.pad(labels, 1, constant_values=OUTSIDE)
    high = labels.shape[0] + 1
    steps: dict[int, list[Step]] = defaultdict(list)
    wanted = np.zeros(int(labels.max(initial=OUTSIDE)) + 2, dtype=bool)  # the last one is that of the outside
    wanted[list(of or ())] = True
    sides = (
        (framed[:-1, 1:-1], framed[1:, 1:-1], high, False),
        (framed[1:-1, :-1], framed[1:-1, 1:], 1, True),
    )
    for one, other, far, is_down in sides:
        meet = one != other
        if of is not None:
            meet &= wanted[one] | wanted[other]
        rows, columns = np.nonzero(meet)
        places = (columns * high + rows).tolist()
        for place, first, second in zip(places, one[meet].tolist(), other[meet].tolist(), strict=True):
            left, right = (second, first) if is_down else (first, second)
            steps[place].append((place + far, left, right))
            steps[place + far].append((place, right, left))
    return steps


def _is_meeting(found: list[Step]) -> bool:
    """Return whether more than two shapes meet, or two do corner to corner."""
    if len(found) != 2:  # noqa: PLR2004
        return True
    (_, left, right), (_, other_left, other_right) = found
    return (left, right) != (other_right, other_left) and (left, right) != (other_left, other_right)


def _walk(start: int, towards: int, steps: dict[int, list[Step]], meets: set[int]) -> list[int]:
    corners = [start]
    before, here = start, towards
    while here not in meets and here != start:
        corners.append(here)
        (one, _, _), (other, _, _) = steps[here]
        before, here = here, other if one == before else one
    corners.append(here)
    return corners


def _simplified(points: "Pixels", *, is_frame: bool) -> "Pixels":
    """Return fewer points along a border; its ends stay, and the frame of the picture keeps its corners."""
    from shapely import LineString, get_coordinates, simplify  # noqa: PLC0415  loaded when a photo is taken apart

    line = points if is_frame else _smoothed(points)
    turns = LineString(line[_turns(line)])  # between turns nothing is farther off than at them
    found: Pixels = get_coordinates(simplify(turns, _TOLERANCE_PX, preserve_topology=False))
    is_closed = np.array_equal(points[0], points[-1])
    return points if is_closed and len(found) < 4 else found  # noqa: PLR2004  a ring is a triangle at least


def _turns(line: "Pixels") -> "NDArray[np.bool_]":
    """Return which points of a line are its ends, or such at which it turns."""
    before, after = np.diff(line[:-1], axis=0), np.diff(line[1:], axis=0)
    return np.concatenate(([True], np.any(before != after, axis=1), [True]))


def _smoothed(points: "Pixels") -> "Pixels":
    """Return points without the steps of the pixels: smoothed, and what that took from the bends given back."""
    from scipy.ndimage import gaussian_filter1d  # noqa: PLC0415

    steps = len(points) - 1
    is_closed = np.array_equal(points[0], points[-1])
    if is_closed:
        line, mode, sigma = points[:-1], "wrap", min(_SMOOTHING, _SMOOTHING_FRAC * steps)
    else:  # turned about its ends, so that they stay
        line = np.concatenate((2 * points[0] - points[:0:-1], points, 2 * points[-1] - points[-2::-1]))
        mode, sigma = "nearest", _SMOOTHING
    once = gaussian_filter1d(line, sigma, axis=0, mode=mode)
    found = 2 * once - gaussian_filter1d(once, sigma, axis=0, mode=mode)
    if is_closed:
        return np.concatenate((found, found[:1]))
    return np.concatenate((points[:1], found[steps + 1 : 2 * steps], points[-1:]))


def _rings(starts: "dict[Point, list[Pixels]]") -> list[Ring]:
    rings = []
    for first in sorted(starts):
        while starts[first]:
            line = starts[first].pop(0)
            ring = [tuple(point) for point in line.tolist()]
            while ring[-1] != first:
                line = starts[ring[-1]].pop(0)
                ring += [tuple(point) for point in line[1:].tolist()]
            rings.append(tuple(ring[:-1]))
    return rings
