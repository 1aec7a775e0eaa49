"""A shape cut in two: where its two most different parts meet, or along a line."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.shapes.merging import merge_order
from coach.shapes.outlines import Point, Ring
from coach.shapes.polygons import GRID_PX, inside_mask
from coach.shapes.shape import Picture

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely import LineString
    from shapely.geometry.base import BaseGeometry

    Pixels = NDArray[np.float64]

_FINE: Final = 25_000
"""Pixels in which a shape is looked at; of a larger one several are taken together."""

_COARSE: Final = 120
"""Patches that are merged until two are left."""

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


def most_different(picture: Picture, outline: Sequence[Ring]) -> Divide | None:
    """Return where the two most different parts of a shape meet; None where it is too small, or all of one colour.

    Patches of the shape are merged by least loss until two are left, and where these meet a pixel goes to the one that
    is nearer in linear light.
    """
    light, weight, corner, step = looked_at(picture, outline)
    if np.count_nonzero(weight) < 2:  # noqa: PLR2004  two parts are two pixels at least
        return None
    side, is_open = _two_patches(light, weight)
    sums = [(light * (weight * own)[..., None]).sum(axis=(0, 1)) / (weight * own).sum() for own in (side, ~side)]
    nearer = np.square(light - sums[1]).sum(axis=-1) - np.square(light - sums[0]).sum(axis=-1)
    if np.square(sums[0] - sums[1]).sum() < _EVEN:
        return None
    sure = np.abs(nearer[weight > 0]).max()
    score = _spread(_calm(np.where(is_open, nearer, np.where(side, sure, -sure)), weight), weight)
    return _divide(score, picture, corner, step)


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
    origin = (picture.left_px, picture.top_px)
    rings = [(np.array(ring, dtype=float) - origin) * picture.scale for ring in outline]
    points = np.concatenate(rings)
    rows, columns = picture.linear.shape[:2]
    left, top = np.clip(np.floor(points.min(axis=0)), 0, (columns, rows)).astype(int).tolist()
    right, bottom = np.clip(np.ceil(points.max(axis=0)), 0, (columns, rows)).astype(int).tolist()
    step = max(1, math.ceil(math.sqrt((right - left) * (bottom - top) / _FINE)))
    mask = inside_mask(rings, (left, top, right, bottom)).astype(np.float64)
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


def _two_patches(light: "Pixels", weight: "Pixels") -> "tuple[NDArray[np.bool_], NDArray[np.bool_]]":
    """Return which of two parts each pixel belongs to, and which pixels lie so near the other part that it is open."""
    from scipy.ndimage import maximum_filter  # noqa: PLC0415  loaded when a shape is cut

    from coach.colour.light import lab_of  # noqa: PLC0415  the same

    step = max(1, math.ceil(math.sqrt(np.count_nonzero(weight) / _COARSE)))
    mass = _blocks(weight, step)
    mean = _blocks(light * weight[..., None], step)
    own = mass > 0
    numbers = np.cumsum(own).reshape(own.shape) - 1
    pairs = [
        np.stack((one[both], other[both]), axis=1)
        for one, other, both in (
            (numbers[:, :-1], numbers[:, 1:], own[:, :-1] & own[:, 1:]),
            (numbers[:-1], numbers[1:], own[:-1] & own[1:]),
        )
    ]
    lab = lab_of(mean[own] / mass[own][:, None])
    labels = merge_order(lab * mass[own][:, None], mass[own], np.concatenate(pairs)).cut(2)
    masses = np.bincount(labels, mass[own])
    first, *others = np.argsort(-masses, kind="stable").tolist()
    centres = np.stack([np.bincount(labels, lab[:, no] * mass[own]) for no in range(3)], axis=1) / masses[:, None]
    nearest = np.square(centres[:, None] - centres[None, [first, *others[:1]]]).sum(axis=-1).argmin(axis=1)
    patches = np.zeros(own.shape, dtype=bool)
    patches[own] = nearest[labels] == 0
    is_open = maximum_filter(patches & own, 3) & maximum_filter(~patches & own, 3)
    rows, columns = (np.arange(count) // step for count in weight.shape)
    return patches[np.ix_(rows, columns)], is_open[np.ix_(rows, columns)]


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
    from skimage.measure import approximate_polygon, find_contours  # noqa: PLC0415  loaded when a shape is cut

    framed = np.pad(score, 2, mode="edge")
    scale = step / picture.scale
    origin = np.array((picture.left_px + corner[0] / picture.scale, picture.top_px + corner[1] / picture.scale))
    lines = []
    for contour in find_contours(framed, 0.0):
        line = approximate_polygon(contour, 0.5)[:, ::-1]  # rows first there
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
