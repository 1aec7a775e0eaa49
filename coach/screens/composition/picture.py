"""A photo in half blocks or in signs of brightness, with the marked boxes over it.

A cell shows two points of the picture, one above the other. Every kind of box has a line of its own, so that no colour
is needed to tell them apart. Only lines that change are redrawn.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from typing import ClassVar, Final, NamedTuple

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from coach.composition.crop import Crop
from coach.composition.marking import Marking
from coach.composition.photo_boxes import PhotoSize, fitted
from coach.plan.commission import MarkedBox
from coach.text import cells as cells_of
from coach.text import chopped

Rgb = tuple[int, int, int]
Cells = Sequence[Sequence[tuple[Rgb, Rgb]]]
"""Rows of cells from the top; each cell is the colour of its upper and of its lower half."""

SHADES: Final = " ·░▒▓█"
"""Signs of brightness on a dark ground, the darkest first; on a light ground they run the other way round."""

_WEIGHTS: Final = (0.2126, 0.7152, 0.0722)
"""What red, green and blue add to brightness. Source: ITU-R BT.709 (from memory)."""


class MarkRole(Enum):
    """What a sign belongs to."""

    CROP = "crop"
    BOX = "box"
    IN_HAND = "in-hand"


class Mark(NamedTuple):
    """A sign on the picture; an empty one is the second half of a wide sign before it."""

    sign: str
    role: MarkRole


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
        _draw(marks, extent_of(drawn, frame), "crop", MarkRole.CROP)
    numbers = [number for number, _ in enumerate(marking.boxes) if number != marking.in_hand]
    for number in numbers if marking.in_hand is None else [*numbers, marking.in_hand]:
        is_in_hand = number == marking.in_hand
        kind = ("head" if number < len(marking.heads) else "keep") + (" in hand" if is_in_hand else "")
        role = MarkRole.IN_HAND if is_in_hand else MarkRole.BOX
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


_HALF = "▀"


class PhotoPicture(Widget):
    """Shows cells with marks over them, and tells where the mouse drew a box or pointed."""

    DEFAULT_CSS = """
    PhotoPicture > .picture--shades { color: $quiet; }
    PhotoPicture > .picture--crop { color: $foreground; background: $background; }
    PhotoPicture > .picture--box { color: $foreground; background: $background; }
    PhotoPicture > .picture--in-hand { color: $accent; background: $background; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {"picture--shades", *(f"picture--{role.value}" for role in MarkRole)}

    @dataclass
    class Resized(Message):
        """There is room for so many cells."""

        columns: int
        rows: int

    @dataclass
    class Spanned(Message):
        """The mouse went from one cell to another, each a column and a row; `is_over` once its button is up."""

        one: tuple[int, int]
        other: tuple[int, int]
        is_over: bool

    def __init__(self) -> None:
        super().__init__()
        self._cells: Cells = ()
        self._marks: Marks = {}
        self._in_shades = False
        self._base: dict[int, list[Segment]] = {}
        self._strips: dict[int, Strip] = {}
        self._shades: tuple[str, ...] | None = None
        self._pressed: tuple[int, int] | None = None

    def show_photo(self, cells: Cells, *, in_shades: bool) -> None:
        """Show other cells; with `in_shades` by signs of brightness instead of colours."""
        self._cells, self._in_shades = cells, in_shades
        self._forget()
        self.refresh()

    def show_marks(self, marks: Marks) -> None:
        """Show other marks."""
        before, self._marks = self._marks, marks
        changed = [row for row in before.keys() | marks.keys() if before.get(row) != marks.get(row)]
        for row in changed:
            self._strips.pop(row, None)
        if changed:
            self.refresh(*(Region(0, row, self.size.width, 1) for row in changed))

    def notify_style_update(self) -> None:
        self._forget()
        super().notify_style_update()

    def on_resize(self) -> None:
        self._strips = {}
        self.post_message(self.Resized(self.size.width, self.size.height))

    def on_mouse_down(self, event: events.MouseDown) -> None:
        at = event.x, event.y
        if self._is_inside(at):
            self._pressed = at
            self.capture_mouse()

    def on_mouse_move(self, event: events.MouseMove) -> None:
        if self._pressed is not None:
            self.post_message(self.Spanned(self._pressed, self._nearest(event.x, event.y), is_over=False))

    def on_mouse_up(self, event: events.MouseUp) -> None:
        if self._pressed is not None:
            pressed, self._pressed = self._pressed, None
            self.release_mouse()
            self.post_message(self.Spanned(pressed, self._nearest(event.x, event.y), is_over=True))

    def render_line(self, y: int) -> Strip:
        strip = self._strips.get(y)
        if strip is None:
            strip = self._strips[y] = self._drawn(y)
        return strip

    def _drawn(self, y: int) -> Strip:
        ground = self.rich_style
        base, marks = self._base_of(y), self._marks.get(y)
        if marks:
            signs = {column: Segment(mark.sign, self._style_of(mark)) for column, mark in marks.items()}
            width = max(len(base), max(signs) + 1)
            base = [*base, *[Segment(" ", ground)] * (width - len(base))]
            base = [signs.get(column, segment) for column, segment in enumerate(base)]
        return Strip(base).adjust_cell_length(self.size.width, ground).simplify()

    def _style_of(self, mark: Mark) -> Style:
        return self.get_component_rich_style(f"picture--{mark.role.value}")

    def _base_of(self, y: int) -> list[Segment]:
        if y not in self._base:
            self._base[y] = self._signs(y) if self._in_shades else self._colours(y)
        return self._base[y]

    def _colours(self, y: int) -> list[Segment]:
        row = self._cells[y] if y < len(self._cells) else ()
        return [
            Segment(_HALF, Style(color=Color.from_rgb(*upper), bgcolor=Color.from_rgb(*lower))) for upper, lower in row
        ]

    def _signs(self, y: int) -> list[Segment]:
        if self._shades is None:
            self._shades = shades_of(self._cells, is_light=not self.app.current_theme.dark)
        style = self.get_component_rich_style("picture--shades")
        return [Segment(sign, style) for sign in self._shades[y]] if y < len(self._shades) else []

    def _is_inside(self, at: tuple[int, int]) -> bool:
        column, row = at
        return row < len(self._cells) and column < len(self._cells[row])

    def _nearest(self, column: int, row: int) -> tuple[int, int]:
        row = min(max(row, 0), len(self._cells) - 1)
        return min(max(column, 0), len(self._cells[row]) - 1), row

    def _forget(self) -> None:
        self._base, self._strips, self._shades = {}, {}, None
