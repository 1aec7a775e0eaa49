"""Chooses one of several plans before the easel opens, or a new commission."""

from collections.abc import Sequence
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widgets import OptionList, Static

from coach.screens.chips import HELP, chip
from coach.screens.key_path import KeyPathApp
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.widgets.keys import ChipRow, bindings

NEW: Final = -1
"""What is returned for a new commission."""


class ChooserApp(KeyPathApp[int]):
    """Shows names of plans and returns the number of the chosen one, `NEW`, or None."""

    CSS = "OptionList { height: 1fr; }"
    BINDINGS: ClassVar[list[BindingType]] = bindings("chooser")

    def __init__(self, names: Sequence[str], *, light: bool = False) -> None:
        """Offer these names; where there is none, a new commission only."""
        super().__init__()
        self._names = names
        self.register_theme(STUDIO_DARK)
        self.register_theme(STUDIO_LIGHT)
        self.theme = STUDIO_LIGHT.name if light else STUDIO_DARK.name

    def compose(self) -> ComposeResult:
        asks = "Which commission?" if self._names else "There is no commission in this folder yet."
        yield Static(asks, markup=False)
        yield OptionList(*(self._names or ["new commission"]), markup=False)
        yield ChipRow(chip("chooser.open"), chip("chooser.add"), chip("chooser.quit"), HELP)

    def on_option_list_option_selected(self, message: OptionList.OptionSelected) -> None:
        self.exit(message.option_index if self._names else NEW)

    def action_open(self) -> None:
        """Open the one that is chosen; the list takes Enter by itself while it has the focus."""
        self.query_one(OptionList).action_select()

    def action_begin(self) -> None:
        self.exit(NEW)
