"""The picture: a photo in half blocks or in signs of brightness, with boxes over it; redraws only lines that change."""

from dataclasses import dataclass
from typing import ClassVar

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from coach.screens.composition.marks import Cells, Mark, Marks, Role, shades_of

_HALF = "▀"


class Picture(Widget):
    """Shows cells with marks over them, and tells where the mouse drew a box or pointed."""

    DEFAULT_CSS = """
    Picture > .picture--shades { color: $quiet; }
    Picture > .picture--crop { color: $foreground; background: $background; }
    Picture > .picture--box { color: $foreground; background: $background; }
    Picture > .picture--in-hand { color: $accent; background: $background; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {"picture--shades", *(f"picture--{role.value}" for role in Role)}

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
