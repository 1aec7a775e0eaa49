"""The Compare screen by its keys and the mouse: two photos, corners, names, what differs, and what is done about it."""

import re
from dataclasses import replace

import pytest
from textual.pilot import Pilot

from coach.compare.findings import AllOver, OffValue
from coach.journal.compared import KeptPhoto
from coach.plan.commission import Canvas
from coach.screens.app import CoachApp
from coach.screens.choice import ChoiceScreen
from coach.screens.compare.repository import OfferedPhoto
from coach.screens.compare.screen import CompareScreen
from coach.screens.compare.state import Framings, Step
from coach.screens.page import MOST_WORDS
from coach.screens.widgets.photo_view import PhotoView
from coach.shapes.photo_window import PhotoWindow
from tests.compare.scenes import SIZE as CANVAS_SIZE
from tests.screens.driving import app_on, press, shown, until, until_shown
from tests.screens.made_canvases import CANVASES, FIRST, SECOND, RenderedCanvases, found, scene
from tests.screens.test_looks import LEAST_CONTRAST, contrast, styles
from tests.sessions import Easel

SIZE = (80, 24)


@pytest.fixture(scope="module", autouse=True)
def _rendered() -> None:
    """Render and compare the photos before anything waits for them."""
    found()


class MemoryDrafts:
    """What is kept beside the plan, in memory."""

    def __init__(self) -> None:
        self.kept: dict[str, str] = {}

    def load(self) -> dict[str, str]:
        return dict(self.kept)

    def put(self, kind: str, text: str) -> None:
        self.kept[kind] = text


def app_with(canvases: RenderedCanvases, drafts: MemoryDrafts | None = None) -> CoachApp:
    return app_on(Easel(), drafts=drafts, compare_repository=lambda: canvases)


def screen_of(pilot: Pilot[None]) -> CompareScreen:
    screen = pilot.app.screen
    assert isinstance(screen, CompareScreen)
    return screen


def window_of(pilot: Pilot[None]) -> PhotoWindow:
    window = screen_of(pilot)._pictures.photo.window
    assert window is not None
    return window


def framings_of(pilot: Pilot[None]) -> Framings:
    framings = screen_of(pilot)._view.framings
    assert framings is not None
    return framings


async def at(pilot: Pilot[None], step: Step) -> None:
    await until(pilot, lambda: isinstance(pilot.app.screen, CompareScreen) and screen_of(pilot)._view.step is step)


async def to_corners(pilot: Pilot[None]) -> None:
    await press(pilot, "b")
    await until_shown(pilot, FIRST)
    await press(pilot, "enter")
    await at(pilot, Step.CORNERS)


async def to_answer(pilot: Pilot[None]) -> None:
    await to_corners(pilot)
    await press(pilot, "enter", "enter", "enter")
    await at(pilot, Step.ANSWER)


@pytest.mark.parametrize("door", [("b",), ("l", "b")])
async def test_easel_and_log_lead_to_the_page_that_says_how_and_escape_leads_back(door: tuple[str, ...]) -> None:
    async with app_with(RenderedCanvases()).run_test(size=SIZE) as pilot:
        await press(pilot, *door)
        said = await until_shown(pilot, FIRST)
        assert "One photo of both, exchange them, a second photo from the same spot." in said
        assert "no flash" in said
        first, second = (
            next(row for row in said.splitlines() if row.startswith(f" {no}")) for no in ("first", "second")
        )
        assert first.index("Hall") < first.index("School")
        assert second.index("School") < second.index("Hall")
        assert FIRST in first
        assert SECOND in second
        await press(pilot, "escape")
        assert pilot.app.screen is pilot.app.screen_stack[0]


