"""Draws the pictures that README.md shows, the Easel and two pages: `python -m tests.picture`."""

import asyncio
import tempfile
from functools import partial
from pathlib import Path
from typing import Any, Final

from rich.color import ColorSystem
from textual.pilot import Pilot

from coach.screens.app import CoachApp
from coach.screens.screen_factory import ScreenFactory
from coach.session import moves
from coach.session.journal_state import state_of
from coach.session.situation import Situation
from coach.store.reference_photo import load_reference
from tests.pages import ORCHARD, Stop, painted_orchard, stop_at
from tests.painter import Habits, Painter
from tests.screens.driving import until
from tests.sessions import Easel
from tests.studio import Studio

PLAN = Path(__file__).parents[1] / "plans" / "orchard-keeper.yaml"
DRYING_DAYS = 14
PICTURES = Path(__file__).parent / "pictures"
PAGES: Final = (
    Stop("fairness", "l tab", "minutes ahead"),
    Stop("deadline", "g", "handed over by"),
)

TURNS = 51
"""So many turns are over: the iris of the follow canvas is next."""


def painted_easel() -> Easel:
    """Return an easel with the orchard plan, some minutes into the follow canvas of a run in its eyes."""
    easel = Easel(PLAN.read_text(encoding="utf-8"))
    painter = Painter(easel.session, easel.clock, Habits(slip_frac=0))
    while not is_told(easel.session.situation()):
        painter.paint(1)
    easel.clock.go(minutes=DRYING_DAYS * 24 * 60)
    easel.session.make(moves.go_on)
    while easel.session.situation().asked_dry is not None:
        easel.session.make(moves.find_dry)
    easel.pass_time(7.5)
    return easel


def is_told(now: Situation) -> bool:
    """Return whether a situation is worth a picture: the other canvas has led this run, in a feature of the head."""
    return bool(now.before) and now.turn is not None and now.turn.pass_name == "eyes"


async def draw() -> None:
    """Run the app without a terminal, 120 x 40, and save what it shows."""
    easel = painted_easel()
    app = CoachApp(
        easel.session,
        ScreenFactory(lambda: state_of(easel.journal.after(0))),
        light=False,
        load_reference=partial(load_reference, PLAN),
    )
    app.console._color_system = ColorSystem.TRUECOLOR
    async with app.run_test(size=(120, 40)) as pilot:
        await until(pilot, lambda: app._easel._picture.rows > 0)
        await pilot.pause()
        (PICTURES / "easel.svg").write_text(app.export_screenshot(title="coach"), encoding="utf-8")


def draw_pages() -> None:
    """Run the program without a terminal, 80 x 24, on the same plan half painted, and save some of its pages."""

    async def act(pilot: Pilot[Any]) -> None:
        for stop in PAGES:
            await stop_at(pilot, studio, stop)
            picture = pilot.app.export_screenshot(title="coach")
            (PICTURES / f"{stop.page}.svg").write_text(picture, encoding="utf-8")

    with tempfile.TemporaryDirectory() as folder:
        studio = Studio(Path(folder))
        painted_orchard(studio, 70)
        studio.coach(f"{ORCHARD}.yaml", acts=(act,))


def main() -> None:
    """Draw the pictures."""
    PICTURES.mkdir(exist_ok=True)
    asyncio.run(draw())
    draw_pages()


if __name__ == "__main__":
    main()
