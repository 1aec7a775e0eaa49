"""What is measured of a shape: its outline, size and colour, and how it meets its neighbours."""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import lab_of, lightness_of, luminance_of, value_of
from coach.shapes.edges import EdgeKind, edge_widths, kind_of
from coach.shapes.features import FEATURES, Borders, Feature, HeadBox
from coach.shapes.naming import names_of
from coach.shapes.outlines import OUTSIDE, Border, Ring, borders_of, rings_of
from coach.shapes.seeing import HEAD_ROWS, Seen, see, shape_labels

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from coach.shapes.shape_map import OutlinedShape

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]
    Mask = NDArray[np.bool_]

Edges = Mapping[tuple[int, int], tuple[float, float]]
"""Width in parts of the height of a head, and length in pixels of the picture, by the places of two shapes."""

_INTERIOR_PX: Final = 2.0
_INTERIOR_FRAC: Final = 0.4
"""So far from its border a shape's colour is read, in a narrow shape so far of the way to its middle: nearer, the
neighbour's mixes in."""

_TRIM_PERCENT: Final = (20, 80)
"""Pixels darker and lighter than these of the interior are left out of its colour."""

_LOOKED_AT: Final = 10_000
"""Of a shape in a larger window not every pixel is looked at."""

_MOST_ENLARGED: Final = 2.0
"""A small photo is enlarged by this at most: more shows nothing more."""

_MOST_PX: Final = 3_000_000
"""A picture of more pixels is not taken apart: beside a far smaller head a large one has more than it needs."""

MANY_VALUES_L: Final = 8.0
"""From so much spread of L* inside on, a shape holds more than one value; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbour:
    """A shape that touches another one.

    Attributes:
        id: The other shape.
        edge: How the edge between them looks in the photo.
        width_frac: Its 10 to 90 % width in parts of the height of a head.
        length_px: How long they touch, in pixels of the photo.
    """

    id: str
    edge: EdgeKind
    width_frac: float
    length_px: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Shape:
    """A patch of the photo of one value and colour.

    Attributes:
        id: k and a number, never used again for another one.
        feature: Where it belongs.
        name: Place and value in a painter's words, unique in the photo.
        lab: Trimmed mean colour of its interior, CIELAB under D65.
        value: The painter's value of that, 0 black to 10 white.
        spread_l: Standard deviation of L* inside.
        area_px: Pixels of the photo.
        reach_px: Radius of the largest circle inside, in pixels of the photo: the widest brush that fits.
        outline: Rings of column and row in pixels of the photo, outer ones and holes, even-odd.
        neighbours: The shapes it touches, the longest edge first.
    """

    id: str
    feature: Feature
    name: str
    lab: tuple[float, float, float]
    value: float
    spread_l: float
    area_px: float
    reach_px: float
    outline: tuple[Ring, ...]
    neighbours: tuple[Neighbour, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """The part of the photo that is taken apart, scaled.

    Attributes:
        linear: Linear light, shape (rows, columns, 3).
        left_px: First column of it in the photo.
        top_px: First row of it in the photo.
        scale: Its pixels for one pixel of the photo.
    """

    linear: "Pixels"
    left_px: float
    top_px: float
    scale: float

    def head(self, box: HeadBox) -> HeadBox:
        """Return a head of the photo where it lies in this picture."""
        x, y = self.left_px, self.top_px
        return replace(
            box,
            left=(box.left - x) * self.scale,
            top=(box.top - y) * self.scale,
            right=(box.right - x) * self.scale,
            bottom=(box.bottom - y) * self.scale,
        )

    def rings(self, rings: Sequence[Ring]) -> tuple[Ring, ...]:
        """Return rings of the photo where they lie in this picture."""
        x0, y0, scale = self.left_px, self.top_px, self.scale
        return tuple(tuple(((x - x0) * scale, (y - y0) * scale) for x, y in ring) for ring in rings)


def widest_brush_mm(reach_mm: float, brushes_mm: Sequence[float]) -> float:
    """Return the widest brush that fits: of the painter's own, or where none is named or fits the one that would."""
    return max((one for one in brushes_mm if one <= reach_mm), default=reach_mm)


def scale_for(heads: Sequence[HeadBox], crop_px: int) -> float:
    """Return the scale at which the smallest of the heads has `HEAD_ROWS` rows, as far as pixels and memory go.

    Args:
        heads: The heads in pixels of the photo, one at least.
        crop_px: How many pixels of the photo are taken apart.
    """
    wanted = HEAD_ROWS / min(head.bottom - head.top for head in heads)
    return min(wanted, _MOST_ENLARGED, math.sqrt(_MOST_PX / crop_px))


