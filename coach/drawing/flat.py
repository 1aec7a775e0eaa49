"""Shapes laid in flat: which shape lies where, where a number stands in it, and studies of it in few values."""

import io
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import luminance_at, srgb_of
from coach.composition.crop import Crop
from coach.shapes.merging import merge_order
from coach.shapes.shape import Picture, Shape
from coach.shapes.shape_map import paint

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from PIL import Image

    Pixels = NDArray[np.float64]
    Labels = NDArray[np.int32]

FEWEST_VALUES: Final = 2
MOST_VALUES: Final = 9
"""Values of the plainest study and of the fullest one."""

STUDY_PX: Final = 2000
"""Pixels of the longer side of a study."""

_FINER: Final = 2
"""So many times finer than the picture shapes are laid in, so that their edges are smooth in it."""

_POLE_CELLS: Final = 96
"""The middle of a shape is looked for on so many cells of its longer side."""


def laid_in(shapes: Sequence[Shape], crop: Crop, scale: float) -> "Labels":
    """Return for each pixel of the crop, scaled, the place of its shape; -1 where there is none.

    Args:
        shapes: The shapes; where two lie over each other the later counts.
        crop: The part of the photo that is painted.
        scale: Pixels of the answer for a pixel of the photo.
    """
    rows, columns = (max(1, round(side * scale)) for side in (crop.height_px, crop.width_px))
    labels = np.full((rows, columns), -1, dtype=np.int32)
    scaled = Picture(linear=np.empty(0), left_px=crop.left_px, top_px=crop.top_px, scale=scale)
    for place, shape in enumerate(shapes):
        paint(labels, shape.outline, place, scaled)
    return labels


def poles_of(labels: "Labels", count: int) -> list[tuple[float, float, float] | None]:
    """Return column, row and radius of about the largest circle inside each shape; None where it has no pixel."""
    from scipy.ndimage import distance_transform_edt, find_objects  # noqa: PLC0415  loaded when a picture is made

    found: list[tuple[float, float, float] | None] = []
    for place, window in enumerate(find_objects(labels + 1, count)):
        if window is None:
            found.append(None)
            continue
        step = max(1, max(side.stop - side.start for side in window) // _POLE_CELLS)
        depth = distance_transform_edt(np.pad(labels[window][::step, ::step] == place, 1))
        row, column = np.unravel_index(int(depth.argmax()), depth.shape)
        x, y = (int(column) - 0.5) * step + window[1].start, (int(row) - 0.5) * step + window[0].start
        found.append((x, y, float(depth.max()) * step))
    return found


def coloured(labels: "Labels", srgb: "Pixels") -> "Image.Image":
    """Return the picture in which each shape has its colour, as displayed, 0 to 1; white where there is none.

    Labels are `_FINER` times as fine as the picture, which `fine_scale` gives.
    """
    from PIL import Image  # noqa: PLC0415  loaded when a picture is made

    palette = np.concatenate((srgb, np.ones((1, srgb.shape[1])))) * 255
    return Image.fromarray(palette.round().astype(np.uint8)[labels].squeeze()).reduce(_FINER)


def fine_scale(crop: Crop, longest_px: int) -> float:
    """Return the scale to lay shapes in at, for a picture whose longer side has so many pixels."""
    return _FINER * longest_px / max(crop.width_px, crop.height_px)


def png_of(picture: "Image.Image") -> bytes:
    """Return a picture as PNG."""
    content = io.BytesIO()
    picture.save(content, "PNG")
    return content.getvalue()


def value_studies(
    shapes: Sequence[Shape], crop: Crop, painted: Callable[[float], float] = float
) -> Iterator[tuple[int, bytes]]:
    """Yield the shapes as flat greys in two to nine values: how many, and the picture as PNG.

    Each study parts one value of the study before it.

    Args:
        shapes: The shapes.
        crop: The part of the photo that is painted.
        painted: The value in which a value of the photo is painted.
    """
    labels = laid_in(shapes, crop, fine_scale(crop, STUDY_PX))
    values = np.array([painted(shape.value) for shape in shapes])
    areas = np.array([shape.area_px for shape in shapes])
    for count in range(FEWEST_VALUES, min(MOST_VALUES, len(np.unique(values))) + 1):
        greys = srgb_of(luminance_at(in_few(values, areas, count)))
        yield count, png_of(coloured(labels, greys[:, None]))


def in_few(values: "Pixels", areas: "Pixels", count: int) -> "Pixels":
    """Return the values, each replaced by the mean of its group: `count` groups of neighbouring values.

    Source:
        The groups lose least by J. H. Ward, JASA 58 (1963) 236-244, weighted by area.
    """
    order = np.argsort(values, kind="stable")
    pairs = np.array(list(pairwise(range(len(order)))), dtype=np.int64).reshape(-1, 2)
    groups = merge_order((values * areas)[order][:, None], areas[order], pairs).cut(count)
    means = np.bincount(groups, (values * areas)[order]) / np.bincount(groups, areas[order])
    found = np.empty_like(values)
    found[order] = means[groups]
    return found
