"""The hours behind the Log: they arrive, they fit, the way back is short."""

import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot
from textual.widgets import Static

from coach.journal.events import Kind
from coach.review.painted import painted_of
from coach.screens.app import CoachApp
from coach.screens.easel.screen import EaselScreen
from coach.screens.log.pages import HoursScreen
from coach.screens.log.screen import LogScreen
from coach.screens.screen_factory import ScreenFactory
from tests.painter import Habits, Painter
from tests.sittings import TWO_CANVASES, Easel

WAITING = "being added up"


def painted(text: str = TWO_CANVASES) -> Easel:
    """Return a work that the simulated painter has done, every turn in its planned time."""
    easel = Easel(text)
    Painter(easel.sitting, easel.clock, Habits(follow_frac=1, learning_frac=1, noise=0, slip_frac=0)).paint()
    return easel


def app_on(easel: Easel) -> CoachApp:
    return CoachApp(easel.sitting, ScreenFactory(lambda: painted_of(easel.journal.after(0))), light=False)


async def shown(pilot: Pilot[None], wanted: str = "") -> str:
    """Return what the screen shows once the hours are there, and the wanted words."""
    for _ in range(200):
        said = "\n".join(strip.text for strip in pilot.app.screen._compositor.render_strips())
        if WAITING not in said and wanted in said:
            return said
        await pilot.pause(0.05)
    raise AssertionError("the hours never came")


async def test_h_on_the_log_shows_the_hours_that_were_kept() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "h")
        assert isinstance(app.screen, HoursScreen)
        said = await shown(pilot)

        assert "What was kept" in said
        assert " ".join(next(line for line in said.splitlines() if "2027-01-15" in line).split()[:7]) == (
            "2027-01-15 09:00 11:22 1:58 0:56 2 in"
        )
        assert "block 56 min: notice from 50 min" in said


async def test_the_rules_stand_at_the_end_with_their_sources() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "h")
        assert "OSHwiki" not in await shown(pilot)
        await pilot.press("end")

        assert "notice from 4 h" in await shown(pilot, "OSHwiki")


async def test_the_way_back_leads_to_the_log_by_h_and_escape_and_to_the_easel_by_l() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "h", "h")
        assert isinstance(app.screen, LogScreen)
        await pilot.press("h", "escape")
        assert isinstance(app.screen, LogScreen)
        await pilot.press("h", "l")
        assert isinstance(app.screen, EaselScreen)


async def test_names_with_markup_are_shown_as_written() -> None:
    app = app_on(painted(TWO_CANVASES.replace("Hall", "'[b]Hall[/b]'")))
    async with app.run_test(size=(100, 100)) as pilot:
        await pilot.press("l", "h")
        said = await shown(pilot)

        assert "over the minutes of a canvas: [b]Hall[/b] " in said
        assert any("minutes in" in line and "[b]Hall[/b]" in line for line in said.splitlines())


@pytest.mark.parametrize("size", [(80, 24), (40, 16), (200, 60)])
async def test_nothing_is_cut_off_at_the_right(size: tuple[int, int]) -> None:
    app = app_on(painted())
    async with app.run_test(size=size) as pilot:
        await pilot.press("l", "h")
        await shown(pilot)

        hours = app.screen.query_one("#hours", Static)
        assert hours.region.right <= size[0]
        assert app.screen.query_one(VerticalScroll).max_scroll_x == 0


async def test_where_a_table_has_no_room_its_rows_are_told_in_words() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "h")
        assert "day         begin    end" in await shown(pilot)
        await pilot.resize_terminal(50, 40)

        assert "2027-01-15: begin 09:00, end 11:22, work 1:58," in await shown(pilot, "2027-01-15: begin")


async def test_an_empty_journal_is_told_in_a_sentence() -> None:
    app = app_on(Easel())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "h")

        assert "Nothing is painted yet, so there are no hours to tell of." in await shown(pilot)


async def test_a_plan_in_the_journal_that_cannot_be_read_any_more_is_told_in_a_sentence() -> None:
    easel = painted()
    first = next(no for no, event in enumerate(easel.journal.events) if event.kind is Kind.PLAN_READ)
    easel.journal.events[first] = easel.journal.events[first]._replace(text="canvases: [Hall\n")
    app = app_on(easel)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "h")

        assert "the plan in the journal:" in await shown(pilot)
