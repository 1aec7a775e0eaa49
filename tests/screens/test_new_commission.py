"""A new commission by its keys: the ferry sisters on three canvases, from the first question to the file."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, Static

from coach.commands.new import CommissionDesk
from coach.composition.marking import begun
from coach.composition.photo_boxes import PhotoSize
from coach.composition.proposal.answers import default_answers
from coach.composition.proposal.questions import QUESTIONS, answers_of
from coach.composition.setup_cautions import PHOTO_CAUTION, STANDING, cautions_of
from coach.plan.commission import MarkedBox, MarkedHead, Plan
from coach.plan.reading import read_plan
from coach.screens.commission.screen import NewCommissionApp
from coach.screens.commission.view import LAST, boxes_of, marking_in
from coach.screens.widgets.half_blocks import HalfBlocks
from coach.screens.widgets.marked_photo import MarkedPhoto
from coach.shapes.head_finding import FoundHead
from coach.shapes.svg import read_svg
from coach.store.system_clock import SystemClock
from tests.screens.test_looks import LEAST_CONTRAST, contrast, styles
from tests.shapes.test_command import picture

SIZE = (120, 40)
FERRY = ("elder, younger", "", "The ferry sisters", "3", "North, Harbour, Mill", "", "", "50 x 60 cm")
"""What is typed to the first questions; the empty ones take what is proposed."""

ASKED = LAST - 1
"""So many questions are asked where there is no photo: not where its heads are."""


_HEADS = next(number for number, one in enumerate(QUESTIONS) if one.key == "heads")


def app_in(folder: Path, *, light: bool = False) -> NewCommissionApp:
    """Return the app as `coach new` makes it in a folder."""
    repository = CommissionDesk(folder)
    return NewCommissionApp(repository, answers_of(repository.kept.load(), SystemClock().today()), light=light)


def text_of(app: NewCommissionApp, name: str) -> str:
    return str(app.screen.query_one(f"#{name}", Static).content)


def field(app: NewCommissionApp) -> str:
    return app.screen.query_one(Input).value


def shown(app: NewCommissionApp) -> str:
    return "\n".join(strip.text for strip in app.screen._compositor.render_strips())


async def press(pilot: Pilot[Path], *keys: str) -> None:
    await pilot.press(*keys)
    await pilot.pause()


async def answer(pilot: Pilot[Path], *texts: str) -> None:
    """Fill in answers to one question after another; an empty one takes what stands in the field."""
    for text in texts:
        if text:
            pilot.app.screen.query_one(Input).value = text
        await press(pilot, "enter")


async def made(pilot: Pilot[Path], app: NewCommissionApp) -> None:
    """Wait until the plan is made, and whether its day holds is said."""
    await until(pilot, lambda: "The file of the plan:" in text_of(app, "hint"))


async def write(pilot: Pilot[Path], app: NewCommissionApp) -> None:
    """Go on over the cautions and wait until the plan is written."""
    await press(pilot, "enter")
    assert "Take care" in text_of(app, "asks")
    await press(pilot, "enter")
    await until(pilot, lambda: app.return_value is not None)


async def until(pilot: Pilot[Path], is_so: Callable[[], bool]) -> None:
    """Wait until something is so, for a bounded number of turns of the loop: a photo is taken apart meanwhile."""
    for _ in range(3000):
        if is_so():
            return
        await pilot.pause(0.01)
    pytest.fail("it never came about")


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def written(path: Path) -> Plan:
    return read_plan(path.read_text(), path.name)


async def test_the_ferry_sisters_are_asked_for_and_written_in_a_file_of_their_name(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        assert text_of(app, "asks") == QUESTIONS[0].asks
        await answer(pilot, *FERRY)
        assert "3 canvases of 50 x 60 cm: North, Harbour, Mill" in shown(app)
        await answer(pilot, *[""] * (ASKED - len(FERRY)))
        assert field(app) == "the-ferry-sisters.yaml"
        await made(pilot, app)
        assert "that all is handed over by" in text_of(app, "asks")
        await write(pilot, app)
    assert app.return_value == tmp_path / "the-ferry-sisters.yaml"
    plan = written(tmp_path / "the-ferry-sisters.yaml")
    assert plan.commission == "The ferry sisters"
    assert [(one.name, one.place) for one in plan.canvases] == [("North", "1"), ("Harbour", "2"), ("Mill", "3")]
    assert {one.size for one in plan.canvases} == {plan.canvases[0].size}
    assert [one.name for one in plan.passes][1:4] == ["block-in", "elder eyes", "younger eyes"]
    assert names(tmp_path) == ["the-ferry-sisters.yaml"]


async def test_what_is_proposed_stands_in_the_field_and_typing_takes_its_place(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        assert field(app) == "the sitter"
        await press(pilot, "a")
        assert field(app) == "a"
        await press(pilot, "backspace", "enter")
        await press(pilot, "enter")
        assert field(app) == "Portrait of the sitter"
        await press(pilot, "up", "up", "end", "s", "enter", "enter")
        assert field(app) == "Portrait of the sitters"


async def test_up_and_escape_go_back_and_down_goes_on_and_a_changed_answer_is_taken_either_way(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, *FERRY[:5])
        await press(pilot, "up", "escape")
        assert (text_of(app, "asks"), field(app)) == ("How many canvases?", "3")
        await press(pilot, "2", "down")
        assert field(app) == "North, Harbour"
        await press(pilot, "up", "4", "up")
        assert text_of(app, "asks") == "What is the commission called?"
        assert "4 canvases of 40 x 50 cm: North, Harbour, First, Second" in text_of(app, "growing")


async def test_up_at_the_first_question_stays_and_says_how_to_leave(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "escape")
        assert app.is_running
        assert "ctrl+q leaves" in text_of(app, "remark")


@pytest.mark.parametrize(
    ("before", "typed", "sentence"),
    [
        (3, "13", "write how many canvases there are, 1 to 12"),
        (4, "Hall", "2 canvases were said and 1 named; name 2, or go back and change the number"),
        (7, "4 metres", "4 metres"),
        (9, "neon", '"neon"'),
    ],
)
async def test_a_fault_is_one_sentence_under_the_field_and_what_was_typed_stays(
    tmp_path: Path, before: int, typed: str, sentence: str
) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, *[""] * before, typed)
        assert field(app) == typed
        asked = QUESTIONS[before if before < _HEADS else before + 1]
        assert text_of(app, "asks") == asked.asks
        assert sentence in text_of(app, "remark")
        assert "\n" not in text_of(app, "remark")
        await press(pilot, "up", "down")
        assert text_of(app, "remark") == ""
        assert field(app) == asked.shown(default_answers(SystemClock().today()))


async def test_left_half_way_and_opened_again_it_goes_on_at_the_first_question_without_an_answer(
    tmp_path: Path,
) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, *FERRY[:5])
        await press(pilot, "ctrl+q")
    assert app.return_value is None
    again = app_in(tmp_path)
    async with again.run_test(size=SIZE) as pilot:
        assert text_of(again, "asks") == "When must they be handed over?"
        assert "what was said before is here still" in text_of(again, "remark")
        assert "North, Harbour, Mill" in text_of(again, "said")
        await answer(pilot, *[""] * (ASKED - 5))
        await made(pilot, again)
        await write(pilot, again)
    assert len(written(tmp_path / "the-ferry-sisters.yaml").canvases) == 3
    assert not (tmp_path / ".coach-new.json").exists()


async def test_begun_anew_nothing_is_said_and_the_same_key_brings_it_back(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, *FERRY[:3])
        await press(pilot, "ctrl+n")
        assert (text_of(app, "asks"), field(app)) == (QUESTIONS[0].asks, "the sitter")
        await press(pilot, "ctrl+n")
        assert text_of(app, "asks") == QUESTIONS[4].asks
        assert "The ferry sisters" in shown(app)
    assert answers_of(CommissionDesk(tmp_path).kept.load(), SystemClock().today()).sitters == ("elder", "younger")


async def test_answers_that_cannot_be_kept_are_told_and_asking_goes_on(tmp_path: Path) -> None:
    app = app_in(tmp_path / "gone")
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, "elder")
        assert text_of(app, "asks") == QUESTIONS[1].asks
        assert "what is not saved cannot be kept: No such file or directory" in text_of(app, "remark")
        await answer(pilot, *[""] * (ASKED - 1))
        await made(pilot, app)
        await press(pilot, "enter", "enter")
        await until(pilot, lambda: "the plan cannot be saved" in text_of(app, "remark"))
        assert app.is_running


async def test_a_name_that_is_taken_or_a_path_is_not_written_but_the_next_free_one_is_offered(tmp_path: Path) -> None:
    (tmp_path / "portrait-of-the-sitter.yaml").write_text("mine")
    (tmp_path / "a-b.journal").write_bytes(b"of an earlier plan")
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, *[""] * ASKED)
        assert field(app) == "portrait-of-the-sitter-2.yaml"
        await made(pilot, app)
        await answer(pilot, "../a/b.yaml")
        assert field(app) == "a-b-2.yaml"
        assert "a-b-2.yaml can be written" in text_of(app, "remark")
        await write(pilot, app)
    assert (tmp_path / "portrait-of-the-sitter.yaml").read_text() == "mine"
    assert names(tmp_path) == ["a-b-2.yaml", "a-b.journal", "portrait-of-the-sitter.yaml"]
    assert not (tmp_path.parent / "a").exists()


async def test_the_plan_is_told_before_it_is_written_its_facts_behind_f_and_its_text_behind_v(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, *FERRY, *[""] * (ASKED - len(FERRY)))
        await made(pilot, app)
        assert text_of(app, "growing") == ""
        await press(pilot, "f")
        assert "block-in" in text_of(app, "growing")
        assert "h a canvas" in text_of(app, "growing")
        await press(pilot, "v")
        text = text_of(app, "growing")
        before = app.screen.query_one("#below").scroll_y
        await press(pilot, "pagedown")
        assert app.screen.query_one("#below").scroll_y > before
        await press(pilot, "v")
        assert text_of(app, "growing") == ""
        await write(pilot, app)
    assert (tmp_path / "the-ferry-sisters.yaml").read_text().rstrip("\n") == text


async def test_the_cautions_stand_on_a_page_of_their_own_with_their_sources_behind_f(tmp_path: Path) -> None:
    app = with_photo(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await answer(pilot, "", "sitter.png", "60,40,180,200", *[""] * 5, "30 x 40 cm", "", "coarse")
        await made(pilot, app)
        await press(pilot, "enter")
        calm = text_of(app, "growing")
        assert calm.count("Photo: its darks and lights are not the sitter's.") == 1
        assert "rights and consent" in calm
        assert "canvases:" not in calm
        assert len([word for word in shown(app).split() if any(map(str.isalnum, word))]) <= 60
        assert all(line.strip() in shown(app) for line in calm.splitlines())
        await press(pilot, "f")
        sourced = text_of(app, "growing")
        await press(pilot, "f")
        assert text_of(app, "growing") == calm
        await press(pilot, "escape")
        assert "that all is handed over by" in text_of(app, "asks")
        await write(pilot, app)
    plan = written(tmp_path / "portrait-of-the-sitter.yaml")
    for caution in (*cautions_of(plan), PHOTO_CAUTION):
        assert sourced.count(caution.says) == 1
    assert all(caution.source in sourced for caution in cautions_of(plan))
    assert "Photo rights: not stated." in sourced
    assert sourced.count(STANDING) == 1


async def test_another_name_for_the_file_is_typed_when_it_is_asked_for(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, *[""] * ASKED)
        await made(pilot, app)
        await press(pilot, "c", "f", "v")
        await write(pilot, app)
    assert names(tmp_path) == ["fv.yaml"]


async def test_markup_in_an_answer_is_shown_as_typed_and_does_nothing(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    name = "[@click=app.quit]ferry[/]"
    async with app.run_test(size=SIZE) as pilot:
        app.screen.query_one(Input).value = name
        await press(pilot, "enter", "enter")
        assert f"Portrait of {name}" in shown(app)
        for y, line in enumerate(shown(app).splitlines()):
            if "ferry" in line:
                await pilot.click(offset=(line.index("ferry") + 2, y))
        assert app.is_running


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (200, 60), (40, 12)])
async def test_every_question_its_hint_its_field_and_the_keys_are_in_sight(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=size) as pilot:
        for step in range(ASKED + 1):
            for name in ("asks", "hint") if step < ASKED else ("asks",):
                words = app.screen.query_one(f"#{name}", Static)
                assert words.region.height == words.virtual_region.height > 0
                assert app.screen.region.contains_region(words.region)
            last = text_of(app, "hint" if step < ASKED else "asks").split()[-1]
            assert last in shown(app)
            assert field(app)[:20] in shown(app)
            assert " F1 " in shown(app)
            assert ("proposed, until you answer" in shown(app)) is (size[0] >= 100 and step < ASKED)
            if step < ASKED:
                await press(pilot, "enter")


@pytest.mark.parametrize("light", [False, True])
@pytest.mark.parametrize("no_colour", [False, True])
async def test_all_text_has_contrast_in_light_and_dark_and_without_colour(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, light: bool, no_colour: bool
) -> None:
    if no_colour:
        monkeypatch.setenv("NO_COLOR", "1")
    app = app_in(tmp_path, light=light)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, "", "", "", "13")
        typed, found = app.screen.query_one(Input), set()
        for is_blinking, at in ((True, 0), (False, 0), (True, 2)):  # what is seen must not hang on when one looks
            typed.cursor_position, typed._cursor_visible = at, is_blinking
            found |= styles(app)
        assert {style for style in found if contrast(style) < LEAST_CONTRAST} == set()
        inks = [style.color.get_truecolor() for style in found if style.color is not None]
        assert all(len(set(ink)) == 1 for ink in inks) or not no_colour


async def test_an_answer_kept_for_a_day_that_is_past_is_asked_again(tmp_path: Path) -> None:
    past = SystemClock().today() - dt.timedelta(days=1)
    CommissionDesk(tmp_path).keep({"sitters": "elder", "due": past.isoformat()})
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, "", "", "", "")
        assert text_of(app, "asks") == "When must they be handed over?"
        assert field(app) != f"{past.day} {past:%B %Y}"


def with_photo(folder: Path) -> NewCommissionApp:
    picture().resize((240, 300)).save(folder / "sitter.png")
    return app_in(folder)


async def test_from_a_photo_and_a_head_to_a_plan_with_its_shapes(tmp_path: Path) -> None:
    app = with_photo(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        shown_as = app.screen.query_one(HalfBlocks)
        await answer(pilot, "", "sitter.png")
        assert text_of(app, "asks") == QUESTIONS[_HEADS].asks
        await until(pilot, lambda: shown_as.rows > 0)
        await answer(pilot, "60,40,180,200", *[""] * 5, "30 x 40 cm", "")
        assert shown_as.rows > 0
        assert text_of(app, "asks") == "How finely do you divide the work?"
        await answer(pilot, "coarse")
        await made(pilot, app)
        assert shown_as.rows > 0
        assert "that all is handed over by" in text_of(app, "asks")
        await write(pilot, app)
    plan = written(tmp_path / "portrait-of-the-sitter.yaml")
    shape_map, problems = read_svg((tmp_path / "portrait-of-the-sitter.shapes.svg").read_bytes())
    assert (plan.photo, plan.heads) == ("sitter.png", (MarkedHead("the sitter", MarkedBox(60, 40, 180, 200)),))
    assert problems == ()
    used = {shape for one in plan.passes for passage in one.passages for shape in passage.shapes}
    assert used == {shape.id for shape in shape_map.shapes}


async def test_a_head_that_is_found_is_proposed_and_taken_by_enter_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("coach.shapes.head_finding.heads_found", lambda *_: [FoundHead(10.0, 10.0, 40.2, 50.0)])
    app = with_photo(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, "", "sitter.png")
        await until(pilot, lambda: field(app) != "none")
        times = 240 / 320  # the photo is 240 px wide, and looked at 400 px high
        assert field(app) == ",".join(str(round(side * times)) for side in (10, 10, 40.2, 50))
        assert "found in the photo" in text_of(app, "remark")
        assert "> heads" in text_of(app, "said")
        assert "none" in text_of(app, "said")
        await answer(pilot, "")
        assert "heads" in text_of(app, "said").partition("proposed")[0]


async def test_a_photo_that_is_not_there_is_said_and_the_plan_is_made_without_it(tmp_path: Path) -> None:
    app = app_in(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, "", "sitter.png")
        await until(pilot, lambda: "there is no such file" in text_of(app, "remark"))
        await answer(pilot, *[""] * 11)
        await made(pilot, app)
        await write(pilot, app)
    assert written(tmp_path / "portrait-of-the-sitter.yaml").shapes is None


async def test_a_head_beyond_the_photo_is_said_and_can_be_corrected(tmp_path: Path) -> None:
    app = with_photo(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, "", "sitter.png", "15,10,450,500", *[""] * 8)
        await until(pilot, lambda: "does not lie inside what is painted" in text_of(app, "remark"))
        await press(pilot, "enter")
        assert "does not lie inside what is painted" in text_of(app, "remark")
        await press(pilot, *["up"] * 9)
        assert field(app) == "15,10,450,500"


async def test_the_mouse_draws_the_head_and_changes_it(tmp_path: Path) -> None:
    app = with_photo(tmp_path)
    async with app.run_test(size=SIZE) as pilot:
        await answer(pilot, "", "sitter.png")
        view = app.screen.query_one(MarkedPhoto)
        await until(pilot, lambda: view.rows > 0 and view.window is not None)
        assert view.rows > SIZE[1] - 10

        async def drag(one: tuple[int, int], other: tuple[int, int]) -> list[int]:
            await pilot.mouse_down(MarkedPhoto, offset=one)
            await pilot.hover(MarkedPhoto, offset=other)
            await pilot.mouse_up(MarkedPhoto, offset=other)
            await pilot.pause()
            return [int(side) for side in field(app).split(",")]

        app.screen.query_one(Input).value = "none"
        drawn = await drag((10, 4), (30, 16))
        assert drawn[0] < drawn[2] <= 240
        assert drawn[1] < drawn[3] <= 300
        moved = await drag((20, 10), (24, 12))
        assert [moved[2] - moved[0], moved[3] - moved[1]] == [drawn[2] - drawn[0], drawn[3] - drawn[1]]
        assert moved[0] > drawn[0]
        assert moved[1] > drawn[1]
        assert app.screen.selections == {}
        await answer(pilot, "")
        assert "heads" in text_of(app, "said").partition("proposed")[0]


def test_a_head_drawn_beyond_the_sitters_takes_the_place_of_the_nearest() -> None:
    left, right, near_right = MarkedBox(0, 0, 20, 30), MarkedBox(60, 0, 80, 30), MarkedBox(50, 40, 70, 70)
    heads = tuple(MarkedHead(name, box) for name, box in (("a", left), ("b", right), ("c", near_right)))
    marking = begun(PhotoSize(width_px=100, height_px=100), heads)
    assert boxes_of(marking, 2) == (left, near_right)
    assert boxes_of(marking, 3) == (left, right, near_right)


def test_what_cannot_be_read_as_a_box_is_not_drawn() -> None:
    answers = default_answers(SystemClock().today())._replace(sitters=("elder", "younger"))
    size = PhotoSize(width_px=100, height_px=100)
    assert marking_in("none", answers, size).heads == ()
    assert marking_in("1,2,3,4; 5,6", answers, size).heads == (MarkedHead("elder", MarkedBox(1, 2, 3, 4)),)
    assert len(marking_in("1,2,3,4; 5,6,7,8; 1,1,2,2; 9,9,9,9", answers, size).heads) == 2
