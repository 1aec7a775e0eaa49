"""Where boxes lie on a picture drawn in cells, and with which signs they are drawn.

A cell shows two points of the picture, one above the other. Every kind of box has a line of its own, so that no colour
is needed to tell them apart.
"""

from collections.abc import Sequence
from enum import Enum
from typing import Final, NamedTuple

from rich.cells import cell_len, set_cell_size

from coach.composition.crop import Crop
from coach.composition.marking import Marking
from coach.composition.photo_boxes import PhotoSize, fitted
from coach.plan.commission import MarkedBox

Rgb = tuple[int, int, int]
Cells = Sequence[Sequence[tuple[Rgb, Rgb]]]
"""Rows of cells from the top; each cell is the colour of its upper and of its lower half."""

SHADES: Final = " ·░▒▓█"
"""Signs of brightness on a dark ground, the darkest first; on a light ground they run the other way round."""

_WEIGHTS: Final = (0.2126, 0.7152, 0.0722)
"""What red, green and blue add to brightness. Source: ITU-R BT.709 (from memory)."""


class Role(Enum):
    """What a sign belongs to."""

    CROP = "crop"
    BOX = "box"
    IN_HAND = "in-hand"


class Mark(NamedTuple):
    """A sign on the picture; an empty one is the second half of a wide sign before it."""

    sign: str
    role: Role


class Extent(NamedTuple):
    """Columns and rows of cells, from 0, all included."""

    left: int
    top: int
    right: int
    bottom: int


Marks = dict[int, dict[int, Mark]]
"""Signs by row and column."""

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
        _draw(marks, extent_of(drawn, frame), "crop", Role.CROP)
    numbers = [number for number, _ in enumerate(marking.boxes) if number != marking.in_hand]
    for number in numbers if marking.in_hand is None else [*numbers, marking.in_hand]:
        is_in_hand = number == marking.in_hand
        kind = ("head" if number < len(marking.heads) else "keep") + (" in hand" if is_in_hand else "")
        role = Role.IN_HAND if is_in_hand else Role.BOX
        extent = extent_of(drawn, marking.boxes[number])
        _draw(marks, extent, kind, role)
        _write(marks, drawn, extent, marking.names[number], role)
    return marks


def shades_of(cells: Cells, *, is_light: bool) -> tuple[str, ...]:
    """Return rows of signs of brightness, stretched from the darkest to the brightest cell there is."""
    rows = [[_brightness(cell) for cell in row] for row in cells]
    every = [level for row in rows for level in row]
    darkest, brightest = min(every, default=0.0), max(every, default=0.0)
    signs = SHADES[::-1] if is_light else SHADES
    span = (brightest - darkest) or 1.0
    last = len(signs) - 1
    return tuple("".join(signs[round((level - darkest) / span * last)] for level in row) for row in rows)


def _brightness(cell: tuple[Rgb, Rgb]) -> float:
    return sum(weight * (upper + lower) / 2 for weight, upper, lower in zip(_WEIGHTS, cell[0], cell[1], strict=True))


def _span(low_px: int, high_px: int, photo_px: int, points: int) -> tuple[int, int]:
    first = min(low_px * points // photo_px, points - 1)
    last = min(-(-high_px * points // photo_px) - 1, points - 1)
    return first, max(first, last)


def _draw(marks: Marks, extent: Extent, kind: str, role: Role) -> None:
    left_top, across, right_top, down, left_low, right_low = tuple(_LINES[kind])
    left, top, right, bottom = extent
    for row in (top, bottom):
        marks.setdefault(row, {}).update({column: Mark(across, role) for column in range(left, right + 1)})
    for row in range(top, bottom + 1):
        marks.setdefault(row, {}).update({column: Mark(down, role) for column in (left, right)})
    if left < right and top < bottom:
        marks[top] |= {left: Mark(left_top, role), right: Mark(right_top, role)}
        marks[bottom] |= {left: Mark(left_low, role), right: Mark(right_low, role)}


def _write(marks: Marks, drawn: Drawn, extent: Extent, name: str, role: Role) -> None:
    """Write a name into the upper line where it fits, else above the box, or below it where nothing is above."""
    left, top, right, bottom = extent
    if cell_len(name) <= right - left - 1:
        row, column, room = top, left + 1, right - left - 1
    else:
        row = top - 1 if top > 0 else min(bottom + 1, drawn.rows - 1)
        column = max(0, min(left, drawn.across - cell_len(name)))
        room = drawn.across - column
    line = marks.setdefault(row, {})
    for sign in set_cell_size(name, min(cell_len(name), room)):
        width = cell_len(sign)
        if width == 0:
            before = line.get(column - 1)
            if before is not None and before.sign:
                line[column - 1] = Mark(before.sign + sign, role)
            continue
        line[column] = Mark(sign, role)
        if width > 1:
            line[column + 1] = Mark("", role)
        column += width
