"""The Composition by its keys and the mouse: what is marked, ranked, taken and written."""

from collections.abc import Callable
from typing import TYPE_CHECKING

import numpy as np
import pytest
from textual.pilot import Pilot

from coach.composition.photo_boxes import PhotoSize
from coach.errors import CoachError
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead
from coach.screens.app import CoachApp
from coach.screens.composition.screen import CompositionScreen
from coach.screens.composition.state import Marked, Sitter
from coach.screens.easel.screen import EaselScreen
from coach.screens.screen_factory import ScreenFactory
from coach.screens.widgets.board import LineBoard
from coach.screens.widgets.photo_view import PhotoView
from coach.session.journal_state import state_of
from coach.shapes.photo_window import Box, whole
from tests.screens.driving import until_shown
from tests.screens.test_looks import LEAST_CONTRAST, contrast, styles
from tests.sessions import Easel

if TYPE_CHECKING:
    from numpy.typing import NDArray

PHOTO = PhotoSize(width_px=400, height_px=600)
SIZE = (100, 34)
ANNA = MarkedHead("Anna", MarkedBox(150, 120, 220, 210))
MARKED = Marked("sitter.jpg", (ANNA,), ())
INCHES = CanvasSize(406.4, 508.0)


class SetRepository:
    """A repository that answers from memory and keeps what is written."""

    def __init__(self, marked: Marked = MARKED, sizes: tuple[CanvasSize, ...] = (INCHES,)) -> None:
        self.marked, self.sizes = marked, sizes
        self.photos = {"sitter.jpg": PHOTO, "other.png": PhotoSize(width_px=600, height_px=400)}
        self.written: list[tuple[Marked, Marked, CanvasSize | None]] = []
        self.asked: list[Box] = []
        self.fault = ""

    def sitter(self, photo: str | None) -> Sitter:
        if self.fault:
            raise CoachError(self.fault)
        name = photo or self.marked.photo
        if name is not None and name not in self.photos:
            return Sitter(self.marked, self.sizes, name, None, f"{name}: there is no such file")
        return Sitter(self.marked, self.sizes, name, None if name is None else self.photos[name])

    def light(self, photo: str, box: Box, scale: float) -> "NDArray[np.float64]":
        assert photo in self.photos
        self.asked.append(box)
        return np.full((round((box[3] - box[1]) * scale), round((box[2] - box[0]) * scale), 3), 0.2)

    def write(self, before: Marked, after: Marked, size: CanvasSize | None) -> str:
        if before != self.marked:
            raise CoachError("the plan says something else meanwhile")
        self.written.append((before, after, size))
        self.marked = after
        return "written into plan.yaml"


def app_with(repository: SetRepository) -> CoachApp:
    easel = Easel()
    return CoachApp(
        easel.session,
        ScreenFactory(lambda: state_of(easel.journal.after(0)), photo_repository=lambda: repository),
        light=False,
    )


def screen_of(pilot: Pilot[None]) -> CompositionScreen:
    screen = pilot.app.screen
    assert isinstance(screen, CompositionScreen)
    return screen


def seen(pilot: Pilot[None]) -> str:
    return "\n".join(strip.text for strip in pilot.app.screen._compositor.render_strips())


async def until(pilot: Pilot[None], claim: Callable[[], bool]) -> None:
    """Wait, not for ever, until something is so and no ranking is on its way."""
    for _ in range(150):
        await pilot.pause(0.02)
        shown = screen_of(pilot)._state.shown
        if claim() and (shown is None or not shown.is_ranking):
            return
    pytest.fail(seen(pilot))


def words(pilot: Pilot[None]) -> str:
    """Return what stands beside the picture, on one line."""
    board = pilot.app.screen.query_one("#body LineBoard", LineBoard)
    return " ".join(" ".join(line.text for line in board._view).split())


def heads(pilot: Pilot[None]) -> tuple[MarkedHead, ...]:
    return screen_of(pilot)._state.marked.heads


async def opened(pilot: Pilot[None]) -> None:
    await pilot.press("i")
    await until(pilot, lambda: "head of 9.1 cm on 16 x 20 in." in words(pilot))


