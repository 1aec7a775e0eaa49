"""The page behind `?`: what can be pressed now, each by its key, by Enter or by a click."""

from collections.abc import Sequence

from textual.app import ComposeResult

from coach.screens.chips import chip
from coach.screens.help.view import help_view
from coach.screens.key_path import PassingScreen
from coach.screens.key_table import KeyUse
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import ChipRow, bindings


class HelpScreen(PassingScreen):
    """Lists what can be pressed on the screen below; a key that is listed does there what it says."""

    BINDINGS = bindings("help")

    def __init__(self, uses: Sequence[KeyUse]) -> None:
        super().__init__()
        self._uses = uses
        self._chosen = 0
        self._board = LineBoard()

    def compose(self) -> ComposeResult:
        yield self._board
        yield ChipRow(chip("help.use"), chip("help.back"))

    def on_mount(self) -> None:
        self._show()

    def action_choose(self, by: int) -> None:
        self._chosen = max(0, min(self._chosen + by, len(self._uses) - 1))
        self._show()

    async def action_use(self, number: int = -1) -> None:
        """Go, and press a key on the screen below: the one of that number, or the chosen one."""
        use = self._uses[number if number >= 0 else self._chosen]
        await self.app.pop_screen()
        self.app.simulate_key(use.keys.split(",")[0])

    def _show(self) -> None:
        uses, chosen = self._uses, self._chosen
        self._board.show(lambda columns, lines: help_view(uses, chosen, columns, lines))
