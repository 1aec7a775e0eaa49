"""The fairness of what was painted: the review in sentences, and the picture of who led when."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from coach.errors import CoachError
from coach.review.fairness.from_painted import runs_painted
from coach.screens.keys import key_labels
from coach.screens.log.fairness_picture import fairness_picture
from coach.session.journal_state import TurnRecord


class FairnessScreen(Screen[None]):
    """Shows whether the canvases were treated alike in these turns."""

    CSS_PATH = "fairness_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,b", "app.pop_screen", "log", tooltip="Back to the log", id="fairness.back"),
    ]

    @dataclass
    class Reviewed(Message):
        """The review is made: its sentences, the most important first."""

        sentences: tuple[str, ...]

    def __init__(self, turns: Sequence[TurnRecord], pass_name: str | None) -> None:
        super().__init__()
        self._runs = runs_painted(turns)
        self._names = tuple(dict.fromkeys(record.turn.canvas for record in turns))
        self._scope = f"pass: {pass_name or 'all'}"

    def compose(self) -> ComposeResult:
        yield Static(f"fairness · {self._scope}", id="scope", markup=False)
        with VerticalScroll():
            yield Static("the review is being made", id="review", markup=False)
            yield Static(id="picture", markup=False)
        keys = (*key_labels(self, self.app), ("arrows", "scroll"))
        yield Static("  ".join(f"{key} {label}" for key, label in keys), id="keys", markup=False)

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()
        self._review()

    @work(thread=True, exclusive=True, group="review")
    def _review(self) -> None:
        from coach.review.fairness.told import fairness_told  # noqa: PLC0415  numpy is loaded for it

        try:
            sentences = fairness_told(self._runs).sentences
        except CoachError as error:
            sentences = (str(error),)
        self.post_message(self.Reviewed(sentences))

    def on_fairness_screen_reviewed(self, message: Reviewed) -> None:
        self.query_one("#review", Static).update("\n".join(message.sentences))

    def on_resize(self) -> None:
        columns = self.size.width - 5  # the scroll bar, a space on either side, and one for ambiguous widths
        self.query_one("#picture", Static).update("\n".join(fairness_picture(self._runs, self._names, columns)))