async def test_i_opens_the_composition_and_escape_or_i_leads_back() -> None:
    app = app_with(SetRepository())
    async with app.run_test(size=SIZE) as pilot:
        for back in ("escape", "i"):
            await opened(pilot)
            assert "composition · sitter.jpg" in words(pilot)
            await pilot.press("f")
            assert "1 of 1, the plan's, upright" in words(pilot)
            assert "Anna: 9.1 cm, 39 % of a man's" in words(pilot)
            await pilot.press("f", back)
            await pilot.pause()
            assert isinstance(app.screen, EaselScreen)


async def test_without_a_desk_there_is_no_composition() -> None:
    easel = Easel()
    app = CoachApp(easel.session, ScreenFactory(lambda: state_of(easel.journal.after(0))), light=False)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("i")
        assert isinstance(app.screen, EaselScreen)


async def test_keys_mark_move_size_name_and_delete_and_w_writes_all_of_it() -> None:
    repository = SetRepository()
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press(
            "a", "2", "left", "up", "z", "right", "right", "down", "left", "z", "plus", "right", "minus", "down"
        )
        assert heads(pilot)[1] == MarkedHead("head 1", MarkedBox(161, 255, 240, 354))
        await pilot.press("shift+right", "shift+down", "shift+left", "shift+up", "z", "up", "z")
        assert heads(pilot)[1].box == MarkedBox(161, 255, 240, 345)
        await pilot.press("c", "1", *"the", "space", *"boy", "enter")
        await pilot.press("a", "3", "right", "tab", "tab")
        assert repository.written == []
        assert "w saves the heads and what must stay." in words(pilot)
        await pilot.press("w")
        await until(pilot, lambda: "written into plan.yaml" in words(pilot))
        boy = MarkedHead("the boy", MarkedBox(161, 255, 240, 345))
        after = Marked("sitter.jpg", (ANNA, boy), (MarkedBox(167, 240, 251, 360),))
        assert repository.written == [(MARKED, after, None)]
        assert "w saves" not in words(pilot)
        await pilot.press("x")
        assert [head.name for head in heads(pilot)] == ["Anna"]
        await pilot.press("w")
        await until(pilot, lambda: len(repository.written) == 2)
        assert repository.written[1][1].heads == (ANNA,)


