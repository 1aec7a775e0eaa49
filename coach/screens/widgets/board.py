"""Boards of lines: drawn as they are, never read as markup; clicked where they say so; redrawn where they changed."""

import re
from collections.abc import Callable
from functools import lru_cache
from typing import ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widget import Widget

from coach.screens.lines import BLANK, Line, Look, Role

_MARGIN_CELLS = 1
_ACTION = "action"
_NARROW = re.compile("[ -\u02ff\u2013-\u2026\u2190-\u259f]*")
"""Characters that are one cell wide everywhere: Latin, dashes and quotes, arrows, block elements."""


@lru_cache(maxsize=256)
def _piece_style(look: Look, action: str) -> Style:
    return Style.parse(look.value) + (Style.from_meta({_ACTION: action}) if action else Style.null())


class LineBoard(Widget):
    """Shows the lines of the Easel; text is drawn as it is, never read as markup."""

    DEFAULT_CSS = """
    LineBoard { width: 1fr; height: 1fr; }
    LineBoard > .board--head { color: $quiet; }
    LineBoard > .board--canvas { color: $foreground; text-style: bold; }
    LineBoard > .board--passage { color: $foreground; }
    LineBoard > .board--time { color: $time; }
    LineBoard > .board--detail { color: $foreground; }
    LineBoard > .board--notice { color: $warning; text-style: bold; }
    LineBoard > .board--keys { color: $quiet; }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {f"board--{role.value}" for role in Role}

    def __init__(self) -> None:
        super().__init__()
        self._make_view: Callable[[int, int], tuple[Line, ...]] = lambda _columns, _lines: ()
        self._view: tuple[Line, ...] = ()
        self._view_size = Size(0, 0)
        self._styles: dict[Role, Style] = {}
        self._strips: dict[int, Strip] = {}

    def notify_style_update(self) -> None:
        self._styles, self._strips = {}, {}
        super().notify_style_update()

    def on_click(self, event: events.Click) -> None:
        """Run what was clicked where keys are dealt with, so that keys and clicks keep their order."""
        action = event.style.meta.get(_ACTION)
        if action:
            self.app.call_later(self.app.run_action, action, self.screen)

    def show(self, make_view: Callable[[int, int], tuple[Line, ...]]) -> None:
        """Show what `make_view` makes of columns and lines; redraw the lines that differ."""
        self._make_view = make_view
        before = self._view
        self._take_view()
        now = self._view
        if len(before) != len(now):
            self.refresh()
            return
        changed = [(y, old, new) for y, (old, new) in enumerate(zip(before, now, strict=True)) if old != new]
        if changed:
            self.refresh(*(self._changed(y, old, new) for y, old, new in changed))

    def _take_view(self) -> None:
        before, size_before = self._view, self._view_size
        self._view_size = self.size
        columns = max(0, self.size.width - 2 * _MARGIN_CELLS)
        self._view = self._make_view(columns, self.size.height) if columns else ()
        if size_before != self.size or len(before) != len(self._view):
            self._strips = {}
        for y, (old, new) in enumerate(zip(before, self._view, strict=False)):
            if old != new:
                self._strips.pop(y, None)

    def _changed(self, y: int, old: Line, new: Line) -> Region:
        """Return the cells of line `y` that may differ; the whole line where characters and cells disagree."""
        width = self.size.width
        if _NARROW.fullmatch(old.text) and _NARROW.fullmatch(new.text):
            width = min(width, max(len(old.text), len(new.text)) + _MARGIN_CELLS)
        return Region(0, y, width, 1)

    def render_lines(self, crop: Region) -> list[Strip]:
        """Return the cells of a region; the board has no border, so no other layer is drawn."""
        if self._view_size != self.size:  # drawn before it is told of its size, so that the first screen is whole
            self._take_view()
        left, right = crop.x, crop.right
        return [self._strip(y).crop(left, right) for y in range(crop.y, crop.bottom)]

    def _strip(self, y: int) -> Strip:
        strip = self._strips.get(y)
        if strip is None:
            strip = self._strips[y] = self._drawn(y)
        return strip

    def _drawn(self, y: int) -> Strip:
        line = self._view[y] if y < len(self._view) else BLANK
        style = self._style_of(line.role)
        segments, at = [Segment(" " * _MARGIN_CELLS, style)], 0
        for piece in line.pieces:
            segments += [
                Segment(line.text[at : piece.start], style),
                Segment(line.text[piece.start : piece.end], style + _piece_style(piece.look, piece.action)),
            ]
            at = piece.end
        segments.append(Segment(line.text[at:], style))
        return Strip([one for one in segments if one.text]).adjust_cell_length(self.size.width, style)

    def _style_of(self, role: Role) -> Style:
        style = self._styles.get(role)
        if style is None:
            style = self._styles[role] = self._filtered(self.get_component_rich_style(f"board--{role.value}"))
        return style

    def _filtered(self, style: Style) -> Style:
        """Return the style as the terminal may show it: without colour where NO_COLOR is set."""
        segments = [Segment(" ", style)]
        for line_filter in self.get_line_filters():
            segments = line_filter.apply(segments, self.background_colors[1])
        return segments[0].style or style


class MarkedRowBoard(LineBoard):
    """Shows lines of which one is reversed from edge to edge, so that a changed line is redrawn whole."""

    def _changed(self, y: int, old: Line, new: Line) -> Region:  # noqa: ARG002  the mark reaches beyond both
        return Region(0, y, self.size.width, 1)