@dataclass(frozen=True, slots=True, kw_only=True)
class Apart:
    """A picture taken apart.

    Attributes:
        shapes: Its shapes, by feature and then from the darkest on; they tile it.
        labels: The place of its shape among them, for each pixel of the picture.
        flat_differences: Mean CIEDE2000 between the pixels of each shape and its colour.
        photo_blur: Standard deviation of what the photo itself is blurred by, in pixels of the picture.
    """

    shapes: tuple[Shape, ...]
    labels: "Labels" = field(compare=False)
    flat_differences: tuple[float, ...] = field(compare=False)
    photo_blur: float = field(compare=False)

    @property
    def flat_difference_mean(self) -> float:
        """Mean CIEDE2000 between the picture and the one in which every shape is flat in its colour."""
        areas = [shape.area_px for shape in self.shapes]
        return round(float(np.average(self.flat_differences, weights=areas)), 2)


def take_apart(picture: Picture, heads: Sequence[HeadBox], count: int, borders: Borders | None = None) -> Apart:
    """Return a picture taken apart.

    Deterministic: the same picture, heads, count and borders give the same shapes.

    Args:
        picture: What is taken apart.
        heads: The heads in pixels of the photo, one at least.
        count: How many shapes; fewer or more where the features leave no choice.
        borders: The border of each feature as the painter has moved it, in pixels of the photo, as a map of shapes has
            them; None for those by proportion.
    """
    boxes = [picture.head(head) for head in heads]
    seen = see(picture.linear, boxes, borders and {own: picture.rings(rings) for own, rings in borders.items()})
    return measured(picture, seen, shape_labels(seen, count), boxes)


def measured(picture: Picture, seen: Seen, labels: "Labels", boxes: Sequence[HeadBox]) -> Apart:
    """Return what is measured of the shapes that labels from 0 on mark; `boxes` are the heads in the picture."""
    features = _features_of(seen, labels)
    borders = borders_of(labels)
    rings = rings_of(borders, partial(_in_photo, picture=picture))
    found, centres = [], []
    for number, (size, centre) in enumerate(_sizes_and_colours(picture, labels)):
        found.append(replace(size, feature=features[number], outline=tuple(rings[number])))
        centres.append(centre)
    order = sorted(range(len(found)), key=lambda no: (-FEATURES.index(found[no].feature), found[no].value, centres[no]))
    names = names_of([(found[no].feature, found[no].lab, found[no].value, *centres[no]) for no in order], boxes)
    for place, (no, name) in enumerate(zip(order, names, strict=True), start=1):
        found[no] = replace(found[no], id=f"k{place}", name=name)
    apart = _apart(picture, found, borders, labels, boxes)
    return Apart(
        shapes=tuple(apart.shapes[no] for no in order),
        labels=np.argsort(order).astype(np.int32)[labels],
        flat_differences=tuple(apart.flat_differences[no] for no in order),
        photo_blur=apart.photo_blur,
    )


def measured_again(
    picture: Picture, outlined: Sequence["OutlinedShape"], labels: "Labels", boxes: Sequence[HeadBox]
) -> Apart:
    """Return what is measured of shapes that are named and outlined; labels are places among them."""
    found = [
        replace(size, id=one.id, name=one.name, feature=one.feature, outline=one.outline)
        for one, (size, _) in zip(outlined, _sizes_and_colours(picture, labels), strict=True)
    ]
    return _apart(picture, found, borders_of(labels), labels, boxes)


def _apart(
    picture: Picture,
    found: Sequence[Shape],
    borders: Sequence[Border],
    labels: "Labels",
    boxes: Sequence[HeadBox],
) -> Apart:
    """Return shapes with their neighbours and with what they lose by being flat."""
    from scipy.ndimage import find_objects  # noqa: PLC0415  loaded when a photo is taken apart

    edges, photo_blur = edges_between(luminance_of(picture.linear), borders, least_head_rows(boxes), None)
    touching = neighbours_by(edges, found, picture.scale)
    places = {shape.id: place for place, shape in enumerate(found)}
    return Apart(
        shapes=tuple(
            replace(shape, neighbours=in_order(touching.get(no, ()), places)) for no, shape in enumerate(found)
        ),
        labels=labels,
        flat_differences=tuple(
            flat_difference(replace(picture, linear=picture.linear[window]), labels[window] == number, shape.lab)
            for number, (shape, window) in enumerate(zip(found, find_objects(labels + 1), strict=True))
        ),
        photo_blur=photo_blur,
    )


def _sizes_and_colours(picture: Picture, labels: "Labels") -> Iterator[tuple[Shape, tuple[float, float]]]:
    """Yield for each label what its pixels tell of a shape, and the column and row of its middle."""
    from scipy.ndimage import find_objects  # noqa: PLC0415  loaded when a photo is taken apart

    for number, window in enumerate(find_objects(labels + 1)):
        inside = labels[window] == number
        rows, columns = np.nonzero(inside)
        size = size_and_colour(replace(picture, linear=picture.linear[window]), inside)
        yield size, (columns.mean() + window[1].start, rows.mean() + window[0].start)


