"""The page of each moment: one answer at a glance, at every size, with every name."""

from collections.abc import Callable

import pytest
from syrupy.assertion import SnapshotAssertion

from coach.forecast.answer import brief_of
from coach.forecast.outlook import Stage
from coach.journal.events import STAGE_WORDS, Kind
from coach.journal.reading import local_time
from coach.review.forecast_input import ForecastInput, forecast_input
from coach.review.painting_day import DayBehind, day_ahead, day_behind
from coach.screens.app import CoachApp
from coach.screens.chips import chip
from coach.screens.easel.asks import TAKE_AWAY, Ask
from coach.screens.easel.screen import EaselScreen
from coach.screens.lines import Line, Role
from coach.screens.moments.screen import MomentScreen
from coach.screens.moments.view import Known, Step, moment_page, next_step
from coach.screens.notice import Notice
from coach.screens.page import MOST_WORDS, Page, fact_lines, page_lines, words_of
from coach.session import moves
from coach.session.comparing import mark_for_return, mean_it, record_comparison
from coach.session.journal_state import state_of
from coach.session.records import Phase
from coach.text import cells
from tests.comparisons import compared, photos, read_as
from tests.screens.driving import app_on, begun, kinds, painted, press, shown, until, until_shown
from tests.screens.test_deadline import SetForecastSource
from tests.sessions import TWO_CANVASES, Easel

MOST_SENTENCE = 14
PLAN = (
    TWO_CANVASES
    + """
due: 2027-05-01
week: {mon-fri: 1 h}
after: {drying: 9 days, framing: 3 working days, transport: 2 working days}
palette: [umber, white]
mixtures: [{name: deep flesh, parts: {umber: 1, white: 1}}]
"""
).replace("minutes: 14", "minutes: 14, mixture: deep flesh, area: 40 cm2")
LONG = (
    PLAN.replace("Hall", "The great hall of the old school by the river")
    .replace("School", "The small school behind the hall on the hill side")
    .replace("socket shadow", "shadow of the socket of the left eye under the brow of the sitter")
    .replace("orchard keeper", "orchard keeper and all of her daughters and sons in their best clothes")
    .replace("deep flesh", "deep flesh of the cheek on the side that is away from the light")
)
CJK = (
    PLAN.replace("Hall", "東の部屋の大きな肖像画のための画布の名前")
    .replace("School", "西の部屋")
    .replace("socket shadow", "左目のくぼみの影と上まぶたの下の影")
    .replace("orchard keeper", "果樹園の番人とその娘たちの肖像画")
)
MANY = PLAN.replace(
    "[{name: Hall, place: left}, {name: School, place: right}]",
    "[" + ", ".join(f"{{name: Panel {no}, place: {no}}}" for no in range(1, 13)) + "]",
).replace("order: snake\n", "")
PLANS = [PLAN, LONG, CJK, MANY]


def known_of(easel: Easel) -> Known:
    state = state_of(easel.journal.after(0))
    asked = forecast_input(easel.plan, state, local_time(easel.clock.read()).date(), {})
    plan, outlook = asked.plan, asked.outlook
    return Known(outlook.today, day_ahead(plan, outlook), brief_of(plan, outlook), outlook.stages)


def before(text: str) -> Page:
    easel = Easel(text)
    return moment_page(easel.session.situation(), known_of(easel), None)


def before_anything_is_known(text: str) -> Page:
    return moment_page(Easel(text).session.situation(), None, None)


def after_session(text: str) -> Page:
    easel = Easel(text)
    easel.session.make(moves.go_on)
    for minutes in (12, 9, 11):
        easel.pass_time(minutes)
        easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)
    return moment_page(easel.session.situation(), None, behind_of(easel))


def after_comparing(text: str) -> Page:
    """Return the page where three passages and an eye are out, and the session is over."""
    easel = Easel(text)
    for minutes in (0, 12, 9, 11):
        easel.pass_time(minutes)
        easel.session.make(moves.go_on)
    names = [own.name for own in easel.plan.passes[0].passages[:3]]
    one, other = (canvas.name for canvas in easel.plan.canvases[:2])
    found = compared([read_as(name) for name in names], canvases=(one, other))
    assert easel.session.make(record_comparison(found, photos(24)))
    easel.session.make(moves.end_session)
    return moment_page(easel.session.situation(), None, behind_of(easel))


def behind_of(easel: Easel) -> DayBehind:
    state = state_of(easel.journal.after(0))
    return day_behind(easel.plan, state, local_time(easel.clock.read()).date())


def after_last(text: str) -> Page:
    easel = painted(text)
    return moment_page(easel.session.situation(), known_of(easel), None)


MOMENTS = [before, before_anything_is_known, after_session, after_comparing, after_last]


