"""The Log and the pages behind it: the answer, the turns newest first, the facts behind f, the way back."""

from dataclasses import replace
from typing import Any, Final

import pytest
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.journal.events import Kind
from coach.review.hours.report import hours_report
from coach.screens.app import CoachApp
from coach.screens.easel.screen import EaselScreen
from coach.screens.log.hours_page import answer_sentence, answer_word
from coach.screens.log.pages import FairnessScreen, HoursScreen, ReviewPage
from coach.screens.log.screen import LogScreen
from coach.screens.widgets.board import LineBoard
from coach.session import moves
from coach.session.journal_state import state_of
from tests.painter import Habits, Painter
from tests.screens.driving import app_on, begun, painted, press, shown, until, until_shown
from tests.sessions import TWO_CANVASES, Easel

LONG_NAMES: Final = TWO_CANVASES.replace("Hall", "The hall of the old observatory").replace(
    "School", "会堂の長い名前の画布です"
)
PAGES: Final = {"log": ("l",), "fairness": ("l", "tab"), "hours": ("l", "tab", "tab")}


def three_canvases() -> Easel:
    names = ("transfer", "block-in", "ground and hair", "eyes", "nose and cheeks", "mouth", "coat", "edges")
    passages = ", ".join(f"{{name: part {number}, minutes: 20}}" for number in range(5))
    passes = "".join(f"  - {{name: {name}, passages: [{passages}]}}\n" for name in names)
    easel = Easel(f"canvases: [North, Harbour, Mill]\nlimits: {{press: 0 s}}\npasses:\n{passes}")
    Painter(easel.session, easel.clock, Habits(slip_frac=0.2)).paint()
    return easel


def answer_lines(app: CoachApp) -> list[str]:
    return [line.text for line in app.screen.query_one(LineBoard)._view]


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize("text", [TWO_CANVASES, LONG_NAMES])
@pytest.mark.parametrize("size", [(20, 5), (40, 12), (80, 24), (120, 40), (200, 60)])
async def test_every_size_shows_the_answer_and_from_40_columns_on_its_whole_sentence(
    page: str, text: str, size: tuple[int, int]
) -> None:
    app = app_on(painted(text))
    async with app.run_test(size=size) as pilot:
        await press(pilot, *PAGES[page])
        await until(pilot, lambda: "being worked out" not in shown(app))
        lines = answer_lines(app)
        said = " ".join(" ".join(lines).split())

        assert any(word in said for word in ("YES", "NEARLY", "TURNS")) or "█" in said
        assert max(map(len, shown(app).splitlines())) <= size[0]
        if size[0] >= 40:
            assert [word for word in ("day", "apart", "more than", "the same minutes") if word in said]
            assert "…" not in said.split(".")[0] or text == LONG_NAMES


@pytest.mark.parametrize("page", ["fairness", "hours"])
async def test_f_shows_the_facts_and_f_or_escape_the_answer_again(page: str) -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, *PAGES[page])
        for back in ("f", "escape"):
            await press(pilot, "f")
            await until_shown(pilot, "Fair: " if page == "fairness" else "What was kept")
            assert "█" not in shown(app).splitlines()[2]
            await press(pilot, back)
            await until(pilot, lambda: "█" in shown(app).splitlines()[2])


async def test_the_facts_tell_the_turns_of_the_pass_in_view() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l", "c", "2", "tab")
        assert isinstance(app.screen, FairnessScreen)
        assert "was it fair? · eyes" in await until_shown(pilot, "more than")
        await press(pilot, "f")
        await until_shown(pilot, "3 runs cannot tell what going second is worth")


async def test_right_and_left_go_from_pass_to_pass() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l", "tab")
        for key, head in (("right", "· eyes"), ("right", "· nose"), ("left", "· eyes"), ("left", "was it fair? ")):
            await press(pilot, key)
            await until(pilot, lambda head=head: head in shown(app).splitlines()[0])  # type: ignore[misc]


async def test_the_hours_are_told_by_the_clock_and_in_figures() -> None:
    """The simulated painter works from 9:00 to 11:22 with two rests of 12 min."""
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l", "tab", "tab")
        assert isinstance(app.screen, HoursScreen)
        said = await until_shown(pilot, "Two hours on one day, with a notice (!): too few rests.")
        bar = next(line for line in said.splitlines() if "15 Jan" in line)
        assert bar.rstrip().endswith("1:58!")
        assert [len(part) for part in bar[9:].split()[:3]] == pytest.approx([56 / 3, 56 / 3, 6 / 3], abs=1)
        await press(pilot, "f")
        figures = await until_shown(pilot, "What was kept")

        assert " ".join(next(line for line in figures.splitlines() if "2027-01-15" in line).split()[:7]) == (
            "2027-01-15 09:00 11:22 1:58 0:56 2 in"
        )
        assert "block 56 min: notice from 50 min" in " ".join(figures.split())