def size_and_colour(picture: Picture, inside: "Mask") -> Shape:
    """Return what the pixels of a picture that lie inside tell of a shape, without its name, outline and neighbours."""
    from scipy.ndimage import distance_transform_edt  # noqa: PLC0415  loaded when a photo is taken apart

    step = _step(inside)
    depth = distance_transform_edt(np.pad(inside[::step, ::step], 1))[1:-1, 1:-1] * step
    light = picture.linear[::step, ::step][depth >= min(_INTERIOR_PX, _INTERIOR_FRAC * depth.max())]
    luminance = luminance_of(light)
    lab, value = _colour(light, luminance)
    return Shape(
        id="",
        feature=Feature.GROUND,
        name="",
        lab=lab,
        value=value,
        spread_l=round(float(np.std(lightness_of(luminance))), 2),
        area_px=int(np.count_nonzero(inside)) / picture.scale**2,
        reach_px=float(depth.max()) / picture.scale,
        outline=(),
        neighbours=(),
    )


def flat_difference(picture: Picture, inside: "Mask", lab: tuple[float, float, float]) -> float:
    """Return the mean CIEDE2000 between the pixels that lie inside and one colour."""
    from skimage.color import deltaE_ciede2000  # noqa: PLC0415  loaded when a photo is taken apart

    step = _step(inside)
    light = picture.linear[::step, ::step][inside[::step, ::step]]
    return float(deltaE_ciede2000(lab_of(light).astype(np.float32), np.array([lab], dtype=np.float32)).mean())


def _step(inside: "Mask") -> int:
    """Return the step at which the pixels of a large shape are looked at: enough of them tell the same."""
    step = max(1, math.isqrt(inside.size // _LOOKED_AT))
    return step if inside[::step, ::step].any() else 1


def _colour(light: "Pixels", luminance: "Pixels") -> tuple[tuple[float, float, float], float]:
    """Return Lab and value of the light inside a shape, its darkest and lightest parts left out."""
    low, high = np.percentile(luminance, _TRIM_PERCENT)
    kept = light[(low <= luminance) & (luminance <= high)]
    mean = (kept if len(kept) else light).mean(axis=0)
    lightness, a, b = (round(float(part), 2) for part in lab_of(mean))
    return (lightness, a, b), round(float(value_of(luminance_of(mean))), 2)


def _features_of(seen: Seen, labels: "Labels") -> list[Feature]:
    """Return for each shape the feature that most of it lies in."""
    of_pixel = seen.features[seen.regions]
    counts = np.zeros((int(labels.max()) + 1, len(FEATURES)), dtype=int)
    np.add.at(counts, (labels.ravel(), of_pixel.ravel()), 1)
    return [FEATURES[number] for number in counts.argmax(axis=1)]


def _in_photo(points: "Pixels", picture: Picture) -> "Pixels":
    return np.round(points / picture.scale + (picture.left_px, picture.top_px), 1)


def least_head_rows(boxes: Sequence[HeadBox]) -> float:
    """Return the height of the smallest of the heads, by which edges are told apart."""
    return min(box.bottom - box.top for box in boxes)


def edges_between(
    luminance: "Pixels", borders: Sequence[Border], head_rows: float, photo_blur: float | None
) -> tuple[Edges, float]:
    """Return the edge between each two shapes that touch, and the photo's own blur, as `edge_widths` has it."""
    widths, blur = edge_widths(luminance, borders, head_rows, photo_blur)
    lengths: dict[tuple[int, int], float] = {}
    for border in borders:
        if OUTSIDE not in (border.left, border.right):
            pair = (min(border.left, border.right), max(border.left, border.right))
            steps = np.diff(border.simplified, axis=0)
            lengths[pair] = lengths.get(pair, 0.0) + float(np.hypot(steps[:, 0], steps[:, 1]).sum())
    return {pair: (widths[pair], length) for pair, length in lengths.items()}, blur


def neighbours_by(edges: Edges, shapes: Sequence[Shape], scale: float) -> dict[int, list[Neighbour]]:
    """Return the neighbours that these edges make, for each shape by its place."""
    touching: dict[int, list[Neighbour]] = {}
    for (one, other), (width_frac, length) in edges.items():
        kind = kind_of(width_frac, abs(shapes[one].lab[0] - shapes[other].lab[0]))
        for this, that in ((one, other), (other, one)):
            near = Neighbour(
                id=shapes[that].id, edge=kind, width_frac=round(width_frac, 4), length_px=round(length / scale, 1)
            )
            touching.setdefault(this, []).append(near)
    return touching


def in_order(neighbours: Iterable[Neighbour], places: Mapping[str, int]) -> tuple[Neighbour, ...]:
    """Return neighbours, the longest edge first; of equals the one that stands first among the shapes."""
    return tuple(sorted(neighbours, key=lambda one: (-one.length_px, places[one.id])))