async def test_the_whole_way_from_two_photos_to_four_findings() -> None:
    """Three shapes of other colour and one moved eye: these four are named, and nothing else."""
    canvases = RenderedCanvases()
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_corners(pilot)
        assert "photo 1 of 2" in shown(pilot.app)
        await press(pilot, "enter")
        await until_shown(pilot, "Does Hall stand on the left in this photo?")
        await press(pilot, "enter")
        await until_shown(pilot, "left School, right Hall")
        await press(pilot, "enter")
        await at(pilot, Step.ANSWER)
        assert [view.canvas for photo in canvases.framed for view in photo.views] == [
            "Hall",
            "School",
            "School",
            "Hall",
        ]
        assert canvases.kept == [("photo1.jpg", "photo2.jpg")]
        seen = []
        for _ in range(4):
            seen.append(shown(pilot.app).splitlines()[5:7])
            await press(pilot, "right")
        assert sorted((passage.split(" · ")[0].strip(), words.strip()) for words, passage in seen) == [
            ("cheek left, middle", "Hall is darker than School."),
            ("coat, dark", "Hall is stronger and darker than School."),
            ("collar, light", "Hall is lighter and greyer than School."),
            ("socket left", "5 mm further right on School than on Hall."),
        ]
        assert shown(pilot.app).splitlines()[5:7] == seen[0]
        await press(pilot, "f")
        assert re.search("One place had (79|80|81) % of the light of the other", shown(pilot.app))
        assert "Not compared, the drawing differs there: socket left" in shown(pilot.app)
        await press(pilot, "escape")
        assert "collar, light" in shown(pilot.app)


async def test_a_finding_is_marked_on_the_canvas_that_is_chosen_or_meant_so() -> None:
    canvases = RenderedCanvases()
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_answer(pilot)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, ChoiceScreen)
        await press(pilot, "2")
        assert "Marked on School: look at collar, light again." in shown(pilot.app)
        await press(pilot, "x")
        assert "collar, light is meant so" in shown(pilot.app)
        assert canvases.kept[1:] == [
            ("marked", ("all", "collar, light"), "School"),
            ("meant", ("all", "collar, light"), ("Hall", "School")),
        ]
        await press(pilot, "f")
        assert "Meant so: collar, light." in shown(pilot.app)
        assert "out since 20 Nov" not in shown(pilot.app)
        await press(pilot, "f")
        canvases.fault = "not recorded: the disk is full; make room and try again"
        await press(pilot, "x", "enter", "1")
        assert "Not recorded: the disk is full" in shown(pilot.app)
        canvases.fault = ""
        await press(pilot, "x", "x", "x")
        assert "The canvases agree" in shown(pilot.app)
        assert "meant so" not in shown(pilot.app).splitlines()[-1]


