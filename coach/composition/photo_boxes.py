"""The photo's size and the boxes marked in it, typed or from a plan."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Final

from coach.errors import CoachError, UsageError
from coach.plan.commission import MarkedBox, MarkedHead
from coach.plan.problems import quoted
from coach.text import sanitized

MOST_BOXES: Final = 40
"""How many heads, and how many parts to keep, may be typed for one photo; a plan takes fewer."""


MOST_SIDE_PX: Final = 1_000_000
"""Longest side of a photo whose size is typed."""

_PHOTO: Final = re.compile(r"(-?\d{1,12})\s*[x×]\s*(-?\d{1,12})(?:\s*px)?", re.IGNORECASE | re.ASCII)
_BOX: Final = re.compile(r"\s*(-?\d{1,9})\s*,\s*(-?\d{1,9})\s*,\s*(-?\d{1,9})\s*,\s*(-?\d{1,9})\s*", re.ASCII)


class CompositionError(CoachError):
    """The photo, a box in it or a grid cannot be as stated."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoSize:
    """Width and height of a photo as it is looked at, in pixels, each 1 or more."""

    width_px: int
    height_px: int


def read_photo_spec(text: str) -> PhotoSize | None:
    """Return the size that is typed as `4000x6000`; None where `text` is no size and so names a file.

    Raises:
        UsageError: A side is 0, negative or beyond `MOST_SIDE_PX`.
    """
    found = _PHOTO.fullmatch(text.strip())
    if found is None:
        return None
    width_px, height_px = int(found[1]), int(found[2])
    if min(width_px, height_px) < 1 or max(width_px, height_px) > MOST_SIDE_PX:
        raise UsageError(f"a photo of {width_px} x {height_px} px cannot be: each side is 1 to {MOST_SIDE_PX} px")
    return PhotoSize(width_px=width_px, height_px=height_px)


def read_head(text: str) -> MarkedHead:
    """Return the head that is typed as `NAME:left,top,right,bottom`, its sides in pixels of the photo.

    Raises:
        UsageError: There is no name, or what follows it is no box.
    """
    name, colon, sides = text.rpartition(":")
    name = " ".join(sanitized(name).split())
    if not colon or not name:
        raise UsageError(
            f"{quoted(sanitized(text))} names no head; write NAME:left,top,right,bottom in pixels of the photo"
        )
    return MarkedHead(name=name, box=read_box(sides))


def read_box(text: str) -> MarkedBox:
    """Return the box that is typed as `left,top,right,bottom`, in pixels of the photo.

    Raises:
        UsageError: It is not four whole numbers.
    """
    found = _BOX.fullmatch(text)
    if found is None:
        raise UsageError(
            f"{quoted(sanitized(text))} is not a box; write left,top,right,bottom in whole pixels of the photo"
        )
    left_px, top_px, right_px, bottom_px = map(int, found.groups())
    return MarkedBox(left_px=left_px, top_px=top_px, right_px=right_px, bottom_px=bottom_px)


def around(boxes: Sequence[MarkedBox]) -> MarkedBox | None:
    """Return the smallest box that holds all the boxes; None for none."""
    if not boxes:
        return None
    return MarkedBox(
        left_px=min(box.left_px for box in boxes),
        top_px=min(box.top_px for box in boxes),
        right_px=max(box.right_px for box in boxes),
        bottom_px=max(box.bottom_px for box in boxes),
    )


def check_boxes(photo: PhotoSize, heads: Sequence[MarkedHead], keeps: Sequence[MarkedBox]) -> None:
    """Refuse boxes that cannot be in the photo.

    Raises:
        CompositionError: A box is upside down, turned left to right, without area or outside the photo; a name is
            used twice; there are more than `MOST_BOXES` of a kind.
    """
    for boxes, what in ((heads, "heads"), (keeps, "parts to keep")):
        if len(boxes) > MOST_BOXES:
            raise CompositionError(f"{len(boxes)} {what} are marked; the coach takes {MOST_BOXES} at most")
    names = [head.name for head in heads]
    for name in names:
        if names.count(name) > 1:
            raise CompositionError(f"two heads are named {quoted(name)}; give each its own name")
    for head in heads:
        _check_box(photo, head.box, f"the head {quoted(head.name)}")
    for keep in keeps:
        _check_box(photo, keep, f"the part to keep {corners(keep)}")


def overlaps(heads: Sequence[MarkedHead]) -> tuple[str, ...]:
    """Return a sentence for every two heads whose boxes overlap; nothing is refused."""
    return tuple(
        f"the boxes of {one.name} and {other.name} overlap: see that each holds one head"
        for one, other in combinations(heads, 2)
        if _is_overlapping(one.box, other.box)
    )


def corners(box: MarkedBox) -> str:
    """Return a box as it is typed: left,top,right,bottom."""
    return f"{box.left_px},{box.top_px},{box.right_px},{box.bottom_px}"


def _is_overlapping(one: MarkedBox, other: MarkedBox) -> bool:
    beside = one.right_px <= other.left_px or other.right_px <= one.left_px
    above = one.bottom_px <= other.top_px or other.bottom_px <= one.top_px
    return not beside and not above


def _check_box(photo: PhotoSize, box: MarkedBox, what: str) -> None:
    if box.bottom_px < box.top_px:
        raise CompositionError(f"{what} is upside down: its bottom {box.bottom_px} is above its top {box.top_px}")
    if box.right_px < box.left_px:
        raise CompositionError(f"{what} is turned round: its right {box.right_px} is left of its left {box.left_px}")
    if not box.height_px or not box.width_px:
        raise CompositionError(f"{what} has no area: its sides are left, top, right, bottom in pixels")
    if box.left_px < 0 or box.top_px < 0 or box.right_px > photo.width_px or box.bottom_px > photo.height_px:
        raise CompositionError(
            f"{what} lies outside the photo of {photo.width_px} x {photo.height_px} px: its box is {corners(box)}"
        )
