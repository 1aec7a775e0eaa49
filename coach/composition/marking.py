"""Heads and parts to keep as they are marked in a photo, one box in hand: each step gives a new marking."""

from collections.abc import Iterator
from itertools import count
from typing import Final, NamedTuple

from coach.composition.photo_boxes import CompositionError, PhotoSize
from coach.plan.commission import MOST_MARKED, MarkedBox, MarkedHead
from coach.plan.problems import quoted
from coach.text import sanitized

MOST_NAME: Final = 60
"""Characters of the name of a head that is typed on the screen."""

_NEW_HEAD_FRAC: Final = 0.2
_WIDTH_TO_HEIGHT: Final = 0.7
"""A new head has this share of the photo's height, and this ratio; only where to begin. Source: ours, no other."""


class Marking(NamedTuple):
    """What is marked.

    Attributes:
        photo: Size of the photo.
        heads: The heads.
        keeps: Boxes that must stay in the picture.
        in_hand: Number of the box in hand, from 0, the heads first; None for none.
        step_px: By how many pixels a key moves an edge.
    """

    photo: PhotoSize
    heads: tuple[MarkedHead, ...] = ()
    keeps: tuple[MarkedBox, ...] = ()
    in_hand: int | None = None
    step_px: int = 1

    @property
    def boxes(self) -> tuple[MarkedBox, ...]:
        """Every box, the heads first."""
        return (*(head.box for head in self.heads), *self.keeps)

    @property
    def names(self) -> tuple[str, ...]:
        """The name of every box: of a head its own, of a part to keep `keep` and its number."""
        return (*(head.name for head in self.heads), *(f"keep {number}" for number, _ in enumerate(self.keeps, 1)))


def begun(photo: PhotoSize, heads: tuple[MarkedHead, ...] = (), keeps: tuple[MarkedBox, ...] = ()) -> Marking:
    """Return the marking of a photo as a plan has it, the first box in hand."""
    return Marking(photo, heads, keeps, 0 if heads or keeps else None)


def with_head(marking: Marking, box: MarkedBox | None = None) -> Marking:
    """Return the marking with a new head in hand: in a box, or in the middle of the photo, as large as the last one.

    Raises:
        CompositionError: There are `MOST_MARKED` heads already.
    """
    if len(marking.heads) == MOST_MARKED:
        raise CompositionError(f"{MOST_MARKED} heads are marked, and a plan takes no more")
    last = marking.heads[-1].box if marking.heads else None
    head = MarkedHead(next(_free_names(marking)), box or _middle(marking, last))
    return marking._replace(heads=(*marking.heads, head), in_hand=len(marking.heads))


def with_keep(marking: Marking) -> Marking:
    """Return the marking with a new part to keep in hand, in the middle of the photo.

    Raises:
        CompositionError: There are `MOST_MARKED` parts to keep already.
    """
    if len(marking.keeps) == MOST_MARKED:
        raise CompositionError(f"{MOST_MARKED} parts to keep are marked, and a plan takes no more")
    keeps = (*marking.keeps, _middle(marking, marking.keeps[-1] if marking.keeps else None))
    return marking._replace(keeps=keeps, in_hand=len(marking.heads) + len(keeps) - 1)


def next_in_hand(marking: Marking, step: int = 1) -> Marking:
    """Return the marking with the next box in hand, or with `step` -1 the one before."""
    boxes = len(marking.boxes)
    if not boxes:
        return marking
    return marking._replace(in_hand=0 if marking.in_hand is None else (marking.in_hand + step) % boxes)


def in_hand_at(marking: Marking, x_px: int, y_px: int) -> Marking:
    """Return the marking with the smallest box about a pixel in hand; as it is where none is there."""
    about = [
        (box.width_px * box.height_px, number)
        for number, box in enumerate(marking.boxes)
        if box.left_px <= x_px < box.right_px and box.top_px <= y_px < box.bottom_px
    ]
    return marking._replace(in_hand=min(about)[1]) if about else marking


