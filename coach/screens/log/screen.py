"""The Log screen: what was painted, the newest first."""

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.screen import Screen

from coach.plan.commission import Plan, pass_words
from coach.review.fairness.report import all_runs, last_plan
from coach.review.fairness.run_times import RunTimes
from coach.review.log_table import painted_alone
from coach.review.painted import chosen
from coach.screens.chips import HELP, chip
from coach.screens.lines import Line
from coach.screens.log.turns_page import LogView, log_page, turn_lines
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import ChipRow, bindings
from coach.session.journal_state import JournalState


def following(names: tuple[str, ...], name: str | None) -> str | None:
    """Return the choice after `name` in a ring of None (all) and the names."""
    ring = (None, *names)
    return ring[(ring.index(name) + 1) % len(ring)]


def log_view(
    painted: JournalState, plan: Plan | None, every: Sequence[RunTimes], pass_name: str | None, canvas: str | None
) -> LogView:
    """Return the Log of one pass, one canvas, or (None) all of them; `every` are all runs painted."""
    runs = tuple(
        run
        for run in every
        if len(run.order) > 1 and pass_name in (None, run.pass_name) and canvas in (None, *run.order)
    )
    led = dict.fromkeys(name for run in runs for name in run.order)
    planned = [one.name for one in plan.canvases if one.name in led] if plan else []
    return LogView(
        painted=painted,
        turns=chosen(painted.turns, pass_name=pass_name, canvas=canvas),
        runs=runs,
        names=tuple(dict.fromkeys((*planned, *led))),
        alone=painted_alone(painted, every, plan),
        pass_name=pass_name,
        canvas=canvas,
    )


class LogScreen(Screen[None]):
    """Shows the turns of a journal, all or of one pass and canvas, and who led them."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("log")

    def __init__(self, painted: JournalState) -> None:
        super().__init__()
        self._painted = painted
        self._passes = tuple(dict.fromkeys(record.turn.pass_name for record in painted.turns))
        self._canvases = tuple(dict.fromkeys(record.turn.canvas for record in painted.turns))
        self._plan = last_plan(painted)
        self._runs = all_runs(painted, self._plan)
        self._view = log_view(painted, self._plan, self._runs, None, None)
        self._body: tuple[int, list[Line]] = (0, [])
        self._first = 0

    def compose(self) -> ComposeResult:
        yield LineBoard()
        names = [name for name in ("fairness", "change", "back") if self.offers(name)]
        yield ChipRow(*(chip(f"log.{name}") for name in names), HELP)

    def on_mount(self) -> None:
        self._show()

    def offers(self, name: str) -> bool:
        """Return whether a key of the Log does something: with one pass, or one canvas, there is nothing to choose."""
        return {"change": len(self._passes) > 1, "other": len(self._canvases) > 1}.get(name, True)

    def _show(self) -> None:
        def page(columns: int, lines: int) -> tuple[Line, ...]:
            if self._body[0] != columns:
                self._body = columns, turn_lines(self._view, columns)
            self._first = max(0, min(self._first, len(self._body[1]) - lines))
            return log_page(self._view, self._body[1], self._first, columns, lines)

        self.query_one(LineBoard).show(page)

    def _choose(self, pass_name: str | None, canvas: str | None) -> None:
        self._view = log_view(self._painted, self._plan, self._runs, pass_name, canvas)
        self._body, self._first = (0, []), 0
        self._show()

    async def action_choose_pass(self) -> None:
        from coach.screens.choice import ChoiceScreen  # noqa: PLC0415  loaded when it is asked for

        every = (None, *self._passes)

        async def take(number: int) -> None:
            self._choose(every[number], self._view.canvas)

        choices = [(pass_words(name) if name else "all passes", "") for name in every]
        await self.app.push_screen(ChoiceScreen("Which pass?", choices, take, every.index(self._view.pass_name)))

    def action_show_fairness(self) -> None:
        from coach.screens.log.pages import FairnessScreen  # noqa: PLC0415  loaded when it is asked for

        self.app.push_screen(FairnessScreen(self._painted, self._view.pass_name))

    def action_next_canvas(self) -> None:
        self._choose(self._view.pass_name, following(self._canvases, self._view.canvas))

    def action_scroll(self, step: int) -> None:
        self._first = max(0, self._first + step)
        self._show()

    def action_page(self, step: int) -> None:
        self.action_scroll(step * max(1, self.query_one(LineBoard).size.height - 1))
