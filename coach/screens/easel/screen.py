"""The Easel screen: shows the situation and reports what the painter did."""

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.screen import Screen

if TYPE_CHECKING:
    from textual.widgets import Input

from coach.screens.easel.board import EaselBoard
from coach.screens.easel.view import Around, easel_view
from coach.screens.keys import key_labels
from coach.session.moves import MOST_NOTE
from coach.session.situation import Situation

_FRAMED_NOTE_FROM_LINES = 30
"""A lower terminal has no lines to spare for a frame around the note."""


def _binding(keys: str, action: str, label: str, sentence: str, name: str) -> Binding:
    return Binding(keys, action, label, tooltip=sentence, id=f"easel.{name}")


class EaselScreen(Screen[None]):
    """What to paint now, on which canvas, with what, for how long."""

    BLANK = True
    BINDINGS: ClassVar[list[BindingType]] = [
        _binding("space,enter,pagedown,right", "move('go_on')", "go on", "Go on", "go_on"),
        _binding("o", "move('go_other_way')", "other", "Start on the other canvas", "other"),
        _binding("p", "move('pause')", "pause", "Pause, or go on after a pause", "pause"),
        _binding("r", "move('rest')", "rest", "Begin a rest", "rest"),
        _binding("n", "open_note", "note", "Write a note on this turn", "note"),
        _binding("m", "move('mark')", "mark", "Mark this turn for return", "mark"),
        _binding("s", "move('skip')", "skip", "Skip this turn", "skip"),
        _binding("u", "move('undo')", "undo", "Undo the last move", "undo"),
        _binding("w", "move('count_away_as_work')", "was work", "Count the time away as work", "was_work"),
        _binding("e", "move('end_session')", "end", "End the session", "end"),
        Binding("escape", "close_note", "Drop the note", id="easel.drop_note", show=False),
    ]

    @dataclass
    class MoveMade(Message):
        """The painter pressed the key of a move."""

        name: str

    @dataclass
    class NoteWritten(Message):
        """The painter finished a note."""

        text: str

    def __init__(self) -> None:
        super().__init__()
        self._board = EaselBoard()
        self._note: Input | None = None

    def compose(self) -> ComposeResult:
        yield self._board

    def show(self, situation: Situation, remarks: tuple[str, ...]) -> None:
        """Show a situation with the remarks that go with it."""
        around = Around(remarks=remarks, keys=self._keys)
        self._board.show(lambda columns, lines: easel_view(situation, around, columns, lines))

    @cached_property
    def _keys(self) -> tuple[tuple[str, str], ...]:
        return key_labels(self, self.app)

    def action_move(self, name: str) -> None:
        self._keep_open_note()
        self.post_message(self.MoveMade(name))

    def action_open_note(self) -> None:
        from textual.widgets import Input  # noqa: PLC0415  loaded when the first note is written

        if self._note is None:
            self._note = Input(placeholder="note: Enter keeps it, Esc drops it", max_length=MOST_NOTE)
            self.on_resize()
            self.mount(self._note)
            self.set_focus(self._note)  # at once: a letter typed meanwhile must not be read as a move

    def action_close_note(self) -> None:
        if self._note is not None:
            self.set_focus(None)
            self._note.remove()
            self._note = None

    def on_resize(self) -> None:
        if self._note is not None:
            self._note.compact = self.app.size.height < _FRAMED_NOTE_FROM_LINES

    def on_input_submitted(self) -> None:
        self._keep_open_note()

    def _keep_open_note(self) -> None:
        """Keep what stands in an open note, so that a pedal pressed meanwhile loses nothing."""
        if self._note is not None:
            text = self._note.value
            self.action_close_note()
            if text.strip():
                self.post_message(self.NoteWritten(text))