async def test_the_rules_stand_at_the_end_of_the_facts_with_their_sources() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l", "tab", "tab", "f")
        assert "OSHwiki" not in await until_shown(pilot, "What was kept")
        await press(pilot, *["pagedown"] * 9)

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
    ("key", "text"), [("tab", "[b]Hall[/b] "), ("tab tab f", "on average while a canvas was painted: [b]Hall[/b] ")]
)
async def test_names_with_markup_are_shown_as_written(key: str, text: str) -> None:
    app = app_on(painted(TWO_CANVASES.replace("Hall", "'[b]Hall[/b]'")))
    async with app.run_test(size=(120, 100)) as pilot:
        await pilot.press("l", *key.split())
        await until_shown(pilot, text)


@pytest.mark.parametrize("size", [(80, 24), (40, 16), (200, 60)])
async def test_no_figure_is_cut_off_at_the_right(size: tuple[int, int]) -> None:
    app = app_on(painted())
    async with app.run_test(size=size) as pilot:
        await press(pilot, "l", "tab", "tab", "f")
        await until_shown(pilot, "What was kept")

        facts = app.screen.query_one("#facts", Static)
        assert max(len(line.rstrip()) for line in str(facts.content).splitlines()) <= facts.size.width
        assert app.screen.query_one(VerticalScroll).max_scroll_x == 0


async def test_where_a_table_has_no_room_its_rows_are_told_in_words() -> None:
    app = app_on(painted())
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l", "tab", "tab", "f")
        assert "day         begin" in await until_shown(pilot, "What was kept")
        await pilot.resize_terminal(40, 40)

        await until_shown(pilot, "2027-01-15: begin 09:00, end 11:22")


@pytest.mark.parametrize(
    ("page", "sentence"),
    [
        ("log", "Nothing is painted yet: the log begins with the first turn."),
        ("fairness", "Nothing has been painted yet."),
        ("hours", "Nothing is painted yet, so there are no hours to tell of."),
    ],
)
async def test_an_empty_journal_is_told_in_a_sentence(page: str, sentence: str) -> None:
    app = app_on(Easel())
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, *PAGES[page])

        await until_shown(pilot, sentence)


async def test_a_plan_in_the_journal_that_cannot_be_read_any_more_is_told_in_a_sentence() -> None:
    easel = painted()
    first = next(no for no, event in enumerate(easel.journal.events) if event.kind is Kind.PLAN_READ)
    easel.journal.events[first] = easel.journal.events[first]._replace(text="canvases: [Hall\n")
    app = app_on(easel)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("l", "tab", "tab")

        await until_shown(pilot, "the plan in the journal:")


async def test_the_log_shows_the_newest_turn_first_with_who_led_notes_and_returns_at_80_columns() -> None:
    easel = begun()
    easel.session.make(moves.noting("edge softer"))
    easel.session.make(moves.mark)
    easel.session.make(moves.go_on)
    easel.pass_time(5)
    easel.session.make(moves.go_on)
    app = app_on(easel)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "l")
        rows = [" ".join(line.split()) for line in shown(app).splitlines()]
        at = rows.index("Fri 15 Jan 2027 · eyes")

    assert rows[at + 1 : at + 5] == [
        "09:04 School followed socket shadow + upper lid 5 of 23 min",
        "09:00 Hall led socket shadow + upper lid 4 of 23 min",
        "look again",
        "“edge softer”",
    ]


async def test_the_log_is_read_to_its_end_and_back_with_arrows_and_pages() -> None:
    app = app_on(three_canvases())

    async def top_after(pilot: Any, *keys: str) -> str:
        await press(pilot, *keys)
        return shown(app).splitlines()[0].strip()

    async with app.run_test(size=(80, 24)) as pilot:
        assert await top_after(pilot, "l") == "what was done"
        assert await top_after(pilot, "down", "down") == "Fri 22 Jan 2027 · edges"
        assert "█" not in shown(app)
        await press(pilot, "end")
        assert "09:00" in "".join(shown(app).splitlines()[-3:-1])
        assert await top_after(pilot, "pageup", "pagedown", "home") == "what was done"


@pytest.mark.parametrize(
    ("minutes", "word", "said"),
    [
        (20, "KEPT", "every limit was kept."),
        (55, "NEARLY", "with a notice (!): too few rests."),
        (600, "OVER", "over a limit (!): long hours."),
    ],
)
def test_a_notice_alone_is_not_called_over(minutes: int, word: str, said: str) -> None:
    easel = begun()
    easel.pass_time(minutes)
    easel.session.make(moves.go_on)
    report = hours_report(state_of(easel.journal.after(0)))

    assert answer_word(report) == word
    assert answer_sentence(report).endswith(said)
    days = {"KEPT": "KEPT", "NEARLY": "SELDOM", "OVER": "OVER"}
    assert answer_word(replace(report, days=report.days * 3)) == days[word]
