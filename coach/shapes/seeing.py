"""A photo taken apart into shapes: every pixel of the crop belongs to one shape, and every shape to one feature."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import lab_of
from coach.shapes.features import (
    FEATURES,
    OF_FACE,
    Borders,
    Feature,
    HeadBox,
    features_at,
    features_within,
    seeds_at,
    spread_features,
)
from coach.shapes.merging import MergeOrder, merge_order, neighbour_pairs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]

HEAD_ROWS: Final = 360
"""Rows of a head in the picture that is taken apart."""

_SUPERPIXELS: Final = 2500
_SUPERPIXEL_PX: Final = 280
"""So many superpixels there are at least, and in a large picture one for so many of its pixels; ours."""

_COMPACTNESS: Final = 6.0
_FACE_FRAC: Final = 0.5
"""At least this part of the shapes goes to the faces."""

_OTHERS_FRAC: Final = 8.0
"""Unless the next merging of the others would lose so many times what the next one of the faces loses."""

_PIXEL_WEIGHTS: Final = {Feature.EYES: 20.0, Feature.MOUTH: 20.0, Feature.NOSE: 2.0}
"""How much a pixel of a small feature counts when shapes are merged (ours); others count 1."""

_SETTLING: Final = (5, 3)
"""How often the pixels along the borders choose anew: by the look of their colour, then by their light."""

_MORE_TRIES: Final = 2
"""How often shapes are cut anew where too few were left."""

LEAST_PX: Final = 36
"""A shape of fewer pixels goes to its neighbour: on a head of 20 cm it is 3 mm across."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A photo taken apart as far as the superpixels, from which shapes of any number are cut.

    Attributes:
        linear: The picture in linear light, shape (rows, columns, 3), without specks.
        regions: The superpixel of each pixel.
        features: Number of the feature of each superpixel, in `FEATURES`.
        face: The order of merging inside the faces.
        others: The order of merging of the rest.
        is_face: Whether each superpixel lies in a face.
        drawn: The feature in whose moved border each pixel lies, -1 for none.
    """

    linear: "Pixels"
    regions: "Labels"
    features: "Labels"
    face: MergeOrder
    others: MergeOrder
    is_face: "NDArray[np.bool_]"
    drawn: "Labels"


def see(linear: "Pixels", heads: Sequence[HeadBox], borders: "Borders | None" = None) -> Seen:
    """Return a picture taken apart into superpixels with their features and the orders of merging.

    Args:
        linear: Linear light, shape (rows, columns, 3), so scaled that a head has about `HEAD_ROWS` rows.
        heads: The heads, one at least, in pixels of this picture.
        borders: The border of each feature as the painter has moved it, rings in pixels of this picture: they decide
            the features in the place of proportion, and no shape runs over one. None for those by proportion.
    """
    from scipy.ndimage import median_filter  # noqa: PLC0415  loaded when a photo is taken apart
    from skimage.segmentation import slic  # noqa: PLC0415

    calm = median_filter(linear, size=(3, 3, 1))
    lab = lab_of(calm)
    compactness = _COMPACTNESS / max(np.ptp(lab), 1.0)  # the library brings every picture to a range of one first
    wanted = max(_SUPERPIXELS, lab.shape[0] * lab.shape[1] // _SUPERPIXEL_PX)
    regions = slic(lab, n_segments=wanted, compactness=compactness, convert2lab=False, start_label=0)
    drawn = features_within(borders or {}, regions.shape)
    regions = _numbered(regions * (len(FEATURES) + 1) + drawn)
    pairs = neighbour_pairs(regions)
    features = _features(lab, regions, pairs, heads, borders or {})
    of_border = np.full(len(features), -1, dtype=np.int32)
    of_border[regions] = drawn
    features = np.where(of_border >= 0, of_border, features)
    weights = np.array([_PIXEL_WEIGHTS.get(feature, 1.0) for feature in FEATURES])[features]
    sizes = np.bincount(regions.ravel()).astype(float)
    sums = np.stack([np.bincount(regions.ravel(), lab[..., no].ravel()) for no in range(3)], axis=1)
    is_face = np.isin(features, [FEATURES.index(feature) for feature in OF_FACE])
    families = features if borders else np.where(is_face, -1, features)
    allowed = pairs[families[pairs[:, 0]] == families[pairs[:, 1]]]

    def order(chosen: "NDArray[np.bool_]") -> MergeOrder:
        numbers = np.cumsum(chosen) - 1
        own = numbers[allowed[chosen[allowed[:, 0]]]]
        mass = (weights * sizes)[chosen]
        return merge_order(sums[chosen] * weights[chosen, None], mass, own)

    return Seen(
        linear=calm,
        regions=regions,
        features=features,
        face=order(is_face),
        others=order(~is_face),
        is_face=is_face,
        drawn=drawn,
    )


def shape_labels(seen: Seen, count: int) -> "Labels":
    """Return the shape of each pixel, numbered from 0: `count` shapes, or the fewest or most there can be.

    Which shape a pixel along a border belongs to is decided anew by its light.
    """
    labels = best = _cut(seen, count)
    asked = count
    for _ in range(_MORE_TRIES):
        short = count - _count(labels)
        if short == 0:
            break
        asked += short  # so many fell to pieces too small to keep
        labels = _cut(seen, asked)
        if _count(best) < _count(labels) <= count:
            best = labels
    return best


def _count(labels: "Labels") -> int:
    return int(labels.max()) + 1


def _cut(seen: Seen, count: int) -> "Labels":
    in_face, in_others = _shared(seen, count)
    of_region = np.zeros(len(seen.is_face), dtype=np.int32)
    of_region[seen.is_face] = seen.face.cut(in_face)
    of_region[~seen.is_face] = seen.others.cut(in_others) + (of_region.max() + 1)
    labels = _numbered(of_region[seen.regions])
    settled = _settled(seen.linear, labels)
    of_label = np.zeros(_count(labels), dtype=np.int32)
    of_label[labels] = seen.drawn
    is_over = of_label[settled] != seen.drawn  # a border that was moved is not settled anew
    return _in_one_piece(seen.linear, np.where(is_over, labels, settled))


def _features(
    lab: "Pixels", regions: "Labels", pairs: "NDArray[np.int64]", heads: Sequence[HeadBox], but: Collection[Feature]
) -> "Labels":
    rows, columns = (grid.astype(float) for grid in np.indices(regions.shape))
    sizes = np.bincount(regions.ravel()).astype(float)

    def mean(of: "Pixels") -> "Pixels":
        return np.bincount(regions.ravel(), of.ravel()) / sizes

    x, y = mean(columns), mean(rows)
    means = np.stack([mean(lab[..., no]) for no in range(3)], axis=1)
    large = spread_features(means, seeds_at(x, y, heads, but), pairs)
    small = features_at(x, y, heads, but)
    return np.where(small >= 0, small, large).astype(np.int32)


def _shared(seen: Seen, count: int) -> tuple[int, int]:
    """Return how many of so many shapes the faces get, and how many the rest."""
    orders = (seen.face, seen.others)
    left = [order.region_count for order in orders]
    fewest = [order.region_count - len(order.merged) for order in orders]
    while sum(left) > count:
        losses = [
            order.losses[order.region_count - held] if held > least else np.inf
            for order, held, least in zip(orders, left, fewest, strict=True)
        ]
        if not np.isfinite(min(losses)):
            break
        is_poor = left[0] <= _FACE_FRAC * sum(left) and losses[1] < _OTHERS_FRAC * losses[0]
        takes = 1 if is_poor else int(losses[1] < losses[0])
        left[takes] -= 1
    return left[0], left[1]


def _numbered(labels: "Labels") -> "Labels":
    return np.unique(labels, return_inverse=True)[1].reshape(labels.shape).astype(np.int32)


def _in_one_piece(linear: "Pixels", labels: "Labels") -> "Labels":
    """Return labels of one piece each, its largest; other and tiny pieces go to the neighbour nearest in light."""
    from skimage.measure import label  # noqa: PLC0415  loaded when a photo is taken apart

    pieces = label(labels, connectivity=1, background=-1) - 1
    sizes = np.bincount(pieces.ravel())
    owners = np.zeros(len(sizes), dtype=np.int32)
    owners[pieces.ravel()] = labels.ravel()
    largest = np.lexsort((-sizes, owners))
    is_kept = np.zeros(len(sizes), dtype=bool)
    is_kept[largest[np.unique(owners[largest], return_index=True)[1]]] = True
    is_kept &= sizes >= LEAST_PX
    light = np.stack([np.bincount(pieces.ravel(), linear[..., no].ravel()) for no in range(3)], axis=1) / sizes[:, None]
    means = interior_means(linear, labels)
    neighbours: dict[int, list[int]] = {}
    for one, other in neighbour_pairs(pieces.astype(np.int32)).tolist():
        neighbours.setdefault(one, []).append(other)
        neighbours.setdefault(other, []).append(one)
    for piece in np.flatnonzero(~is_kept)[np.argsort(-sizes[~is_kept], kind="stable")].tolist():
        near = sorted({int(owners[other]) for other in neighbours[piece]} - {int(owners[piece])})
        apart = [float(np.sum((means[owner] - light[piece]) ** 2)) for owner in near]
        owners[piece] = near[apart.index(min(apart))] if near else owners[piece]
    return _numbered(owners[pieces])


def _settled(linear: "Pixels", labels: "Labels") -> "Labels":
    """Return labels whose border pixels have gone to the neighbouring shape that is nearer.

    Nearer first in the cube root of light, as it is seen, so that hair and cloth fall apart as the eye has them; then
    in light itself, in which the border of a blurred edge lies half way.
    """
    by_look, by_light = _SETTLING
    return _settled_in(linear, _settled_in(np.cbrt(linear), labels, by_look), by_light)


def _settled_in(space: "Pixels", labels: "Labels", times: int) -> "Labels":
    settled = labels.copy()
    for _ in range(times):
        means = interior_means(space, settled)
        border = ~_inside(settled)
        padded = np.pad(settled, 1, mode="edge")
        sides = (padded[1:-1, :-2], padded[1:-1, 2:], padded[:-2, 1:-1], padded[2:, 1:-1])
        candidates = np.stack([settled[border], *(near[border] for near in sides)], axis=-1)  # of equals its own
        apart = np.sum((means[candidates] - space[border][:, None, :]) ** 2, axis=-1)
        chosen = candidates[np.arange(len(candidates)), np.argmin(apart, axis=1)]
        if np.array_equal(chosen, settled[border]):
            break
        settled[border] = chosen
    return settled


def interior_means(linear: "Pixels", labels: "Labels") -> "Pixels":
    """Return the mean light of the interior of each shape, or of all of it where it has none; shape (n, 3)."""
    count = int(labels.max()) + 1
    weight = np.where(_inside(labels), 1.0, 1e-6).ravel()
    mass = np.bincount(labels.ravel(), weight, minlength=count)
    sums = [np.bincount(labels.ravel(), weight * linear[..., no].ravel(), minlength=count) for no in range(3)]
    return np.stack(sums, axis=1) / np.maximum(mass, 1e-12)[:, None]


def _inside(labels: "Labels") -> "NDArray[np.bool_]":
    """Return whether all four neighbours of a pixel belong to its own shape."""
    inside = np.ones(labels.shape, dtype=bool)
    for one, other, is_apart in (
        (inside[:, :-1], inside[:, 1:], labels[:, :-1] != labels[:, 1:]),
        (inside[:-1], inside[1:], labels[:-1] != labels[1:]),
    ):
        one[is_apart] = other[is_apart] = False
    return inside
