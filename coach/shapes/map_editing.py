"""Edits of a map of shapes: each returns a new map, so that undoing is going back to an earlier one.

Shapes that tile the photo tile it after every edit: where a new border ends on the outline of a neighbour, that gets a
corner there too. Where a shape is cut, the larger part stays the shape it was, and the smaller one is new; of two that
are merged, the larger one stays.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from statistics import fmean
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import lab_of, luminance_of, value_of
from coach.shapes.cutting import Divide, along, divided, looked_at, mean_light, most_different
from coach.shapes.features import Feature, HeadBox
from coach.shapes.naming import free_name
from coach.shapes.outlines import Point, Ring
from coach.shapes.polygons import is_clean, polygon_of, rings_of_polygon
from coach.shapes.seeing import LEAST_PX
from coach.shapes.shape import Picture
from coach.shapes.shape_map import OutlinedShape, ShapeMap, ShapeMapError, borders_around
from coach.text import sanitized

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    Pixels = NDArray[np.float64]

_TOUCHING_PX: Final = 1.0
"""Shapes at most so far apart touch: a drawing program may have left a gap."""

_THIN: Final = 1.5
"""Twice its area by its outline, which is half the width of a long part, is at least so many pixels of the picture."""

Side = tuple[Point, Point]
"""Two corners of a ring that follow each other."""

Corners = Mapping[Side, Sequence[Point]]
"""New corners on a side, from its first point to its second."""


def shape_named(shape_map: ShapeMap, id_: str) -> OutlinedShape:
    """Return a shape by its id.

    Raises:
        ShapeMapError: There is none.
    """
    found = next((shape for shape in shape_map.shapes if shape.id == id_), None)
    if found is None:
        raise ShapeMapError(f"there is no shape {sanitized(id_)}")
    return found


def split(shape_map: ShapeMap, id_: str, picture: Picture, heads: Sequence[HeadBox]) -> ShapeMap:
    """Return the map with a shape split where its two most different parts meet.

    Args:
        shape_map: The shapes.
        id_: The shape.
        picture: The part of the photo that is painted.
        heads: The heads in pixels of the photo, after which the new shape is named.

    Raises:
        ShapeMapError: It is too small, or all of it is of one colour.
    """
    shape = shape_named(shape_map, id_)
    found = _split(shape_map, shape, picture, heads)
    if found is None:
        raise ShapeMapError(f"{shape.name} is too small or too even to be split")
    return found


def split_along(
    shape_map: ShapeMap, id_: str, ends: tuple[Point, Point], picture: Picture, heads: Sequence[HeadBox]
) -> ShapeMap:
    """Return the map with a shape split along a straight line between two points; it is lengthened to cut the shape.

    Raises:
        ShapeMapError: The line does not lie in the shape, or cuts off next to nothing.
    """
    shape = shape_named(shape_map, id_)
    found = cut(shape_map, shape, along(polygon_of(shape.outline), *ends), picture, heads)
    if found is None:
        raise ShapeMapError(f"this line does not cut {shape.name} in two")
    return found


def merged(shape_map: ShapeMap, id_: str, other_id: str) -> ShapeMap:
    """Return the map with two shapes that touch made one; the larger one keeps its id, name and feature.

    Raises:
        ShapeMapError: They do not touch, or are one and the same.
    """
    pair = [(polygon_of(shape.outline), shape) for shape in (shape_named(shape_map, one) for one in (id_, other_id))]
    (large, kept), (small, gone) = sorted(pair, key=lambda one: -one[0].area)
    if kept.id == gone.id or large.distance(small) > _TOUCHING_PX:
        raise ShapeMapError(f"{kept.name} and {gone.name} do not touch")
    whole = replace(kept, outline=rings_of_polygon(large.union(small)))
    shapes = [whole if shape.id == kept.id else shape for shape in shape_map.shapes if shape.id != gone.id]
    return _with_shapes(shape_map, shapes, {kept.feature, gone.feature} if kept.feature is not gone.feature else ())


def given_to(shape_map: ShapeMap, features: Mapping[str, Feature]) -> ShapeMap:
    """Return the map with shapes given to other features; `Feature.OBJECT` is for what is no part of the sitter.

    Args:
        shape_map: The shapes.
        features: The new feature of each of them, by its id.
    """
    moved = [shape for shape in shape_map.shapes if features.get(shape.id, shape.feature) is not shape.feature]
    shapes = [shape for shape in shape_map.shapes if shape not in moved]
    for shape in moved:
        new = features[shape.id]
        last = max((place for place, one in enumerate(shapes) if one.feature is new), default=len(shapes) - 1)
        shapes.insert(last + 1, replace(shape, feature=new))
    return _with_shapes(shape_map, shapes, {shape.feature for shape in moved} | {features[one.id] for one in moved})


def renamed(shape_map: ShapeMap, id_: str, name: str) -> ShapeMap:
    """Return the map with a shape called otherwise.

    Raises:
        ShapeMapError: The name is empty, or another shape has it.
    """
    shape = shape_named(shape_map, id_)
    words = " ".join(sanitized(name).split())
    if not words:
        raise ShapeMapError("a shape needs a name")
    other = next((one for one in shape_map.shapes if one.name == words and one.id != id_), None)
    if other is not None:
        raise ShapeMapError(f"{other.id} is called {words} already")
    return replace(
        shape_map, shapes=tuple(replace(one, name=words) if one is shape else one for one in shape_map.shapes)
    )


def more_here(shape_map: ShapeMap, feature: Feature, picture: Picture, heads: Sequence[HeadBox]) -> ShapeMap:
    """Return the map with one shape more in a feature: the one that a single colour tells least of is split.

    Raises:
        ShapeMapError: None of its shapes can be split.
    """
    own = [shape for shape in shape_map.shapes if shape.feature is feature]
    for shape in sorted(own, key=lambda one: -_unevenness(picture, one)):
        found = _split(shape_map, shape, picture, heads)
        if found is not None:
            return found
    raise ShapeMapError(f"no shape of the {feature} can be split")


def fewer_here(shape_map: ShapeMap, feature: Feature, picture: Picture) -> ShapeMap:
    """Return the map with one shape less in a feature: the two that lose least by it are merged.

    Raises:
        ShapeMapError: No two of its shapes touch.
    """
    from shapely import STRtree  # noqa: PLC0415  loaded when shapes are edited

    own = [shape for shape in shape_map.shapes if shape.feature is feature]
    polygons = [polygon_of(shape.outline) for shape in own]
    seen = [mean_light(picture, shape.outline) for shape in own]
    near = STRtree(polygons).query(polygons, predicate="dwithin", distance=_TOUCHING_PX).T.tolist()
    losses = [(_loss(seen[one], seen[other]), own[one].id, own[other].id) for one, other in near if one < other]
    if not losses:
        raise ShapeMapError(f"no two shapes of the {feature} touch")
    _, one_id, other_id = min(losses)
    return merged(shape_map, one_id, other_id)


def _split(shape_map: ShapeMap, shape: OutlinedShape, picture: Picture, heads: Sequence[HeadBox]) -> ShapeMap | None:
    cuts = (cut(shape_map, shape, divide, picture, heads) for divide in most_different(picture, shape.outline))
    return next((found for found in cuts if found is not None), None)


def _unevenness(picture: Picture, shape: OutlinedShape) -> float:
    """Return the sum of squares in Lab about the mean of a shape."""
    light, weight, _, _ = looked_at(picture, shape.outline)
    lab, mass = lab_of(light[weight > 0]), weight[weight > 0]
    if not len(mass):
        return 0.0
    return float((mass[:, None] * np.square(lab - np.average(lab, axis=0, weights=mass))).sum())


def _loss(one: "tuple[Pixels, float]", other: "tuple[Pixels, float]") -> float:
    """Return what merging two shapes loses; the loss is that of `merge_order`."""
    apart = float(np.square(lab_of(one[0]) - lab_of(other[0])).sum())
    return apart * one[1] * other[1] / max(one[1] + other[1], 1.0)


def cut(
    shape_map: ShapeMap, shape: OutlinedShape, divide: Divide, picture: Picture, heads: Sequence[HeadBox]
) -> ShapeMap | None:
    """Return the map with a shape cut in two; None where a part would be too small to paint."""
    whole = polygon_of(shape.outline)
    parts = divided(whole, divide)
    if parts is None or any(_is_tiny(part, picture.scale) for part in parts):
        return None
    corners = _new_corners(shape.outline, rings_of_polygon(parts[0].union(parts[1])))
    if corners is None:
        return None
    large, small = (rings_of_polygon(part) for part in sorted(parts, key=lambda part: -part.area))
    new = replace(shape, id=f"k{shape_map.next_number}", outline=small)
    new = replace(new, name=_name(new, shape_map, picture, heads))
    shapes = []
    for one in shape_map.shapes:
        shapes += [replace(shape, outline=large), new] if one.id == shape.id else [one]
    found = with_corners(replace(shape_map, shapes=tuple(shapes), next_number=shape_map.next_number + 1), corners)
    beside = [(old, one) for old, one in zip(shapes, found.shapes, strict=True) if one is not old]
    is_broken = any(is_clean(old.outline) and not is_clean(one.outline) for old, one in beside)
    return None if is_broken or not is_clean((*large, *small)) else found


def _is_tiny(part: "BaseGeometry", scale: float) -> bool:
    """Return whether a part is too small or too thin to be painted by itself."""
    return bool(part.area < LEAST_PX / scale**2 or 2 * part.area < _THIN / scale * part.length)


def _name(new: OutlinedShape, shape_map: ShapeMap, picture: Picture, heads: Sequence[HeadBox]) -> str:
    light, _ = mean_light(picture, new.outline)
    lightness, a, b = lab_of(light).tolist()
    siblings = [
        (one.feature, (0.0, 0.0, 0.0), 0.0, *_middle(one)) for one in shape_map.shapes if one.feature is new.feature
    ]
    seen = (new.feature, (lightness, a, b), float(value_of(luminance_of(light))), *_middle(new))
    return free_name(seen, siblings, heads, {one.name for one in shape_map.shapes})


def _middle(shape: OutlinedShape) -> Point:
    x, y = zip(*(point for ring in shape.outline for point in ring), strict=True)
    return fmean(x), fmean(y)


def _with_shapes(shape_map: ShapeMap, shapes: Sequence[OutlinedShape], features: Iterable[Feature]) -> ShapeMap:
    """Return the map with other shapes, and the borders of these features drawn around theirs."""
    changed = tuple(features)
    kept = {feature: rings for feature, rings in shape_map.borders.items() if feature not in changed}
    return replace(shape_map, shapes=tuple(shapes), borders={**kept, **borders_around(shapes, changed)})


def _new_corners(outline: Sequence[Ring], noded: Sequence[Ring]) -> Corners | None:
    """Return the corners that an outline has got by a cut; None where it is no longer the same outline.

    Args:
        outline: The outline before.
        noded: The outline around both parts, with the corners where the cut meets it.
    """
    found: dict[Side, Sequence[Point]] = {}
    for ring in outline:
        own = next((one for one in noded if set(ring).issubset(one)), None)
        runs = _runs(ring, own or ()) or _runs(ring, (own or ())[::-1])
        if runs is None:
            return None
        found |= {side: run for side, run in zip(sides_of(ring), runs, strict=True) if run}
    return found


def _runs(ring: Ring, noded: Ring) -> list[list[Point]] | None:
    """Return what stands behind each corner of a ring in the same ring with more corners; None where it is another."""
    if not noded:
        return None
    start = noded.index(ring[0])
    rest = iter((*noded[start + 1 :], *noded[: start + 1]))
    runs: list[list[Point]] = []
    for _, end in sides_of(ring):
        runs.append([])
        while (point := next(rest, end)) != end:
            runs[-1].append(point)
    return runs if len(ring) + sum(map(len, runs)) == len(noded) else None


def sides_of(ring: Ring) -> list[Side]:
    """Return the sides of a ring, each from a corner to the next."""
    return list(zip(ring, (*ring[1:], ring[0]), strict=True))


def nearest_side(sides: Sequence[Side], place: Point) -> tuple[int, float, float]:
    """Return which of the sides is nearest to a place, how far along it, 0 to 1, and how far off, in pixels."""
    starts, ends = np.array(sides).transpose(1, 0, 2)
    along_it = ends - starts
    share = ((np.array(place) - starts) * along_it).sum(axis=1) / np.maximum(np.square(along_it).sum(axis=1), 1e-9)
    off = starts + np.clip(share, 0, 1)[:, None] * along_it - place
    number = int(np.square(off).sum(axis=1).argmin())
    return number, float(np.clip(share[number], 0, 1)), float(np.hypot(*off[number]))


def with_corners(shape_map: ShapeMap, corners: Corners) -> ShapeMap:
    """Return the map in which every ring that has one of the sides has its new corners."""
    ends = {point for side in corners for point in side}

    def outline(rings: tuple[Ring, ...]) -> tuple[Ring, ...]:
        if all(ends.isdisjoint(ring) for ring in rings):
            return rings
        found = []
        for ring in rings:
            points: list[Point] = []
            for start, end in sides_of(ring):
                points += [start, *corners.get((start, end), ()), *reversed(corners.get((end, start), ()))]
            found.append(tuple(points))
        return tuple(found)

    return redrawn(shape_map, outline)


def redrawn(shape_map: ShapeMap, redraw: Callable[[tuple[Ring, ...]], tuple[Ring, ...]]) -> ShapeMap:
    """Return the map with every outline and border redrawn; a shape whose outline stays is the same object."""
    shapes = []
    for shape in shape_map.shapes:
        rings = redraw(shape.outline)
        shapes.append(shape if rings == shape.outline else replace(shape, outline=rings))
    borders = {feature: redraw(rings) for feature, rings in shape_map.borders.items()}
    return replace(shape_map, shapes=tuple(shapes), borders=borders)
