"""A photo taken apart while the painter looks on: large shapes first, then those a painter would lay in."""

from typing import TYPE_CHECKING, Final

from coach.screens.shapes.repository import OpenedPhoto
from coach.shapes.seeing import see, shape_labels
from coach.shapes.shape import Apart, measured
from coach.shapes.shape_map import ShapeMap, map_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    import numpy as np
    from numpy.typing import NDArray

    Labels = NDArray[np.int32]

EACH_HEAD: Final = 50
"""Shapes of a head at first: neither coarse nor fine."""

_STAGES: Final = (8, 20)
"""So many shapes of a head are shown before; ours."""


def stages_of(photo: OpenedPhoto) -> "Iterator[tuple[Labels, Apart | None]]":
    """Yield the shape of each pixel of the picture as it is found, at last with what is measured of the shapes.

    Args:
        photo: The photo, with one head at least.
    """
    boxes = [photo.picture.head(head) for head in photo.heads]
    seen = see(photo.picture.linear, boxes)
    for count in _STAGES:
        yield shape_labels(seen, count * len(boxes)), None
    labels = shape_labels(seen, EACH_HEAD * len(boxes))
    yield labels, None
    apart = measured(photo.picture, seen, labels, boxes)
    yield apart.labels, apart


def map_in(photo: OpenedPhoto, apart: Apart) -> ShapeMap:
    """Return the shapes that were found in a photo as the painter keeps them."""
    width, height = photo.size.width_px, photo.size.height_px
    return map_of(apart, photo_width_px=width, photo_height_px=height, photo_sha256=photo.sha256)
