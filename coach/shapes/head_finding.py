"""Heads that the packaged detector finds in a photo: a first proposal, for the painter to correct.

Its box differs a little from processor to processor, so it is written down once and never found again.
"""

from typing import TYPE_CHECKING, Final, NamedTuple

from coach.plan.commission import MarkedBox
from coach.shapes.photo_window import PhotoWindow, whole

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.shapes.photo_light import PhotoLight

    Dots = NDArray[np.uint8]

LOOKED_AT_PX: Final = 400
"""Longest side of the picture in which heads are looked for: in a larger one more is found that is none. Ours."""

MOST_PROPOSED: Final = 3
"""So many heads are proposed at most: of more the painter marks them."""

_CROWN_FRAC, _CHIN_FRAC, _SIDE_FRAC = 0.58, 1.15, 0.645
"""Crown above and chin below the top of the square that is found, and either side from its middle, in its sides.

Source: measured on one photograph; ours, no other.
"""

_LEAST_FACE_FRAC, _MOST_FACE_FRAC = 0.08, 0.9
_STEP, _STRIDE = 1.2, 1
_LEAST_OF_LARGEST_FRAC: Final = 0.5


class FoundHead(NamedTuple):
    """The box of a head, crown to chin and side to side, in pixels of the picture."""

    left: float
    top: float
    right: float
    bottom: float


def heads_in(light: "PhotoLight", most: int) -> tuple[MarkedBox, ...]:
    """Return the boxes of the heads found in a photo, from left to right, at most so many.

    It takes a second or two.
    """
    window = whole(light.bounds, LOOKED_AT_PX, LOOKED_AT_PX // 2)
    found = heads_found(light.whole(LOOKED_AT_PX, LOOKED_AT_PX // 2), most)
    return tuple(MarkedBox(*_in_photo(head, window)) for head in found)


def _in_photo(head: FoundHead, window: PhotoWindow) -> tuple[int, int, int, int]:
    left, top, right, bottom = window.box
    x, y = (right - left) / window.across, (bottom - top) / window.down
    return (
        round(left + head.left * x),
        round(top + head.top * y),
        round(min(left + head.right * x, right)),
        round(min(top + head.bottom * y, bottom)),
    )


def heads_found(dots: "Dots", most: int) -> list[FoundHead]:
    """Return the heads found in a picture, from left to right, at most so many.

    Of faces that overlap the largest counts; one under half as large as the largest is none.

    Args:
        dots: sRGB of 8 bits, shape (rows, columns, 3), its longer side about `LOOKED_AT_PX`.
        most: How many heads are looked for.
    """
    from skimage.data import lbp_frontal_face_cascade_filename  # noqa: PLC0415  loaded when a head is looked for
    from skimage.feature import Cascade  # noqa: PLC0415

    side = min(dots.shape[:2])
    least, largest = int(_LEAST_FACE_FRAC * side), int(_MOST_FACE_FRAC * side)
    cascade = Cascade(lbp_frontal_face_cascade_filename())
    squares = cascade.detect_multi_scale(dots, _STEP, _STRIDE, (least, least), (largest, largest))
    faces = sorted(((one["width"], one["c"], one["r"]) for one in squares), reverse=True)
    found: list[FoundHead] = []
    for width, left, top in faces:
        head = _head(width, left, top, dots.shape[:2])
        if width >= _LEAST_OF_LARGEST_FRAC * faces[0][0] and not any(_overlap(head, one) for one in found):
            found.append(head)
    return sorted(found[:most])


def _head(width: float, left: float, top: float, shape: tuple[int, ...]) -> FoundHead:
    middle = left + width / 2
    return FoundHead(
        left=max(0.0, middle - _SIDE_FRAC * width),
        top=max(0.0, top - _CROWN_FRAC * width),
        right=min(float(shape[1]), middle + _SIDE_FRAC * width),
        bottom=min(float(shape[0]), top + _CHIN_FRAC * width),
    )


def _overlap(one: FoundHead, other: FoundHead) -> bool:
    return min(one.right, other.right) > max(one.left, other.left) and min(one.bottom, other.bottom) > max(
        one.top, other.top
    )
