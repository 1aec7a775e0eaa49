"""Draws the picture of the Easel that README.md shows: `python -m tests.picture`."""

import asyncio
from pathlib import Path

from coach.screens.app import CoachApp
from coach.screens.screen_factory import ScreenFactory
from coach.session import moves
from coach.session.journal_state import state_of
from tests.painter import Habits, Painter
from tests.sessions import Easel

ROOT = Path(__file__).parents[1]
PICTURE = Path(__file__).parent / "pictures" / "easel.svg"


TURNS = 51
"""So many turns are over: the iris of the follow canvas is next."""


def painted_easel() -> Easel:
    """Return an easel with the orchard plan, some minutes into the follow canvas of a run of the eyes."""
    easel = Easel((ROOT / "plans" / "orchard-keeper.yaml").read_text(encoding="utf-8"))
    Painter(easel.session, easel.clock, Habits(slip_frac=0)).paint(TURNS)
    easel.session.make(moves.go_on)
    easel.pass_time(12.5)
    return easel


async def draw() -> None:
    """Run the app without a terminal, 100 x 30, and save what it shows."""
    easel = painted_easel()
    app = CoachApp(easel.session, ScreenFactory(lambda: state_of(easel.journal.after(0))), light=False)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        PICTURE.parent.mkdir(exist_ok=True)
        PICTURE.write_text(app.export_screenshot(title="coach"), encoding="utf-8")


def main() -> None:
    """Draw the picture."""
    asyncio.run(draw())


if __name__ == "__main__":
    main()
