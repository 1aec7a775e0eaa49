"""The Textual app: forwards what the painter did to the sitting and shows what comes of it."""

import gc
from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING, ClassVar, Protocol

from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen

from coach.screens.easel.screen import EaselScreen
from coach.screens.keys import told_bindings
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.session import moves
from coach.session.moves import Move
from coach.session.situation import Situation

if TYPE_CHECKING:
    from coach.limits.rule_table import Grade, Key
    from coach.review.painted import Painted
    from coach.screens.composition.desk import PictureDesk
    from coach.screens.composition.screen import CompositionScreen
    from coach.screens.deadline.screen import DeadlineScreen, Foresight
    from coach.screens.plan.desk import PlanDesk
    from coach.screens.plan.screen import PlanScreen

_WARM_AFTER_S = 2.0

_MOVES: dict[str, Move] = {
    "go_on": moves.go_on,
    "go_other_way": moves.go_other_way,
    "pause": moves.pause,
    "rest": moves.rest,
    "mark": moves.mark,
    "skip": moves.skip,
    "undo": moves.undo,
    "count_away_as_work": moves.count_away_as_work,
    "end_session": moves.end_session,
    "work_ten_more": moves.work_ten_more,
    "silence_today": moves.silence_today,
    "find_dry": moves.find_dry,
    "find_wet": moves.find_wet,
}
_WRITTEN: dict[str, Callable[[str], Move]] = {"note": moves.noting, "woke": moves.waking, "minutes": moves.retiming}


class SittingPort(Protocol):
    """What the app asks of a sitting."""

    @property
    def remarks(self) -> tuple[str, ...]:
        """What to tell the painter, gravest first."""

    def situation(self) -> Situation:
        """Return the situation now."""

    def make(self, move: Move) -> None:
        """Record a move."""

    def tick(self) -> None:
        """Let a second pass."""


class CoachApp(App[None]):
    """The coach beside the easel."""

    TITLE = "coach"
    CSS_PATH = "easel/screen.tcss"
    ENABLE_COMMAND_PALETTE = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("l", "toggle_log", "log", tooltip="Open or close the log", id="coach.log"),
        Binding("g", "toggle_deadline", "deadline", tooltip="Open or close the deadline", id="coach.deadline"),
        Binding("v", "toggle_plan", "plan", tooltip="Open or close the plan", id="coach.plan"),
        Binding("i", "toggle_composition", "composition", tooltip="Open or close the composition", id="coach.compose"),
        Binding("d", "toggle_light", "light", tooltip="Change between dark and light", id="coach.light"),
        Binding("q", "quit", "quit", tooltip="Leave the coach; the session stays open", id="coach.quit"),
    ]

    def __init__(
        self,
        sitting: SittingPort,
        painted: "Callable[[], Painted]",
        *,
        light: bool,
        rings: bool = False,
        foresight: "Callable[[], Foresight] | None" = None,
        plan_desk: "Callable[[], PlanDesk] | None" = None,
        picture_desk: "Callable[[], PictureDesk] | None" = None,
    ) -> None:
        """Serve one sitting; `painted` reads the journal when the Log is asked for.

        With `rings` the terminal's bell rings when a limit is passed. `foresight` is called when the Deadline is first
        asked for; without it there is none. `plan_desk` is called whenever the Plan is asked for,
        `picture_desk` when the Composition first is.
        """
        super().__init__()
        self._plan_desk = plan_desk
        self._plan: PlanScreen | None = None
        self._picture_desk = picture_desk
        self._composition: CompositionScreen | None = None
        self._foresight = foresight
        self._deadline: DeadlineScreen | None = None
        self._rings = rings
        self._passed: set[tuple[Key, Grade]] = set()
        self._sitting = sitting
        self._painted = painted
        self._easel = EaselScreen()
        self.register_theme(STUDIO_DARK)
        self.register_theme(STUDIO_LIGHT)
        self.theme = STUDIO_LIGHT.name if light else STUDIO_DARK.name

    def get_default_screen(self) -> Screen[None]:
        return self._easel

    def on_mount(self) -> None:
        self._show()
        self.set_interval(1, self._tick)

    def on_ready(self) -> None:
        gc.freeze()
        gc.enable()
        self.set_timer(_WARM_AFTER_S, self._warm)

    def _warm(self) -> None:
        """Load the ordering engine behind the first screen, so that the first deviation need not wait for it."""
        import coach.session.ordering  # noqa: F401, PLC0415

    def _tick(self) -> None:
        self._sitting.tick()
        self._show()

    def _show(self) -> None:
        if self.screen is self._easel or self.screen.is_modal:  # the Log hides the easel, the palette does not
            self._show_easel()

    def _show_easel(self) -> None:
        situation = self._sitting.situation()
        passed = {(one.key, one.grade) for one in situation.reached}
        if self._rings and passed - self._passed:
            self.bell()
        self._passed = passed
        self._easel.show(situation, self._sitting.remarks)

    def on_easel_screen_move_made(self, message: EaselScreen.MoveMade) -> None:
        self._sitting.make(_MOVES[message.name])
        self._show()

    def on_easel_screen_written(self, message: EaselScreen.Written) -> None:
        self._sitting.make(_WRITTEN[message.field](message.text))
        self._show()

    def action_toggle_light(self) -> None:
        self.theme = STUDIO_DARK.name if self.theme == STUDIO_LIGHT.name else STUDIO_LIGHT.name

    def action_toggle_deadline(self) -> None:
        if self.screen is self._easel and self._foresight is not None:
            from coach.screens.deadline.screen import DeadlineScreen  # noqa: PLC0415  loaded when it is asked for

            if self._deadline is None:
                self._deadline = DeadlineScreen(self._foresight())
            self.push_screen(self._deadline)
            return
        self._back_to_easel()

    def action_toggle_plan(self) -> None:
        if self.screen is self._easel and self._plan_desk is not None:
            from coach.screens.plan.screen import PlanScreen  # noqa: PLC0415  loaded when it is asked for

            self._plan = PlanScreen(self._plan_desk())
            self.push_screen(self._plan)
            return
        self._back_to_easel()

    def action_toggle_composition(self) -> None:
        if self.screen is self._easel and self._picture_desk is not None:
            from coach.screens.composition.screen import CompositionScreen  # noqa: PLC0415  loaded when it is asked for

            if self._composition is None:
                self._composition = CompositionScreen(self._picture_desk())
            self.push_screen(self._composition)
            return
        self._back_to_easel()

    def action_toggle_log(self) -> None:
        if self.screen is self._easel:
            from coach.screens.log.screen import LogScreen  # noqa: PLC0415  the table is loaded when it is asked for

            self.push_screen(LogScreen(self._painted()))
            return
        self._back_to_easel()

    def _may_leave_plan(self) -> bool:
        return self._plan is None or self._plan.may_leave()

    async def action_quit(self) -> None:
        if self._may_leave_plan() and self._may_leave_composition():
            await super().action_quit()

    def _may_leave_composition(self) -> bool:
        composition = self._composition
        if composition is None or composition.may_leave():
            return True
        if self.screen is not composition:
            self.push_screen(composition)
        return False

    def _back_to_easel(self) -> None:
        if not self._may_leave_plan():
            return
        self._plan = None
        while self.screen is not self._easel:
            self.pop_screen()
        self._show_easel()

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Offer every key of the screen as a command; the framework's own have no use beside an easel."""
        for source, binding in told_bindings(screen, self):
            yield SystemCommand(
                binding.tooltip or binding.description,
                f"key {binding.key.split(',')[0]}",
                partial(self.call_later, self.run_action, binding.action, source),
            )
