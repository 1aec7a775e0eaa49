"""The shapes as the painter keeps them: outlines in pixels of the photo, each with an id and a name."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.errors import CoachError
from coach.shapes.features import FEATURES, Feature, HeadBox
from coach.shapes.outlines import Ring
from coach.shapes.polygons import inside_mask, joined, polygon_of, ring_of
from coach.shapes.shape import Apart, Picture, measured_again
from coach.text import counted
from coach.text import joined as joined_words

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Labels = NDArray[np.int32]
    Pixels = NDArray[np.float64]

Window = tuple[int, int, int, int]
"""Left, top, right and bottom, in pixels of a picture."""


_WHOLE_FRAC: Final = 0.99
"""Of so much of it inside the crop, a shape is painted whole."""

_ROUNDED_PX: Final = 2.0
"""A scaled picture has whole rows and columns, so that it may end so far beyond what is painted."""

_MOST_NAMED: Final = 6


class ShapeMapError(CoachError):
    """What is asked of a map of shapes cannot be done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OutlinedShape:
    """A shape as it stands in the file.

    Attributes:
        id: k and a number, never used again for another one.
        name: Place and value in a painter's words, or what the painter calls it; unique in the map.
        feature: Where it belongs.
        outline: Rings of column and row in pixels of the photo, outer ones and holes, even-odd.
    """

    id: str
    name: str
    feature: Feature
    outline: tuple[Ring, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeMap:
    """The shapes of one photo.

    Attributes:
        photo_width_px: Width of the photo as it is looked at.
        photo_height_px: Its height.
        photo_sha256: What the photo's file was when it was taken apart, in hexadecimal digits.
        next_number: The number of the next new shape.
        borders: The border of each feature, rings as those of a shape.
        shapes: The shapes, in the order in which they stand in the file.
    """

    photo_width_px: int
    photo_height_px: int
    photo_sha256: str
    next_number: int
    borders: Mapping[Feature, tuple[Ring, ...]]
    shapes: tuple[OutlinedShape, ...]


def map_of(apart: Apart, *, photo_width_px: int, photo_height_px: int, photo_sha256: str) -> ShapeMap:
    """Return the shapes of a picture taken apart as the painter keeps them."""
    size = np.array((photo_width_px, photo_height_px))

    def inside(ring: Ring) -> Ring:
        """Return a ring within the photo: a scaled picture may end half a pixel beyond it."""
        return ring_of(np.clip(ring, 0, size).tolist())

    shapes = tuple(
        OutlinedShape(id=one.id, name=one.name, feature=one.feature, outline=tuple(map(inside, one.outline)))
        for one in apart.shapes
    )
    return ShapeMap(
        photo_width_px=photo_width_px,
        photo_height_px=photo_height_px,
        photo_sha256=photo_sha256,
        next_number=len(shapes) + 1,
        borders=borders_around(shapes, FEATURES),
        shapes=shapes,
    )


def borders_around(shapes: Sequence[OutlinedShape], features: Sequence[Feature]) -> Mapping[Feature, tuple[Ring, ...]]:
    """Return the border around the shapes of each of the features; those without a shape are left out."""
    own = {feature: [one.outline for one in shapes if one.feature is feature] for feature in features}
    return {feature: joined(outlines) for feature, outlines in own.items() if outlines}


def labels_in(shape_map: ShapeMap, picture: Picture) -> "Labels":
    """Return for each pixel of a picture the place in `shape_map.shapes` of the shape it belongs to.

    Where shapes lie over each other the later one counts, as it is drawn; what none covers goes to the nearest. A shape
    beyond the picture, or smaller than a pixel, has none.

    Raises:
        ShapeMapError: No shape lies in the picture.
    """
    labels = np.full(picture.linear.shape[:2], -1, dtype=np.int32)
    for place, shape in enumerate(shape_map.shapes):
        paint(labels, shape.outline, place, picture)
    if labels.max() < 0:
        raise ShapeMapError("no shape lies in what is painted of the photo")
    return filled(labels)


def filled(labels: "Labels") -> "Labels":
    """Return labels in which every pixel that has none, less than 0, has that of the nearest that has one."""
    bare = labels < 0
    if not bare.any():
        return labels
    from scipy.ndimage import distance_transform_edt  # noqa: PLC0415  loaded when a photo is taken apart

    rows, columns = distance_transform_edt(bare, return_distances=False, return_indices=True)
    return labels[rows, columns]


def paint(labels: "Labels", outline: Sequence[Ring], label: int, picture: Picture) -> None:
    """Write a label on the pixels of a picture whose middle lies inside an outline of the photo."""
    left, top, right, bottom = window = window_around(outline, picture, labels.shape)
    labels[top:bottom, left:right][inside_mask(in_picture(outline, picture), window)] = label


def in_picture(outline: Sequence[Ring], picture: Picture) -> "list[Pixels]":
    """Return rings of the photo in pixels of a picture, each of shape (n, 2)."""
    corner = (picture.left_px, picture.top_px)
    return [(np.array(ring, dtype=float) - corner) * picture.scale for ring in outline]


def window_around(outline: Sequence[Ring], picture: Picture, shape: tuple[int, ...]) -> Window:
    """Return the pixels of a picture, so many rows and columns, in which all of an outline of the photo lies.

    It is empty where nothing of the outline lies in the picture.
    """
    rings = in_picture(outline, picture)
    if not rings:
        return 0, 0, 0, 0
    points = np.concatenate(rings)
    left, top = np.clip(np.floor(points.min(axis=0)), 0, shape[1::-1]).astype(int).tolist()
    right, bottom = np.clip(np.ceil(points.max(axis=0)), 0, shape[1::-1]).astype(int).tolist()
    return left, top, right, bottom


def measured_map(shape_map: ShapeMap, picture: Picture, heads: Sequence[HeadBox]) -> Apart:
    """Return what is measured of the shapes in a picture: ids, names, features and outlines stay those of the map.

    Args:
        shape_map: The shapes; those without a pixel in the picture are left out.
        picture: The part of the photo that is painted.
        heads: The heads in pixels of the photo, one at least.

    Raises:
        ShapeMapError: No shape lies in the picture.
    """
    places, labels = np.unique(labels_in(shape_map, picture), return_inverse=True)
    return measured_again(
        picture,
        [shape_map.shapes[place] for place in places.tolist()],
        labels.reshape(picture.linear.shape[:2]).astype(np.int32),
        [picture.head(head) for head in heads],
    )


def crop_remarks(shape_map: ShapeMap, box: tuple[float, float, float, float]) -> list[str]:
    """Return in a sentence each which shapes a crop cuts, and which it leaves out.

    Args:
        shape_map: The shapes.
        box: Left, top, right and bottom of what is painted, in pixels of the photo.
    """
    from shapely import box as rectangle  # noqa: PLC0415  loaded when shapes are

    cut: list[str] = []
    out: list[str] = []
    left, top, right, bottom = box
    crop = rectangle(left - _ROUNDED_PX, top - _ROUNDED_PX, right + _ROUNDED_PX, bottom + _ROUNDED_PX)
    for shape in shape_map.shapes:
        whole = polygon_of(shape.outline)
        inside_px = whole.intersection(crop).area
        if inside_px < _WHOLE_FRAC * whole.area:
            (cut if inside_px > 0 else out).append(shape.id)
    told = [("cuts", cut), ("leaves out", out)]
    return [f"the crop {verb} {ids_listed(ids)}" for verb, ids in told if ids]


def ids_listed(ids: Sequence[str]) -> str:
    """Return ids as a list in a sentence, of many only the first."""
    named, more = ids[:_MOST_NAMED], len(ids) - _MOST_NAMED
    return joined_words([*named, counted(more, "more shape")] if more > 0 else named)