async def test_a_moved_head_changes_the_crop_that_is_shown() -> None:
    async with app_with(SetRepository()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("f")
        before = words(pilot)
        await pilot.press(*["down"] * 12)
        await until(pilot, lambda: "crop 0,100 400 x 500 px" in words(pilot))
        assert "crop 0,70 400 x 500 px" in before


async def test_what_enter_changes_is_told_before_and_every_canvas_has_the_size_once_it_is_saved() -> None:
    repository = SetRepository()
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await opened(pilot)
        assert "Enter" not in seen(pilot)
        await pilot.press("enter")
        assert "Every canvas is 16 x 20 in, upright, already." in words(pilot)
        await pilot.press("c", "3", "f")
        await until(pilot, lambda: "1 of 74, stock list, upright" in words(pilot))
        await pilot.press("f", "o", *["left_square_bracket"] * 2, "o", "O")
        shown = screen_of(pilot)._state.shown
        assert shown is not None
        choice = shown.choice
        assert choice is not None
        assert choice == shown.listed[1]
        told = f"Enter: every canvas {choice.canvas.name}, upright; now 16 x 20 in."
        assert told in words(pilot)
        await pilot.press("enter")
        assert screen_of(pilot)._state.taken is choice
        assert f"Every canvas will be {choice.canvas.name}, upright." in words(pilot)
        await pilot.press("enter")
        assert screen_of(pilot)._state.taken is None
        assert told in words(pilot)
        await pilot.press("enter", "w")
        await until(pilot, lambda: "written into plan.yaml" in words(pilot))
        assert repository.written == [(MARKED, MARKED, choice.size)]
        assert screen_of(pilot)._state.sitter.sizes == (choice.size,)  # type: ignore[union-attr]


async def test_the_picture_stays_upright_until_it_is_turned() -> None:
    repository = SetRepository()
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("c", "3", "f")
        await until(pilot, lambda: "stock list" in words(pilot))
        assert "lying" not in words(pilot)
        await pilot.press("f", "c", "4")
        choice = screen_of(pilot)._state.shown.choice  # type: ignore[union-attr]
        assert choice is not None
        assert choice.direction == "lying"
        assert f"Enter: every canvas {choice.canvas.name}, lying; now" in words(pilot)


async def test_w_says_so_where_there_is_nothing_to_write() -> None:
    repository = SetRepository()
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("w")
        assert "all of this stands in the plan already" in words(pilot)
        assert repository.written == []


async def test_a_plan_changed_meanwhile_is_not_written_over_and_is_read_again_when_asked() -> None:
    repository = SetRepository()
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("a", "2")
        repository.marked = Marked("sitter.jpg", (MarkedHead("Berta", ANNA.box),), ())
        await pilot.press("w")
        await until(pilot, lambda: "the plan says something else meanwhile" in words(pilot))
        assert [head.name for head in heads(pilot)] == ["Anna", "head 1"]
        await pilot.press("c", "5")
        await until(pilot, lambda: [head.name for head in heads(pilot)] == ["Berta"])
        assert repository.written == []


async def test_marks_that_are_not_written_wait_while_the_easel_is_shown() -> None:
    async with app_with(SetRepository()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("a", "2", "escape", "i")
        await until(pilot, lambda: "LIFE" in words(pilot) or "life size" in words(pilot))
        assert [head.name for head in heads(pilot)] == ["Anna", "head 1"]
        assert "w saves the heads" in words(pilot)
        await until(pilot, lambda: pilot.app.screen.query_one(PhotoView).rows > 0)
        await pilot.press("left")
        await until(pilot, lambda: heads(pilot)[1].box.left_px == 156)


@pytest.mark.parametrize("way", [(), ("escape",), ("escape", "l")])
@pytest.mark.parametrize(("answer", "written"), [("x", 0), ("w", 1)])
async def test_q_asks_about_marks_that_would_be_lost(way: tuple[str, ...], answer: str, written: int) -> None:
    repository = SetRepository()
    app = app_with(repository)
    async with app.run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("a", "2", *way, "q")
        await until_shown(pilot, "What is marked in the photo is not in the plan.")
        await pilot.press("q", "escape")
        assert app.is_running
        await pilot.press("q", answer)
        await pilot.pause(0.1)
        assert app._exit
    assert len(repository.written) == written


async def test_q_leaves_at_once_where_all_is_written() -> None:
    app = app_with(SetRepository())
    async with app.run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("q")
        await pilot.pause()
        assert app._exit


async def test_the_mouse_draws_a_head_and_points_at_one() -> None:
    async with app_with(SetRepository()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        picture = pilot.app.screen.query_one(PhotoView)
        await until(pilot, lambda: picture.window is not None)
        drawn = whole((0, 0, 400, 600), *picture.size)
        await pilot.mouse_down(PhotoView, offset=(2, 15))
        await pilot.hover(PhotoView, offset=(6, 18))
        await pilot.hover(PhotoView, offset=(8, 20))
        await pilot.mouse_up(PhotoView, offset=(8, 20))
        box = heads(pilot)[1].box
        assert [head.name for head in heads(pilot)] == ["Anna", "head 1"]
        assert screen_of(pilot)._state.shown.marking.in_hand == 1  # type: ignore[union-attr]
        assert box.left_px == 2 * 400 // drawn.across
        assert box.bottom_px == min(600, 2 * 21 * 600 // drawn.down)
        assert pilot.app.screen.selections == {}
        middle = (185 * drawn.across // 400, 165 * drawn.down // 600 // 2)
        await pilot.click(PhotoView, offset=middle)
        assert screen_of(pilot)._state.shown.marking.in_hand == 0  # type: ignore[union-attr]
        assert len(heads(pilot)) == 2


async def test_a_box_that_is_dragged_is_changed_and_not_doubled() -> None:
    async with app_with(SetRepository()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        picture = pilot.app.screen.query_one(PhotoView)
        await until(pilot, lambda: picture.window is not None)
        window = whole((0, 0, 400, 600), *picture.size)

        def cell(x: float, y: float) -> tuple[int, int]:
            column, row = window.dot_at((x, y))
            return column, row // 2

        async def drag(one: tuple[float, float], other: tuple[float, float]) -> MarkedBox:
            await pilot.mouse_down(PhotoView, offset=cell(*one))
            await pilot.hover(PhotoView, offset=cell(*other))
            await pilot.mouse_up(PhotoView, offset=cell(*other))
            (head,) = heads(pilot)
            return head.box

        moved = await drag((185, 165), (285, 265))
        assert (moved.width_px, moved.height_px) == (70, 90)
        assert abs(moved.left_px - 250) <= window.dot_px
        assert abs(moved.top_px - 220) <= 2 * window.dot_px
        wider = await drag((moved.right_px, moved.top_px + 45), (moved.right_px + 40, moved.top_px + 45))
        assert wider._replace(right_px=moved.right_px) == moved
        assert abs(wider.right_px - moved.right_px - 40) <= window.dot_px
        anew = await drag((wider.left_px - 40, wider.top_px - 40), (wider.right_px - 25, wider.bottom_px - 25))
        assert anew.left_px < wider.left_px
        assert anew.bottom_px < wider.bottom_px
        assert pilot.app.screen.selections == {}


async def test_a_face_that_is_found_is_proposed_and_taken_by_enter_only(monkeypatch: pytest.MonkeyPatch) -> None:
    found = MarkedBox(100, 90, 180, 200)
    monkeypatch.setattr("coach.shapes.head_finding.heads_in", lambda *_: (found,))
    repository = SetRepository(MARKED._replace(heads=()))
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await pilot.press("i")
        await until(pilot, lambda: "Is this the head? Enter takes it, or draw one with the mouse." in words(pilot))
        assert "head 1" in seen(pilot)
        assert heads(pilot) == ()
        assert screen_of(pilot).unsaved() == ""
        await pilot.press("enter")
        assert heads(pilot) == (MarkedHead("head 1", found),)
        await until(pilot, lambda: "16 x 20 in." in words(pilot))
        await pilot.press("right", "a", "1")
        await until(pilot, lambda: "Is this the head?" in words(pilot))
        await pilot.press("enter")
        assert heads(pilot) == (MarkedHead("head 1", found),)


async def test_where_no_face_is_found_the_painter_draws_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("coach.shapes.head_finding.heads_in", lambda *_: ())
    async with app_with(SetRepository(MARKED._replace(heads=()))).run_test(size=SIZE) as pilot:
        await pilot.press("i")
        await until(pilot, lambda: "No face was found: draw round the head with the mouse." in words(pilot))


async def test_a_plan_without_a_photo_says_how_to_name_one_and_c_names_it() -> None:
    repository = SetRepository(Marked())
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await pilot.press("i")
        await until(pilot, lambda: "The plan names no photo: c takes its name." in words(pilot))
        await pilot.press("a", "2", "x", "left", "o", "enter", "f", "c", "4", "c", "3", "w")
        assert "there is no photo to mark" in words(pilot)
        await pilot.press("c", "2", *"../x.jpg", "enter")
        assert "name a file beside the plan, without folders" in words(pilot)
        await pilot.press("c", "2", *"gone.jpg", "enter")
        await until(pilot, lambda: "gone.jpg: there is no such file" in words(pilot))
        await pilot.press("c", "2", *"other.png", "enter")
        await until(pilot, lambda: "composition · other.png" in words(pilot))
        await pilot.press("a", "2", "w")
        await until(pilot, lambda: len(repository.written) == 1)
        assert repository.written[0][1].photo == "other.png"


async def test_another_photo_keeps_what_is_marked_and_tells_what_lies_outside() -> None:
    marked = MARKED._replace(heads=(ANNA._replace(box=MarkedBox(150, 420, 220, 510)),))
    async with app_with(SetRepository(marked)).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("c", "2", *"other.png", "enter")
        await until(pilot, lambda: "lies outside the photo of 600 x 400 px" in words(pilot))
        await pilot.press("up")
        await until(pilot, lambda: "Enter: every canvas 16 x 20 in" in words(pilot) or "16 x 20 in." in words(pilot))


async def test_a_broken_photo_and_a_broken_plan_end_in_one_sentence() -> None:
    repository = SetRepository(MARKED._replace(photo="gone.jpg"))
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await pilot.press("i")
        await until(pilot, lambda: "gone.jpg: there is no such file" in words(pilot))
        repository.fault = "plan.yaml:3:1: the key is not known\nplan.yaml:4:1: another fault"
        await pilot.press("c", "5")
        await until(pilot, lambda: words(pilot).endswith("plan.yaml:3:1: the key is not known"))


async def test_while_a_name_is_typed_letters_are_letters_and_escape_drops_it() -> None:
    async with app_with(SetRepository()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("c", "1", *"nxkw", "tab", "up", "escape")
        assert heads(pilot) == (ANNA,)
        assert isinstance(pilot.app.screen, CompositionScreen)
        await pilot.press("c", "1", "enter")
        assert "a head has a name; write one" in words(pilot)
        await pilot.press("a", "3", "c", "1")
        assert "take a head in hand first: Tab" in words(pilot)


async def test_markup_in_names_is_shown_as_written() -> None:
    marked = MARKED._replace(heads=(ANNA._replace(name="[b]A[/b]"),), photo="sitter.jpg")
    async with app_with(SetRepository(marked)).run_test(size=SIZE) as pilot:
        await opened(pilot)
        assert "[b]A[/b]" in seen(pilot)
        await pilot.press("f")
        assert "> [b]A[/b]" in words(pilot)
        assert "[b]A[/b]: 9.1 cm" in words(pilot)


@pytest.mark.parametrize("size", [(40, 12), (60, 20), (80, 24), (120, 40), (200, 60)])
async def test_the_picture_is_large_and_the_answer_beside_it_at_every_size(size: tuple[int, int]) -> None:
    async with app_with(SetRepository()).run_test(size=(100, 34)) as pilot:
        await opened(pilot)
        await pilot.resize_terminal(*size)
        picture = pilot.app.screen.query_one(PhotoView)
        await until(pilot, lambda: 0 < picture.rows == whole((0, 0, 400, 600), *picture.size).down // 2)
        assert max(len(line) for line in seen(pilot).splitlines()) == size[0]
        assert picture.rows >= size[1] - 4
        assert "Anna" in seen(pilot)
        assert "9.1 cm on 16 x 20 in" in words(pilot)
        assert "cm on" in seen(pilot)
        assert " f " in seen(pilot)


async def test_at_20_x_5_the_answer_stands_alone() -> None:
    async with app_with(SetRepository()).run_test(size=(100, 34)) as pilot:
        await opened(pilot)
        await pilot.resize_terminal(20, 5)
        await until(pilot, lambda: pilot.app.screen.query_one(PhotoView).display is False)
        assert "▄" in words(pilot)


@pytest.mark.parametrize("name", ["Anna", "the elder daughter of the orchard keeper", "果樹園の番人の娘"])
async def test_the_page_is_read_at_a_glance(name: str) -> None:
    """One word, one sentence of at most 14 words, one picture, four keys, at most 60 words."""
    other = MarkedHead("younger", MarkedBox(260, 120, 330, 210))
    repository = SetRepository(MARKED._replace(heads=(ANNA._replace(name=name), other)))
    async with app_with(repository).run_test(size=(80, 24)) as pilot:
        await pilot.press("i")
        await until(pilot, lambda: "16 x 20 in." in words(pilot))
        for keys in ((), ("c", "4"), ("enter",), ("right",)):
            await pilot.press(*keys)
            await until(pilot, lambda: True)
            counted = [word for word in seen(pilot).split() if any(map(str.isalnum, word))]
            assert len(counted) <= 60
            assert "▄" in words(pilot)


async def test_plus_comes_closer_to_the_corner_that_the_arrows_set_until_they_go_by_a_pixel() -> None:
    repository = SetRepository()
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await opened(pilot)
        view = pilot.app.screen.query_one(PhotoView)
        await until(pilot, lambda: view.window is not None)
        await pilot.press("plus", "plus", "plus", "plus", "plus")
        await until(pilot, lambda: view.window is not None and view.window.dot_px == 1)
        assert view.window is not None
        left, top, right, bottom = view.window.box
        assert left < ANNA.box.left_px < right
        assert top < ANNA.box.top_px < bottom
        await pilot.press("right", "down", "down", "z", "left", "z")
        assert heads(pilot)[0].box == MarkedBox(151, 122, 220, 212)
        await until(pilot, lambda: len(repository.asked) == 1)  # a photo of 400 x 600 px is kept whole
        await pilot.press(*["minus"] * 6)
        await until(pilot, lambda: view.window is not None and view.window.box == (0, 0, 400, 600))


@pytest.mark.parametrize("light", [False, True])
@pytest.mark.parametrize("no_colour", [False, True])
async def test_names_and_words_stand_out_from_the_photo(
    monkeypatch: pytest.MonkeyPatch, light: bool, no_colour: bool
) -> None:
    monkeypatch.setenv("COLORTERM", "truecolor")
    if no_colour:
        monkeypatch.setenv("NO_COLOR", "1")
    async with app_with(SetRepository()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        if light:
            await pilot.press("d")
        await pilot.press("a", "2", "a", "3")
        await pilot.pause()
        await until_shown(pilot, "head 1")
        assert {style for style in styles(pilot.app) if contrast(style) < LEAST_CONTRAST} == set()
