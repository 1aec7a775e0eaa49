"""The number of the shape at each pixel of a picture, kept up as the shapes are edited."""

from typing import TYPE_CHECKING, Final

import numpy as np

from coach.shapes.photo_window import PhotoWindow, Point
from coach.shapes.shape import Picture
from coach.shapes.shape_map import OutlinedShape, ShapeMap, labels_in, paint, window_around

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Labels = NDArray[np.int32]

NO_SHAPE: Final = -1


def number_of(shape_id: str) -> int:
    """Return the number in the id of a shape, such as 12 for k12."""
    return int(shape_id[1:])


def raster(shape_map: ShapeMap, picture: Picture) -> "Labels":
    """Return the number of the shape at each pixel of a picture; what none covers belongs to the nearest.

    Raises:
        ShapeMapError: No shape lies in the picture.
    """
    numbers = np.array([number_of(shape.id) for shape in shape_map.shapes], dtype=np.int32)
    return numbers[labels_in(shape_map, picture)]


def raster_after(labels: "Labels", before: ShapeMap, after: ShapeMap, picture: Picture) -> "Labels":
    """Return the raster once the shapes are edited: only what has changed is painted anew.

    Args:
        labels: The raster of the shapes before; it stays as it is.
        before: The shapes before.
        after: The shapes as they are now.
        picture: The picture.
    """
    old, new = ({shape.id: shape.outline for shape in shapes.shapes} for shapes in (before, after))
    painted = labels.copy()
    for id_, outline in old.items():
        if new.get(id_) != outline:
            left, top, right, bottom = window_around(outline, picture, labels.shape)
            part = painted[top:bottom, left:right]
            part[part == number_of(id_)] = NO_SHAPE
    for id_, outline in new.items():
        if old.get(id_) != outline:
            paint(painted, outline, number_of(id_), picture)
    return painted


def middle_of(labels: "Labels", shape: OutlinedShape, picture: Picture) -> Point | None:
    """Return the mean place of the pixels of a shape, in pixels of the photo; None where it has none."""
    left, top, right, bottom = window_around(shape.outline, picture, labels.shape)
    rows, columns = np.nonzero(labels[top:bottom, left:right] == number_of(shape.id))
    if not len(rows):
        return None
    x, y = float(columns.mean()) + left + 0.5, float(rows.mean()) + top + 0.5
    return x / picture.scale + picture.left_px, y / picture.scale + picture.top_px


def dots_of(shapes: "Sequence[OutlinedShape]", window: PhotoWindow) -> "Labels":
    """Return the number of the shape at each dot of a window, from the outlines themselves."""
    left, top = window.box[:2]
    dots = Picture(linear=np.empty((0, 0, 3)), left_px=left, top_px=top, scale=1 / window.dot_px)
    labels = np.full((window.down, window.across), NO_SHAPE, dtype=np.int32)
    for shape in shapes:
        paint(labels, shape.outline, number_of(shape.id), dots)
    return labels
