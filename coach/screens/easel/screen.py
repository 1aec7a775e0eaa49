"""The Easel screen: shows the situation and reports what the painter did."""

from collections.abc import Callable
from functools import cached_property
from typing import ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType

from coach.screens.easel.view import ViewContext, easel_view
from coach.screens.key_path import FieldPlace, FieldScreen
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import key_labels
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
    "woke": moves.waking,
    "minutes": moves.retiming,
}
"""Moves of a text that the field asked for."""


_FIELDS = {"note": "note", "woke": "woke at, such as 6:30", "minutes": "minutes really painted on the last turn"}
"""What the field can ask for."""


def _binding(keys: str, action: str, label: str, sentence: str, name: str) -> Binding:
    return Binding(keys, action, label, tooltip=sentence, id=f"easel.{name}")


def _told(keys: str, action: str, label: str, sentence: str, name: str) -> Binding:
    """Return a binding that the sentence it answers tells of; it has no place among the keys below."""
    return Binding(keys, action, label, tooltip=sentence, id=f"easel.{name}", show=False)


class EaselScreen(FieldScreen):
    """What to paint now, on which canvas, with what, for how long."""

    BLANK = True
    DRAFT: ClassVar[str] = "note"
    BINDINGS: ClassVar[list[BindingType]] = [
        _binding("space,enter,pagedown,right", "move('go_on')", "go on", "Go on", "go_on"),
        _binding("o", "move('go_other_way')", "other", "Start on the other canvas", "other"),
        _binding("p", "move('pause')", "pause", "Pause, or go on after a pause", "pause"),
        _binding("r", "move('rest')", "rest", "Begin a rest", "rest"),
        _binding("n", "open_field('note')", "note", "Write a note on this turn", "note"),
        _binding("m", "move('mark')", "mark", "Mark this turn for return", "mark"),
        _binding("s", "move('skip')", "skip", "Skip this turn", "skip"),
        _binding("u", "move('undo')", "undo", "Undo the last move", "undo"),
        _binding("w", "move('count_away_as_work')", "was work", "Count the time away as work", "was_work"),
        _binding("e", "move('end_session')", "end", "End the session", "end"),
        _told("t", "move('work_ten_more')", "ten more", "Put the rest ten minutes off", "ten_more"),
        _told("x", "move('silence_today')", "not today", "Let the limits that are passed be silent today", "not_today"),
        _told("y", "move('find_dry')", "dry", "Answer that it is dry to touch", "dry"),
        _told("z", "move('find_wet')", "still wet", "Answer that it is still wet", "still_wet"),
        _told("a", "move('take_dry_run')", "another", "Take another run while this one dries below", "dry_run"),
        _told("k", "open_field('woke')", "woke", "Say when you woke", "woke"),
        _told("c", "open_field('minutes')", "correct", "Correct the minutes of the last turn", "minutes"),
        Binding("escape", "close_field", "Drop what is written", id="easel.drop", show=False),
    ]

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
        self._begun_note = begun_note

    def compose(self) -> ComposeResult:
        yield self._board
        yield FieldPlace()

    def show(self, situation: Situation, remarks: tuple[str, ...]) -> None:
        """Show a situation with the remarks that go with it."""
        context = ViewContext(remarks=remarks, keys=self._keys)
        self._board.show(lambda columns, lines: easel_view(situation, context, columns, lines))

    @cached_property
    def _keys(self) -> tuple[tuple[str, str], ...]:
        return key_labels(self, self.app)

    async def action_move(self, name: str) -> None:
        await self.finish_field()  # a pedal pressed meanwhile loses nothing
        self._make(MOVES[name])

    async def action_open_field(self, asked: str) -> None:
        if self.field is None:
            self._asked = asked
            text = self._begun_note() if asked == "note" else ""
            await self.open_field(f"{_FIELDS[asked]}: Enter keeps it, Esc drops it", text=text, most=MOST_NOTE)

    async def action_close_field(self) -> None:
        await self.close_field()

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
