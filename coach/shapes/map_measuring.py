"""Edited shapes measured again: only what has changed, and its edges to what it touches."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import ceil
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import luminance_of
from coach.shapes.edges import reach_of
from coach.shapes.features import HeadBox
from coach.shapes.outlines import Ring, area_of, borders_of
from coach.shapes.shape import (
    Apart,
    Edges,
    Picture,
    Shape,
    edges_between,
    flat_difference,
    in_order,
    least_head_rows,
    neighbours_by,
    size_and_colour,
)
from coach.shapes.shape_map import OutlinedShape, ShapeMap, Window, filled, measured_map, paint, window_around

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Labels = NDArray[np.int32]

_BARE: Final = -1

_CORNERED_PX: Final = 1.0
"""Square pixels of the photo by which corners in its sides may change a shape: they lie on the grid of outlines."""

_GROWN: Final = 8
"""Pixels about what has changed, among which the nearest shape is found for one that none covers any more."""


def measured_after(before: Apart, shape_map: ShapeMap, picture: Picture, heads: Sequence[HeadBox]) -> Apart:
    """Return what is measured of edited shapes, from what was measured before the edit.

    It is what `measured_map` returns; only what the photo itself is blurred by is not found anew.

    Args:
        before: What was measured of the shapes before, in the same picture.
        shape_map: The shapes as they are now.
        picture: The part of the photo that is painted.
        heads: The heads in pixels of the photo, one at least.

    Raises:
        ShapeMapError: No shape lies in the picture.
    """
    old = {shape.id: shape.outline for shape in before.shapes}
    stays = {shape.id for shape in shape_map.shapes if _is_same(old.get(shape.id, ()), shape.outline)}
    changed = [shape for shape in shape_map.shapes if shape.id not in stays]
    if len(changed) > len(stays):
        return measured_map(shape_map, picture, heads)
    gone = [shape.outline for shape in before.shapes if shape.id not in stays]
    window = _around([*gone, *(shape.outline for shape in changed)], before.labels.shape, picture)
    shapes, labels = _painted(before, shape_map, stays, window, picture)
    places = [place for place, shape in enumerate(shapes) if shape.id not in stays]
    kept = {shape.id: (shape, flat) for shape, flat in zip(before.shapes, before.flat_differences, strict=True)}
    found: list[tuple[Shape, float]] = []
    for place, shape in enumerate(shapes):
        size, flat = kept[shape.id] if shape.id in stays else _sized(place, labels, window, picture)
        if (size.name, size.feature, size.outline) != (shape.name, shape.feature, shape.outline):
            size = replace(size, id=shape.id, name=shape.name, feature=shape.feature, outline=shape.outline)
        found.append((size, flat))
    head_rows = least_head_rows([picture.head(head) for head in heads])
    lit = _grown(window, ceil(reach_of(head_rows)) + 4, labels.shape)  # borders are read beyond the window
    corner = np.array((window[0] - lit[0], window[1] - lit[1]))
    borders = [replace(one, corners=one.corners + corner) for one in borders_of(labels[_part(window)], places)]
    edges, _ = edges_between(luminance_of(picture.linear[_part(lit)]), borders, head_rows, before.photo_blur)
    return Apart(
        shapes=_beside([shape for shape, _ in found], places, edges, picture.scale),
        labels=labels,
        flat_differences=tuple(flat for _, flat in found),
        photo_blur=before.photo_blur,
    )


def _is_same(old: Sequence[Ring], new: Sequence[Ring]) -> bool:
    """Return whether an outline is the same, but perhaps for corners that a neighbour's cut made in its sides."""
    if old == new:
        return True
    return (
        {point for ring in old for point in ring}.issubset(point for ring in new for point in ring)
        and len(old) == len(new) > 0
        and abs(area_of(list(old)) - area_of(list(new))) < _CORNERED_PX
    )


def _around(outlines: Iterable[Sequence[Ring]], shape: tuple[int, ...], picture: Picture) -> Window:
    """Return the pixels in which outlines lie, and one more on each side; empty where they lie in none."""
    windows = [window_around(outline, picture, shape) for outline in outlines]
    inside = [one for one in windows if one[0] < one[2] and one[1] < one[3]]
    if not inside:
        return 0, 0, 0, 0
    left, top = (min(one[side] for one in inside) for side in (0, 1))
    right, bottom = (max(one[side] for one in inside) for side in (2, 3))
    return _grown((left, top, right, bottom), 1, shape)


def _grown(window: Window, more: int, shape: tuple[int, ...]) -> Window:
    left, top, right, bottom = window
    return max(left - more, 0), max(top - more, 0), min(right + more, shape[1]), min(bottom + more, shape[0])


def _part(window: Window) -> tuple[slice, slice]:
    left, top, right, bottom = window
    return slice(top, bottom), slice(left, right)


def _painted(
    before: Apart, shape_map: ShapeMap, stays: set[str], window: Window, picture: Picture
) -> "tuple[list[OutlinedShape], Labels]":
    """Return the shapes that have a pixel, and for each pixel the place among them."""
    places = {shape.id: place for place, shape in enumerate(shape_map.shapes)}
    table = [places[shape.id] if shape.id in stays else _BARE for shape in before.shapes]
    labels = np.take(np.array(table, dtype=np.int32), before.labels, mode="clip")  # in half the time
    changed = [(place, shape) for place, shape in enumerate(shape_map.shapes) if shape.id not in stays]
    for place, shape in changed:
        paint(labels, shape.outline, place, picture)
    if labels[_part(window)].min(initial=0) == _BARE:
        part = _part(_grown(window, _GROWN, labels.shape))
        labels[part] = filled(labels[part])
    seen = np.bincount(labels[_part(window)].ravel(), minlength=len(shape_map.shapes))
    shapes = [one for place, one in enumerate(shape_map.shapes) if one.id in stays or seen[place]]
    if len(shapes) < len(shape_map.shapes):
        numbers = {shape.id: number for number, shape in enumerate(shapes)}
        labels = np.array([numbers.get(shape.id, _BARE) for shape in shape_map.shapes], dtype=np.int32)[labels]
    return shapes, labels


def _sized(place: int, labels: "Labels", window: Window, picture: Picture) -> tuple[Shape, float]:
    inside = labels[_part(window)] == place
    rows, columns = (np.flatnonzero(inside.any(axis=axis)) for axis in (1, 0))
    part = np.s_[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    own = replace(picture, linear=picture.linear[_part(window)][part])
    size = size_and_colour(own, inside[part])
    return size, flat_difference(own, inside[part], size.lab)


def _beside(shapes: Sequence[Shape], changed: Sequence[int], edges: Edges, scale: float) -> tuple[Shape, ...]:
    """Return the shapes with their neighbours: the old ones that stay, and those that the edges make."""
    touching = neighbours_by(edges, shapes, scale)
    places = {shape.id: place for place, shape in enumerate(shapes)}
    stale = {shapes[place].id for place in changed}
    beside = []
    for place, shape in enumerate(shapes):
        old = [near for near in shape.neighbours if near.id in places and near.id not in stale]
        if len(old) < len(shape.neighbours) or place in touching:
            beside.append(replace(shape, neighbours=in_order([*old, *touching.get(place, ())], places)))
        else:
            beside.append(shape)
    return tuple(beside)
