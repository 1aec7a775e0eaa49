"""The hours behind the Log: what was kept, who had the tired hours, and the rules."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from rich import box
from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text
from textual import work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from coach.errors import CoachError
from coach.journal.events import Event
from coach.screens.keys import key_labels

if TYPE_CHECKING:
    from coach.review.hours.sections import Section


class HoursScreen(Screen[None]):
    """Shows the hours of the body that these events tell."""

    CSS_PATH = "hours_screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,h", "app.pop_screen", "log", tooltip="Back to the log", id="hours.back"),
    ]

    @dataclass
    class Told(Message):
        """The hours are added up, or a sentence says why not."""

        sections: "tuple[Section, ...]"
        fault: str = ""

    def __init__(self, events: Sequence[Event]) -> None:
        super().__init__()
        self._events = events

    def compose(self) -> ComposeResult:
        yield Static("hours of the whole work", id="scope", markup=False)
        with VerticalScroll():
            yield Static("the hours are being added up", id="hours", markup=False)
        keys = (*key_labels(self, self.app), ("arrows", "scroll"), ("End", "the rules"))
        yield Static("  ".join(f"{key} {label}" for key, label in keys), id="keys", markup=False)

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()
        self._tell()

    @work(thread=True, exclusive=True, group="hours")
    def _tell(self) -> None:
        from coach.review.hours.sections import hours_sections  # noqa: PLC0415  scipy is loaded for it
        from coach.review.hours.told import hours_told  # noqa: PLC0415

        try:
            told = self.Told(hours_sections(hours_told(self._events)))
        except CoachError as error:
            told = self.Told((), str(error))
        self.post_message(told)

    def on_hours_screen_told(self, message: Told) -> None:
        parts = [part for section in message.sections for part in _drawn(section)]
        self.query_one("#hours", Static).update(Group(*parts) if parts else Text(message.fault))


def _drawn(section: "Section") -> Iterator[RenderableType]:
    yield Text(section.title, style="bold")
    yield from map(Text, section.sentences)
    if section.table:
        yield _table(section)
    yield Text()


def _table(section: "Section") -> Table:
    head, *rows = section.table
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0))
    for number, name in enumerate(head):
        table.add_column(Text(name), justify="right" if number >= section.figures_from else "left", overflow="fold")
    for row in rows:
        table.add_row(*map(Text, row))
    return table
