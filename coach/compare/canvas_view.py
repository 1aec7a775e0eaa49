"""A canvas as a photo of it shows it: its corners, checked, and the way from its centimetres to pixels of the photo."""

from dataclasses import dataclass, replace
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.errors import CoachError
from coach.plan.commission import CanvasSize

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Pixels = NDArray[np.float64]
    Matrix = NDArray[np.float64]

Corner = tuple[float, float]
"""Column and row in pixels of the photo as it is looked at."""

Corners = tuple[Corner, Corner, Corner, Corner]
"""Upper left, upper right, lower right and lower left corner of a canvas."""

_MOST_OBLIQUE: Final = 1.6
"""Opposite sides that differ more show the canvas too much from the side to be read; ours."""

_MOST_OFF_RATIO: Final = 1.25
"""A canvas seen nearly from the front has its own ratio of width to height within this; ours."""

_LEAST_SIDE_PX: Final = 120
"""A canvas of shorter sides shows too little of each shape; ours."""


class ComparisonError(CoachError):
    """The photos of the canvases cannot be compared; the sentence says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CanvasView:
    """Where a canvas lies in a photo.

    Attributes:
        canvas: Its name.
        corners: Its corners.
        size: Its size.
    """

    canvas: str
    corners: Corners
    size: CanvasSize

    @property
    def middle_px(self) -> Corner:
        """The mean of its corners."""
        x, y = np.mean(self.corners, axis=0)
        return float(x), float(y)

    @property
    def px_per_mm(self) -> float:
        """Pixels of the photo for a millimetre, along the mean side."""
        width, height = _mean_sides(self.corners)
        return (width / self.size.width_mm + height / self.size.height_mm) / 2

    def scaled(self, scale: float) -> "CanvasView":
        """Return where it lies in the photo at another scale."""
        return replace(self, corners=scaled(self.corners, scale))

    def homography(self) -> "Matrix":
        """Return the matrix from millimetres on the canvas, from its upper left corner, to pixels of the photo.

        Source:
            Four pairs of points decide a plane perspective map: R. Hartley, A. Zisserman, "Multiple view geometry",
            section 4.1 (from memory); held against scikit-image in the tests.
        """
        width, height = self.size
        rows, wanted = [], []
        for (x, y), (u, v) in zip(((0, 0), (width, 0), (width, height), (0, height)), self.corners, strict=True):
            rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
            wanted += [u, v]
        return np.append(np.linalg.solve(np.array(rows, dtype=float), np.array(wanted)), 1).reshape(3, 3)


def checked_view(view: CanvasView, photo_width_px: int, photo_height_px: int, photo_name: str) -> CanvasView:
    """Return a view whose corners can be those of its canvas.

    Raises:
        ComparisonError: They cross, run the wrong way round, leave the photo, or show too small, too oblique or
            wrongly shaped a canvas.
    """
    corners, whose = np.array(view.corners, dtype=float), f"{photo_name}: the corners of {view.canvas}"
    turns = _turns(corners)
    if not ((turns > 0).all() or (turns < 0).all()):
        raise ComparisonError(f"{whose} cross or lie in a line; give them from upper left, clockwise")
    if (turns < 0).all():
        raise ComparisonError(f"{whose} run the wrong way round; give them from upper left, clockwise")
    outside = (corners < 0).any() or (corners > (photo_width_px, photo_height_px)).any()
    if outside:
        raise ComparisonError(f"{whose} lie outside the photo of {photo_width_px} x {photo_height_px} pixels")
    width, height = _mean_sides(view.corners)
    if min(width, height) < _LEAST_SIDE_PX:
        raise ComparisonError(f"{whose} show it only {min(width, height):.0f} pixels wide; go nearer")
    _check_upright(view, corners, whose)
    _check_shape(view, corners, whose)
    return view


def scaled(corners: Corners, scale: float) -> Corners:
    """Return corners in the photo at another scale."""
    one, two, three, four = ((x * scale, y * scale) for x, y in corners)
    return one, two, three, four


def front_view(photo: "Coded", view: CanvasView, columns: int, rows: int) -> "Coded":
    """Return the canvas seen straight from the front, 8-bit sRGB, shape (rows, columns, 3).

    Args:
        photo: The photo, 8-bit sRGB, shape (rows, columns, 3).
        view: Where the canvas lies in it.
        columns: Dots across.
        rows: Dots down.
    """
    from PIL import Image  # noqa: PLC0415  loaded when photos are compared

    scaled = view.homography() @ np.diag([view.size.width_mm / columns, view.size.height_mm / rows, 1])
    way = (scaled / scaled[2, 2]).ravel()[:8]
    left, top = (int(side) for side in np.floor(np.min(view.corners, axis=0)))
    right, bottom = (int(side) + 1 for side in np.ceil(np.max(view.corners, axis=0)))
    cut = Image.fromarray(photo[top:bottom, left:right])
    way = _moved(way, left, top)
    return np.asarray(cut.transform((columns, rows), Image.Transform.PERSPECTIVE, way, Image.Resampling.NEAREST))


def _moved(way: "Matrix", left: int, top: int) -> tuple[float, ...]:
    """Return the eight numbers of a perspective map whose answers are counted from another corner."""
    a, b, c, d, e, f, g, h = way.tolist()
    return (a - left * g, b - left * h, c - left, d - top * g, e - top * h, f - top, g, h)


def _turns(corners: "Pixels") -> "Pixels":
    """Return for each corner which way the outline turns there, positive clockwise as it is looked at."""
    steps = np.roll(corners, -1, axis=0) - corners
    before = np.roll(steps, 1, axis=0)
    return before[:, 0] * steps[:, 1] - before[:, 1] * steps[:, 0]


def _mean_sides(corners: Corners) -> tuple[float, float]:
    """Return the mean width and the mean height of a canvas in the photo, in pixels."""
    top, right, bottom, left = (float(np.hypot(*np.subtract(b, a))) for a, b in pairwise((*corners, corners[0])))
    return (top + bottom) / 2, (left + right) / 2


def _check_upright(view: CanvasView, corners: "Pixels", whose: str) -> None:
    """Raise where the upper side of the canvas is not the upper one in the photo."""
    upper, lower = corners[:2].mean(axis=0), corners[2:].mean(axis=0)
    x, y = lower - upper
    if y <= abs(x):
        turned = "upside down" if -y > abs(x) else "on its side"
        raise ComparisonError(f"{whose} show {view.canvas} {turned}; turn the photo, or begin at its upper left corner")


def _check_shape(view: CanvasView, corners: "Pixels", whose: str) -> None:
    sides = [float(np.hypot(*(b - a))) for a, b in pairwise([*corners, corners[0]])]
    for one, other in ((sides[0], sides[2]), (sides[1], sides[3])):
        if max(one, other) > _MOST_OBLIQUE * min(one, other):
            raise ComparisonError(f"{whose} show it too much from the side; stand in front of the canvases")
    seen, own = _mean_sides(view.corners), view.size.width_mm / view.size.height_mm
    off = seen[0] / seen[1] / own
    if not 1 / _MOST_OFF_RATIO < off < _MOST_OFF_RATIO:
        size = f"{view.size.width_mm / 10:g} x {view.size.height_mm / 10:g} cm"
        raise ComparisonError(f"{whose} do not have the shape of a canvas of {size}; set them anew")
