"""Asks which of a few things is meant: the answer is taken by Enter or by a click."""

from collections.abc import Awaitable, Callable, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.screen import Screen

from coach.screens.chips import chip
from coach.screens.key_path import KeyPathApp
from coach.screens.lines import BLANK, Line, Look, Piece, Role, fitted
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import ChipRow, bindings
from coach.text import cells, first_shown, padded

_HEAD_LINES = 2
_DIGITS = 9


class ChoiceScreen(Screen[None]):
    """Shows choices, each with what stands there now."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("choice")

    def __init__(
        self, asks: str, choices: Sequence[tuple[str, str]], take: Callable[[int], Awaitable[None]], chosen: int = 0
    ) -> None:
        """Ask.

        Args:
            asks: The question.
            choices: Each with what stands there now, which may be empty.
            take: Takes the number of the answer; the screen is gone by then.
            chosen: Number of the one that is chosen at first.
        """
        super().__init__()
        self._asks, self._choices, self._take = asks, choices, take
        self._chosen = chosen
        self._board = LineBoard()

    def compose(self) -> ComposeResult:
        yield self._board
        yield ChipRow(chip("choice.use"), chip("choice.back"))

    def on_mount(self) -> None:
        self._show()

    def action_choose(self, by: int) -> None:
        self._chosen = max(0, min(self._chosen + by, len(self._choices) - 1))
        self._show()

    async def action_use(self, number: int = -1) -> None:
        await self.app.pop_screen()
        await self._take(number if number >= 0 else self._chosen)

    async def action_use_number(self) -> None:
        """Take the choice whose number was pressed."""
        number = int(self.app.pressed) - 1 if isinstance(self.app, KeyPathApp) else 0
        if number < len(self._choices):
            await self.action_use(number)

    def _show(self) -> None:
        asks, choices, chosen = self._asks, self._choices, self._chosen
        self._board.show(lambda columns, lines: choice_view(asks, choices, chosen, columns, lines))


def choice_view(
    asks: str, choices: Sequence[tuple[str, str]], chosen: int, columns: int, lines: int
) -> tuple[Line, ...]:
    """Return the question and the choices, at most `lines` lines, with the chosen one in view."""
    wide = max(cells(name) for name, _ in choices)
    rows = [
        f" {number if number <= _DIGITS else ' '}  {padded(name, wide)}   {now}".rstrip() + " "
        for number, (name, now) in enumerate(choices, start=1)
    ]
    head = (fitted(Line(asks, Role.CANVAS), columns), BLANK)
    room = max(1, lines - _HEAD_LINES)
    first = first_shown(chosen, len(rows), room)
    shown = [
        fitted(
            Line(
                row,
                Role.DETAIL,
                (Piece(0, len(row), Look.CHOSEN if number == chosen else Look.PLAIN, f"use({number})"),),
            ),
            columns,
        )
        for number, row in enumerate(rows[first : first + room], start=first)
    ]
    return (*head, *shown)[:lines]
