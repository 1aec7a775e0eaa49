"""The board of the Plan: as that of the Easel, but the row in hand is marked over its whole width."""

from typing import Final

from textual.geometry import Region
from textual.strip import Strip

from coach.screens.easel.board import EaselBoard
from coach.screens.easel.view import Line

_MOST_KNOWN: Final = 1000


class PlanBoard(EaselBoard):
    """Shows lines of which one is reversed from edge to edge, so that a changed line is redrawn whole.

    A line that only moves up or down is not drawn anew.
    """

    def __init__(self) -> None:
        super().__init__()
        self._known: dict[Line, Strip] = {}
        self._known_width_cells = 0

    def notify_style_update(self) -> None:
        self._known = {}
        super().notify_style_update()

    def _changed(self, y: int, old: Line, new: Line) -> Region:  # noqa: ARG002  the mark reaches beyond both
        return Region(0, y, self.size.width, 1)

    def _drawn(self, y: int) -> Strip:
        if y >= len(self._view):
            return super()._drawn(y)
        if self._known_width_cells != self.size.width or len(self._known) >= _MOST_KNOWN:
            self._known, self._known_width_cells = {}, self.size.width
        line = self._view[y]
        if line not in self._known:
            self._known[line] = super()._drawn(y)
        return self._known[line]
