"""The app driven by its keys in a terminal in memory, and what it shows."""

from collections.abc import Callable
from typing import Any, TypeVar

import pytest
from textual.app import App
from textual.binding import Binding
from textual.dom import DOMNode
from textual.pilot import Pilot

from coach.journal.events import Kind
from coach.plan.commission import Plan
from coach.screens.app import CoachApp
from coach.screens.screen_factory import ScreenFactory
from coach.screens.unsaved import DraftStore
from coach.session import moves
from coach.session.cues import Sounds
from coach.session.journal_state import state_of
from coach.shapes.reference import Reference
from tests.painter import Habits, Painter
from tests.sessions import TWO_CANVASES, Easel

Anything = TypeVar("Anything")
SIZE = (100, 30)


def app_on(
    easel: Easel,
    *,
    light: bool = False,
    sounds: Sounds | None = None,
    drafts: DraftStore | None = None,
    load_reference: Callable[[Plan], Reference | None] | None = None,
    **sources: Callable[[], Any],
) -> CoachApp:
    """Return the app on an easel's session and journal, with what else its screens ask."""
    screens = ScreenFactory(lambda: state_of(easel.journal.after(0)), **sources)
    return CoachApp(easel.session, screens, light=light, sounds=sounds, drafts=drafts, load_reference=load_reference)


def begun(text: str = TWO_CANVASES) -> Easel:
    """Return an easel four minutes into its first turn."""
    easel = Easel(text)
    easel.session.make(moves.go_on)
    easel.pass_time(4)
    return easel


def painted(text: str = TWO_CANVASES) -> Easel:
    """Return a work that the simulated painter has done, every turn in its planned time."""
    easel = Easel(text)
    Painter(easel.session, easel.clock, Habits(follow_frac=1, learning_frac=1, noise=0, slip_frac=0)).paint()
    return easel


def kinds(easel: Easel) -> list[Kind]:
    """Return what was recorded after the beginning of the session."""
    every = [event.kind for event in easel.journal.events]
    return every[every.index(Kind.SESSION_BEGUN) + 1 :]


def notes(easel: Easel) -> list[str]:
    """Return every note in the journal."""
    return [event.text for event in easel.journal.events if event.kind is Kind.NOTED]


def shown(app: App[Anything]) -> str:
    """Return every character on the screen, line by line."""
    return "\n".join(strip.text for strip in app.screen._compositor.render_strips())


async def press(pilot: Pilot[Anything], *keys: str) -> None:
    """Press keys and let the app come to rest."""
    await pilot.press(*keys)
    await pilot.pause()


async def until(pilot: Pilot[Anything], is_so: Callable[[], bool]) -> None:
    """Wait until something is so, for a bounded number of turns of the loop."""
    for _ in range(200):
        if is_so():
            return
        await pilot.pause(0.02)
    pytest.fail(f"it never came about; the screen shows:\n{shown(pilot.app)}")


async def until_shown(pilot: Pilot[Anything], text: str) -> str:
    """Wait, not for ever, until a text stands on the screen, and return all that stands there."""
    await until(pilot, lambda: text in shown(pilot.app))
    return shown(pilot.app)


def bindings_of(source: type[DOMNode]) -> list[Binding]:
    """Return the bindings that a class declares; each is spelt out."""
    bindings = [binding for binding in source.BINDINGS if isinstance(binding, Binding)]
    assert len(bindings) == len(source.BINDINGS)
    return bindings
