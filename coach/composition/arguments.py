"""A photo's size, heads and boxes as they are typed."""

import re
from typing import Final

from coach.composition.faults import CompositionUsageError
from coach.composition.photo_boxes import Box, Head, PhotoSize
from coach.plan.problems import quoted
from coach.plan.units import MM_PER_UNIT, number
from coach.text import sanitized

MOST_SIDE_PX: Final = 1_000_000
"""Longest side of a photo whose size is typed."""

_PHOTO: Final = re.compile(r"(-?\d{1,12})\s*[x×]\s*(-?\d{1,12})(?:\s*px)?", re.IGNORECASE | re.ASCII)
_BOX: Final = re.compile(r"\s*(-?\d{1,9})\s*,\s*(-?\d{1,9})\s*,\s*(-?\d{1,9})\s*,\s*(-?\d{1,9})\s*", re.ASCII)


def read_photo_spec(text: str) -> PhotoSize | None:
    """Return the size that is typed as `4000x6000`; None where `text` is no size and so names a file.

    Raises:
        CompositionUsageError: A side is 0, negative or beyond `MOST_SIDE_PX`.
    """
    found = _PHOTO.fullmatch(text.strip())
    if found is None:
        return None
    width_px, height_px = int(found[1]), int(found[2])
    if min(width_px, height_px) < 1 or max(width_px, height_px) > MOST_SIDE_PX:
        raise CompositionUsageError(
            f"a photo of {width_px} x {height_px} px cannot be: each side is 1 to {MOST_SIDE_PX} px"
        )
    return PhotoSize(width_px=width_px, height_px=height_px)


def read_head(text: str) -> Head:
    """Return the head that is typed as `NAME:left,top,right,bottom`, its sides in pixels of the photo.

    Raises:
        CompositionUsageError: There is no name, or what follows it is no box.
    """
    name, colon, sides = text.rpartition(":")
    name = " ".join(sanitized(name).split())
    if not colon or not name:
        raise CompositionUsageError(
            f"{quoted(sanitized(text))} names no head; write NAME:left,top,right,bottom in pixels of the photo"
        )
    return Head(name=name, box=read_box(sides))


def read_box(text: str) -> Box:
    """Return the box that is typed as `left,top,right,bottom`, in pixels of the photo.

    Raises:
        CompositionUsageError: It is not four whole numbers.
    """
    found = _BOX.fullmatch(text)
    if found is None:
        raise CompositionUsageError(
            f"{quoted(sanitized(text))} is not a box; write left,top,right,bottom in whole pixels of the photo"
        )
    left_px, top_px, right_px, bottom_px = map(int, found.groups())
    return Box(left_px=left_px, top_px=top_px, right_px=right_px, bottom_px=bottom_px)


def read_side_mm(text: str) -> float:
    """Return the side of a square that is typed as `2 in`, `5 cm` or `50 mm`, in millimetres.

    Raises:
        CompositionUsageError: It is no length.
    """
    written = text.strip().lower()
    side, unit = number(written[:-2].rstrip()), written[-2:]
    if side is None or unit not in MM_PER_UNIT:
        raise CompositionUsageError(f"{quoted(sanitized(text))} is not the side of a square; write 2 in or 5 cm")
    return side * MM_PER_UNIT[unit]
