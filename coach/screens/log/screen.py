"""The Log screen: what was painted, in the order it was painted."""

from dataclasses import dataclass
from typing import ClassVar, Final

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import DataTable, Static

from coach.review.log_table import COLUMNS, text_row, total_lines
from coach.review.painted import chosen
from coach.screens.widgets.keys import KeyLine, key_labels
from coach.session.journal_state import JournalState
from coach.session.records import TurnRecord

_SHOWN: Final = {
    "when": "when",
    "canvas": "canvas",
    "passages": "passages",
    "minutes": "min",
    "planned_minutes": "planned",
    "return": "return",
    "deviation": "deviation",
    "pass": "pass",
    "place": "place",
    "run": "run",
    "session": "session",
    "notes": "notes",
}
"""Columns in the order shown, the most useful first and the longest last, with short headings."""

HEADINGS: Final = tuple(_SHOWN.values())
"""Headings of the table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LogView:
    """Everything the Log shows.

    Attributes:
        scope: Which turns are shown, in words.
        rows: One row of texts a turn, in the order painted.
        totals: What they add up to, a sentence a line.
    """

    scope: str
    rows: tuple[tuple[str, ...], ...]
    totals: str


def log_view(painted: JournalState, pass_name: str | None, canvas: str | None) -> LogView:
    """Return the Log of one pass, one canvas, or (None) all of them."""
    turns = chosen(painted.turns, pass_name=pass_name, canvas=canvas)
    count = "1 turn" if len(turns) == 1 else f"{len(turns)} turns"
    scope = f"{count} · pass: {pass_name or 'all'} · canvas: {canvas or 'all'}"
    return LogView(
        scope=scope if painted.turns else "nothing is painted yet",
        rows=tuple(_row(record) for record in turns),
        totals="\n".join(total_lines(painted, turns)),
    )


def _row(record: TurnRecord) -> tuple[str, ...]:
    cells = dict(zip(COLUMNS, text_row(record), strict=True))
    return tuple(cells[name] for name in _SHOWN)


def following(names: tuple[str, ...], name: str | None) -> str | None:
    """Return the choice after `name` in a ring of None (all) and the names."""
    ring = (None, *names)
    return ring[(ring.index(name) + 1) % len(ring)]


class LogScreen(Screen[None]):
    """Shows the turns of a journal, all or of one pass and canvas, and their totals."""

    CSS_PATH = "screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "app.door('log')", "easel", tooltip="Back to the easel", id="log.back"),
        Binding("f", "next_pass", "next pass", tooltip="Show the next pass only", id="log.next_pass"),
        Binding("b", "show_fairness", "balance", tooltip="Show whether it was fair", id="log.fairness"),
        Binding("h", "show_hours", "hours", tooltip="Show the hours, rests and limits", id="log.hours"),
        Binding("c", "next_canvas", "next canvas", tooltip="Show the next canvas only", id="log.next_canvas"),
    ]

    def __init__(self, painted: JournalState) -> None:
        super().__init__()
        self._painted = painted
        self._passes = tuple(dict.fromkeys(record.turn.pass_name for record in painted.turns))
        self._canvases = tuple(dict.fromkeys(record.turn.canvas for record in painted.turns))
        self._pass_name: str | None = None
        self._canvas: str | None = None

    def compose(self) -> ComposeResult:
        yield Static(id="scope", markup=False)
        yield DataTable[Text](cursor_type="row", zebra_stripes=True)
        with VerticalScroll():
            yield Static(id="totals", markup=False)
        yield KeyLine(*key_labels(self, self.app), ("arrows", "scroll"), ("Tab", "totals"))

    def on_mount(self) -> None:
        table = self.query_one(DataTable)
        for heading in HEADINGS:
            table.add_column(Text(heading))
        self._show()

    def _show(self) -> None:
        view = log_view(self._painted, self._pass_name, self._canvas)
        self.query_one("#scope", Static).update(view.scope)
        self.query_one("#totals", Static).update(view.totals)
        table = self.query_one(DataTable)
        table.clear()
        table.add_rows([Text(cell) for cell in row] for row in view.rows)

    def action_next_pass(self) -> None:
        self._pass_name = following(self._passes, self._pass_name)
        self._show()

    def action_show_fairness(self) -> None:
        from coach.screens.log.pages import FairnessScreen  # noqa: PLC0415  loaded when it is asked for

        self.app.push_screen(FairnessScreen(self._painted, self._pass_name))

    def action_show_hours(self) -> None:
        from coach.screens.log.pages import HoursScreen  # noqa: PLC0415  loaded when it is asked for

        self.app.push_screen(HoursScreen(self._painted))

    def action_next_canvas(self) -> None:
        self._canvas = following(self._canvases, self._canvas)
        self._show()
