"""The Deadline: its calendar, its reasons, and what the painter tries without touching the plan."""

import datetime as dt
import re
from collections.abc import Callable

import pytest
from rich.cells import cell_len
from textual.pilot import Pilot
from textual.widgets import Static

from coach.errors import CoachError
from coach.forecast.answer import brief_of, forecast_of
from coach.forecast.outlook import Outlook, Stage
from coach.forecast.what_if import Change, changed_outlook, changed_plan
from coach.journal.events import STAGE_WORDS, Kind
from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.review.forecast_input import ForecastInput, forecast_input
from coach.screens.app import CoachApp
from coach.screens.deadline.answer_page import answer_page, answer_sentence, answer_word, needs_settings
from coach.screens.deadline.screen import DeadlineScreen
from coach.screens.deadline.view import Foretold, age_words, facts_view
from coach.screens.deadline.what_if_page import Tried, next_stage, what_if_page, what_if_sentence
from coach.screens.easel.screen import EaselScreen
from coach.screens.screen_factory import ScreenFactory
from coach.session.journal_state import JournalState, state_of
from tests.screens.driving import shown, until_shown
from tests.sessions import TWO_CANVASES, Easel

TODAY = dt.date(2027, 4, 7)
TEXT = (
    TWO_CANVASES
    + """
due: 2027-05-01
week: {mon-fri: 10 min, sat: 5 min}
after: {drying: 9 days, framing: 3 working days, transport: 2 working days}
forecast: {spread: none}
"""
)


def asked(text: str = TEXT) -> ForecastInput:
    return forecast_input(read_plan(text, "plan.yaml"), JournalState(), TODAY, {})


def foretold(text: str = TEXT) -> Foretold:
    about = asked(text)
    return Foretold(about.stated, forecast_of(about.plan, about.outlook), {dt.date(2027, 4, 5): 5400.0})


class SetForecastSource:
    """A forecast_source that answers from memory and keeps what is written."""

    def __init__(self, text: str = TEXT) -> None:
        self.text = text
        self.written: list[Plan] = []
        self.recorded: list[tuple[str, Kind]] = []
        self.fault = ""
        self.clock_ms = 0

    def asked(self) -> ForecastInput:
        if self.fault:
            raise CoachError(self.fault)
        return asked(self.text)

    def now_ms(self) -> int:
        return self.clock_ms

    def record(self, canvas: str, stage: Kind) -> str:
        self.recorded.append((canvas, stage))
        return f"{canvas}: {STAGE_WORDS[stage]}"

    def write(self, before: Plan, after: Plan) -> str:
        assert before == read_plan(self.text, "plan.yaml")
        self.written.append(after)
        return "written into plan.yaml"

    def lines_of(self, before: Plan, after: Plan) -> tuple[str, ...]:
        return () if before == after else ("as it would stand in the plan",)

    def take_back(self) -> str:
        if not self.written:
            raise CoachError("nothing was written here")
        self.written.pop()
        return "taken back"


def app_with(forecast_source: SetForecastSource) -> CoachApp:
    easel = Easel()
    return CoachApp(
        easel.session,
        ScreenFactory(lambda: state_of(easel.journal.after(0)), forecast_source=lambda: forecast_source),
        light=False,
    )


async def until(pilot: Pilot[None], claim: Callable[[str], bool]) -> str:
    """Wait until what the screen shows bears a claim out, and return it."""
    shown = ""
    for _ in range(200):
        static = pilot.app.screen.query("#deadline").first(Static)
        age = pilot.app.screen.query("#age").first(Static)
        shown = f"{age.content}\n{static.content}"
        if claim(shown):
            return shown
        await pilot.pause(0.02)
    raise AssertionError(shown)


@pytest.mark.parametrize("columns", [40, 76, 116, 137, 196])
def test_every_line_fits_and_the_answer_comes_first(columns: int) -> None:
    facts = facts_view(foretold(), columns)
    tried = what_if_page(foretold(), Tried(), columns, 22)

    assert max(map(cell_len, (*facts, *tried))) <= columns
    assert facts[0].startswith("Sat 1 May 2027 ")
    assert any("What if" in line for line in tried)


def test_a_long_name_of_a_pass_does_not_break_the_rows() -> None:
    text = TEXT.replace("name: eyes", "name: " + "eyes " * 40)
    about = asked(text)
    plan = read_plan(text, "plan.yaml")
    tried = Tried(change=Tried().change._replace(without_pass=plan.passes[0].name))
    view = what_if_page(Foretold(plan, forecast_of(about.plan, about.outlook), {}), tried, 76, 22)

    assert max(map(cell_len, view)) <= 76


def test_the_age_of_a_forecast_is_told() -> None:
    assert age_words(59) == ""
    assert age_words(185) == "as of 3 min ago"