def moved(marking: Marking, across: int, down: int) -> Marking:
    """Return the marking with the box in hand moved by so many steps, as far as the photo goes."""
    box = _box_in_hand(marking)
    if box is None:
        return marking
    photo = marking.photo
    left_px = _moved(box.left_px, box.right_px, across * marking.step_px, photo.width_px)
    top_px = _moved(box.top_px, box.bottom_px, down * marking.step_px, photo.height_px)
    right_px, bottom_px = left_px + box.width_px, top_px + box.height_px
    return _with_box(marking, MarkedBox(left_px, top_px, right_px, bottom_px))


def resized(marking: Marking, across: int, down: int) -> Marking:
    """Return the marking with the right and bottom edge of the box in hand moved by so many steps."""
    marking = moved(marking, 0, 0)  # a box marked in a larger photo comes inside first
    box = _box_in_hand(marking)
    if box is None:
        return marking
    right_px = min(max(box.right_px + across * marking.step_px, box.left_px + 1), marking.photo.width_px)
    bottom_px = min(max(box.bottom_px + down * marking.step_px, box.top_px + 1), marking.photo.height_px)
    return _with_box(marking, box._replace(right_px=right_px, bottom_px=bottom_px))


def with_step(marking: Marking, dot_px: float) -> Marking:
    """Return the marking whose keys move an edge by one dot of the picture, and by one pixel at least."""
    return marking._replace(step_px=max(1, round(dot_px)))


def without_in_hand(marking: Marking) -> Marking:
    """Return the marking without the box in hand; the one that takes its number is in hand."""
    number = marking.in_hand
    if number is None:
        return marking
    keep_no = number - len(marking.heads)
    heads = tuple(head for place, head in enumerate(marking.heads) if place != number)
    keeps = tuple(keep for place, keep in enumerate(marking.keeps) if place != keep_no)
    left = len(heads) + len(keeps)
    return marking._replace(heads=heads, keeps=keeps, in_hand=min(number, left - 1) if left else None)


def renamed(marking: Marking, name: str) -> Marking:
    """Return the marking with another name for the head in hand.

    Raises:
        CompositionError: No head is in hand, the name is empty, or another head has it.
    """
    number = marking.in_hand
    if number is None or number >= len(marking.heads):
        raise CompositionError("only a head has a name; take one in hand with Tab")
    written = " ".join(sanitized(name).split())[:MOST_NAME].strip()
    if not written:
        raise CompositionError("a head has a name; write one")
    others = {head.name.casefold() for place, head in enumerate(marking.heads) if place != number}
    if written.casefold() in others:
        raise CompositionError(f"two heads are named {quoted(written)}; give each its own name")
    heads = list(marking.heads)
    heads[number] = heads[number]._replace(name=written)
    return marking._replace(heads=tuple(heads))


def _free_names(marking: Marking) -> Iterator[str]:
    taken = {head.name.casefold() for head in marking.heads}
    return (name for number in count(1) if (name := f"head {number}") not in taken)


def _middle(marking: Marking, like: MarkedBox | None) -> MarkedBox:
    """Return a box in the middle of the photo, as large as another where that fits."""
    photo = marking.photo
    height_px = max(1, round(photo.height_px * _NEW_HEAD_FRAC))
    width_px = max(1, round(height_px * _WIDTH_TO_HEIGHT))
    if like is not None:
        width_px, height_px = like.width_px, like.height_px
    width_px, height_px = min(width_px, photo.width_px), min(height_px, photo.height_px)
    left_px, top_px = (photo.width_px - width_px) // 2, (photo.height_px - height_px) // 2
    return MarkedBox(left_px, top_px, left_px + width_px, top_px + height_px)


def _box_in_hand(marking: Marking) -> MarkedBox | None:
    return None if marking.in_hand is None else marking.boxes[marking.in_hand]


def _with_box(marking: Marking, box: MarkedBox) -> Marking:
    number = marking.in_hand or 0
    if number < len(marking.heads):
        heads = list(marking.heads)
        heads[number] = heads[number]._replace(box=box)
        return marking._replace(heads=tuple(heads))
    keeps = list(marking.keeps)
    keeps[number - len(marking.heads)] = box
    return marking._replace(keeps=tuple(keeps))


def _moved(low_px: int, high_px: int, by_px: int, most_px: int) -> int:
    return max(0, min(low_px + by_px, most_px - (high_px - low_px)))
