"""The Easel screen: shows the situation and reports what the painter did."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, ClassVar, Final

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.events import Key
from textual.message import Message
from textual.screen import Screen

from coach.screens.easel.view import ViewContext, easel_view
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import key_labels
from coach.session import moves
from coach.session.moves import MOST_NOTE, Move
from coach.session.situation import Situation

if TYPE_CHECKING:
    from textual.widgets import Input

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
}
"""Moves that ask for nothing."""

MOVES_OF_TEXT: Final[dict[str, Callable[[str], Move]]] = {
    "note": moves.noting,
    "woke": moves.waking,
    "minutes": moves.retiming,
}
"""Moves of a text that the field asked for."""


_FRAMED_FIELD_FROM_LINES = 30
"""A lower terminal has no lines to spare for a frame context the field."""

_FIELDS = {"note": "note", "woke": "woke at, such as 6:30", "minutes": "minutes really painted on the last turn"}
"""What the field can ask for."""

_FIELD_KEYS = {"n": "note", "k": "woke", "c": "minutes"}
"""The keys that open it."""


def _binding(keys: str, action: str, label: str, sentence: str, name: str) -> Binding:
    return Binding(keys, action, label, tooltip=sentence, id=f"easel.{name}")


def _told(keys: str, action: str, label: str, sentence: str, name: str) -> Binding:
    """Return a binding that the sentence it answers tells of; it has no place among the keys below."""
    return Binding(keys, action, label, tooltip=sentence, id=f"easel.{name}", show=False)


class EaselScreen(Screen[None]):
    """What to paint now, on which canvas, with what, for how long."""

    BLANK = True
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
        _told("k", "open_field('woke')", "woke", "Say when you woke", "woke"),
        _told("c", "open_field('minutes')", "correct", "Correct the minutes of the last turn", "minutes"),
        Binding("escape", "close_field", "Drop what is written", id="easel.drop", show=False),
    ]

    @dataclass
    class MoveMade(Message):
        """The painter pressed the key of a move."""

        name: str

    @dataclass
    class TextWritten(Message):
        """The painter finished what the field asked for."""

        field: str
        text: str

    def __init__(self) -> None:
        super().__init__()
        self._board = LineBoard()
        self._field: Input | None = None
        self._asked = ""

    def compose(self) -> ComposeResult:
        yield self._board

    def show(self, situation: Situation, remarks: tuple[str, ...]) -> None:
        """Show a situation with the remarks that go with it."""
        context = ViewContext(remarks=remarks, keys=self._keys)
        self._board.show(lambda columns, lines: easel_view(situation, context, columns, lines))

    @cached_property
    def _keys(self) -> tuple[tuple[str, str], ...]:
        return key_labels(self, self.app)

    def action_move(self, name: str) -> None:
        self._keep_field()
        self.post_message(self.MoveMade(name))

    def prepare_field(self) -> "Input":
        """Return the field, mounted and out of sight; letters that come in one burst with its key find it running."""
        from textual.widgets import Input  # noqa: PLC0415  loaded behind the first screen

        if self._field is None:
            self._field = Input(max_length=MOST_NOTE)
            self._field.display = self._field.can_focus = False
            self.on_resize()
            self.mount(self._field)
        return self._field

    def action_open_field(self, asked: str) -> None:
        if not self._asked:
            self._asked = asked
            field = self.prepare_field()
            field.placeholder = f"{_FIELDS[asked]}: Enter keeps it, Esc drops it"
            field.display = field.can_focus = True
            self.set_focus(field)  # at once: a letter typed meanwhile must not be read as a move

    def on_key(self, event: Key) -> None:
        """Take the keys of a field in the order they were pressed.

        What comes in one burst with the key that opens it reaches the screen before the field has the focus.
        """
        if not self._asked:
            asked = _FIELD_KEYS.get(event.key)
            if asked is None:
                return
            self.action_open_field(asked)
        elif not self._write_in_field(event):
            return
        event.stop()
        event.prevent_default()

    def _write_in_field(self, event: Key) -> bool:
        """Return whether a key that reached the screen while the field is open belongs to the field."""
        field = self.prepare_field()
        if event.is_printable and event.character:
            field.insert_text_at_cursor(event.character)
        elif event.key == "backspace":
            field.action_delete_left()
        elif event.key == "enter":
            self._keep_field()
        elif event.key == "escape":
            self.action_close_field()
        else:
            return False
        return True

    def action_close_field(self) -> None:
        if self._field is not None and self._asked:
            self._asked = ""
            self.set_focus(None)
            self._field.value = ""
            self._field.display = self._field.can_focus = False

    def on_resize(self) -> None:
        if self._field is not None:
            self._field.compact = self.app.size.height < _FRAMED_FIELD_FROM_LINES

    def on_input_submitted(self) -> None:
        self._keep_field()

    def _keep_field(self) -> None:
        """Keep what stands in an open field, so that a pedal pressed meanwhile loses nothing."""
        if self._field is not None and self._asked:
            asked, text = self._asked, self._field.value
            self.action_close_field()
            if text.strip():
                self.post_message(self.TextWritten(asked, text))
