"""Edits of the outlines themselves: a point moved, a shape smoothed, the border of a feature moved.

A border is one line for both its sides: whatever moves it moves it in every shape and every feature that it bounds.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.shapes.cutting import Divide
from coach.shapes.features import Feature, HeadBox
from coach.shapes.map_editing import Side, cut, given_to, nearest_side, redrawn, shape_named, sides_of, with_corners
from coach.shapes.outlines import Point, Ring
from coach.shapes.polygons import is_clean, polygon_of, ring_of, rings_of_polygon
from coach.shapes.shape import Picture
from coach.shapes.shape_map import OutlinedShape, ShapeMap, ShapeMapError

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    Pixels = NDArray[np.float64]

_ROUNDED_PX: Final = 1e-6
"""Square pixels of the photo that an edit may add to or take from all that it touches: what is lost in arithmetic."""

_SMOOTH: Final = 4.0
"""How far a border is smoothed along itself, in pixels of the picture; ours."""

_NEAR: Final = 0.5
"""How near the smoothed line the one with fewer points stays, in pixels of the picture."""


def nearest_point(shape_map: ShapeMap, place: Point, within_px: float) -> Point | None:
    """Return the point of an outline that is nearest to a place of the photo, one of its corners if one is near enough.

    Args:
        shape_map: The shapes.
        place: Column and row, in pixels of the photo.
        within_px: How far off a corner, or else an outline, may be; None is returned where both are farther.
    """
    sides = _all_sides(shape_map)
    if not sides:
        return None
    corner = min((start for start, _ in sides), key=lambda start: math.dist(start, place))
    if math.dist(corner, place) <= within_px:
        return corner
    number, share, far_px = nearest_side(sides, place)
    (x0, y0), (x1, y1) = sides[number]
    return None if far_px > within_px else (round(x0 + share * (x1 - x0), 1), round(y0 + share * (y1 - y0), 1))


def point_moved(shape_map: ShapeMap, point: Point, to: Point) -> ShapeMap:
    """Return the map with a point of an outline moved, in every shape that has it.

    Args:
        shape_map: The shapes.
        point: What `nearest_point` returned; where it is no corner yet, it becomes one.
        to: Where it is to lie; the map keeps its edge, so that there a point only moves along it.

    Raises:
        ShapeMapError: An outline would cross itself or another one, or a gap would open at the edge of the map.
    """
    new = (round(to[0], 1), round(to[1], 1))
    cornered = _with_corner(shape_map, point)

    def outline(rings: tuple[Ring, ...]) -> tuple[Ring, ...]:
        if not any(point in ring for ring in rings):
            return rings
        moved = (ring_of([new if corner == point else corner for corner in ring]) for ring in rings)
        return tuple(ring for ring in moved if len(ring) > 2)  # noqa: PLR2004

    found = redrawn(cornered, outline)
    if not _tiles_as(cornered, found):
        raise ShapeMapError("there an outline would cross another one, or leave a gap")
    return found


def smoothed(shape_map: ShapeMap, id_: str, picture: Picture) -> ShapeMap:
    """Return the map with the outline of a shape smoothed; its ends where three shapes meet stay.

    A stretch of it that would cross another outline stays as it is.

    Raises:
        ShapeMapError: There is nothing to smooth.
    """
    shape = shape_named(shape_map, id_)
    owners: dict[frozenset[Point], list[int]] = {}
    for number, one in enumerate(shape_map.shapes):
        for side in (side for ring in one.outline for side in sides_of(ring)):
            owners.setdefault(frozenset(side), []).append(number)
    found = shape_map
    for ring in shape.outline:
        for stretch in _stretches(ring, owners):
            line = _smooth_line(np.array(stretch), picture.scale)
            changed = _with_stretch(found, stretch, line)
            if changed is not found and _tiles_as(found, changed):
                found = changed
    if found is shape_map:
        raise ShapeMapError(f"the outline of {shape.name} cannot be smoothed any further")
    return found


def border_moved(
    shape_map: ShapeMap, feature: Feature, border: Sequence[Ring], picture: Picture, heads: Sequence[HeadBox]
) -> ShapeMap:
    """Return the map with the border of a feature moved: what lies inside is the feature's, the rest is not.

    Shapes that the border cuts are split along it, where both parts are large enough to be painted.

    Raises:
        ShapeMapError: The border encloses nothing.
    """
    from shapely import Point as Place  # noqa: PLC0415  loaded when shapes are edited

    inside = polygon_of(border)
    if inside.is_empty:
        raise ShapeMapError("this border encloses nothing")
    lines = [(*ring, ring[0]) for ring in rings_of_polygon(inside)]
    divide = Divide(lines=lines, is_first=lambda x, y: inside.contains(Place(x, y)))
    found = shape_map
    for shape in shape_map.shapes:
        polygon = polygon_of(shape.outline)
        if polygon.intersects(inside) and not inside.contains(polygon):
            found = cut(found, shape_named(found, shape.id), divide, picture, heads) or found
    polygons = {shape.id: polygon_of(shape.outline) for shape in found.shapes}
    is_own = {id_: one.intersection(inside).area > one.area / 2 for id_, one in polygons.items()}
    others = [(shape.feature, polygons[shape.id]) for shape in found.shapes if shape.feature is not feature]
    new = {
        shape.id: feature if is_own[shape.id] else _beside(polygons[shape.id], others, feature)
        for shape in found.shapes
        if is_own[shape.id] is not (shape.feature is feature)
    }
    return given_to(found, new)


def _beside(polygon: "BaseGeometry", others: Iterable[tuple[Feature, "BaseGeometry"]], own: Feature) -> Feature:
    """Return the feature that a polygon lies along the longest; its own where it touches no other."""
    lengths = {own: 0.0}
    for feature, other in others:
        if other.intersects(polygon):
            length = other.boundary.intersection(polygon.boundary).length
            lengths[feature] = lengths.get(feature, 0.0) + length
    return max(lengths, key=lambda feature: lengths[feature])


def _all_sides(shape_map: ShapeMap) -> list[Side]:
    return [side for shape in shape_map.shapes for ring in shape.outline for side in sides_of(ring)]


def _with_corner(shape_map: ShapeMap, point: Point) -> ShapeMap:
    """Return the map with a corner at a point on an outline; the same map where there is one."""
    sides = _all_sides(shape_map)
    if any(point == start for start, _ in sides):
        return shape_map
    number, _, _ = nearest_side(sides, point)
    return with_corners(shape_map, {sides[number]: (point,)})


def _tiles_as(before: ShapeMap, after: ShapeMap) -> bool:
    """Return whether what has changed covers what it covered, with no more of it twice, and crosses nowhere."""
    from shapely import union_all  # noqa: PLC0415  loaded when shapes are edited

    pairs = [(old, new) for old, new in zip(before.shapes, after.shapes, strict=True) if old is not new]
    if any(_is_broken(old, new) for old, new in pairs):
        return False
    polygons = [[polygon_of(shape.outline) for shape in side] for side in zip(*pairs, strict=True)]
    wholes = [union_all(side) for side in polygons]
    twice = [sum(one.area for one in side) - whole.area for side, whole in zip(polygons, wholes, strict=True)]
    return not pairs or (
        wholes[0].symmetric_difference(wholes[1]).area < _ROUNDED_PX and twice[1] - twice[0] < _ROUNDED_PX
    )


def _is_broken(old: OutlinedShape, new: OutlinedShape) -> bool:
    return not new.outline or (is_clean(old.outline) and not is_clean(new.outline))


def _stretches(ring: Ring, owners: Mapping[frozenset[Point], Sequence[int]]) -> list[tuple[Point, ...]]:
    """Return the stretches of a ring along one neighbour each; one that runs all round is closed."""
    sides = [(owners[frozenset(side)], side) for side in sides_of(ring)]
    first = next((no for no, (own, _) in enumerate(sides) if own != sides[no - 1][0]), 0)
    found: list[list[Point]] = []
    last: Sequence[int] = ()
    for own, (start, end) in (*sides[first:], *sides[:first]):
        if len(own) > 1 and own == last:
            found[-1].append(end)
        elif len(own) > 1:
            found.append([start, end])
        last = own
    return [tuple(stretch) for stretch in found if len(stretch) > 2]  # noqa: PLR2004


def _smooth_line(line: "Pixels", scale: float) -> tuple[Point, ...]:
    """Return a line smoothed along itself, with few points; its ends stay, and a closed one stays closed."""
    from scipy.ndimage import gaussian_filter1d  # noqa: PLC0415  loaded when shapes are edited
    from skimage.measure import approximate_polygon  # noqa: PLC0415  the same

    lengths = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))))
    count = max(3, round(float(lengths[-1]) * scale))
    at = np.linspace(0, lengths[-1], count + 1)
    points = np.stack([np.interp(at, lengths, line[:, no]) for no in range(2)], axis=1)
    sigma = min(_SMOOTH, count / 8)
    if np.array_equal(line[0], line[-1]):
        smooth = gaussian_filter1d(points[:-1], sigma, axis=0, mode="wrap")
        smooth = np.concatenate((smooth, smooth[:1]))
    else:  # turned about its ends, so that they stay
        turned = np.concatenate((2 * points[0] - points[:0:-1], points, 2 * points[-1] - points[-2::-1]))
        smooth = gaussian_filter1d(turned, sigma, axis=0)[count : 2 * count + 1]
        smooth[0], smooth[-1] = points[0], points[-1]
    few = approximate_polygon(smooth, _NEAR / scale)
    return tuple((round(x, 1), round(y, 1)) for x, y in few.tolist())


def _with_stretch(shape_map: ShapeMap, stretch: tuple[Point, ...], line: tuple[Point, ...]) -> ShapeMap:
    """Return the map with a stretch of border drawn anew in every ring that has it; the same map if nothing changes."""
    if stretch == line:
        return shape_map
    points = set(stretch)

    def redraw(ring: Ring) -> Ring:
        if stretch[1] not in ring or not points.issubset(ring):
            return ring
        for old, new in ((stretch, line), (stretch[::-1], line[::-1])):
            start = ring.index(old[0])
            turned = (*ring[start:], *ring[:start], old[0])
            if turned[: len(old)] == old:
                return ring_of(new + turned[len(old) : -1])
        return ring

    return redrawn(shape_map, lambda rings: tuple(map(redraw, rings)))
