"""The best crop of a photo for one canvas, found exactly, and the heads as they come out on it.

All crops of one ratio in one photo form a row: the side that the photo limits counts its pixels, the other follows,
rounded to the nearest pixel. Both sides grow along the row, so

- what must be held fits from some crop of the row onwards, which bisection finds;
- the larger the crop the smaller the heads, so the head of the wanted size lies at one place of the row, and the best
  whole pixel is one of the two beside it;
- where the crop lies is settled for each direction by itself: the nearest pixel to the wanted place at which all
  boxes are still inside.

No crop is left out, and none is tried in vain. The tests hold this against trying every one.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from coach.composition.life_size import EYE_LINE_FRAC, LIFE_MM
from coach.composition.photo_boxes import PhotoSize, around
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead, Plan

MOST_MARGIN_MM: Final = 50.8
"""Room that is usual between a head and the edge: 2 inches. Source: a portrait painters' forum (secondary)."""

MARGIN_DIVISOR: Final = 10
"""On small canvases the usual room is this part of the side, as 2 inches are of 20. Source: ours, no other."""

EDGES: Final = ("left", "top", "right", "bottom")
"""Edges of a canvas, in the order in which a box names its sides."""

_UM_PER_MM: Final = 1000

_Extent = tuple[int, int]
"""Where something begins and ends in one direction, in pixels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Crop:
    """The part of the photo that the canvas shows, in pixels of the photo."""

    left_px: int
    top_px: int
    width_px: int
    height_px: int

    @property
    def right_px(self) -> int:
        """First pixel to the right of it."""
        return self.left_px + self.width_px

    @property
    def bottom_px(self) -> int:
        """First pixel below it."""
        return self.top_px + self.height_px


def usual_margin_mm(side_mm: float) -> float:
    """Return the room that is usual between a head and the edges at the ends of a side, in millimetres."""
    return min(MOST_MARGIN_MM, side_mm / MARGIN_DIVISOR)


def best_crop(
    photo: PhotoSize,
    canvas: CanvasSize,
    heads: Sequence[MarkedHead],
    keeps: Sequence[MarkedBox],
    life_frac: float | None = None,
) -> Crop:
    """Return the crop with the ratio of the canvas that serves it best, placed as `place_crop` says.

    Its size: the largest, so that least of the photo is lost; with `life_frac` the one whose mean head comes nearest
    to that share of life, among those that hold all boxes and the usual margin about the heads (the larger of two
    equally near; the largest where none holds them).

    Args:
        photo: Size of the photo.
        canvas: Width and height of the canvas as it hangs.
        heads: Heads in the photo; may be none.
        keeps: Boxes that must stay in the picture; may be none.
        life_frac: Wanted head height as a share of life, or None for the largest crop.
    """
    row = _Row(photo, canvas)
    people = around([head.box for head in heads])
    held = around([*(head.box for head in heads), *keeps])
    number = row.most
    if life_frac is not None and held is not None and people is not None:
        number = _nearest_to_life(row, canvas, heads, (held, people), life_frac)
    return place_crop(photo, canvas, row.sides(number), heads, keeps)


def painted_crop(plan: Plan, photo: PhotoSize) -> Crop:
    """Return the part of the photo that a plan paints: as it says, or the best one for its first canvas of known size.

    All of the photo where no canvas says its size. A crop of another photo is cut to this one.
    """
    if plan.crop is not None:
        left_px, top_px = min(plan.crop.left_px, photo.width_px - 1), min(plan.crop.top_px, photo.height_px - 1)
        right_px, bottom_px = min(plan.crop.right_px, photo.width_px), min(plan.crop.bottom_px, photo.height_px)
        return Crop(
            left_px=left_px,
            top_px=top_px,
            width_px=max(1, right_px - left_px),
            height_px=max(1, bottom_px - top_px),
        )
    canvas = next((one.size for one in plan.canvases if one.size is not None), None)
    if canvas is None:
        return Crop(left_px=0, top_px=0, width_px=photo.width_px, height_px=photo.height_px)
    return best_crop(photo, canvas, plan.heads, plan.keeps)


def place_crop(
    photo: PhotoSize,
    canvas: CanvasSize,
    sides_px: tuple[int, int],
    heads: Sequence[MarkedHead],
    keeps: Sequence[MarkedBox],
) -> Crop:
    """Return the crop of a given width and height at its best place.

    The highest crown lies the usual margin below the top edge, or half of the room there is where that is less; the
    heads lie in the middle from side to side; both are moved only as far as the photo ends and boxes must stay inside.
    Where the boxes cannot all be inside, the heads go first; where they cannot, they are cut alike at both ends.
    """
    width_px, height_px = sides_px
    people = around([head.box for head in heads])
    held = around([*(head.box for head in heads), *keeps])
    return Crop(
        left_px=_offset(
            width_px,
            photo.width_px,
            _across(people) or _across(held),
            [_across(held), _across(people)],
            lambda low, high: (low + high - width_px) // 2,
        ),
        top_px=_offset(
            height_px,
            photo.height_px,
            _down(people) or _down(held),
            [_down(held), _down(people)],
            lambda low, high: low - _room_above(canvas, height_px, high - low, is_head=people is not None),
        ),
        width_px=width_px,
        height_px=height_px,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedHead:
    """A head on a canvas.

    Attributes:
        name: Its name.
        height_mm: From chin to crown, in millimetres.
        box_cm2: Area of its box, in square centimetres: what estimates of paint start from.
        eye_line_mm: Eye line below the top edge of the canvas, in millimetres, for a face seen from the front.
        margins_mm: Room to the edges in the order of `EDGES`, in millimetres; below 0 where the head is cut.
    """

    name: str
    height_mm: float
    box_cm2: float
    eye_line_mm: float
    margins_mm: tuple[float, float, float, float]

    @property
    def life_frac(self) -> float:
        """Its height as a share of life."""
        return self.height_mm / LIFE_MM


def placed(canvas: CanvasSize, crop: Crop, heads: Sequence[MarkedHead]) -> tuple[PlacedHead, ...]:
    """Return the heads of a crop as they come out on a canvas."""
    return tuple(_placed(canvas, crop, head) for head in heads)


def mean_life_frac(heads: Sequence[PlacedHead]) -> float | None:
    """Return the mean head height as a share of life; None for no heads."""
    return sum(head.life_frac for head in heads) / len(heads) if heads else None


class _Row:
    """All crops of one ratio in one photo, smallest first; crop number k has k pixels on the side the photo limits."""

    def __init__(self, photo: PhotoSize, canvas: CanvasSize) -> None:
        self._width, self._height = (round(side * _UM_PER_MM) for side in canvas)
        self._is_width_first = photo.height_px * self._width >= photo.width_px * self._height
        self.most = photo.width_px if self._is_width_first else photo.height_px

    def sides(self, k: int) -> tuple[int, int]:
        """Return width and height of crop number k, in pixels."""
        if self._is_width_first:
            return k, max(1, _rounded(k * self._height, self._width))
        return max(1, _rounded(k * self._width, self._height)), k

    def height(self, k: int) -> int:
        """Return the height of crop number k, in pixels."""
        return self.sides(k)[1]


def _nearest_to_life(
    row: _Row, canvas: CanvasSize, heads: Sequence[MarkedHead], boxes: tuple[MarkedBox, MarkedBox], life_frac: float
) -> int:
    held, people = boxes

    def holds(k: int) -> bool:
        width_px, height_px = row.sides(k)
        across_px = max(held.width_px, people.width_px + _margins_px(canvas.width_mm, width_px, sides=2))
        down_px = max(held.height_px, people.height_px + _margins_px(canvas.height_mm, height_px, sides=2))
        return width_px >= across_px and height_px >= down_px

    numbers = range(1, row.most + 1)
    least = bisect_left(numbers, True, key=holds)
    if least == len(numbers):
        return row.most
    mean_px = sum(head.box.height_px for head in heads) / len(heads)

    def off(k: int) -> tuple[float, int]:
        return abs(mean_px * canvas.height_mm / row.height(k) / LIFE_MM - life_frac), -k

    wanted_px = mean_px * canvas.height_mm / (life_frac * LIFE_MM)
    numbers = numbers[least:]
    below = bisect_right(numbers, wanted_px, key=row.height) - 1
    above = bisect_right(numbers, row.height(numbers[min(below + 1, len(numbers) - 1)]), key=row.height) - 1
    return min((numbers[max(below, 0)], numbers[above]), key=off)


def _offset(
    size: int, photo_size: int, about: _Extent | None, held: list[_Extent | None], wanted: Callable[[int, int], int]
) -> int:
    """Return where the crop begins in one direction; `held` names what must be inside, the most first."""
    last = photo_size - size
    if about is None:
        return last // 2
    for extent in held:
        if extent is not None and extent[1] - extent[0] <= size:
            low, high = extent
            return min(max(wanted(*about), high - size, 0), low, last)
    return min(max((about[0] + about[1] - size) // 2, 0), last)


def _room_above(canvas: CanvasSize, height_px: int, extent_px: int, *, is_head: bool) -> int:
    half = (height_px - extent_px) // 2
    return min(_margins_px(canvas.height_mm, height_px, sides=1), half) if is_head else half


def _margins_px(side_mm: float, side_px: int, *, sides: int) -> int:
    """Return the usual margins in pixels, rounded down once, so that they never grow by more than the side does."""
    return int(sides * side_px * usual_margin_mm(side_mm) / side_mm)


def _across(box: MarkedBox | None) -> _Extent | None:
    return None if box is None else (box.left_px, box.right_px)


def _down(box: MarkedBox | None) -> _Extent | None:
    return None if box is None else (box.top_px, box.bottom_px)


def _rounded(number: int, divisor: int) -> int:
    return (2 * number + divisor) // (2 * divisor)


def _placed(canvas: CanvasSize, crop: Crop, head: MarkedHead) -> PlacedHead:
    mm_per_px = canvas.height_mm / crop.height_px
    box = head.box
    top_px = box.top_px - crop.top_px
    return PlacedHead(
        name=head.name,
        height_mm=box.height_px * mm_per_px,
        box_cm2=box.width_px * box.height_px * mm_per_px**2 / 100,
        eye_line_mm=(top_px + EYE_LINE_FRAC * box.height_px) * mm_per_px,
        margins_mm=(
            (box.left_px - crop.left_px) * mm_per_px,
            top_px * mm_per_px,
            (crop.right_px - box.right_px) * mm_per_px,
            (crop.bottom_px - box.bottom_px) * mm_per_px,
        ),
    )
