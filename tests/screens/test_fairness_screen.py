"""The fairness behind the Log: the review arrives, the picture fits, the way back is short."""

from textual.pilot import Pilot
from textual.widgets import Static

from coach.review.painted import painted_of
from coach.screens.app import CoachApp
from coach.screens.easel.screen import EaselScreen
from coach.screens.log.pages import FairnessScreen
from coach.screens.log.screen import LogScreen
from coach.screens.screen_factory import ScreenFactory
from tests.painter import Habits, Painter
from tests.sittings import TWO_CANVASES, Easel


def painted_app(text: str = TWO_CANVASES) -> CoachApp:
    """Return the app on a work that the simulated painter has done."""
    easel = Easel(text)
    Painter(easel.sitting, easel.clock, Habits()).paint()
    return CoachApp(easel.sitting, ScreenFactory(lambda: painted_of(easel.journal.after(0))), light=False)


async def reviewed(pilot: Pilot[None]) -> str:
    """Return the sentences of the review once they are there."""
    for _ in range(200):
        said = str(pilot.app.screen.query_one("#review", Static).content)
        if "being made" not in said:
            return said
        await pilot.pause(0.05)
    raise AssertionError("the review never came")


async def test_b_on_the_log_shows_review_and_picture_of_the_turns_in_view() -> None:
    app = painted_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "f", "b")
        assert isinstance(app.screen, FairnessScreen)
        said = await reviewed(pilot)
        picture = str(app.screen.query_one("#picture", Static).content)

        assert "pass: eyes" in str(app.screen.query_one("#scope", Static).content)
        assert "painted on every canvas" in said
        assert "leads along the work" in picture
        assert max(map(len, picture.splitlines())) <= 80


async def test_the_way_back_leads_to_the_log_by_b_and_to_the_easel_by_l() -> None:
    app = painted_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "b", "b")
        assert isinstance(app.screen, LogScreen)
        await pilot.press("b", "escape")
        assert isinstance(app.screen, LogScreen)
        await pilot.press("b", "l")
        assert isinstance(app.screen, EaselScreen)


async def test_names_with_markup_are_shown_as_written() -> None:
    app = painted_app(TWO_CANVASES.replace("Hall", "'[b]Hall[/b]'"))
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("l", "b")
        said = await reviewed(pilot)
        shown = "\n".join(strip.text for strip in app.screen._compositor.render_strips())

        assert "[b]Hall[/b]" in said
        assert "[b]Hall[/b] " in shown


async def test_an_empty_journal_is_told_in_a_sentence() -> None:
    easel = Easel()
    app = CoachApp(easel.sitting, ScreenFactory(lambda: painted_of(easel.journal.after(0))), light=True)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "b")

        assert "No run has been painted yet" in await reviewed(pilot)
