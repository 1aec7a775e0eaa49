"""The light of a photo as a screen needs it: all of it at a moderate size, a part pixel by pixel once it is read."""

import math
from typing import TYPE_CHECKING, Final

from coach.shapes.dots import SummedLight, Window, coded
from coach.shapes.photo_window import Box, PhotoWindow, whole

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]
    Dots = NDArray[np.uint8]


_MOST_PX: Final = 400_000
"""Pixels of a photo as it is kept for showing: more than a terminal has dots, even where a part is enlarged."""


def moderate_scale(area_px: int) -> float:
    """Return the scale at which a photo of so many pixels is kept for showing."""
    return min(1.0, math.sqrt(_MOST_PX / area_px))


class PhotoLight:
    """A photo of which any window can be shown at once, more finely where a finer part of it was added."""

    def __init__(self, linear: "Pixels", bounds: Box) -> None:
        """Take all that is shown of the photo.

        Args:
            linear: Its linear light at a moderate size, shape (rows, columns, 3).
            bounds: Where it lies in the photo, in pixels of that.
        """
        self._whole = _Summed(linear, bounds)
        self._part: _Summed | None = None
        self.bounds = bounds

    def add(self, linear: "Pixels", box: Box) -> None:
        """Take the light of a part of the photo at a larger size, in the place of one that was added before."""
        self._part = _Summed(linear, box)

    def linear(self, window: PhotoWindow) -> "Pixels":
        """Return the mean linear light of each dot of a window, shape (down, across, 3)."""
        part = self._part
        source = part if part is not None and self._is_coarse(window) and _holds(part.box, window.box) else self._whole
        return source.light.dots(source.place(window.box), window.across, window.down)

    def whole(self, columns: int, rows: int) -> "Dots":
        """Return sRGB of all that is shown in so many cells, shape (2 x rows, columns, 3), less where it ends."""
        return coded(self.linear(whole(self.bounds, columns, rows)))

    def missing(self, window: PhotoWindow) -> Box | None:
        """Return the part that should be read pixel by pixel for a window; None where what is there will do.

        It reaches beyond the window, so that the picture can be moved for a while.
        """
        if not self._is_coarse(window) or (self._part is not None and _holds(self._part.box, window.box)):
            return None
        left, top, right, bottom = window.box
        across, down = (right - left) / 2, (bottom - top) / 2
        least_x, least_y, most_x, most_y = self.bounds
        return (
            float(max(least_x, (left - across) // 1)),
            float(max(least_y, (top - down) // 1)),
            float(min(most_x, (right + across) // 1 + 1)),
            float(min(most_y, (bottom + down) // 1 + 1)),
        )

    def _is_coarse(self, window: PhotoWindow) -> bool:
        """Return whether dots are smaller than the pixels of the picture at its moderate size."""
        return self._whole.scale < 1 and window.dot_px * self._whole.scale < 1


class _Summed:
    """A picture, summed up, with its place in the photo."""

    def __init__(self, linear: "Pixels", box: Box) -> None:
        rows, columns = linear.shape[:2]
        self.light, self.box = SummedLight(linear), box
        self.scale = columns / (box[2] - box[0])
        self._size = columns, rows

    def place(self, box: Box) -> Window:
        """Return a part of the photo in pixels of the picture."""
        across, down = (size / (self.box[no + 2] - self.box[no]) for no, size in enumerate(self._size))
        left, top = self.box[:2]
        return (
            max((box[0] - left) * across, 0.0),
            max((box[1] - top) * down, 0.0),
            min((box[2] - left) * across, float(self._size[0])),
            min((box[3] - top) * down, float(self._size[1])),
        )


def _holds(outer: Box, inner: Box) -> bool:
    return outer[0] <= inner[0] and outer[1] <= inner[1] and outer[2] >= inner[2] and outer[3] >= inner[3]
