"""The boxes marked in a photo as signs over its picture in half blocks.

Every kind of box has a line of its own, so that no colour is needed to tell them apart.
"""

from typing import Final, NamedTuple

from coach.composition.crop import Crop
from coach.composition.marking import Marking
from coach.composition.photo_boxes import PhotoSize, fitted
from coach.plan.commission import MarkedBox
from coach.screens.widgets.half_blocks import Mark, MarkRole, Marks
from coach.text import cells as cells_of
from coach.text import chopped


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


class Drawn(NamedTuple):
    """A picture as it is drawn: `across` cells wide and `down` half cells high, of a photo of some size."""

    photo: PhotoSize
    across: int
    down: int

    @property
    def rows(self) -> int:
        """How many rows of cells it takes."""
        return -(-self.down // 2)


def drawn_in(photo: PhotoSize, columns: int, rows: int) -> Drawn:
    """Return how a photo is drawn in so many cells."""
    return Drawn(photo, *fitted(photo, columns, 2 * rows))


def extent_of(drawn: Drawn, box: MarkedBox) -> Extent:
    """Return the cells that a box touches, one at least, those at the edge for a box beyond it."""
    photo = drawn.photo
    left, right = _span(box.left_px, box.right_px, photo.width_px, drawn.across)
    top, bottom = _span(box.top_px, box.bottom_px, photo.height_px, drawn.down)
    return Extent(left, top // 2, right, bottom // 2)


def box_between(drawn: Drawn, one: tuple[int, int], other: tuple[int, int]) -> MarkedBox:
    """Return the box of the photo that two cells, each a column and a row, span; both are in it."""
    (left, right), (top, bottom) = (sorted((a, b)) for a, b in zip(one, other, strict=True))
    photo = drawn.photo
    sides = (
        left * photo.width_px // drawn.across,
        2 * top * photo.height_px // drawn.down,
        (right + 1) * photo.width_px // drawn.across,
        2 * (bottom + 1) * photo.height_px // drawn.down,
    )
    left_px, top_px = min(max(sides[0], 0), photo.width_px - 1), min(max(sides[1], 0), photo.height_px - 1)
    return MarkedBox(
        left_px,
        top_px,
        min(max(sides[2], left_px + 1), photo.width_px),
        min(max(sides[3], top_px + 1), photo.height_px),
    )


def marks_on(drawn: Drawn, marking: Marking, crop: Crop | None) -> Marks:
    """Return the signs on a picture: the crop below all boxes, the box in hand above them."""
    marks: Marks = {}
    if crop is not None:
        frame = MarkedBox(crop.left_px, crop.top_px, crop.right_px, crop.bottom_px)
        _draw(marks, extent_of(drawn, frame), "crop", MarkRole.PLAIN)
    numbers = [number for number, _ in enumerate(marking.boxes) if number != marking.in_hand]
    for number in numbers if marking.in_hand is None else [*numbers, marking.in_hand]:
        is_in_hand = number == marking.in_hand
        kind = ("head" if number < len(marking.heads) else "keep") + (" in hand" if is_in_hand else "")
        role = MarkRole.IN_HAND if is_in_hand else MarkRole.PLAIN
        extent = extent_of(drawn, marking.boxes[number])
        _draw(marks, extent, kind, role)
        _write(marks, drawn, extent, marking.names[number], role)
    return marks


def _span(low_px: int, high_px: int, photo_px: int, points: int) -> tuple[int, int]:
    first = min(low_px * points // photo_px, points - 1)
    last = min(-(-high_px * points // photo_px) - 1, points - 1)
    return first, max(first, last)


def _draw(marks: Marks, extent: Extent, kind: str, role: MarkRole) -> None:
    left_top, across, right_top, down, left_low, right_low = tuple(_LINES[kind])
    left, top, right, bottom = extent
    for row in (top, bottom):
        marks.setdefault(row, {}).update({column: Mark(across, role) for column in range(left, right + 1)})
    for row in range(top, bottom + 1):
        marks.setdefault(row, {}).update({column: Mark(down, role) for column in (left, right)})
    if left < right and top < bottom:
        marks[top] |= {left: Mark(left_top, role), right: Mark(right_top, role)}
        marks[bottom] |= {left: Mark(left_low, role), right: Mark(right_low, role)}


def _write(marks: Marks, drawn: Drawn, extent: Extent, name: str, role: MarkRole) -> None:
    """Write a name into the upper line where it fits, else above the box, or below it where nothing is above."""
    left, top, right, bottom = extent
    if cells_of(name) <= right - left - 1:
        row, column, room = top, left + 1, right - left - 1
    else:
        row = top - 1 if top > 0 else min(bottom + 1, drawn.rows - 1)
        column = max(0, min(left, drawn.across - cells_of(name)))
        room = drawn.across - column
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
