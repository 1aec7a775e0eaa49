"""The Easel screen: shows the situation and reports what the painter did."""

from collections.abc import Callable
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import BindingType

from coach.screens.easel.asks import Ask, asks_of
from coach.screens.easel.view import ViewContext, easel_view
from coach.screens.key_path import FieldPlace, FieldScreen
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import bindings
from coach.session import moves
from coach.session.moves import MOST_NOTE, Move
from coach.session.situation import Situation

MOVES: Final[dict[str, Move]] = {
    "go_on": moves.go_on,
    "go_other_way": moves.go_other_way,
    "pause": moves.pause,
    "rest": moves.rest,
    "mark": moves.mark,
    "skip": moves.skip,
    "undo": moves.undo,
    "count_away_as_work": moves.count_away_as_work,
    "end_session": moves.end_session,
    "work_ten_more": moves.work_ten_more,
    "silence_today": moves.silence_today,
    "find_dry": moves.find_dry,
    "find_wet": moves.find_wet,
    "take_dry_run": moves.take_dry_run,
}
"""Moves that ask for nothing."""

MOVES_OF_TEXT: Final[dict[str, Callable[[str], Move]]] = {
    "note": moves.noting,
    "minutes": moves.retiming,
}
"""Moves of a text that the field asked for."""


_FIELDS = {"note": "note", "minutes": "minutes really painted on the last turn"}
"""What the field can ask for."""


class EaselScreen(FieldScreen):
    """What to paint now, on which canvas, with what, for how long."""

    BLANK = True
    DRAFT: ClassVar[str] = "note"
    BINDINGS: ClassVar[list[BindingType]] = bindings("easel")

    def __init__(self, make: Callable[[Move], bool], begun_note: Callable[[], str]) -> None:
        """Show nothing yet.

        Args:
            make: Records a move and returns whether it is recorded. It is called, and no message sent, so that no key
                comes upon an easel that is not true any more.
            begun_note: Returns the note that an earlier opening left unfinished; empty for none.
        """
        super().__init__()
        self._make = make
        self._board = LineBoard()
        self._asked = ""
        self._asks: tuple[Ask, ...] = ()
        self._dismissed: set[str] = set()
        self._begun_note = begun_note
        self._last: tuple[Situation, tuple[str, ...]]

    def compose(self) -> ComposeResult:
        yield self._board
        yield FieldPlace()

    def show(self, situation: Situation, remarks: tuple[str, ...]) -> None:
        """Show a situation with the remarks that go with it."""
        self._last = (situation, remarks)
        self._asks = tuple(ask for ask in asks_of(situation) if ask.notice.says not in self._dismissed)
        context = ViewContext(remarks=remarks, notices=tuple(ask.notice for ask in self._asks))
        self._board.show(lambda columns, lines: easel_view(situation, context, columns, lines))

    async def action_answer(self, is_yes: bool) -> None:
        """Answer the notice that is shown; where there is none, Enter goes on and Esc closes a field."""
        if self.field is not None:
            await (self.finish_field() if is_yes else self.close_field())
            return
        if not self._asks:
            if is_yes:
                await self.action_move("go_on")
            return
        ask = self._asks[0]
        move = ask.yes if is_yes else ask.no
        if move == "minutes":
            await self.action_open_field(move)
        elif move:
            self._make(MOVES[move])
        elif is_yes and not ask.notice.yes:
            await self.action_move("go_on")
        else:
            self._dismissed.add(ask.notice.says)
            self.show(*self._last)

    async def action_move(self, name: str) -> None:
        await self.finish_field()  # a pedal pressed meanwhile loses nothing
        self._make(MOVES[name])

    async def action_open_field(self, asked: str) -> None:
        if self.field is None:
            self._asked = asked
            text = self._begun_note() if asked == "note" else ""
            await self.open_field(f"{_FIELDS[asked]}: Enter keeps it, Esc drops it", text=text, most=MOST_NOTE)

    async def finish_field(self) -> None:
        """Keep what stands in an open field; what is refused, such as by a full disk, stays in it."""
        if self.field is not None:
            text = self.field.value
            if not text.strip() or self._make(MOVES_OF_TEXT[self._asked](text)):
                await self.close_field()

    def unsaved(self) -> str:
        return "a note is not finished" if self.draft() else ""

    async def save(self) -> bool:
        await self.finish_field()
        return self.field is None

    def drop(self) -> None:
        if self.field is not None:
            self.field.value = ""

    def draft(self) -> str | None:
        text = self.field.value if self.field is not None and self._asked == "note" else ""
        return text if text.strip() else None

    def draft_text(self, draft: object) -> str:
        return str(draft)
