"""The hours behind the Log: what was kept, who had the tired hours, and the rules."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar, Final

from rich import box
from rich.cells import cell_len
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


_LEAST_TEXT: Final = 20
"""Cells below which a column of text is not worth its place."""

_GAP: Final = 2
"""Cells between two columns of a table."""


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
        self._told: HoursScreen.Told | None = None

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
        from coach.review.hours.report import hours_report  # noqa: PLC0415
        from coach.review.hours.sections import hours_sections  # noqa: PLC0415  scipy is loaded for it

        try:
            told = self.Told(hours_sections(hours_report(self._events)))
        except CoachError as error:
            told = self.Told((), str(error))
        self.post_message(told)

    def on_hours_screen_told(self, message: Told) -> None:
        self._told = message
        self._show(message)

    def on_resize(self) -> None:
        if self._told is not None:
            self._show(self._told)

    def _show(self, told: Told) -> None:
        columns = self.size.width - 4  # the scroll bar, and a space on either side
        parts = [part for section in told.sections for part in _drawn(section, columns)]
        self.query_one("#hours", Static).update(Group(*parts) if parts else Text(told.fault))


def _drawn(section: "Section", columns: int) -> Iterator[RenderableType]:
    yield Text(section.title, style="bold")
    yield from map(Text, section.sentences)
    if _has_room(section, columns):
        yield _table(section)
    else:
        yield from map(Text, section.rows_in_words)
    yield Text()


def _has_room(section: "Section", columns: int) -> bool:
    """Return whether the columns of figures fit side by side; a last column of text may be folded."""
    if not section.table:
        return False
    widths = [max(map(cell_len, column)) for column in zip(*section.table, strict=True)]
    is_text_last = section.figures_from == len(widths)
    needed = sum(widths[:-1]) + (_LEAST_TEXT if is_text_last else widths[-1])
    return needed + _GAP * (len(widths) - 1) <= columns


def _table(section: "Section") -> Table:
    head, *rows = section.table
    table = Table(box=box.SIMPLE_HEAD, show_edge=False, pad_edge=False, padding=(0, 1, 0, 0))
    for number, name in enumerate(head):
        table.add_column(Text(name), justify="right" if number >= section.figures_from else "left", overflow="fold")
    for row in rows:
        table.add_row(*map(Text, row))
    return table
