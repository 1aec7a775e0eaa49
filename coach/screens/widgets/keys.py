"""The bindings of a screen, made from the table of keys, and the row of chips below it."""

from textual.binding import Binding, BindingType

from coach.screens.chips import Chip, chip_line
from coach.screens.key_table import KEYS
from coach.screens.lines import Line
from coach.screens.widgets.board import LineBoard


def bindings(screen: str) -> list[BindingType]:
    """Return the bindings of a screen of the table."""
    return [
        Binding(use.keys, use.action, use.label, tooltip=use.says, id=f"{screen}.{use.name}") for use in KEYS[screen]
    ]


class ChipRow(LineBoard):
    """One line of chips, below everything else."""

    DEFAULT_CSS = """
    ChipRow { height: 1; }
    """

    def __init__(self, *chips: Chip) -> None:
        """Show chips."""
        super().__init__()
        self.show_chips(*chips)

    def show_chips(self, *chips: Chip) -> None:
        """Show other chips."""

        def lines(columns: int, _: int) -> tuple[Line, ...]:
            return (chip_line(chips, columns),)

        self.show(lines)