async def test_g_opens_the_deadline_and_what_is_tried_stands_beside_the_plan_untouched() -> None:
    forecast_source = SetForecastSource()
    app = app_with(forecast_source)
    async with app.run_test(size=(100, 40)) as pilot:
        await pilot.press("g")
        assert isinstance(app.screen, DeadlineScreen)
        before = await until(pilot, lambda text: "Sat 1 May 2027 " in text)
        await pilot.press("c", "right", "right")
        shown = await until(pilot, lambda text: "1.17 h" in text and "…" not in text.split("due day holds")[-1])

        assert "1.17 h" not in before
        assert forecast_source.written == []
        chance = next(line for line in shown.splitlines() if line.strip().startswith("due day holds"))
        assert chance.split("  ")[-1].strip()
        await pilot.press("x")
        assert "1.17 h" not in str(app.screen.query_one("#deadline", Static).content)
        await pilot.press("g")
        assert isinstance(app.screen, EaselScreen)


async def test_w_writes_what_is_tried_and_nothing_where_nothing_is() -> None:
    forecast_source = SetForecastSource()
    async with app_with(forecast_source).run_test(size=(100, 40)) as pilot:
        await pilot.press("g")
        await until(pilot, lambda text: "Sat 1 May 2027 " in text)
        await pilot.press("w")
        await until(pilot, lambda text: "nothing is tried" in text)
        await pilot.press("c", "up", "up", "up", "left", "w")
        await until(pilot, lambda text: "written into plan.yaml" in text)

        assert [plan.after.framing_working_days for plan in forecast_source.written] == [2]
        await pilot.press("u")
        await until(pilot, lambda text: "taken back" in text)
        assert forecast_source.written == []
        await pilot.press("u")
        await until(pilot, lambda text: "nothing was written here" in text)


async def test_a_fault_is_a_sentence_and_the_last_answer_stays_with_its_age() -> None:
    forecast_source = SetForecastSource()
    app = app_with(forecast_source)
    async with app.run_test(size=(100, 40)) as pilot:
        await pilot.press("g")
        await until(pilot, lambda text: "Sat 1 May 2027 " in text)
        await pilot.press("g")
        forecast_source.fault, forecast_source.clock_ms = "there is no journal of that name", 240_000
        await pilot.press("g")
        shown = await until(pilot, lambda text: "no journal of that name" in text)

        assert "as of 4 min ago" in shown
        assert "Sat 1 May 2027 " in shown


async def test_markup_in_names_is_shown_as_written() -> None:
    forecast_source = SetForecastSource(TEXT.replace("name: nose", "name: '[b]nose[/b]'"))
    async with app_with(forecast_source).run_test(size=(100, 40)) as pilot:
        await pilot.press("g")
        await until(pilot, lambda text: "Sat 1 May 2027 " in text)
        await pilot.press("c", "down", "down", "down", "left")
        await until(pilot, lambda text: "[b]nose[/b]" in text)


async def test_what_follows_the_last_stroke_is_chosen_on_the_row_of_a_canvas_and_recorded_by_w() -> None:
    forecast_source = SetForecastSource()
    async with app_with(forecast_source).run_test(size=(120, 60)) as pilot:
        await pilot.press("g")
        await until(pilot, lambda shown: "Sat 1 May 2027 " in shown)
        await pilot.press("c", "up", "w")  # the row of the last canvas; nothing is chosen yet
        await pilot.press("right", "right")
        await until(pilot, lambda shown: "> School" in shown and "to the framer?" in shown)
        assert forecast_source.recorded == []
        await pilot.press("w")
        await until(pilot, lambda shown: "School: to the framer" in shown)

    assert forecast_source.recorded == [("School", Kind.TO_FRAMER)]
    assert forecast_source.written == []


def test_only_what_can_come_next_is_offered() -> None:
    outlook = Outlook(TODAY, stages=(Stage("Hall", Kind.TO_FRAMER, TODAY),))
    offered = [next_stage(outlook, "Hall", None, 1)]
    while offered[-1] is not None:
        offered.append(next_stage(outlook, "Hall", offered[-1], 1))

    assert offered == [Kind.FROM_FRAMER, Kind.SENT, Kind.HANDED_OVER, None]
    assert next_stage(outlook, "School", None, -1) is Kind.HANDED_OVER


def answered(text: str, columns: int, lines: int) -> list[str]:
    about = asked(text)
    told = Foretold(about.stated, forecast_of(about.plan, about.outlook), {})
    return [line.text for line in answer_page(told, columns, lines)]


SPREAD = TEXT.replace("forecast: {spread: none}\n", "").replace("10 min, sat: 5 min", "1 h, sat: 30 min")


def test_the_word_is_the_chance() -> None:
    words = []
    for days in range(13, 31, 2):
        due = TODAY + dt.timedelta(days=days)
        about = asked(SPREAD.replace("2027-05-01", due.isoformat()))
        answer = forecast_of(about.plan, about.outlook)
        assert answer.chance is not None
        word = "IN TIME" if answer.chance >= 0.8 else "PERHAPS" if answer.chance >= 0.5 else "LATE"
        assert answer_word(about.stated, answer) == word
        words.append(word)

    assert set(words) == {"LATE", "PERHAPS", "IN TIME"}


