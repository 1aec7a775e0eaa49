"""The page of a moment, over the Easel: a key that is not its own goes to the Easel."""

from collections.abc import Callable
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType

from coach.errors import CoachError
from coach.review.painting_day import day_behind
from coach.screens.key_path import PassingScreen
from coach.screens.moments.view import Known, Step, moment_page, next_step
from coach.screens.page import fact_lines, page_lines
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.keys import bindings
from coach.session.moves import Move, following

if TYPE_CHECKING:
    from coach.review.painting_day import DayBehind
    from coach.screens.deadline.screen import ForecastSource
    from coach.session.journal_state import JournalState
    from coach.session.situation import Situation


class MomentScreen(PassingScreen):
    """Shows what is ahead of a session, what was done in it, or what follows the last stroke."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("moment")

    def __init__(
        self,
        situation: "Callable[[], Situation]",
        painted: "Callable[[], JournalState]",
        source: "ForecastSource | None",
        make: Callable[[Move], bool],
    ) -> None:
        """Show nothing yet.

        Args:
            situation: Returns the situation now.
            painted: Returns what the journal adds up to.
            source: What a forecast is asked of; None where nothing can be foretold.
            make: Records a move and returns whether it is recorded.
        """
        super().__init__()
        self._situation, self._painted, self._source, self._make = situation, painted, source, make
        self._board = LineBoard()
        self._known: Known | None = None
        self._fault = ""
        self._shows_facts = False
        self._first = 0

    def compose(self) -> ComposeResult:
        yield self._board

    def on_mount(self) -> None:
        self._show()
        self._ask()

    def _ask(self) -> None:
        if self._source is not None:
            self.run_worker(self._work_out, thread=True, exclusive=True, group="moment")

    def _work_out(self) -> None:
        from coach.forecast.answer import brief_of  # noqa: PLC0415  the page stands before numbers are loaded
        from coach.review.painting_day import day_ahead  # noqa: PLC0415

        assert self._source is not None  # noqa: S101
        known, fault = None, ""
        try:
            asked = self._source.asked()
            plan, outlook = asked.plan, asked.outlook
            known = Known(outlook.today, day_ahead(plan, outlook), brief_of(plan, outlook), outlook.stages)
        except CoachError as error:
            fault = str(error)
        self.app.call_from_thread(self._take, known, fault)

    def _take(self, known: Known | None, fault: str) -> None:
        self._known, self._fault = known, fault
        self._show()

    def _behind(self) -> "DayBehind | None":
        from coach.journal.reading import local_time  # noqa: PLC0415

        state = self._painted()
        if not state.sessions or state.at is None:
            return None
        return day_behind(self._situation().plan, state, local_time(state.at).date())

    def _show(self) -> None:
        page = moment_page(self._situation(), self._known, self._behind(), self._fault)
        if self._shows_facts:
            self._board.show(lambda columns, lines: fact_lines(page, self._first, columns, lines))
        else:
            self._board.show(lambda columns, lines: page_lines(page, columns, lines))

    def offers(self, name: str) -> bool:
        """Return whether a key of the page does something now."""
        situation = self._situation()
        return {
            "begin": situation.turn is not None,
            "other": len(situation.open_canvases) > 1,
            "step": situation.turn is None and self._next_step() is not None,
            "up": self._shows_facts,
            "down": self._shows_facts,
        }.get(name, True)

    def says(self, name: str) -> str:
        """Return what Space does now; empty where it is what the table of keys says."""
        return "Paint on" if name == "begin" and self._situation().day_ms else ""

    def _next_step(self) -> Step | None:
        return None if self._known is None else next_step(self._situation(), self._known.stages)

    def action_toggle_facts(self) -> None:
        self._shows_facts, self._first = not self._shows_facts, 0
        self._show()

    def action_scroll(self, by: int) -> None:
        self._first = max(0, self._first + by)
        self._show()

    async def action_pass_on(self, key: str) -> None:
        """Go, and let the Easel do what a key does there."""
        await self.app.pop_screen()
        self.app.simulate_key(key)

    async def action_step(self) -> None:
        """Record what follows next; where something is left to paint, Enter is the Easel's."""
        situation = self._situation()
        if situation.turn is not None:
            await self.action_pass_on("enter")
            return
        step = self._next_step()
        if step is not None and self._make(following(step.canvas, step.stage)):
            self._ask()
