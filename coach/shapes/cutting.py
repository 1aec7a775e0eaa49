"""A shape cut in two: where its two most different parts meet, or along a line."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import lab_of
from coach.shapes.merging import merge_order
from coach.shapes.outlines import Point, Ring
from coach.shapes.polygons import GRID_PX, inside_mask
from coach.shapes.shape import Picture
from coach.shapes.shape_map import in_picture, window_around

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely import LineString
    from shapely.geometry.base import BaseGeometry

    Pixels = NDArray[np.float64]

_FINE: Final = 16_000
"""Pixels in which a shape is looked at; of a larger one several are taken together."""

_COARSE: Final = 80
"""Patches that are merged until two are left."""

_MOST_PARTS: Final = 6
"""Where the smaller one of two parts could not be painted by itself, one of so many may be."""

_CALM: Final = 1.5
"""Over so many pixels the light is averaged where the two parts meet."""

_EVEN: Final = 1e-7
"""Parts of which linear light differs by less, squared, are of one colour: a hundredth of a value in the dark."""

Line = tuple[Point, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Divide:
    """Where a shape falls in two.

    Attributes:
        lines: Where the two parts meet, in pixels of the photo; they reach beyond the shape.
        is_first: Whether a point of the photo belongs to the first part.
    """

    lines: Sequence[Line]
    is_first: Callable[[float, float], bool]


def most_different(picture: Picture, outline: Sequence[Ring]) -> Iterator[Divide]:
    """Yield where the two most different parts of a shape meet, and where the next ones do, the best first.

    Patches of the shape are merged by least loss until two are left, or a few more; where two parts meet a pixel goes
    to the one that is nearer in linear light. A shape that is too small, or all of one colour, has none.
    """
    light, weight, corner, step = looked_at(picture, outline)
    for side, is_open in _two_patches(light, weight):
        means = [np.average(light, axis=(0, 1), weights=weight * own) for own in (side, ~side)]
        if np.square(means[0] - means[1]).sum() < _EVEN:
            return
        nearer = np.square(light - means[1]).sum(axis=-1) - np.square(light - means[0]).sum(axis=-1)
        sure = np.abs(nearer[weight > 0]).max()
        score = _spread(_calm(np.where(is_open, nearer, np.where(side, sure, -sure)), weight), weight)
        yield _divide(score, picture, corner, step)


def along(polygon: "BaseGeometry", start: Point, end: Point) -> Divide:
    """Return a straight line through a shape, as far as it must reach to cut it where it was drawn."""
    from shapely import LineString, get_parts  # noqa: PLC0415  loaded when a shape is cut

    (x0, y0), (x1, y1) = start, end
    left, top, right, bottom = polygon.bounds
    far = (math.hypot(right - left, bottom - top) + math.hypot(x1 - x0, y1 - y0) + 1) / (
        math.hypot(x1 - x0, y1 - y0) or 1
    )
    whole = LineString([(x0 - far * (x1 - x0), y0 - far * (y1 - y0)), (x1 + far * (x1 - x0), y1 + far * (y1 - y0))])
    drawn = LineString([start, end])
    crossed = [one for one in get_parts(whole.intersection(polygon)).tolist() if one.distance(drawn) < GRID_PX]
    lines = [_longer(one) for one in crossed if one.geom_type == "LineString"]
    return Divide(lines=lines, is_first=lambda x, y: (x1 - x0) * (y - y0) > (y1 - y0) * (x - x0))


def divided(polygon: "BaseGeometry", divide: Divide) -> "tuple[BaseGeometry, BaseGeometry] | None":
    """Return the two parts of a shape, each around its largest piece, on the grid; None where it stays whole.

    Small pieces go to the part that they lie along the longest, whatever side they are of.
    """
    from shapely import LineString, get_parts, polygonize, prepare, union_all  # noqa: PLC0415

    lines = [polygon.boundary, *(LineString(line) for line in divide.lines)]
    faces = get_parts(polygonize([union_all(lines, grid_size=GRID_PX)])).tolist()
    prepare(polygon)
    points = [face.representative_point() for face in faces]
    inside = [(face, point) for face, point in zip(faces, points, strict=True) if polygon.contains(point)]
    inside.sort(key=lambda one: -one[0].area)
    if len(inside) == 2:  # noqa: PLR2004  a line through a bend has both on one side
        return inside[0][0], inside[1][0]
    parts: list[list[BaseGeometry]] = [[], []]
    rest: list[BaseGeometry] = []
    for face, point in inside:
        own = parts[not divide.is_first(point.x, point.y)]
        (own if not own else rest).append(face)
    if not all(parts):
        return None
    for face in rest:
        shared = [sum(face.boundary.intersection(one.boundary).length for one in part) for part in parts]
        parts[shared[1] > shared[0]].append(face)
    return union_all(parts[0]), union_all(parts[1])


def mean_light(picture: Picture, outline: Sequence[Ring]) -> "tuple[Pixels, float]":
    """Return the mean linear light of a shape, and how many pixels of the picture it has; black where it has none."""
    light, weight, _, _ = looked_at(picture, outline)
    whole = float(weight.sum())
    return np.einsum("ijk,ij->k", light, weight) / max(whole, 1e-9), whole


def looked_at(picture: Picture, outline: Sequence[Ring]) -> "tuple[Pixels, Pixels, tuple[int, int], int]":
    """Return the light of a shape, how much of each pixel is its own, the first pixel, and how many are one here."""
    left, top, right, bottom = around = window_around(outline, picture, picture.linear.shape)
    step = max(1, math.ceil(math.sqrt((right - left) * (bottom - top) / _FINE)))
    mask = inside_mask(in_picture(outline, picture), around).astype(np.float64)
    window = picture.linear[top:bottom, left:right]
    half = step // 2
    first, *others = [  # four pixels of each square tell enough of it
        (mask[down::step, over::step, None] * window[down::step, over::step], mask[down::step, over::step])
        for down in {0, half}
        for over in {0, half}
    ]
    light, weight = (part.copy() for part in first)
    for more, own in others:
        light[: len(more), : more.shape[1]] += more
        weight[: len(own), : own.shape[1]] += own
    return light / np.maximum(weight, 1e-9)[..., None], weight, (left, top), step


def _blocks(values: "Pixels", step: int) -> "Pixels":
    """Return the sums over squares of pixels; the last ones may be cut."""
    rows = np.add.reduceat(values, np.arange(0, values.shape[0], step), axis=0)
    found: Pixels = np.add.reduceat(rows, np.arange(0, values.shape[1], step), axis=1)
    return found


def _two_patches(light: "Pixels", weight: "Pixels") -> "Iterator[tuple[NDArray[np.bool_], NDArray[np.bool_]]]":
    """Yield which of two parts each pixel belongs to, and which pixels lie so near the other part that it is open."""
    from scipy.ndimage import maximum_filter  # noqa: PLC0415  loaded when a shape is cut

    step = max(1, math.ceil(math.sqrt(np.count_nonzero(weight) / _COARSE)))
    mass = _blocks(weight, step)
    own = mass > 0
    numbers = np.cumsum(own).reshape(own.shape) - 1
    pairs = [
        np.stack((one[both], other[both]), axis=1)
        for one, other, both in (
            (numbers[:, :-1], numbers[:, 1:], own[:, :-1] & own[:, 1:]),
            (numbers[:-1], numbers[1:], own[:-1] & own[1:]),
        )
    ]
    lab = lab_of(_blocks(light * weight[..., None], step)[own] / mass[own][:, None])
    order = merge_order(lab * mass[own][:, None], mass[own], np.concatenate(pairs))
    rows, columns = (np.arange(count) // step for count in weight.shape)
    for count in range(2, min(_MOST_PARTS, len(lab)) + 1):
        labels = order.cut(count)
        second = np.argsort(-np.bincount(labels, mass[own]), kind="stable")[1]
        patches = np.zeros(own.shape, dtype=bool)
        patches[own] = labels == second
        is_open = maximum_filter(patches, 3) & maximum_filter(own & ~patches, 3)
        yield patches[np.ix_(rows, columns)], is_open[np.ix_(rows, columns)]


def _calm(score: "Pixels", weight: "Pixels") -> "Pixels":
    from scipy.ndimage import gaussian_filter  # noqa: PLC0415  loaded when a shape is cut

    return gaussian_filter(score * weight, _CALM) / np.maximum(gaussian_filter(weight, _CALM), 1e-9)


def _spread(score: "Pixels", weight: "Pixels") -> "Pixels":
    """Return the score in which a pixel beyond the shape has that of the nearest one inside."""
    from scipy.ndimage import distance_transform_edt  # noqa: PLC0415  loaded when a shape is cut

    rows, columns = distance_transform_edt(weight <= 0, return_distances=False, return_indices=True)
    found: Pixels = score[rows, columns]
    return found


def _divide(score: "Pixels", picture: Picture, corner: tuple[int, int], step: int) -> Divide:
    from shapely import LineString, get_coordinates, simplify  # noqa: PLC0415  loaded when a shape is cut
    from skimage.measure import find_contours  # noqa: PLC0415  the same

    framed = np.pad(score, 2, mode="edge")
    scale = step / picture.scale
    origin = np.array((picture.left_px + corner[0] / picture.scale, picture.top_px + corner[1] / picture.scale))
    lines = []
    for contour in find_contours(framed, 0.0):
        line = get_coordinates(simplify(LineString(contour), 0.5, preserve_topology=False))[:, ::-1]  # rows first there
        lines.append(tuple(map(tuple, ((line - 1.5) * scale + origin).tolist())))

    def is_first(x: float, y: float) -> bool:
        column, row = ((np.array((x, y)) - origin) / scale).astype(int).tolist()
        rows, columns = score.shape
        return bool(score[min(max(row, 0), rows - 1), min(max(column, 0), columns - 1)] > 0)

    return Divide(lines=lines, is_first=is_first)


def _longer(line: "LineString") -> Line:
    """Return a line that surely reaches beyond both of its ends."""
    (x0, y0), *_, (x1, y1) = line.coords
    length = math.hypot(x1 - x0, y1 - y0) or 1.0
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    return (x0 - dx, y0 - dy), (x1 + dx, y1 + dy)
