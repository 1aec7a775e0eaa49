"""The board of the Plan: as that of the Easel, but the row in hand is marked over its whole width."""

from textual.geometry import Region

from coach.screens.easel.board import EaselBoard
from coach.screens.easel.view import Line


class PlanBoard(EaselBoard):
    """Shows lines of which one is reversed from edge to edge, so that a changed line is redrawn whole."""

    def _changed(self, y: int, old: Line, new: Line) -> Region:  # noqa: ARG002  the mark reaches beyond both
        return Region(0, y, self.size.width, 1)
