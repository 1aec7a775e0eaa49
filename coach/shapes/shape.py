"""What is measured of a shape: its outline, size and colour, and how it meets its neighbours."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import lab_of, luminance_of, value_of
from coach.shapes.edges import EdgeKind, edge_widths, kind_of
from coach.shapes.features import FEATURES, Feature, HeadBox
from coach.shapes.naming import names_of
from coach.shapes.outlines import OUTSIDE, Border, Ring, borders_of, rings_of
from coach.shapes.seeing import HEAD_ROWS, Seen, see, shape_labels

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from coach.shapes.shape_map import OutlinedShape

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]

_INTERIOR_PX: Final = 2.5
"""So far from its border the colour of a shape is read: nearer, the neighbour's light mixes in."""

_TRIM_PERCENT: Final = (10, 90)
"""Pixels darker and lighter than these of the interior are left out of its colour."""

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
        flat_difference_mean: Mean CIEDE2000 between the picture and the one in which every shape is flat in its colour.
    """

    shapes: tuple[Shape, ...]
    labels: "Labels" = field(compare=False)
    flat_difference_mean: float


def take_apart(picture: Picture, heads: Sequence[HeadBox], count: int) -> Apart:
    """Return a picture taken apart.

    Deterministic: the same picture, heads and count give the same shapes.

    Args:
        picture: What is taken apart.
        heads: The heads in pixels of the photo, one at least.
        count: How many shapes; fewer or more where the features leave no choice.
    """
    boxes = [picture.head(head) for head in heads]
    seen = see(picture.linear, boxes)
    return measured(picture, seen, shape_labels(seen, count), boxes)


def measured(picture: Picture, seen: Seen, labels: "Labels", boxes: Sequence[HeadBox]) -> Apart:
    """Return what is measured of the shapes that labels from 0 on mark; `boxes` are the heads in the picture."""
    features = _features_of(seen, labels)
    borders = borders_of(labels)
    rings = rings_of(borders)
    found, centres = [], []
    for number, (size, centre) in enumerate(_sizes_and_colours(picture, labels)):
        outline = tuple(_in_photo(ring, picture) for ring in rings[number])
        found.append(replace(size, feature=features[number], outline=outline))
        centres.append(centre)
    order = sorted(range(len(found)), key=lambda no: (-FEATURES.index(found[no].feature), found[no].value, centres[no]))
    names = names_of([(found[no].feature, found[no].lab, found[no].value, *centres[no]) for no in order], boxes)
    for place, (no, name) in enumerate(zip(order, names, strict=True), start=1):
        found[no] = replace(found[no], id=f"k{place}", name=name)
    shapes = _beside_each_other(picture, found, borders, boxes)
    return Apart(
        shapes=tuple(shapes[no] for no in order),
        labels=np.argsort(order).astype(np.int32)[labels],
        flat_difference_mean=_flat_difference(picture, found, labels),
    )


def measured_again(
    picture: Picture, outlined: Sequence["OutlinedShape"], labels: "Labels", boxes: Sequence[HeadBox]
) -> Apart:
    """Return what is measured of shapes that are named and outlined; labels are places among them."""
    found = [
        replace(size, id=one.id, name=one.name, feature=one.feature, outline=one.outline)
        for one, (size, _) in zip(outlined, _sizes_and_colours(picture, labels), strict=True)
    ]
    return Apart(
        shapes=tuple(_beside_each_other(picture, found, borders_of(labels), boxes)),
        labels=labels,
        flat_difference_mean=_flat_difference(picture, found, labels),
    )


def _sizes_and_colours(picture: Picture, labels: "Labels") -> Iterator[tuple[Shape, tuple[float, float]]]:
    """Yield for each label what its pixels tell of a shape, and the column and row of its middle."""
    from scipy.ndimage import distance_transform_edt, find_objects  # noqa: PLC0415  loaded when a photo is taken apart

    luminance, lightness = luminance_of(picture.linear), lab_of(picture.linear)[..., 0]
    for number, window in enumerate(find_objects(labels + 1)):
        inside = np.pad(labels[window] == number, 1)
        depth = distance_transform_edt(inside)[1:-1, 1:-1]
        interior = depth >= min(_INTERIOR_PX, depth.max())
        lab, value = _colour(picture.linear[window][interior], luminance[window][interior])
        rows, columns = np.nonzero(inside[1:-1, 1:-1])
        size = Shape(
            id="",
            feature=Feature.GROUND,
            name="",
            lab=lab,
            value=value,
            spread_l=round(float(np.std(lightness[window][interior])), 2),
            area_px=len(rows) / picture.scale**2,
            reach_px=float(depth.max()) / picture.scale,
            outline=(),
            neighbours=(),
        )
        yield size, (columns.mean() + window[1].start, rows.mean() + window[0].start)


def _flat_difference(picture: Picture, shapes: Sequence[Shape], labels: "Labels") -> float:
    from skimage.color import deltaE_ciede2000  # noqa: PLC0415  loaded when a photo is taken apart

    flat = np.array([shape.lab for shape in shapes])[labels]
    apart = deltaE_ciede2000(lab_of(picture.linear).astype(np.float32), flat.astype(np.float32))
    return round(float(apart.mean()), 2)


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


def _in_photo(ring: Ring, picture: Picture) -> Ring:
    return tuple(
        (round(x / picture.scale + picture.left_px, 1), round(y / picture.scale + picture.top_px, 1)) for x, y in ring
    )


def _beside_each_other(
    picture: Picture, shapes: Sequence[Shape], borders: Sequence[Border], boxes: Sequence[HeadBox]
) -> list[Shape]:
    """Return the shapes with their neighbours, the longest edge first."""
    widths = edge_widths(luminance_of(picture.linear), borders, min(box.bottom - box.top for box in boxes))
    touching: list[list[Neighbour]] = [[] for _ in shapes]
    for (one, other), length_px in _lengths(borders, picture.scale).items():
        kind = kind_of(widths[one, other], abs(shapes[one].lab[0] - shapes[other].lab[0]))
        for this, that in ((one, other), (other, one)):
            near = Neighbour(
                id=shapes[that].id, edge=kind, width_frac=round(widths[one, other], 4), length_px=round(length_px, 1)
            )
            touching[this].append(near)
    places = {shape.id: place for place, shape in enumerate(shapes)}
    return [
        replace(shape, neighbours=tuple(sorted(near, key=lambda one: (-one.length_px, places[one.id]))))
        for shape, near in zip(shapes, touching, strict=True)
    ]


def _lengths(borders: Sequence[Border], scale: float) -> dict[tuple[int, int], float]:
    lengths: dict[tuple[int, int], float] = {}
    for border in borders:
        if OUTSIDE in (border.left, border.right):
            continue
        pair = (min(border.left, border.right), max(border.left, border.right))
        steps = np.diff(border.simplified, axis=0)
        lengths[pair] = lengths.get(pair, 0.0) + float(np.hypot(steps[:, 0], steps[:, 1]).sum()) / scale
    return lengths