@pytest.mark.parametrize("moment", MOMENTS)
@pytest.mark.parametrize("text", PLANS)
def test_a_page_is_read_at_a_glance(moment: Callable[[str], Page], text: str) -> None:
    page = moment(text)
    rows = page_lines(page, 80, 24)
    assert words_of([Line(page.sentence, Role.CANVAS)]) <= MOST_SENTENCE
    assert words_of(rows) + words_of([Line(page.plain, Role.CANVAS)]) <= MOST_WORDS
    assert len(page.chips) <= 4
    assert any("█" in row.text or "▀" in row.text for row in rows if row.role is Role.CANVAS)


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 60), (40, 12), (20, 5), (10, 2)])
@pytest.mark.parametrize("moment", MOMENTS)
@pytest.mark.parametrize("text", PLANS)
def test_a_page_fills_its_window_and_no_more(moment: Callable[[str], Page], text: str, size: tuple[int, int]) -> None:
    columns, lines = size
    page = moment(text)
    for rows in (page_lines(page, columns, lines), fact_lines(page, 0, columns, lines)):
        assert len(rows) == lines
        assert max(cells(row.text) for row in rows) <= columns


@pytest.mark.parametrize("moment", MOMENTS)
def test_nothing_that_answers_is_cut_in_a_small_window(moment: Callable[[str], Page]) -> None:
    for text in PLANS:
        page = moment(text)
        said = " ".join(row.text.strip() for row in page_lines(page, 40, 12))
        assert page.sentence in said
        assert page.caution in said
    told = " ".join(row.text for row in page_lines(moment(PLAN), 40, 12))
    assert all(bar.label in told and bar.says in told for bar in moment(PLAN).bars)
    smallest = " ".join(row.text for row in page_lines(moment(PLAN), 20, 5))
    assert moment(PLAN).plain in smallest


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
@pytest.mark.parametrize("moment", MOMENTS)
def test_a_page_looks_as_it_did(
    snapshot: SnapshotAssertion, moment: Callable[[str], Page], size: tuple[int, int]
) -> None:
    page = moment(PLAN)
    assert "\n".join(row.text for row in (*page_lines(page, *size), *fact_lines(page, 0, *size))) == snapshot


def test_before_the_first_stroke_the_page_tells_canvas_turns_piles_and_due_day() -> None:
    page = before(PLAN)
    assert page.word in ("← Hall", "School →")
    assert page.sentence == "3 turns fit into today's 1 h."
    said = {bar.label: bar.says for bar in page.bars}
    assert said["first"] == "socket shadow"
    assert said["hours today"] == "56 min"
    assert said["deep flesh"].endswith(" ml")
    assert said["due 1 May"].endswith(("in 10", "as good as certain"))
    assert any(line.startswith("mix ") and "umber" in line for line in page.facts)


def test_after_the_session_the_page_tells_minutes_leads_rags_and_where_to_begin() -> None:
    page = after_session(PLAN)
    assert page.word == "3 turns"
    assert "Rest until" in page.sentence
    assert sorted(bar.says for bar in page.bars[:2]) == ["12 min, led 1", "20 min, led 1"]
    assert page.bars[2].label == "next"
    assert "never piled" in page.caution
    assert any("NFPA" in line for line in page.facts)


def test_after_the_last_stroke_the_page_tells_days_and_what_is_recorded_next() -> None:
    easel = painted(PLAN)
    situation, known = easel.session.situation(), known_of(easel)
    page = moment_page(situation, known, None)
    assert page.word == "drying"
    assert page.sentence.startswith("Dry ")
    assert [bar.says for bar in page.bars] == ["in the studio", "in the studio"]
    dry = known.brief.touch_dry.p80
    assert dry is not None
    assert moment_page(situation, known._replace(today=dry), None).word == "dry"
    stages = list(STAGE_WORDS)
    for number, stage in enumerate(stages):
        for canvas in ("Hall", "School"):
            assert next_step(situation, known.stages) == Step(canvas, stage)
            known = known._replace(stages=(*known.stages, Stage(canvas, stage, known.today)))
        words = {Kind.TO_FRAMER: "framing", Kind.FROM_FRAMER: "framed", Kind.SENT: "sent"}
        assert moment_page(situation, known, None).word == words.get(stage, "drying" if number == 0 else "handed over")
    assert next_step(situation, known.stages) is None


def compare_bar(page: Page) -> tuple[str, str] | None:
    """Return what a page says of comparing, where the key for it is offered."""
    said = [(bar.label, bar.says) for bar in page.bars if bar.label in {"out", "compare"}]
    assert bool(said) == (chip("app.both") in page.chips)
    return said[0] if said else None


def test_after_the_session_one_line_tells_what_is_out_and_which_key_compares() -> None:
    page = after_comparing(PLAN)
    assert compare_bar(page) == ("out", "left eye and 3 more")
    assert "left eye: further right." in page.facts
    assert any(fact.startswith("Canvases compared once, last on 15 Jan: 4 differences are out.") for fact in page.facts)


