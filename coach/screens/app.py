"""The Textual app: forwards what the painter did to the sitting and shows what comes of it."""

import gc
from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen

from coach.screens.easel.screen import MOVES, MOVES_OF_TEXT, EaselScreen
from coach.screens.screen_factory import ScreenFactory
from coach.screens.terminal import is_behind
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.widgets.keys import described_bindings

if TYPE_CHECKING:
    from coach.limits.rule_table import Grade, Key
    from coach.session.session_service import SessionService

_WARM_AFTER_S = 2.0


class CoachApp(App[None]):
    """The coach beside the easel."""

    TITLE = "coach"
    CSS_PATH = "easel/screen.tcss"
    ENABLE_COMMAND_PALETTE = True
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("l", "door('log')", "log", tooltip="Open or close the log", id="coach.log"),
        Binding("g", "door('deadline')", "deadline", tooltip="Open or close the deadline", id="coach.deadline"),
        Binding("v", "door('plan')", "plan", tooltip="Open or close the plan", id="coach.plan"),
        Binding("i", "door('composition')", "composition", tooltip="Open or close the composition", id="coach.compose"),
        Binding("d", "toggle_light", "light", tooltip="Change between dark and light", id="coach.light"),
        Binding("q", "quit", "quit", tooltip="Leave the coach; the session stays open", id="coach.quit"),
    ]

    def __init__(
        self,
        sitting: "SessionService",
        screens: ScreenFactory,
        *,
        light: bool,
        rings: bool = False,
    ) -> None:
        """Serve one sitting; with `rings` the terminal's bell rings when a limit is passed."""
        super().__init__()
        self._screens = screens
        self._rings = rings
        self._passed: set[tuple[Key, Grade]] = set()
        self._sitting = sitting
        self._easel = EaselScreen()
        self._behind = ""
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
        """Load behind the first screen what the first deviation and the first note would have to wait for."""
        import coach.session.ordering  # noqa: F401, PLC0415

        self._easel.prepare_field()

    def _tick(self) -> None:
        self._sitting.tick()
        if not is_behind(self):
            self._show()
        if self._rings:
            self._ring()

    def _ring(self) -> None:
        """Ring once for every limit and grade that is passed, whichever screen is shown."""
        passed = {(one.key, one.grade) for one in self._sitting.situation().exceeded}
        if passed - self._passed:
            self.bell()
        self._passed = passed

    def _show(self) -> None:
        if self.screen is self._easel or self.screen.is_modal:  # the Log hides the easel, the palette does not
            self._show_easel()

    def _show_easel(self) -> None:
        self._easel.show(self._sitting.situation(), self._sitting.remarks)

    def on_easel_screen_move_made(self, message: EaselScreen.MoveMade) -> None:
        self._sitting.press(MOVES[message.name])
        self._show()

    def on_easel_screen_text_written(self, message: EaselScreen.TextWritten) -> None:
        self._sitting.make(MOVES_OF_TEXT[message.field](message.text))
        self._show()

    def action_toggle_light(self) -> None:
        self.theme = STUDIO_DARK.name if self.theme == STUDIO_LIGHT.name else STUDIO_LIGHT.name

    def action_door(self, name: str) -> None:
        """Go through a door: to the screen of that name, and from that screen back to the easel."""
        behind, self._behind = self._behind, ""
        if self.screen is not self._easel and not self._back_to_easel():
            self._behind = behind
            return
        screen = None if name == behind else self._screens.screen(name)
        if screen is not None:
            self._behind = name
            self.push_screen(screen)

    async def action_quit(self) -> None:
        asking = self._screens.asking_to_stay()
        if asking is None:
            await super().action_quit()
        elif self.screen is not asking:
            self.push_screen(asking)

    def _back_to_easel(self) -> bool:
        """Return whether the easel is shown now; a screen that would lose something stays."""
        if not self._screens.may_leave():
            return False
        while self.screen is not self._easel:
            self.pop_screen()
        self._show_easel()
        return True

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Offer every key of the screen as a command; the framework's own have no use beside an easel."""
        for source, binding in described_bindings(screen, self):
            yield SystemCommand(
                binding.tooltip or binding.description,
                f"key {binding.key.split(',')[0]}",
                partial(self.call_later, self.run_action, binding.action, source),
            )
