"""The Shapes screen by its keys and the mouse: chosen, looked at, cut, joined, marked, saved."""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import skimage.data
from textual.pilot import Pilot

from coach.colour.light import linear_of
from coach.composition.crop import Crop
from coach.composition.photo_boxes import PhotoSize
from coach.plan.commission import MarkedBox, MarkedHead
from coach.screens.app import CoachApp
from coach.screens.shapes.repository import OpenedShapes
from coach.screens.shapes.screen import ShapesScreen
from coach.screens.shapes.state import ShapesState
from coach.screens.shapes.taking_apart import proposed_heads
from coach.screens.widgets.photo_view import PhotoView
from coach.shapes.features import Feature
from coach.shapes.outlines import Ring
from coach.shapes.shape import Picture
from tests.screens.driving import app_on, shown
from tests.screens.made_shapes import MAP, OPENED, PHOTO, PLAN, VERSION, SetShapes
from tests.screens.test_looks import LEAST_CONTRAST, contrast, styles
from tests.sessions import Easel

SIZE = (100, 34)


def app_with(repository: SetShapes) -> CoachApp:
    return app_on(Easel(), shapes_repository=lambda: repository)


def screen_of(pilot: Pilot[None]) -> ShapesScreen:
    screen = pilot.app.screen
    assert isinstance(screen, ShapesScreen)
    return screen


def state_of(pilot: Pilot[None]) -> ShapesState:
    state = screen_of(pilot)._state
    assert state is not None
    return state


def name_of(pilot: Pilot[None]) -> str:
    shape = state_of(pilot).shape
    assert shape is not None
    return shape.name


def outline_of(pilot: Pilot[None]) -> tuple[Ring, ...]:
    shape = state_of(pilot).shape
    assert shape is not None
    return shape.outline


def view_of(pilot: Pilot[None]) -> PhotoView:
    return pilot.app.screen.query_one(PhotoView)


async def until(pilot: Pilot[None], claim: Callable[[], bool]) -> None:
    """Wait, not for ever, until something is so."""
    for _ in range(500):
        await pilot.pause(0.02)
        if claim():
            return
    pytest.fail(shown(pilot.app))


async def opened(pilot: Pilot[None]) -> None:
    await pilot.press("t")
    await until(pilot, lambda: "value" in shown(pilot.app))


