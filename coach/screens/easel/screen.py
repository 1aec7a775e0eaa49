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
from coach.session.situation import Situation

_KEY_NAMES = {"space": "Space", "escape": "Esc"}


def _binding(keys: str, action: str, label: str, sentence: str, name: str) -> Binding:
    return Binding(keys, action, label, tooltip=sentence, id=f"easel.{name}")


class EaselScreen(Screen[None]):
    """What to paint now, on which canvas, with what, for how long."""

    BLANK = True
    BINDINGS: ClassVar[list[BindingType]] = [
        _binding("space,enter,pagedown,right", "move('go_on')", "on", "Go on", "go_on"),
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
        return tuple(
            (_KEY_NAMES.get(key := binding.key.split(",")[0], key), binding.description)
            for source in (self, self.app)
            for binding in source.BINDINGS
            if isinstance(binding, Binding) and binding.show
        )

    def action_move(self, name: str) -> None:
        self._keep_open_note()
        self.post_message(self.MoveMade(name))

    def action_open_note(self) -> None:
        from textual.widgets import Input  # noqa: PLC0415  loaded when the first note is written

        if self._note is None:
            self._note = Input(placeholder="a note on this turn; Enter keeps it, Esc drops it", max_length=500)
            self.mount(self._note)
            self._note.focus()

    def action_close_note(self) -> None:
        if self._note is not None:
            self._note.remove()
            self._note = None

    def on_input_submitted(self) -> None:
        self._keep_open_note()

    def _keep_open_note(self) -> None:
        """Keep what stands in an open note, so that a pedal pressed meanwhile loses nothing."""
        if self._note is not None:
            text = self._note.value
            self.action_close_note()
            if text.strip():
                self.post_message(self.NoteWritten(text))
