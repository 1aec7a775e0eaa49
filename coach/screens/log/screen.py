"""The Log screen: what was painted, in the order it was painted."""

from dataclasses import dataclass
from typing import ClassVar, Final

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.screen import Screen
from textual.widgets import DataTable, Static

from coach.review.log_table import COLUMNS, text_row, total_lines
from coach.review.painted import chosen
from coach.screens.chips import HELP, chip
from coach.screens.widgets.keys import ChipRow, bindings
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
    BINDINGS: ClassVar[list[BindingType]] = bindings("log")

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
        yield ChipRow(chip("log.fairness"), chip("log.change"), chip("log.back"), HELP)

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

    async def action_choose_pass(self) -> None:
        from coach.screens.choice import ChoiceScreen  # noqa: PLC0415  loaded when it is asked for

        every = (None, *self._passes)

        async def take(number: int) -> None:
            self._pass_name = every[number]
            self._show()

        choices = [(name or "all passes", "") for name in every]
        await self.app.push_screen(ChoiceScreen("Which pass?", choices, take, every.index(self._pass_name)))

    def action_show_fairness(self) -> None:
        from coach.screens.log.pages import FairnessScreen  # noqa: PLC0415  loaded when it is asked for

        self.app.push_screen(FairnessScreen(self._painted, self._pass_name))

    def action_next_canvas(self) -> None:
        self._canvas = following(self._canvases, self._canvas)
        self._show()
