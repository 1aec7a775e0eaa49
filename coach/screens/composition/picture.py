"""The boxes marked in a photo as signs over its picture in half blocks.

Every kind of box has a line of its own, so that no colour is needed to tell them apart.
"""

from typing import Final, NamedTuple

from coach.composition.crop import Crop
from coach.composition.marking import Marking
from coach.plan.commission import MarkedBox
from coach.screens.widgets.half_blocks import Mark, MarkRole, Marks
from coach.shapes.photo_window import PhotoWindow
from coach.text import cells as cells_of
from coach.text import chopped

_INSIDE: Final = 1e-6
"""A box ends before the pixel of its right and bottom side."""


class Extent(NamedTuple):
    """Columns and rows of cells, from 0, all included."""

    left: int
    top: int
    right: int
    bottom: int


_LINES: Final = {
    "crop": "╔═╗║╚╝",
    "head": "┌─┐│└┘",
    "keep": "┌╌┐┆└┘",
    "head in hand": "┏━┓┃┗┛",
    "keep in hand": "┏╍┓┇┗┛",
}
"""Signs of a box: left top corner, lines across, right top corner, lines down, both corners below."""


def extent_of(window: PhotoWindow, box: MarkedBox) -> Extent:
    """Return the cells that a box touches, one at least; they may lie beyond the picture where it is enlarged.

    A box beyond the photo touches the cells at its edge.
    """
    left, top, right, bottom = window.bounds
    first = window.dot_at((min(box.left_px, right - 1), min(box.top_px, bottom - 1)))
    last = window.dot_at(
        (min(max(box.right_px, left + 1), right) - _INSIDE, min(max(box.bottom_px, top + 1), bottom) - _INSIDE)
    )
    return Extent(first[0], first[1] // 2, max(first[0], last[0]), max(first[1] // 2, last[1] // 2))


def box_between(window: PhotoWindow, one: tuple[int, int], other: tuple[int, int]) -> MarkedBox:
    """Return the box of the photo that two cells, each a column and a row, span; both are in it."""
    (left, right), (top, bottom) = (sorted((a, b)) for a, b in zip(one, other, strict=True))
    width_px, height_px = int(window.bounds[2]), int(window.bounds[3])
    across, down = (window.box[2] - window.box[0]) / window.across, (window.box[3] - window.box[1]) / window.down
    sides = (
        int(window.box[0] + left * across),
        int(window.box[1] + 2 * top * down),
        int(window.box[0] + (right + 1) * across),
        int(window.box[1] + 2 * (bottom + 1) * down),
    )
    left_px, top_px = min(max(sides[0], 0), width_px - 1), min(max(sides[1], 0), height_px - 1)
    return MarkedBox(
        left_px, top_px, min(max(sides[2], left_px + 1), width_px), min(max(sides[3], top_px + 1), height_px)
    )


def marks_on(window: PhotoWindow, marking: Marking, crop: Crop | None) -> Marks:
    """Return the signs on a picture: the crop below all boxes, the box in hand above them."""
    marks: Marks = {}
    if crop is not None:
        frame = MarkedBox(crop.left_px, crop.top_px, crop.right_px, crop.bottom_px)
        _draw(marks, window, extent_of(window, frame), "crop", MarkRole.PLAIN)
    numbers = [number for number, _ in enumerate(marking.boxes) if number != marking.in_hand]
    for number in numbers if marking.in_hand is None else [*numbers, marking.in_hand]:
        is_in_hand = number == marking.in_hand
        kind = ("head" if number < len(marking.heads) else "keep") + (" in hand" if is_in_hand else "")
        role = MarkRole.IN_HAND if is_in_hand else MarkRole.PLAIN
        extent = extent_of(window, marking.boxes[number])
        _draw(marks, window, extent, kind, role)
        _write(marks, window, extent, marking.names[number], role)
    return marks


def _draw(marks: Marks, window: PhotoWindow, extent: Extent, kind: str, role: MarkRole) -> None:
    left_top, across, right_top, down, left_low, right_low = tuple(_LINES[kind])
    left, top, right, bottom = extent
    signs = {(row, column): down for row in range(top, bottom + 1) for column in (left, right)}
    if left < right and top < bottom:
        signs |= {(row, column): across for row in (top, bottom) for column in range(left + 1, right)}
        signs |= {(top, left): left_top, (top, right): right_top, (bottom, left): left_low, (bottom, right): right_low}
    elif left < right:
        signs |= {(row, column): across for row in (top, bottom) for column in range(left, right + 1)}
    for (row, column), sign in signs.items():
        if 0 <= row < window.down // 2 and 0 <= column < window.across:
            marks.setdefault(row, {})[column] = Mark(sign, role)


def _write(marks: Marks, window: PhotoWindow, extent: Extent, name: str, role: MarkRole) -> None:
    """Write a name into the upper line where it fits, else above the box, or below it where nothing is above."""
    rows = window.down // 2
    if extent.right < 0 or extent.left >= window.across or extent.bottom < 0 or extent.top >= rows:
        return
    left, right, top = max(extent.left, 0), min(extent.right, window.across - 1), max(extent.top, 0)
    if cells_of(name) <= right - left - 1:
        row, column, room = top, left + 1, right - left - 1
    else:
        row = top - 1 if top > 0 else min(extent.bottom + 1, rows - 1)
        column = max(0, min(left, window.across - cells_of(name)))
        room = window.across - column
    line = marks.setdefault(row, {})
    for sign in chopped(name, room)[0]:
        width = cells_of(sign)
        if width == 0:
            before = line.get(column - 1)
            if before is not None and before.sign:
                line[column - 1] = Mark(before.sign + sign, role)
            continue
        line[column] = Mark(sign, role)
        if width > 1:
            line[column + 1] = Mark("", role)
        column += width
