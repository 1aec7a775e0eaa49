"""Chooses one of several commissions before the easel opens, a new one, or the demo."""

from collections.abc import Callable, Sequence
from functools import partial
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.worker import get_current_worker

from coach.screens.chooser.view import CommissionCard, chooser_page, nothing_page
from coach.screens.key_path import KeyPathApp
from coach.screens.page import page_lines
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import bindings

NEW: Final = -1
"""What is returned for a new commission."""

DEMO: Final = -2
"""What is returned for the demo."""

_WITHOUT_A_PLAN: Final = (NEW, DEMO)

Reader = Callable[[int], CommissionCard]


class ChooserApp(KeyPathApp[int]):
    """Shows commissions and returns the number of the chosen one, `NEW`, `DEMO`, or None."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("chooser")

    def __init__(self, names: Sequence[str], *readers: Reader, light: bool = False) -> None:
        """Offer plans by their names; where there is none, a new commission and the demo.

        Args:
            names: Names of the plans.
            readers: Each returns what is known of a plan by its number, the later ones more and more slowly; they
                are called from a thread.
            light: Whether the ground is light.
        """
        super().__init__()
        self._cards = [CommissionCard(name) for name in names]
        self._readers = readers
        self._chosen = 0
        self._board = LineBoard()
        self.register_theme(STUDIO_DARK)
        self.register_theme(STUDIO_LIGHT)
        self.theme = STUDIO_LIGHT.name if light else STUDIO_DARK.name

    def compose(self) -> ComposeResult:
        yield self._board

    def on_mount(self) -> None:
        self._show()
        self.run_worker(self._read, thread=True)

    def _read(self) -> None:
        worker = get_current_worker()
        for read in self._readers:
            for number in range(len(self._cards)):
                if worker.is_cancelled:
                    return
                self.call_from_thread(partial(self._take, number, read(number)))

    def _take(self, number: int, card: CommissionCard) -> None:
        self._cards[number] = card
        self._show()

    def _show(self) -> None:
        cards, chosen = tuple(self._cards), self._chosen
        self._board.show(
            lambda columns, lines: page_lines(
                chooser_page(cards, chosen, columns, lines) if cards else nothing_page(chosen), columns, lines
            )
        )

    def action_choose(self, by: int) -> None:
        count = len(self._cards) or len(_WITHOUT_A_PLAN)
        self._chosen = max(0, min(self._chosen + by, count - 1))
        self._show()

    def action_row(self, number: int) -> None:
        """Choose the row that was clicked; open it where it was chosen."""
        if number == self._chosen:
            self.action_open()
        self._chosen = number
        self._show()

    def action_open(self) -> None:
        """Open the one that is chosen."""
        self.exit(self._chosen if self._cards else _WITHOUT_A_PLAN[self._chosen])

    def action_begin(self) -> None:
        self.exit(NEW)
