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

from coach.screens.lines import BLANK, Line, Piece, Role

_MARGIN_CELLS = 1
_ACTION = "action"
_NARROW = re.compile("[ -\u02ff\u2013-\u2026\u2190-\u259f]*")
"""Characters that are one cell wide everywhere: Latin, dashes and quotes, arrows, block elements."""


_REVERSED = Style(reverse=True)


@lru_cache(maxsize=256)
def _piece_style(piece: Piece, *, is_inverted: bool) -> Style:
    style = Style.parse(piece.look.value)
    if is_inverted and (style.reverse or piece.ground):
        style += Style(reverse=False)
    if piece.ground:
        style += Style(bgcolor=piece.ground)
    return style + (Style.from_meta({_ACTION: piece.action}) if piece.action else Style.null())


class LineBoard(Widget):
    """Shows the lines of the Easel; text is drawn as it is, never read as markup."""

    DEFAULT_CSS = """
    LineBoard { width: 1fr; height: 1fr; }
    LineBoard > .board--head { color: $quiet; }
    LineBoard > .board--canvas { color: $foreground; text-style: bold; }
    LineBoard > .board--passage { color: $foreground; }
    LineBoard > .board--time { color: $time; }
    LineBoard > .board--detail { color: $foreground; }
    LineBoard > .board--notice { color: $foreground; text-style: bold; }
    LineBoard > .board--keys { color: $foreground; }
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
        before, after = old.text, new.text
        if old._replace(text=after) != new or not (_NARROW.fullmatch(before) and _NARROW.fullmatch(after)):
            return Region(0, y, self.size.width, 1)
        differing = [x for x, (one, other) in enumerate(zip(before, after, strict=False)) if one != other]
        start = differing[0] if differing else min(len(before), len(after))
        end = differing[-1] + 1 if len(before) == len(after) else max(len(before), len(after))
        return Region(start + _MARGIN_CELLS, y, min(self.size.width - _MARGIN_CELLS, end) - start, 1)

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
        style = self._style_of(Role.DETAIL) + _REVERSED if line.is_inverted else self._style_of(line.role)
        segments, at = [Segment(" " * _MARGIN_CELLS, style)], 0
        for piece in line.pieces:
            look = _piece_style(piece._replace(start=0, end=0), is_inverted=line.is_inverted)
            segments += [
                Segment(line.text[at : piece.start], style),
                Segment(line.text[piece.start : piece.end], style + look),
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
