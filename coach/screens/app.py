"""The Textual app: forwards what the painter did to the session and shows what comes of it."""

import gc
from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.screen import Screen

from coach.errors import CoachError
from coach.screens.easel.screen import EaselScreen
from coach.screens.key_path import KeyPathApp
from coach.screens.screen_factory import ScreenFactory
from coach.screens.terminal import PatientDrawing
from coach.screens.theme import STUDIO_DARK, STUDIO_LIGHT
from coach.screens.unsaved import DraftKeeper, LeavingScreen, leave
from coach.screens.widgets.keys import bindings
from coach.session.cues import Cue, Cues
from coach.session.moves import end_session
from coach.session.records import Phase

if TYPE_CHECKING:
    from collections.abc import Callable

    from coach.plan.commission import Plan
    from coach.screens.unsaved import DraftStore, UnsavedWork
    from coach.session.cues import Sounds
    from coach.session.moves import Move
    from coach.session.session_service import SessionService
    from coach.shapes.reference import Reference

_WARM_AFTER_S = 2.0


class CoachApp(KeyPathApp[None]):
    """The coach beside the easel."""

    TITLE = "coach"
    CSS_PATH = "easel/screen.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("app")

    def __init__(
        self,
        session: "SessionService",
        screens: ScreenFactory,
        *,
        light: bool,
        sounds: "Sounds | None" = None,
        drafts: "DraftStore | None" = None,
        load_reference: "Callable[[Plan], Reference | None] | None" = None,
        is_picture_asked: bool = False,
        is_new: bool = False,
    ) -> None:
        """Serve one session.

        Args:
            session: The session.
            screens: Makes the other screens.
            light: Whether ink is dark on a light ground.
            sounds: Lets moments be heard.
            drafts: Keeps what is not saved.
            load_reference: Returns the photo that stands beside the letters; called in a thread.
            is_picture_asked: Whether the photo is shown only when it is asked for.
            is_new: Whether the plan was just made, so that the page before the first stroke opens first.
        """
        super().__init__()
        self._is_new = is_new
        self._session = session
        self._screens = screens
        screens.is_picture_asked = is_picture_asked
        self._sounds, self._cues = sounds, Cues()
        self._drafts = DraftKeeper(drafts)
        self._easel = EaselScreen(
            self._press,
            session.allows,
            partial(self._drafts.take_up, EaselScreen.DRAFT),
            load_reference,
            is_picture_asked=is_picture_asked,
        )
        self._behind = ""
        self._is_page_due = False
        self._show = PatientDrawing(self, self._draw)
        self.register_theme(STUDIO_DARK)
        self.register_theme(STUDIO_LIGHT)
        self.theme = STUDIO_LIGHT.name if light else STUDIO_DARK.name

    def get_default_screen(self) -> Screen[None]:
        return self._easel

    def on_mount(self) -> None:
        self._show_easel()
        self.set_interval(1, self._tick)

    def on_ready(self) -> None:
        gc.freeze()
        gc.enable()
        self.run_worker(self._settle, thread=True, group="settings")
        self.set_timer(_WARM_AFTER_S, self._warm)
        if self._is_new:
            self.call_later(self.action_facts)

    def _warm(self) -> None:
        """Load behind the first screen what the first deviation and the first note would have to wait for."""
        import coach.screens.widgets.field  # noqa: PLC0415
        import coach.session.ordering  # noqa: F401, PLC0415

    def _tick(self) -> None:
        self._session.tick()
        self._show()
        self._sound(self._cues.heard(self._session.situation()))
        if self._is_page_due:
            self.call_later(self._show_day_s_page)  # a notice that was put away made no move
        changed = self._drafts.changed(self._unsaved_screens())
        if changed:
            self.run_worker(partial(self._drafts.keep, changed), thread=True, group="drafts")

    def keep_drafts(self) -> None:
        """Keep at once what is not saved; nothing is drawn."""
        self._drafts.keep(self._drafts.changed(self._unsaved_screens()))

    def _unsaved_screens(self) -> "list[UnsavedWork]":
        return [self._easel, *self._screens.made.values()]

    def _sound(self, cue: Cue | None) -> None:
        if self._sounds is not None and cue is not None:
            self._sounds.play(cue, self.bell)

    def _settle(self) -> None:
        """Take what the painter has settled for the room."""
        if self._sounds is not None:
            fault = self._sounds.load()
            self.learned = self._sounds.learned
            self._session.remark = self._session.remark or fault

    def action_toggle_sound(self) -> None:
        if self._sounds is not None:
            try:
                self._session.remark = self._sounds.switch()
            except CoachError as error:
                self._session.remark = str(error)
            self._sound(Cue.MOVE)
            self._show()

    def _draw(self) -> None:
        if self.screen is self._easel or self.screen.is_modal:  # the Log hides the easel, the palette does not
            self._show_easel()

    def _show_easel(self) -> None:
        session = self._session
        later = (session.plan_fault, *self._drafts.offers) if session.plan_fault else self._drafts.offers
        self._easel.show(session.situation(), session.remarks, later)

    def _press(self, move: "Move") -> bool:
        is_made = self._session.press(move)
        self._show()
        if is_made:
            self._sound(Cue.MOVE)
            self._is_page_due = move is end_session or self._is_page_due
            self.call_later(self._show_day_s_page)
        return is_made

    async def _show_day_s_page(self) -> None:
        """Show the page after the session by itself, as soon as nothing must be answered before."""
        is_over = self._session.situation().phase is Phase.NOT_BEGUN
        if self._is_page_due and is_over and self.screen is self._easel and not self._easel.must_be_answered:
            self._is_page_due = False
            await self.action_facts()
        self._is_page_due = self._is_page_due and is_over

    def action_toggle_light(self) -> None:
        self.theme = STUDIO_DARK.name if self.theme == STUDIO_LIGHT.name else STUDIO_LIGHT.name

    def offers(self, name: str) -> bool:
        """Return whether a key of the app does something: whether there is such a screen, or a sound."""
        return self._sounds is not None if name == "sound" else self._screens.has(name)

    async def action_door(self, name: str) -> None:
        """Go to the screen of that name, and from that screen back to the easel."""
        plan = self._screens.made.get("plan") if self._behind == "plan" else None
        await leave(
            self, {"plan": plan} if plan else {}, self._go, partial(self._go, "" if name == self._behind else name)
        )

    async def action_facts(self) -> None:
        """Show the facts of the turn; while nobody paints, the page of the moment."""
        situation = self._session.situation()
        if situation.phase is Phase.NOT_BEGUN or situation.turn is None:
            await self.push_screen(self._screens.moment(self._session.situation, self._press))
        else:
            await self.run_action("toggle_facts", self._easel)

    async def action_quit(self) -> None:
        if not isinstance(self.screen, LeavingScreen):
            await leave(self, {"": self._easel, **self._screens.made}, self._go, super().action_quit)

    async def _go(self, name: str) -> None:
        """Show the screen of that name, or the easel."""
        while self.screen is not self._easel:
            await self.pop_screen()
        self._show_easel()
        screen = self._screens.screen(name, self._drafts.take_up) if name else None
        self._behind = name if screen is not None else ""
        if screen is not None:
            vars(screen)["_Screen__update_timer"] = None  # it stopped for good if the screen was shown before
            await self.push_screen(screen)