def test_two_photos_are_asked_for_once_a_passage_is_finished_on_two_canvases() -> None:
    shapes = PLAN.replace("name: iris,", "name: iris, shapes: [k1],") + "photo: sitter.png\nshapes: sitter.shapes.svg\n"
    for text, is_asked in ((PLAN, False), (shapes, True)):
        easel = painted(text)
        page = moment_page(easel.session.situation(), None, behind_of(easel))
        assert compare_bar(page) == (("compare", "the canvases: two photos") if is_asked else None)

    easel = painted(shapes)
    easel.session.make(record_comparison(compared([read_as("iris")], 0.0), photos(24)))
    assert compare_bar(moment_page(easel.session.situation(), known_of(easel), behind_of(easel))) == ("out", "iris")
    easel.session.make(mean_it("eyes", "iris", ("Hall", "School")))
    assert compare_bar(moment_page(easel.session.situation(), known_of(easel), behind_of(easel))) is None


def test_what_is_painted_again_since_is_to_be_compared_again() -> None:
    easel = painted(PLAN)
    easel.session.make(record_comparison(compared([read_as("iris")], 0.0), photos(24)))
    easel.session.make(mark_for_return("eyes", "iris", "School"))
    easel.clock.go(minutes=5)
    assert compare_bar(moment_page(easel.session.situation(), None, behind_of(easel))) is None
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_on)
    page = moment_page(easel.session.situation(), None, behind_of(easel))
    assert compare_bar(page) == ("compare", "again: iris")


class EaselForecastSource(SetForecastSource):
    """Asks about what an easel's journal holds."""

    def __init__(self, easel: Easel) -> None:
        super().__init__(easel.source.text)
        self._easel = easel

    def asked(self) -> ForecastInput:
        if self.fault:
            return super().asked()
        state = state_of(self._easel.journal.after(0))
        return forecast_input(self._easel.plan, state, local_time(self._easel.clock.read()).date(), {})


def app_with(easel: Easel) -> CoachApp:
    return app_on(easel, forecast_source=lambda: EaselForecastSource(easel))


async def test_the_page_opens_by_f_shows_facts_and_leaves_all_else_to_the_easel() -> None:
    easel = Easel(PLAN)
    app = app_with(easel)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "f")
        await until_shown(pilot, "3 turns fit into today's 1 h.")
        await press(pilot, "f")
        await until_shown(pilot, "socket shadow + upper lid, 23 min planned")
        await press(pilot, "down", "up", "f", "escape")
        assert not isinstance(app.screen, MomentScreen)
        await press(pilot, "f", "space")
        await until(pilot, lambda: easel.session.situation().phase is Phase.WORKING)
        assert not isinstance(app.screen, MomentScreen)
        await press(pilot, "f")
        assert not isinstance(app.screen, MomentScreen)


async def test_enter_records_what_followed_the_last_stroke_and_u_takes_it_back() -> None:
    easel = painted(PLAN)
    app = app_with(easel)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "f")
        await until_shown(pilot, "Hall: photographed")
        await press(pilot, "enter")
        await until_shown(pilot, "School: photographed")
        assert kinds(easel)[-1] is Kind.PHOTOGRAPHED
        await press(pilot, "u")
        await until(pilot, lambda: kinds(easel)[-1] is Kind.UNDONE)


async def test_enter_begins_where_something_is_left_to_paint() -> None:
    easel = Easel(PLAN)
    app = app_with(easel)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "f", "enter")
        await until(pilot, lambda: easel.session.situation().phase is Phase.WORKING)


async def test_a_fault_stands_among_the_facts_and_the_page_stands_without_a_forecast() -> None:
    easel = Easel(PLAN)
    source = EaselForecastSource(easel)
    source.fault = "the journal cannot be read"
    app = app_on(easel, forecast_source=lambda: source)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "f")
        assert "The canvas above begins." in shown(app)
        await press(pilot, "f")
        await until_shown(pilot, "the journal cannot be read")


async def test_the_page_after_the_session_comes_by_itself() -> None:
    app = app_with(begun(PLAN))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "e")
        await until_shown(pilot, "4 min painted.")
        assert isinstance(app.screen, MomentScreen)
        await press(pilot, "escape")
        assert "Session over: 4 min painted" in shown(app)
        await press(pilot, "n", *"edge", "enter")
        assert not isinstance(app.screen, MomentScreen)


async def test_what_must_be_answered_comes_before_the_page_after_the_session(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = [True]
    monkeypatch.setattr(EaselScreen, "must_be_answered", property(lambda _: asked[0]))
    app = app_with(begun(PLAN))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "e")
        assert "Session over: 4 min painted" in shown(app)
        asked[0] = False
        await press(pilot, "m")  # any move that is recorded, such as an answer
        await until_shown(pilot, "4 min painted.")
        assert isinstance(app.screen, MomentScreen)


def test_only_an_answer_that_is_recorded_must_be_given() -> None:
    easel = EaselScreen(lambda _: True, lambda _: True, str)
    for no, must in (("", False), (TAKE_AWAY, False), ("find_wet", False), ("work_ten_more", True)):
        easel._asks = (Ask(Notice("Is it dry?"), no=no),)
        assert easel.must_be_answered == must
