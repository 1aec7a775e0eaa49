"""Heads and parts to keep as they are marked in a photo, one box in hand: each step gives a new marking."""

from collections.abc import Iterable, Iterator
from itertools import count
from typing import Final, NamedTuple

from coach.composition.photo_boxes import CompositionError, PhotoSize
from coach.plan.commission import MOST_MARKED, MarkedBox, MarkedHead
from coach.plan.problems import quoted
from coach.shapes.photo_window import Point
from coach.text import sanitized

MOST_NAME: Final = 60
"""Characters of the name of a head that is typed on the screen."""

_NEW_HEAD_FRAC: Final = 0.2
_WIDTH_TO_HEIGHT: Final = 0.7
"""A new head has this share of the photo's height, and this ratio; only where to begin. Source: ours, no other."""

_GRIP_FRAC: Final = 0.25
"""Of a small box an edge takes no more than this share from inside, so that its middle moves it. Source: ours."""


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


def dragged(marking: Marking, at: Point, by: Point, drawn: MarkedBox, reach_px: float) -> Marking:
    """Return the marking once the mouse was dragged; what it leaves is in hand.

    Begun at the edge of a box it moves that edge, at a corner two; begun inside a head, or the box in hand, it moves
    the box. Elsewhere it draws a head, anew where the head drawn covers one that there is.

    Args:
        marking: What was marked when the button went down.
        at: Where it went down, a column and a row in pixels of the photo.
        by: How far the mouse went from there.
        drawn: The box that the mouse spanned.
        reach_px: So near to an edge it is meant.

    Raises:
        CompositionError: There are `MOST_MARKED` heads already.
    """
    for number in sorted(range(len(marking.boxes)), key=lambda no: (no != marking.in_hand, _area(marking.boxes[no]))):
        box = marking.boxes[number]
        edges = _edges_at(box, at, reach_px)
        is_inside = box.left_px <= at[0] < box.right_px and box.top_px <= at[1] < box.bottom_px
        if any(edges):
            return _with_edges(marking._replace(in_hand=number), edges, by)
        if is_inside and (number == marking.in_hand or number < len(marking.heads)):
            return moved(marking._replace(in_hand=number, step_px=1), round(by[0]), round(by[1]))
    return with_drawn(marking, drawn)


def with_drawn(marking: Marking, box: MarkedBox) -> Marking:
    """Return the marking with a head in a box: the head that the box covers is changed, else one is added.

    Raises:
        CompositionError: There are `MOST_MARKED` heads already.
    """
    same = [number for number, head in enumerate(marking.heads) if _is_same(head.box, box)]
    return _with_box(marking._replace(in_hand=same[0]), box) if same else with_head(marking, box)


def with_found(marking: Marking, boxes: Iterable[MarkedBox]) -> Marking:
    """Return the marking with heads that were found, each as `with_drawn` takes it.

    Raises:
        CompositionError: There are more than `MOST_MARKED` heads then.
    """
    for box in boxes:
        marking = with_drawn(marking, box)
    return marking


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


def _area(box: MarkedBox) -> int:
    return box.width_px * box.height_px


def _is_same(one: MarkedBox, other: MarkedBox) -> bool:
    """Return whether two boxes are of one head: half of the smaller lies in the other."""
    across = min(one.right_px, other.right_px) - max(one.left_px, other.left_px)
    down = min(one.bottom_px, other.bottom_px) - max(one.top_px, other.top_px)
    return 2 * max(across, 0) * max(down, 0) > min(_area(one), _area(other))


def _edges_at(box: MarkedBox, at: Point, reach_px: float) -> tuple[int, int, int, int]:
    """Return for the left, top, right and bottom edge whether a point is so near that it is meant."""
    found = [0, 0, 0, 0]
    for axis, (low, high) in enumerate(((box.left_px, box.right_px), (box.top_px, box.bottom_px))):
        inside_px = min(reach_px, (high - low) * _GRIP_FRAC)
        if not low - reach_px <= at[axis] <= high + reach_px:
            return (0, 0, 0, 0)
        found[axis] = int(at[axis] <= low + inside_px)
        found[axis + 2] = int(at[axis] >= high - inside_px)
    return found[0], found[1], found[2], found[3]


def _with_edges(marking: Marking, edges: tuple[int, int, int, int], by: Point) -> Marking:
    """Return the marking with edges of the box in hand moved, inside the photo and one pixel apart at least."""
    box = moved(marking, 0, 0).boxes[marking.in_hand or 0]
    left, top, right, bottom = (
        side + round(by[no % 2]) * is_meant for no, (side, is_meant) in enumerate(zip(box, edges, strict=True))
    )
    photo = marking.photo
    return _with_box(
        marking,
        MarkedBox(
            max(0, min(left, box.right_px - 1)),
            max(0, min(top, box.bottom_px - 1)),
            min(max(right, box.left_px + 1), photo.width_px),
            min(max(bottom, box.top_px + 1), photo.height_px),
        ),
    )


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