@pytest.mark.parametrize("due", ["2027-04-20", "2027-04-27", "2027-05-01", "2027-09-01"])
def test_the_answer_is_one_word_a_sentence_and_the_whole_calendar_on_a_small_screen(due: str) -> None:
    rows = answered(SPREAD.replace("2027-05-01", due), 78, 22)
    assert any("handed over by" in row for row in rows)
    calendar = next(no for no, row in enumerate(rows) if row.split()[:2] == ["Mo", "Tu"])

    assert any("DUE" in row for row in rows[calendar:])
    assert any("handed over" in row for row in rows[calendar:])
    assert len(rows) <= 22
    assert max(map(cell_len, rows)) <= 78


@pytest.mark.parametrize(("columns", "lines"), [(18, 4), (38, 11), (198, 58)])
def test_the_answer_stands_on_every_size(columns: int, lines: int) -> None:
    rows = answered(SPREAD, columns, lines)

    assert len(rows) <= lines
    assert max(map(cell_len, rows)) <= columns
    assert any(set(row) & set("█▀▄") or row in ("IN TIME", "PERHAPS", "LATE") for row in rows[:3])


def test_without_a_due_day_that_is_the_answer_and_the_day_stands_in_the_sentence() -> None:
    about = asked(SPREAD.replace("due: 2027-05-01\n", ""))
    answer = forecast_of(about.plan, about.outlook)
    delivered = answer.delivered.p80

    assert delivered is not None
    assert answer_word(about.stated, answer) == "NO DUE DAY"
    assert answer_sentence(about.stated, answer) == f"All is handed over by {delivered:%a %-d %B %Y}, 8 times in 10."
    assert needs_settings(about.stated)


@pytest.mark.parametrize(("week", "said"), [("", "say your hours first."), ("week: {}\n", "your hours are too few.")])
def test_where_no_day_can_be_told_the_hours_that_are_left_are(week: str, said: str) -> None:
    about = asked(re.sub("week: .*\n", week, SPREAD))
    answer = forecast_of(about.plan, about.outlook)

    assert re.fullmatch(rf"About .* of painting left[;:] {said}", answer_sentence(about.stated, answer))
    assert needs_settings(about.stated) == (not week)


async def test_where_due_day_or_hours_are_missing_the_first_key_leads_to_them() -> None:
    forecast_source = SetForecastSource(SPREAD.replace("due: 2027-05-01\n", ""))
    async with app_with(forecast_source).run_test(size=(80, 24)) as pilot:
        await pilot.press("g")
        await until_shown(pilot, "c  hours, due day")
        await pilot.press("c")
        await until(pilot, lambda text: "no due day" in text)


async def test_enter_tries_what_would_help_most_and_shows_the_lines_it_would_write() -> None:
    forecast_source = SetForecastSource(SPREAD.replace("2027-05-01", "2027-04-20"))
    async with app_with(forecast_source).run_test(size=(80, 24)) as pilot:
        await pilot.press("g")
        await until(pilot, lambda text: "Tue 20 Apr 2027 " in text)
        await pilot.pause()
        assert "that all is handed over by Tue 20 April." in shown(pilot.app)
        await pilot.press("enter")
        await until(pilot, lambda text: "as it would stand in the plan" in text)
        assert forecast_source.written == []
        await pilot.press("escape", "escape")
        assert isinstance(pilot.app.screen, EaselScreen)


@pytest.mark.parametrize("due", ["2027-04-20", "2027-05-01", "2027-09-01"])
def test_where_the_day_does_not_hold_the_row_that_helps_most_is_marked_and_what_is_tried_is_answered_first(
    due: str,
) -> None:
    about = asked(SPREAD.replace("2027-05-01", due))
    told = Foretold(about.stated, forecast_of(about.plan, about.outlook), {})
    chance = told.answer.chance
    assert chance is not None
    untried = what_if_page(told, Tried(), 76, 23)
    assert any("helps most: " in row for row in untried) == (chance < 0.8)
    assert ("Nothing needs to change: → tries more hours." in untried) == (chance >= 0.8)

    for change in (Change(medium="alkyd"), *(own.edit for own in told.answer.helps)):
        plan = changed_plan(about.plan, change)
        brief = brief_of(plan, changed_outlook(about.plan, about.outlook, change))
        tried = Tried(change=change, brief=brief)
        delivered = brief.delivered.p80
        assert delivered is not None
        said = what_if_sentence(told, tried)
        assert f": handed over {delivered:%a} {delivered.day} {delivered:%b}, " in said
        assert len(said.split()) <= 14
        assert what_if_page(told, tried, 18, 4)[0] == answer_word(plan, brief)


async def test_of_a_pass_left_out_the_passages_are_told_and_no_broken_lines() -> None:
    async with app_with(SetForecastSource()).run_test(size=(100, 60)) as pilot:
        await pilot.press("g")
        await until(pilot, lambda text: "Sat 1 May 2027 " in text)
        await pilot.press("c", "down", "down", "down", "right")
        said = await until(pilot, lambda text: "passages left out: " in text)
        assert "as it would stand in the plan" not in said
