"""Chooses one of several plans before the easel opens."""

from typing import ClassVar

from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.widgets import OptionList, Static

from coach.screens.theme import STUDIO_DARK


class ChooserApp(App[int]):
    """Shows names of plans and returns the number of the chosen one, or None."""

    CSS = "OptionList { height: 1fr; }"
    ENABLE_COMMAND_PALETTE = False
    BINDINGS: ClassVar[list[BindingType]] = [Binding("q,escape", "quit", "quit", id="chooser.quit")]

    def __init__(self, names: list[str]) -> None:
        """Offer these names."""
        super().__init__()
        self._names = names
        self.register_theme(STUDIO_DARK)
        self.theme = STUDIO_DARK.name

    def compose(self) -> ComposeResult:
        yield Static("Which commission? Up and Down choose, Enter opens, q leaves.", markup=False)
        yield OptionList(*self._names, markup=False)

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        self.exit(message.option_index)