async def test_corners_move_by_keys_and_by_the_mouse_and_one_millimetre_is_reached() -> None:
    async with app_with(RenderedCanvases()).run_test(size=SIZE) as pilot:
        await to_corners(pilot)
        before = framings_of(pilot)
        await press(pilot, "right", "down")
        window = screen_of(pilot)._pictures.photo.window
        assert window is not None
        moved = framings_of(pilot).at
        assert (moved[0] - before.at[0], moved[1] - before.at[1]) == pytest.approx((window.dot_px, window.dot_px))
        await press(pilot, "escape", "enter")
        await at(pilot, Step.CORNERS)
        assert framings_of(pilot).at == moved
        await press(pilot, "tab", *["plus"] * 9)
        assert framings_of(pilot).in_hand == 1
        window = screen_of(pilot)._pictures.photo.window
        assert window is not None
        assert window.dot_px <= scene()[0].views[0].px_per_mm
        column, row = window.dot_at(framings_of(pilot).at)
        await pilot.click(PhotoView, offset=(column + 4, row // 2))
        assert framings_of(pilot).in_hand == 1
        assert framings_of(pilot).at[0] == pytest.approx(before.framing.corners[1][0] + 4 * window.dot_px, abs=1)
        assert framings_of(pilot).framing.corners[2:] == before.framing.corners[2:]


async def test_corners_that_cannot_be_are_named_and_not_accepted() -> None:
    async with app_with(RenderedCanvases()).run_test(size=SIZE) as pilot:
        await to_corners(pilot)
        await press(pilot, *["tab"] * 4, *["right"] * 18, "enter")
        assert "The corners of School " in shown(pilot.app)
        assert framings_of(pilot).canvas == "School"
        await press(pilot, *["left"] * 18, "enter")
        assert screen_of(pilot)._view.step is Step.NAMES


async def test_names_are_exchanged_in_both_photos_and_photos_without_canvases_get_drawn_ones() -> None:
    canvases = RenderedCanvases(is_found=False)
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_corners(pilot)
        assert "put the corners yourself" in shown(pilot.app)
        await press(pilot, "enter", "o")
        assert "Does School stand on the left" in shown(pilot.app)
        await press(pilot, "enter")
        assert "left Hall, right School" in shown(pilot.app)
        await press(pilot, "escape")
        assert framings_of(pilot).number == 0
        await press(pilot, "escape")
        assert screen_of(pilot)._view.step is Step.PHOTOS


async def test_photos_are_chosen_from_the_folder_or_typed_and_one_that_fails_says_why() -> None:
    canvases = RenderedCanvases()
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await press(pilot, "b")
        await until_shown(pilot, FIRST)
        await press(pilot, "c", "1")
        assert "Which is the second photo" in shown(pilot.app)
        await press(pilot, "2", *"[b].jpg", "enter")
        await until_shown(pilot, "no such file")
        assert screen_of(pilot)._view.step is Step.PHOTOS
        await press(pilot, "c", "1", "2", *SECOND, "enter")
        await until_shown(pilot, "Both are the same photo")
        await press(pilot, "c", "2", "1")
        await at(pilot, Step.CORNERS)


@pytest.mark.parametrize(
    ("offers", "says"),
    [
        ((), "names a photo"),
        ((OfferedPhoto(FIRST, ""),), "One photo so far"),
        ((OfferedPhoto(FIRST, "", "the photo is damaged"), OfferedPhoto(SECOND, "")), "the photo is damaged"),
        ((OfferedPhoto(FIRST, "", cautions=("it was taken with flash",)), OfferedPhoto(SECOND, "")), "with flash"),
    ],
)
async def test_what_the_folder_lacks_is_said(offers: tuple[OfferedPhoto, ...], says: str) -> None:
    async with app_with(RenderedCanvases(offers=offers)).run_test(size=SIZE) as pilot:
        await press(pilot, "b")
        await until_shown(pilot, says)


async def test_what_the_plan_lacks_is_said_and_nothing_begins() -> None:
    canvases = RenderedCanvases()
    canvases.problem = "First the photo and its shapes: t opens them."
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await press(pilot, "b")
        await until_shown(pilot, canvases.problem)
        await press(pilot, "enter", "c")
        assert screen_of(pilot)._view.step is Step.PHOTOS


async def test_of_three_canvases_two_are_chosen() -> None:
    canvases = RenderedCanvases()
    canvases.canvases = (*CANVASES, Canvas("Mill", None, CANVAS_SIZE))
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await press(pilot, "b")
        await until_shown(pilot, FIRST)
        await press(pilot, "enter")
        assert "School and Mill" in shown(pilot.app)
        await press(pilot, "3")
        await at(pilot, Step.CORNERS)
        assert framings_of(pilot).framing[2:] == ("School", "Mill")


async def test_a_comparison_that_fails_says_why_and_leaves_the_corners() -> None:
    canvases = RenderedCanvases()
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_corners(pilot)
        canvases.fault = "only 2 passages can be read on both canvases; 4 are needed"
        await press(pilot, "enter", "enter", "enter")
        await until_shown(pilot, "Only 2 passages can be read")
        assert framings_of(pilot).number == 1


async def test_corners_half_set_outlive_a_kill() -> None:
    drafts = MemoryDrafts()
    app = app_with(RenderedCanvases(), drafts)
    async with app.run_test(size=SIZE) as pilot:
        await to_corners(pilot)
        await press(pilot, "right", "enter", "o", "enter", "tab", "down")
        meant = framings_of(pilot)
        app.keep_drafts()
    async with app_with(RenderedCanvases(), drafts).run_test(size=SIZE) as pilot:
        await press(pilot, "b")
        await at(pilot, Step.CORNERS)
        again = framings_of(pilot)
        assert [one.corners for one in again.photos] == [one.corners for one in meant.photos]
        assert [one.left for one in again.photos] == ["School", "Hall"]
        assert again.number == 1
    for broken in ("{", '{"photos": 3}', drafts.kept["corners"].replace(FIRST, "gone.jpg")):
        drafts.kept["corners"] = broken
        async with app_with(RenderedCanvases(), drafts).run_test(size=SIZE) as pilot:
            await press(pilot, "b")
            await until_shown(pilot, "exchange them" if "gone" not in broken else "no such file")


async def test_cards_are_set_beside_the_canvases_in_both_photos_or_left_out() -> None:
    canvases = RenderedCanvases()
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_corners(pilot)
        await press(pilot, "a")
        assert "card beside Hall: upper left corner" in shown(pilot.app)
        await press(pilot, *["tab"] * 4, "up")
        assert framings_of(pilot).canvas == "card beside School"
        await press(pilot, "enter", "enter", "enter")
        await at(pilot, Step.ANSWER)
        assert [set(photo.cards) for photo in canvases.framed] == [{"Hall", "School"}] * 2
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_corners(pilot)
        await press(pilot, "a", "a", "enter", "enter", "enter")
        await at(pilot, Step.ANSWER)
        assert [photo.cards for photo in canvases.framed] == [{}, {}]


async def test_landmarks_are_set_on_both_canvases_and_what_lies_elsewhere_joins_the_findings() -> None:
    canvases = RenderedCanvases()
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_answer(pilot)
        await press(pilot, "tab")
        await at(pilot, Step.LANDMARKS)
        assert "Hall: collar, light · 1 of 8" in shown(pilot.app)
        names = framings_of(pilot).landmarks
        assert names is not None
        number = len(names.names) + names.names.index("mouth, middle")
        await press(pilot, "plus", "plus", *["tab"] * len(names.points), *["tab"] * number)
        assert "School: mouth, middle" in shown(pilot.app)
        dot_px = window_of(pilot).dot_px
        mm = 8 * scene()[0].views[0].px_per_mm
        await press(pilot, *["left"] * round(mm / dot_px), "enter")
        await at(pilot, Step.ANSWER)
        assert "1 of 5" in shown(pilot.app)
        said = [one.words for one in screen_of(pilot)._view.findings if one.meant_as == ("", "mouth")]
        assert re.fullmatch(r"\d+ mm further left( and \d mm \w+)? on School than on Hall", said[0])
        await until_shown(pilot, "mouth · drawing")
        await press(pilot, "enter", "2")
        assert canvases.kept[-1] == ("marked", ("all", "mouth, middle"), "School")


async def test_landmarks_that_agree_are_said_to_and_half_set_ones_outlive_a_kill() -> None:
    drafts = MemoryDrafts()
    canvases = RenderedCanvases()
    app = app_with(canvases, drafts)
    async with app.run_test(size=SIZE) as pilot:
        await to_answer(pilot)
        await press(pilot, "tab")
        await at(pilot, Step.LANDMARKS)
        await press(pilot, "tab", "enter")
        await until_shown(pilot, "Set 5 points or more on each canvas")
        await press(pilot, *["tab"] * 16, "enter")
        await until_shown(pilot, "The landmarks agree within 3 mm.")
        await press(pilot, "tab")
        await at(pilot, Step.LANDMARKS)
        await press(pilot, "tab", "right")
        meant = framings_of(pilot).landmarks
        app.keep_drafts()
    canvases.last = found()._replace(pictures=None)
    async with app_with(canvases, drafts).run_test(size=SIZE) as pilot:
        await press(pilot, "b")
        await at(pilot, Step.LANDMARKS)
        assert framings_of(pilot).landmarks == meant
        await press(pilot, "escape")
        await at(pilot, Step.ANSWER)
        await press(pilot, "tab")
        assert "First compare two photos" in shown(pilot.app)


async def test_the_last_comparison_stands_there_until_newer_photos_come() -> None:
    canvases = RenderedCanvases()
    photos = (KeptPhoto(FIRST, "0" * 64), KeptPhoto(SECOND, "1" * 64))
    canvases.last = found()._replace(pictures=None, photos=photos, meant=frozenset({("all", "collar, light")}))
    canvases.history = ("Canvases compared once, last on 20 Nov: 3 differences are out.",)
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await press(pilot, "b")
        await until_shown(pilot, "1 of 3")
        assert "cheek left" in shown(pilot.app)
        await press(pilot, "f")
        assert "last on 20 Nov" in shown(pilot.app)
        await press(pilot, "escape", "escape")
        canvases.offers = (OfferedPhoto("newer.jpg", ""), *canvases.offers)
        await press(pilot, "b")
        await until_shown(pilot, "newer.jpg")
        assert screen_of(pilot)._view.step is Step.PHOTOS


async def test_what_differs_all_over_is_a_finding_and_has_no_passage_to_mark() -> None:
    canvases = RenderedCanvases()
    words = "School is lighter all over"
    every = AllOver(difference=6.0, lab_difference=(-6.0, 0.0, 0.0), called=True, words=words)
    changed = replace(found().comparison, all_over=every, remarks=("Look again in even light.",))
    canvases.answer = found()._replace(comparison=changed)
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_answer(pilot)
        assert words in shown(pilot.app)
        assert "Look again in even light." in shown(pilot.app)
        await press(pilot, "enter")
        assert "It is no one passage" in shown(pilot.app)
        await press(pilot, "x")
        assert canvases.kept[-1] == ("meant", ("", "all over"), ("Hall", "School"))


async def test_a_value_that_leaves_the_order_of_the_photo_is_shown_beside_it() -> None:
    canvases = RenderedCanvases()
    words = "Hall: too dark beside its neighbours in value, by 0.7 steps"
    off = [
        OffValue(canvas="Hall", pass_="all", passage=name, steps=-0.7, words=words)
        for name in ("chin, half-light", "collar, light")
    ]
    canvases.answer = found()._replace(comparison=replace(found().comparison, moved=(), off_values=tuple(off)))
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_answer(pilot)
        assert "1 of 4" in shown(pilot.app)
        await press(pilot, "left")
        assert "chin, half-light · all · against the photo" in shown(pilot.app)
        assert words in shown(pilot.app)
        assert "as the photo" in shown(pilot.app)
        await press(pilot, "f")
        assert "Against the photo: Hall: too dark" in shown(pilot.app)


async def test_a_finding_says_which_canvas_leaves_the_photo_and_that_one_is_offered_first() -> None:
    canvases = RenderedCanvases()
    words = "too light beside its neighbours in value, by"
    off = [
        OffValue(canvas=name, pass_="all", passage="collar, light", steps=steps, words=f"{name}: {words} {steps} steps")
        for name, steps in (("School", 1.2), ("Hall", 0.6))
    ]
    canvases.answer = found()._replace(comparison=replace(found().comparison, off_values=tuple(off)))
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_answer(pilot)
        rows = [row.strip() for row in shown(pilot.app).splitlines()]
        assert rows[rows.index("School is too light for the photo.") + 1] == "collar, light · all"
        await press(pilot, "enter", "enter")
        assert canvases.kept[-1] == ("marked", ("all", "collar, light"), "School")
        await press(pilot, "f")
        assert "photo: School: too light" in shown(pilot.app)
        assert "photo: Hall: too light" in shown(pilot.app)


async def test_photos_that_give_no_answer_say_why() -> None:
    canvases = RenderedCanvases()
    remark = "Hall stands on the left in both photos: exchange them and take the second photo again."
    changed = replace(found().comparison, exchanged=False, shapes=(), moved=(), off_values=(), remarks=(remark,))
    canvases.answer = found()._replace(comparison=changed)
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_answer(pilot)
        assert "These photos give no answer." in shown(pilot.app)
        assert "exchange them and take the second" in shown(pilot.app)
        assert canvases.kept == []


async def test_a_name_that_block_letters_cannot_draw_is_asked_in_words() -> None:
    canvases = RenderedCanvases()
    canvases.canvases = tuple(canvas._replace(name=f"{canvas.name} 緑の港") for canvas in CANVASES)
    async with app_with(canvases).run_test(size=SIZE) as pilot:
        await to_corners(pilot)
        await press(pilot, "enter")
        assert "Does Hall 緑の港 stand on the left in this photo?" in shown(pilot.app)


@pytest.mark.parametrize("light", [False, True])
@pytest.mark.parametrize("no_colour", [False, True])
async def test_all_text_stands_out(monkeypatch: pytest.MonkeyPatch, *, light: bool, no_colour: bool) -> None:
    if no_colour:
        monkeypatch.setenv("NO_COLOR", "1")
    app = app_on(Easel(), light=light, compare_repository=RenderedCanvases)
    async with app.run_test(size=SIZE) as pilot:
        await to_answer(pilot)
        assert {style for style in styles(app) if contrast(style) < LEAST_CONTRAST} == set()


@pytest.mark.parametrize("size", [(80, 24), (40, 12), (20, 5), (200, 60)])
async def test_the_answer_is_seen_in_every_window_in_few_words(size: tuple[int, int]) -> None:
    async with app_with(RenderedCanvases()).run_test(size=size) as pilot:
        await press(pilot, "b")
        await pilot.pause(0.5)
        await until(pilot, lambda: screen_of(pilot)._view.opened is not None)
        assert words_on(pilot) <= MOST_WORDS
        await press(pilot, "enter")
        await at(pilot, Step.CORNERS)
        assert ("A larger" in shown(pilot.app)) == (size == (20, 5))
        await press(pilot, "enter", "enter", "enter")
        await at(pilot, Step.ANSWER)
        said = " ".join(shown(pilot.app).split())
        assert "Hall is lighter" in said
        assert words_on(pilot) <= MOST_WORDS
        if size != (80, 24):
            return
        assert screen_of(pilot)._pictures.patches._dots is not None


def words_on(pilot: Pilot[None]) -> int:
    return sum(any(map(str.isalnum, word)) for word in shown(pilot.app).split())
