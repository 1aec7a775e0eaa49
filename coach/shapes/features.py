"""Which feature a part of the photo belongs to: the small ones by place, the large by the cheapest path of colour."""

import enum
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.shapes.outlines import Ring
from coach.shapes.polygons import inside_mask

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]


class Feature(enum.StrEnum):
    """The features of a portrait, in the order in which their numbers stand in a map of features.

    An object is what is no part of the sitter and not the ground either; only the painter says so.
    """

    GROUND = "ground"
    OBJECT = "object"
    CLOTHING = "clothing"
    NECK = "neck"
    HAIR = "hair"
    FACE = "face"
    EARS = "ears"
    EYES = "eyes"
    NOSE = "nose"
    MOUTH = "mouth"


FEATURES: Final = tuple(Feature)

OF_FACE: Final = frozenset({Feature.FACE, Feature.EARS, Feature.EYES, Feature.NOSE, Feature.MOUTH})
"""Those that share the colour of the skin, so that a shape may run from one into another."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadBox:
    """A head on the photo, crown to chin and side to side, in pixels; right and bottom lie just outside.

    Attributes:
        name: Who sits.
        left: First column.
        top: First row.
        right: Column behind the last.
        bottom: Row behind the last.
    """

    name: str
    left: float
    top: float
    right: float
    bottom: float


Region = tuple[float, float, float, float]
"""Left, top, right, bottom in parts of a head box: 0 to 1 across, 0 at the crown and 1 at the chin."""

Borders = Mapping[Feature, tuple[Ring, ...]]
"""The border of each feature, rings as those of a shape."""

PLACES: Final[dict[Feature, tuple[Region, ...]]] = {
    Feature.EYES: ((0.12, 0.40, 0.46, 0.56), (0.54, 0.40, 0.88, 0.56)),
    Feature.NOSE: ((0.38, 0.54, 0.62, 0.75),),
    Feature.MOUTH: ((0.28, 0.76, 0.72, 0.89),),
    Feature.EARS: ((-0.10, 0.42, 0.06, 0.74), (0.94, 0.42, 1.10, 0.74)),
}
"""Where the small features lie.

Source: eyes at half the height, five eye widths across the head, brow, base of the nose and chin a third apart,
mouth a third of the way from nose to chin, ears from brow to base of the nose: taught everywhere, common practice, no
source. The boxes are a little larger than the features.
"""

_SEEDS: Final[dict[Feature, tuple[Region, ...]]] = {
    Feature.FACE: ((0.25, 0.38, 0.75, 0.90),),
    Feature.HAIR: ((0.25, 0.00, 0.75, 0.08),),
    Feature.NECK: ((0.38, 1.05, 0.62, 1.14),),
    Feature.CLOTHING: ((0.10, 1.55, 0.90, 3.00),),
    Feature.GROUND: ((-9.0, -9.0, -0.45, 0.60), (1.45, -9.0, 9.0, 0.60), (-9.0, -9.0, 9.0, -0.25)),
}
"""Where the large features surely lie; ours, from the same proportions."""

_ACROSS_DE: Final = 8.0
"""A step of colour this large costs one; the cost rises by the third power: texture is cheap, an edge dear."""


def features_at(
    columns: "Pixels", rows: "Pixels", heads: "Sequence[HeadBox]", but: "Collection[Feature]" = ()
) -> "Labels":
    """Return the number of the small feature at each point, in `FEATURES`; -1 where there is none.

    Args:
        columns: Places across, in pixels of the photo.
        rows: Places down, of the same shape.
        heads: The heads; of two that overlap the first counts.
        but: Features that lie elsewhere.
    """
    found = np.full(np.shape(columns), -1, dtype=np.int32)
    for head in reversed(heads):
        for feature, regions in PLACES.items():
            for region in regions if feature not in but else ():
                found[_ellipse(columns, rows, head, region)] = FEATURES.index(feature)
    return found


def features_within(borders: Borders, shape: tuple[int, ...]) -> "Labels":
    """Return the number of the feature in whose border each pixel of a picture lies; -1 where there is none."""
    found = np.full(shape, -1, dtype=np.int32)
    for feature, rings in borders.items():
        inside = inside_mask([np.array(ring, dtype=float) for ring in rings], (0, 0, shape[1], shape[0]))
        found[inside] = FEATURES.index(feature)
    return found


def seeds_at(
    columns: "Pixels", rows: "Pixels", heads: "Sequence[HeadBox]", but: "Collection[Feature]" = ()
) -> "Labels":
    """Return the number of the large feature that each point surely belongs to; -1 where that is open.

    Arguments as for `features_at`.
    """
    found = np.full(np.shape(columns), -1, dtype=np.int32)
    ground = np.ones(np.shape(columns), dtype=bool)
    for head in heads:
        ground &= np.any([_inside(columns, rows, head, region) for region in _SEEDS[Feature.GROUND]], axis=0)
    if Feature.GROUND not in but:
        found[ground] = FEATURES.index(Feature.GROUND)
    for feature in (Feature.CLOTHING, Feature.NECK, Feature.HAIR, Feature.FACE):
        if feature in but:
            continue
        for head in heads:
            for region in _SEEDS[feature]:
                found[_inside(columns, rows, head, region)] = FEATURES.index(feature)
    return found


def spread_features(lab: "Pixels", seeds: "Labels", pairs: "NDArray[np.int64]") -> "Labels":
    """Return the large feature of every node: that of the seed with the cheapest path of colour.

    Args:
        lab: Lab of each node, shape (n, 3).
        seeds: Large feature of each node, -1 where it is open. Where none is known, the picture
            is too small for more than a face.
        pairs: Neighbouring nodes, shape (m, 2).
    """
    from scipy.sparse import coo_matrix  # noqa: PLC0415  loaded when a photo is taken apart
    from scipy.sparse.csgraph import dijkstra  # noqa: PLC0415

    apart = np.linalg.norm(lab[pairs[:, 0]] - lab[pairs[:, 1]], axis=1)
    costs = (apart / _ACROSS_DE) ** 3 + 1e-3
    graph = coo_matrix((costs, (pairs[:, 0], pairs[:, 1])), shape=(len(lab), len(lab)))
    known = np.flatnonzero(seeds >= 0)
    if not len(known):
        return np.full(len(lab), FEATURES.index(Feature.FACE), dtype=np.int32)
    _, _, sources = dijkstra(graph.tocsr(), directed=False, indices=known, min_only=True, return_predecessors=True)
    return np.where(sources >= 0, seeds[sources], FEATURES.index(Feature.GROUND)).astype(np.int32)


def _inside(columns: "Pixels", rows: "Pixels", head: HeadBox, region: Region) -> "NDArray[np.bool_]":
    across, down = _in_head(columns, rows, head)
    left, top, right, bottom = region
    return (left <= across) & (across <= right) & (top <= down) & (down <= bottom)


def _ellipse(columns: "Pixels", rows: "Pixels", head: HeadBox, region: Region) -> "NDArray[np.bool_]":
    across, down = _in_head(columns, rows, head)
    left, top, right, bottom = region
    x, y = (2 * across - left - right) / (right - left), (2 * down - top - bottom) / (bottom - top)
    return x**2 + y**2 <= 1


def _in_head(columns: "Pixels", rows: "Pixels", head: HeadBox) -> tuple["Pixels", "Pixels"]:
    across = (columns - head.left) / (head.right - head.left)
    return across, (rows - head.top) / (head.bottom - head.top)
