"""Chooses one of several plans before the easel opens, or a new commission."""

from collections.abc import Sequence
from typing import ClassVar, Final

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static

from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT

NEW: Final = -1
"""What is returned for a new commission."""


class ChooserApp(App[int]):
    """Shows names of plans and returns the number of the chosen one, `NEW`, or None."""

    CSS = "OptionList { height: 1fr; }"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "begin", "new commission", id="chooser.new"),
        Binding("q,escape", "quit", "quit", id="chooser.quit"),
    ]

    def __init__(self, names: Sequence[str], *, light: bool = False) -> None:
        """Offer these names; where there is none, a new commission only."""
        super().__init__()
        self._names = names
        self.register_theme(STUDIO_DARK)
        self.register_theme(STUDIO_LIGHT)
        self.theme = STUDIO_LIGHT.name if light else STUDIO_DARK.name

    def compose(self) -> ComposeResult:
        if self._names:
            asks = "Which commission? Up and Down choose, Enter opens, n begins a new commission, q leaves."
        else:
            asks = "There is no plan in this folder yet. Enter or n begins a new commission, q leaves."
        yield Static(asks, markup=False)
        yield OptionList(*(self._names or ["new commission"]), markup=False)

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        self.exit(message.option_index if self._names else NEW)

    def action_begin(self) -> None:
        self.exit(NEW)