async def test_the_chosen_shape_is_told_beside_the_photo() -> None:
    async with app_with(SetShapes()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        assert "cheek left" in shown(pilot.app)
        assert "250" in shown(pilot.app)
        assert "face / light side" in shown(pilot.app)
        await until(pilot, lambda: "hard  cheek right, dark" in shown(pilot.app))
        await pilot.press("right")
        assert "cheek right" in shown(pilot.app)
        assert "hard  cheek left, light" in shown(pilot.app)
        await pilot.press("f")
        assert "L* " in shown(pilot.app)


async def test_a_shape_is_chosen_by_the_mouse_and_by_its_name() -> None:
    async with app_with(SetShapes()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        window = view_of(pilot).window
        assert window is not None
        column, row = window.dot_at((40.0, 90.0))
        await pilot.click(PhotoView, offset=(column, row // 2))
        assert state_of(pilot).chosen == "k4"
        await pilot.press("slash", *"ground", "enter")
        assert state_of(pilot).chosen == "k3"
        await pilot.press("slash", *"[b]", "enter")
        assert 'No shape is called "[b]".' in shown(pilot.app)
        await pilot.press("slash", *"coat", "escape")
        assert state_of(pilot).chosen == "k3"


async def test_plus_comes_closer_until_a_dot_is_a_pixel_and_a_drag_moves_the_picture() -> None:
    repository = SetShapes(OPENED._replace(photo=PHOTO._replace(picture=small())))
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("plus", "plus", "plus")
        view = view_of(pilot)
        await until(pilot, lambda: view.window is not None and view.window.dot_px == 0.2)  # 1 mm on the canvas
        await until(pilot, lambda: len(repository.asked) == 1)
        assert view.window is not None
        before = view.window.box
        await pilot.mouse_down(PhotoView, offset=(20, 10))
        await pilot.hover(PhotoView, offset=(10, 10))
        await pilot.mouse_up(PhotoView, offset=(10, 10))
        assert view.window.box[0] == pytest.approx(before[0] + 2)
        assert state_of(pilot).chosen == "k1"
        assert pilot.app.screen.selections == {}
        await pilot.press(*["minus"] * 9)
        assert view.window.box == (0, 0, 80, 100)


def small() -> Picture:
    """Return the photo at half its size."""
    light = PHOTO.picture.linear[::8, ::8]
    return replace(PHOTO.picture, linear=light, scale=0.5)


async def test_looks_change_the_picture_and_come_round_again() -> None:
    async with app_with(SetShapes()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        seen = []
        for key in ("s", "s", "s", "s", "space", "space", "tab", "tab", "tab", "tab"):
            dots = view_of(pilot)._dots
            assert dots is not None
            seen.append(dots.copy())
            await pilot.press(key)
        assert all((a != b).any() for a, b in pairwise(seen))
        assert np.array_equal(seen[0], seen[4])
        assert np.array_equal(seen[4], seen[6])
        last = view_of(pilot)._dots
        assert last is not None
        assert np.array_equal(seen[6], last)


async def test_a_shape_is_cut_joined_renamed_given_away_and_undone() -> None:
    async with app_with(SetShapes()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("k")
        assert "Cut: " in shown(pilot.app)
        assert len(state_of(pilot).shape_map.shapes) == 5
        await pilot.press("u")
        assert state_of(pilot).version == VERSION
        await pilot.press("ctrl+y", "u", "j")
        await pilot.pause()
        assert "What is it joined to?" in shown(pilot.app)
        place = next(row for row in shown(pilot.app).splitlines() if "cheek right, dark" in row).split()[0]
        await pilot.press(place)
        await until(pilot, lambda: isinstance(pilot.app.screen, ShapesScreen))
        assert len(state_of(pilot).shape_map.shapes) == 3
        await pilot.press("u", "c", "1")
        await pilot.press(*["backspace"] * 20, *"brow", "enter")
        assert name_of(pilot) == "brow"
        await pilot.press("c", "2", "enter")
        await pilot.pause()
        await pilot.press("u", "u")
        assert state_of(pilot).version == VERSION


async def test_a_corner_is_taken_moved_dot_by_dot_and_left() -> None:
    async with app_with(SetShapes()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("z")
        pointer = state_of(pilot).pointer
        assert pointer is not None
        await pilot.press("enter", "right", "down", "enter")
        assert outline_of(pilot) != MAP.shapes[0].outline
        assert state_of(pilot).pointer is not None
        await pilot.press("escape")
        assert state_of(pilot).pointer is None


async def test_the_border_of_a_feature_is_moved_as_a_whole_and_cuts_what_it_crosses() -> None:
    async with app_with(SetShapes()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("c")
        await pilot.pause()
        place = next(row for row in shown(pilot.app).splitlines() if "the border of the face" in row).split()[0]
        await pilot.press(place)
        await until(pilot, lambda: isinstance(pilot.app.screen, ShapesScreen))
        before = state_of(pilot).pointer
        assert before is not None
        await pilot.press(*["right"] * 12)
        pointer = state_of(pilot).pointer
        assert pointer is not None
        across, down = pointer.border_by
        assert across > 3
        assert down == pytest.approx(0, abs=0.5)
        await pilot.press("enter")
        assert state_of(pilot).pointer is None
        face = [one for one in state_of(pilot).shape_map.shapes if one.feature is Feature.FACE]
        assert max(x for one in face for x, _ in one.outline[0]) == pytest.approx(60 + across, abs=1)
        assert min(x for one in face for x, _ in one.outline[0]) == pytest.approx(20 + across, abs=1)
        await pilot.press("u")
        assert state_of(pilot).version == VERSION


async def test_a_cut_runs_between_two_points() -> None:
    async with app_with(SetShapes()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        window = view_of(pilot).window
        assert window is not None
        await pilot.press("z")
        for point, key in (((18.0, 35.0), "k"), ((45.0, 35.0), "k")):
            column, row = window.dot_at(point)
            await pilot.click(PhotoView, offset=(column, row // 2))
            await pilot.press(key)
        assert "Cut: " in shown(pilot.app)
        assert len(state_of(pilot).shape_map.shapes) == 5


async def test_a_passage_is_given_shapes_and_both_files_are_saved_as_one() -> None:
    repository = SetShapes()
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("o", "left_square_bracket")
        assert "ground / wall: 1 shape" in shown(pilot.app)
        await pilot.press("slash", *"coat", "enter", "a")
        assert 'coat, dark belongs to "wall".' in shown(pilot.app)
        await pilot.press("w")
        await until(pilot, lambda: "Saved in plan.yaml" in shown(pilot.app))
        assert len(repository.saved) == 1
        assert repository.saved[0][0] == OPENED
        assert repository.saved[0][1].plan.passes[1].passages[0].shapes == ("k3", "k4")
        await pilot.press("w")
        assert "Nothing is changed that could be saved." in shown(pilot.app)


async def test_what_another_hand_changed_is_not_lost_and_a_refusal_is_said() -> None:
    repository = SetShapes()
    repository.difference = ("-a", "+b")
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("k", "w")
        await until(pilot, lambda: len(repository.saved) == 1)
        assert not state_of(pilot).is_saved

        repository.fault = "not saved: this coach only shows"
        await pilot.press("w")
        await until(pilot, lambda: "Not saved: this coach only shows." in shown(pilot.app))


async def test_q_asks_about_shapes_that_are_not_saved() -> None:
    app = app_with(SetShapes())
    async with app.run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("k", "q")
        await pilot.pause()
        assert "hat is changed in the shapes is not saved" in shown(pilot.app)
        await pilot.press("x")
        await pilot.pause(0.1)
        assert app._exit


async def test_problems_of_the_file_are_listed_until_they_are_read() -> None:
    problems = ("plan.shapes.svg:7: k2 cheek: crosses itself", "plan.shapes.svg:9: k3 x: is no longer in the file")
    async with app_with(SetShapes(OPENED._replace(problems=problems))).run_test(size=SIZE) as pilot:
        await pilot.press("t")
        await until(pilot, lambda: "svg:7" in shown(pilot.app))
        assert "svg:9" in shown(pilot.app)
        await pilot.press("escape")
        assert "value" in shown(pilot.app)


async def test_a_photo_with_a_head_and_no_shapes_is_taken_apart_without_a_question() -> None:
    plan = PLAN._replace(shapes=None)
    repository = SetShapes(OPENED._replace(plan=plan, svg=None, shape_map=None))
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await pilot.press("t")
        await until(pilot, lambda: "value" in shown(pilot.app))
        assert len(state_of(pilot).shape_map.shapes) >= 4
        assert state_of(pilot).plan.shapes == "plan.shapes.svg"
        assert state_of(pilot).is_saved
        await pilot.press("w")
        await until(pilot, lambda: len(repository.saved) == 1)


async def test_a_head_that_is_found_is_proposed_and_taken_by_enter_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    found = MarkedHead("head 1", MarkedBox(20, 10, 60, 60))
    monkeypatch.setattr("coach.screens.shapes.screen.proposed_heads", lambda _: (found,))
    plan = PLAN._replace(shapes=None, heads=())
    bare = OPENED._replace(plan=plan, photo=PHOTO._replace(heads=()), svg=None, shape_map=None)
    repository = SetShapes(bare)
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await pilot.press("t")
        await until(pilot, lambda: "Is this the head?" in shown(pilot.app))
        assert "head 1" in shown(pilot.app)
        await pilot.pause(0.3)
        assert screen_of(pilot)._state is None
        await pilot.press("enter")
        await until(pilot, lambda: "value" in shown(pilot.app))
        assert not state_of(pilot).is_saved
        assert state_of(pilot).plan.heads == (found,)
        assert "head 1" not in shown(pilot.app)


def test_heads_are_looked_for_in_what_is_painted() -> None:
    """The detector finds a face in the photograph that the library ships, where it is; nothing of it is kept here."""
    light = linear_of(skimage.data.astronaut() / 255)  # type: ignore[no-untyped-call]
    crop = Crop(left_px=100, top_px=0, width_px=300, height_px=400)
    photo = PHOTO._replace(
        size=PhotoSize(width_px=512, height_px=512),
        crop=crop,
        picture=Picture(linear=light[:400, 100:400], left_px=100, top_px=0, scale=1),
    )
    (head,) = proposed_heads(photo)
    assert head.name == "head 1"
    assert head.box.left_px < 220 < head.box.right_px
    assert head.box.top_px < 110 < head.box.bottom_px


@pytest.mark.parametrize(
    ("opened", "said"),
    [
        (OPENED._replace(photo=None, shape_map=None, plan=PLAN._replace(photo=None)), "names no photo"),
        (OPENED._replace(photo=PHOTO._replace(heads=()), shape_map=None, svg=None), "A head is being looked"),
        (OPENED._replace(photo=None, problems=("sitter.png: there is no such file",)), "there is no such file"),
    ],
)
async def test_what_is_missing_is_said(opened: OpenedShapes, said: str) -> None:
    async with app_with(SetShapes(opened)).run_test(size=SIZE) as pilot:
        await pilot.press("t")
        await until(pilot, lambda: said in " ".join(shown(pilot.app).split()))
        await pilot.press("k", "j", "c", "s", "plus", "z", "enter", "left", "a", "o", "slash", "w")
        await pilot.press("escape", "escape")


async def test_a_plan_that_cannot_be_read_is_said() -> None:
    repository = SetShapes()
    repository.fault = "plan.yaml:3:1: the key is not known\nanother fault"
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await pilot.press("t")
        await until(pilot, lambda: "the key is not known" in shown(pilot.app))


async def test_what_was_changed_is_there_when_the_screen_is_opened_again() -> None:
    async with app_with(SetShapes()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        await pilot.press("k", "escape", "t")
        await until(pilot, lambda: "value" in shown(pilot.app))
        assert len(state_of(pilot).shape_map.shapes) == 5
        await pilot.press("u", "slash", *"coat", "enter", "escape", "t")
        await until(pilot, lambda: "coat" in shown(pilot.app))


@pytest.mark.parametrize("size", [(20, 5), (40, 12), (60, 20), (80, 24), (120, 40), (200, 60)])
async def test_the_answer_is_there_at_every_size(size: tuple[int, int]) -> None:
    shapes = tuple(replace(one, name=f"漢字[b]の名前 {one.id}, light") for one in MAP.shapes)
    repository = SetShapes(OPENED._replace(shape_map=replace(MAP, shapes=shapes)))
    async with app_with(repository).run_test(size=(100, 34)) as pilot:
        await opened(pilot)
        await pilot.resize_terminal(*size)
        await until(pilot, lambda: "漢字[b]の名" in shown(pilot.app))
        assert "value" in shown(pilot.app)


@pytest.mark.parametrize("light", [False, True])
@pytest.mark.parametrize("no_colour", [False, True])
async def test_words_stand_out(monkeypatch: pytest.MonkeyPatch, light: bool, no_colour: bool) -> None:
    monkeypatch.setenv("COLORTERM", "truecolor")
    if no_colour:
        monkeypatch.setenv("NO_COLOR", "1")
    async with app_with(SetShapes()).run_test(size=SIZE) as pilot:
        await opened(pilot)
        if light:
            await pilot.press("d")
        await pilot.press("o")
        await pilot.pause()
        assert {style for style in styles(pilot.app) if contrast(style) < LEAST_CONTRAST} == set()
