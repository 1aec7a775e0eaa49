"""Asks about a new commission before the easel opens."""

from pathlib import Path
from typing import ClassVar

from textual.app import App
from textual.binding import Binding, BindingType
from textual.screen import Screen

from coach.composition.proposal.answers import Answers
from coach.screens.commission.screen import CommissionScreen, Desk
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT


class NewCommissionApp(App[Path]):
    """Returns where the plan was written, or None where the painter has left."""

    TITLE = "coach"
    CSS_PATH = "screen.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (100, "-wide")]  # noqa: RUF012  declared by the framework as it is
    VERTICAL_BREAKPOINTS = [(0, "-short"), (20, "-tall")]  # noqa: RUF012  declared by the framework as it is
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("ctrl+q", "quit", "leave", tooltip="Leave; what was said is kept", id="new.leave", priority=True),
    ]

    def __init__(self, desk: Desk, answers: Answers, *, light: bool) -> None:
        """Begin with these answers; each new one goes to the desk."""
        super().__init__()
        self._commission = CommissionScreen(desk, answers)
        self.register_theme(STUDIO_DARK)
        self.register_theme(STUDIO_LIGHT)
        self.theme = STUDIO_LIGHT.name if light else STUDIO_DARK.name

    def get_default_screen(self) -> Screen[None]:
        return self._commission

    def on_commission_screen_written(self, message: CommissionScreen.Written) -> None:
        self.exit(message.path)
