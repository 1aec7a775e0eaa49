"""The pages behind the Log: the review and the hours arrive, they fit, the way back is short."""

import pytest
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.journal.events import Kind
from coach.screens.easel.screen import EaselScreen
from coach.screens.log.pages import FairnessScreen, HoursScreen, ReviewPage
from coach.screens.log.screen import LogScreen
from tests.screens.driving import app_on, painted, shown, until_shown
from tests.sessions import TWO_CANVASES, Easel


async def test_tab_on_the_log_shows_review_and_picture_of_the_turns_in_view() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "c", "2", "tab")
        assert isinstance(app.screen, FairnessScreen)
        await until_shown(pilot, "3 runs cannot tell what going second is worth")
        answer = str(app.screen.query_one("#answer", Static).content)

        assert "pass: eyes" in shown(app)
        assert "leads along the work" in answer
        assert max(map(len, answer.splitlines())) <= 80


async def test_tab_again_shows_the_hours_that_were_kept() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "tab", "tab")
        assert isinstance(app.screen, HoursScreen)
        said = await until_shown(pilot, "What was kept")

        assert " ".join(next(line for line in said.splitlines() if "2027-01-15" in line).split()[:7]) == (
            "2027-01-15 09:00 11:22 1:58 0:56 2 in"
        )
        assert "block 56 min: notice from 50 min" in " ".join(said.split())


async def test_the_rules_stand_at_the_end_with_their_sources() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "tab", "tab")
        assert "OSHwiki" not in await until_shown(pilot, "What was kept")
        await pilot.press("end")

        assert "notice from 4 h" in await until_shown(pilot, "OSHwiki")


@pytest.mark.parametrize(("tabs", "page"), [(1, FairnessScreen), (2, HoursScreen)])
async def test_tab_goes_round_the_pages_escape_leads_to_the_log_and_l_to_the_easel(
    tabs: int, page: type[ReviewPage]
) -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l")
        for back in (["tab"] * (3 - tabs), ["escape"]):
            await pilot.press(*["tab"] * tabs)
            assert isinstance(app.screen, page)
            await pilot.press(*back)
            assert isinstance(app.screen, LogScreen)
        await pilot.press(*["tab"] * tabs, "l")
        assert isinstance(app.screen, EaselScreen)


@pytest.mark.parametrize(
    ("key", "text"), [("tab", "[b]Hall[/b] "), ("tab tab", "while a canvas was painted: [b]Hall[/b] ")]
)
async def test_names_with_markup_are_shown_as_written(key: str, text: str) -> None:
    app = app_on(painted(TWO_CANVASES.replace("Hall", "'[b]Hall[/b]'")))
    async with app.run_test(size=(120, 100)) as pilot:
        await pilot.press("l", *key.split())
        await until_shown(pilot, text)


@pytest.mark.parametrize("size", [(80, 24), (40, 16), (200, 60)])
async def test_nothing_is_cut_off_at_the_right(size: tuple[int, int]) -> None:
    app = app_on(painted())
    async with app.run_test(size=size) as pilot:
        await pilot.press("l", "tab", "tab")
        await until_shown(pilot, "What was kept")

        answer = app.screen.query_one("#answer", Static)
        assert max(len(line.rstrip()) for line in str(answer.content).splitlines()) <= answer.size.width
        assert app.screen.query_one(VerticalScroll).max_scroll_x == 0


async def test_where_a_table_has_no_room_its_rows_are_told_in_words() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "tab", "tab")
        assert "day         begin" in await until_shown(pilot, "What was kept")
        await pilot.resize_terminal(40, 40)

        await until_shown(pilot, "2027-01-15: begin 09:00, end 11:22")


@pytest.mark.parametrize(
    ("key", "sentence"),
    [("tab", "No run has been painted yet"), ("tab tab", "Nothing is painted yet, so there are no hours to tell of.")],
)
async def test_an_empty_journal_is_told_in_a_sentence(key: str, sentence: str) -> None:
    app = app_on(Easel())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", *key.split())

        await until_shown(pilot, sentence)


async def test_a_plan_in_the_journal_that_cannot_be_read_any_more_is_told_in_a_sentence() -> None:
    easel = painted()
    first = next(no for no, event in enumerate(easel.journal.events) if event.kind is Kind.PLAN_READ)
    easel.journal.events[first] = easel.journal.events[first]._replace(text="canvases: [Hall\n")
    app = app_on(easel)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "tab", "tab")

        await until_shown(pilot, "the plan in the journal:")
