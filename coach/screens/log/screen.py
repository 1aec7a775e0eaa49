"""The Log screen: what was painted, in the order it was painted."""

from typing import ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import DataTable, Static

from coach.review.painted import Painted, chosen
from coach.screens.keys import key_labels
from coach.screens.log.view import HEADINGS, following, log_view


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

    def __init__(self, painted: Painted) -> None:
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
        keys = (*key_labels(self, self.app), ("arrows", "scroll"), ("Tab", "totals"))
        yield Static("  ".join(f"{key} {label}" for key, label in keys), id="keys", markup=False)

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
        from coach.screens.log.fairness_screen import FairnessScreen  # noqa: PLC0415  loaded when it is asked for

        turns = chosen(self._painted.turns, pass_name=self._pass_name)
        self.app.push_screen(FairnessScreen(turns, self._pass_name))

    def action_show_hours(self) -> None:
        from coach.screens.log.hours_screen import HoursScreen  # noqa: PLC0415  loaded when it is asked for

        self.app.push_screen(HoursScreen(self._painted.events))

    def action_next_canvas(self) -> None:
        self._canvas = following(self._canvases, self._canvas)
        self._show()
