"""A picture in half blocks, or in signs of brightness where there are too few colours, with signs over it.

A cell shows two dots of the picture, one above the other. Only lines that change are redrawn.
"""

from dataclasses import dataclass
from enum import Enum
from functools import lru_cache
from typing import TYPE_CHECKING, ClassVar, Final, NamedTuple

from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Dots = NDArray[np.uint8]

SHADES: Final = " ·░▒▓█"
"""Signs of brightness on a dark ground, the darkest first; on a light ground they run the other way round."""

_HALF: Final = "▀"
_MOST_STYLES: Final = 2**14


class MarkRole(Enum):
    """What a sign belongs to."""

    PLAIN = "plain"
    IN_HAND = "in-hand"


class Mark(NamedTuple):
    """A sign on the picture; an empty one is the second half of a wide sign before it."""

    sign: str
    role: MarkRole


Marks = dict[int, dict[int, Mark]]
"""Signs by row and column."""


def shades_of(dots: "Dots", *, is_light: bool) -> tuple[str, ...]:
    """Return rows of signs of brightness, stretched from the darkest to the brightest cell there is.

    Args:
        dots: sRGB of the dots, shape (2 x rows, columns, 3).
        is_light: Whether the ground is light.
    """
    from coach.shapes.dots import values_of  # noqa: PLC0415  loaded with the first picture

    values = values_of(dots)
    levels = (values[::2] + values[1::2]) / 2
    darkest = levels.min(initial=10)
    span = (levels.max(initial=0) - darkest) or 1.0
    signs = SHADES[::-1] if is_light else SHADES
    places = ((levels - darkest) / span * (len(signs) - 1)).round().astype(int)
    return tuple("".join(signs[place] for place in row) for row in places.tolist())


class HalfBlocks(Widget):
    """Shows dots with signs over them, and tells where the mouse pointed or what it spanned."""

    ALLOW_SELECT = False
    DEFAULT_CSS = """
    HalfBlocks > .half-blocks--shades { color: $quiet; }
    HalfBlocks > .half-blocks--plain { color: $foreground; background: $background; }
    HalfBlocks > .half-blocks--in-hand { color: $accent; background: $background; text-style: bold; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "half-blocks--shades",
        *(f"half-blocks--{role.value}" for role in MarkRole),
    }

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

    @dataclass
    class Wheeled(Message):
        """The wheel was turned over a cell, a column and a row; `is_up` away from the painter."""

        at: tuple[int, int]
        is_up: bool

    def __init__(self) -> None:
        super().__init__()
        self._dots: Dots | None = None
        self._marks: Marks = {}
        self._base: dict[int, list[Segment]] = {}
        self._strips: dict[int, Strip] = {}
        self._shades: tuple[str, ...] | None = None
        self._pressed: tuple[int, int] | None = None

    @property
    def rows(self) -> int:
        """How many rows of cells the picture takes; 0 where there is none."""
        return 0 if self._dots is None else len(self._dots) // 2

    @property
    def columns(self) -> int:
        """How many cells a row of it has."""
        return 0 if self._dots is None else self._dots.shape[1]

    def show_dots(self, dots: "Dots | None") -> None:
        """Show another picture: sRGB of its dots, shape (2 x rows, columns, 3); None for none.

        Of one as large as before only the rows that differ are drawn.
        """
        before, self._dots = self._dots, dots
        if before is None or dots is None or before.shape != dots.shape or self._shades is not None:
            self._forget()
            self.refresh()
            return
        changed = (before != dots).reshape(self.rows, -1).any(axis=1).nonzero()[0].tolist()
        for row in changed:
            self._base.pop(row, None)
            self._strips.pop(row, None)
        if changed:
            self.refresh(*(Region(0, row, self.size.width, 1) for row in changed))

    def show_marks(self, marks: Marks) -> None:
        """Show other signs."""
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
        if event.x < self.columns and event.y < self.rows:
            self._pressed = event.x, event.y
            self.capture_mouse()

    def on_mouse_move(self, event: events.MouseMove) -> None:
        if self._pressed is not None:
            self.post_message(self.Spanned(self._pressed, self._nearest(event.x, event.y), is_over=False))

    def on_mouse_up(self, event: events.MouseUp) -> None:
        if self._pressed is not None:
            pressed, self._pressed = self._pressed, None
            self.release_mouse()
            self.post_message(self.Spanned(pressed, self._nearest(event.x, event.y), is_over=True))

    def on_mouse_scroll_up(self, event: events.MouseScrollUp) -> None:
        self.post_message(self.Wheeled(self._nearest(event.x, event.y), is_up=True))

    def on_mouse_scroll_down(self, event: events.MouseScrollDown) -> None:
        self.post_message(self.Wheeled(self._nearest(event.x, event.y), is_up=False))

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
        return self.get_component_rich_style(f"half-blocks--{mark.role.value}")

    def _base_of(self, y: int) -> list[Segment]:
        if y not in self._base:
            self._base[y] = self._row(y) if y < self.rows else []
        return self._base[y]

    def _row(self, y: int) -> list[Segment]:
        if self._dots is None:
            return []
        if self.app.console.color_system in ("256", "truecolor"):  # without colour the framework makes it grey
            upper, lower = self._dots[2 * y : 2 * y + 2].tolist()
            return [_cell((*one, *other)) for one, other in zip(upper, lower, strict=True)]
        if self._shades is None:
            self._shades = shades_of(self._dots, is_light=not self.app.current_theme.dark)
        style = self.get_component_rich_style("half-blocks--shades")
        return [Segment(sign, style) for sign in self._shades[y]]

    def _nearest(self, column: int, row: int) -> tuple[int, int]:
        return min(max(column, 0), self.columns - 1), min(max(row, 0), self.rows - 1)

    def _forget(self) -> None:
        self._base, self._strips, self._shades = {}, {}, None


@lru_cache(_MOST_STYLES)
def _cell(dots: tuple[int, ...]) -> Segment:
    """Return a cell of the colours of its upper and its lower dot, three channels each."""
    lower = Color.from_rgb(*dots[3:])
    if dots[:3] == dots[3:]:
        return Segment(" ", Style(bgcolor=lower))
    return Segment(_HALF, Style(color=Color.from_rgb(*dots[:3]), bgcolor=lower))
