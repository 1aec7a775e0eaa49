"""The photo beside the letters: read in a thread, drawn after them, turned for a check, alone when it is asked for."""

import threading
from collections.abc import Callable, Sequence

import numpy as np
import pytest
from rich.color import ColorSystem

from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.screens.app import CoachApp
from coach.screens.screen_factory import ScreenFactory
from coach.session.journal_state import state_of
from coach.shapes.reference import Reference
from tests.easel_states import NAMES, STATES, drawn_reference, plan_of
from tests.screens.driving import app_on, press, shown, until
from tests.sessions import Easel

SIZE = (80, 24)


def easel(state: str = "working") -> Easel:
    return STATES[state](plan_of(NAMES["ordinary"]))


def coloured(on: Easel, load: Callable[[Plan], Reference | None] = drawn_reference) -> CoachApp:
    app = app_on(on, load_reference=load)
    app.console._color_system = ColorSystem.TRUECOLOR
    return app


def dots(app: CoachApp) -> np.ndarray:
    found = app._easel._picture._dots
    assert found is not None
    return found


def expected(app: CoachApp, shapes: Sequence[str], *, mirrored: bool = False, upside_down: bool = False) -> np.ndarray:
    box = app._easel._picture_box
    assert box is not None
    found = drawn_reference(app._session.plan).reference(
        shapes, box.columns, box.rows, mirrored=mirrored, upside_down=upside_down
    )
    assert isinstance(found, np.ndarray)
    return found


async def test_the_photo_is_read_in_a_thread_while_the_letters_stand_already() -> None:
    may_go_on, readers = threading.Event(), []

    def load(plan: Plan) -> Reference:
        readers.append(threading.current_thread())
        assert may_go_on.wait(20)
        return drawn_reference(plan)

    app = coloured(easel(), load)
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: bool(readers))
        assert readers[0] is not threading.main_thread()
        assert "of 25 min" in shown(app)
        assert not app._easel._picture.display
        before = shown(app).splitlines()[4][:52]
        may_go_on.set()
        await until(pilot, lambda: app._easel._picture.rows > 0)
        await pilot.pause()
        assert np.array_equal(dots(app), expected(app, ["k9", "k10"]))
        assert "screen colour, not paint" in shown(app)
        assert shown(app).splitlines()[4][:52] == before
        assert "▀" in shown(app).splitlines()[4][54:]


async def test_when_the_turn_changes_the_letters_are_drawn_first_and_the_picture_then() -> None:
    app = coloured(easel())
    told: list[str] = []
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: app._easel._picture.rows > 0)
        reference = drawn_reference(app._session.plan)

        class Watched:
            def reference(self, *wanted: object, **turned: bool) -> object:
                told.append("\n".join(strip.text for strip in app.screen._compositor.render_strips()))
                return reference.reference(*wanted, **turned)  # type: ignore[arg-type]

        app._easel._picture._reference = Watched()  # type: ignore[assignment]
        app._easel.on_easel_picture_loaded()
        await until(pilot, lambda: bool(told))
        told.clear()
        await press(pilot, "space")
        await until(pilot, lambda: bool(told))
        assert "turn 3 of" in told[0]
        await press(pilot, "m")
        app._easel._board.refresh()
        app._tick()
        await pilot.pause()
        assert len(told) == 1


async def test_a_check_in_the_mirror_shows_the_photo_mirrored_and_y_and_the_arrow_turn_it() -> None:
    app = coloured(easel("looking"))
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: app._easel._picture.rows > 0)
        assert np.array_equal(dots(app), expected(app, [], mirrored=True))
        assert "mirrored, screen colour" in shown(app)
        await press(pilot, "y")
        await until(pilot, lambda: np.array_equal(dots(app), expected(app, [])))
        await press(pilot, "down")
        await until(pilot, lambda: np.array_equal(dots(app), expected(app, [], upside_down=True)))
        assert "upside down, screen" in shown(app)
        await press(pilot, "y")
        await until(pilot, lambda: np.array_equal(dots(app), expected(app, [], mirrored=True, upside_down=True)))
        assert "mirrored, upside down" in shown(app)
        await press(pilot, "y", "down")
        await until(pilot, lambda: np.array_equal(dots(app), expected(app, [])))


async def test_the_picture_alone_says_how_it_is_turned_and_the_way_back() -> None:
    app = coloured(easel())
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: app._easel._picture.rows > 0)
        await press(pilot, "plus")
        assert " -  smaller    y  mirror    ↓  upside down    ?  what else" in shown(app)
        await press(pilot, "y", "down")
        assert " -  smaller    y  not mirrored    ↓  upright    ?  what else" in shown(app)


async def test_the_next_turn_shows_the_photo_straight_again() -> None:
    app = coloured(easel())
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: app._easel._picture.rows > 0)
        await press(pilot, "y")
        await until(pilot, lambda: np.array_equal(dots(app), expected(app, ["k9", "k10"], mirrored=True)))
        await press(pilot, "space")
        await until(pilot, lambda: np.array_equal(dots(app), expected(app, ["k11"])))


@pytest.mark.parametrize("size", [(80, 24), (60, 12)])
@pytest.mark.parametrize("back", ["minus", "escape"])
async def test_plus_shows_the_photo_alone_in_any_window(size: tuple[int, int], back: str) -> None:
    app = coloured(easel())
    async with app.run_test(size=size) as pilot:
        await pilot.pause()
        before = shown(app).splitlines()[0]
        await press(pilot, "plus")
        await until(pilot, lambda: app._easel._picture.rows >= size[1] - 5)
        assert shown(app).splitlines()[0].split() == ["←", "Hall", "socket", "shadow", "12:40", "of", "25", "min"]
        await press(pilot, back)
        assert shown(app).splitlines()[0] == before


async def test_a_photo_that_cannot_be_read_is_told_and_the_letters_take_its_room() -> None:
    def load(_: Plan) -> Reference:
        raise CoachError("head.png: is no photo")

    app = coloured(easel(), load)
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: "head.png: is no photo" in shown(app))
        assert "screen colour" not in shown(app)
        assert app._easel._picture_box is None
        await press(pilot, "escape")
        assert "is no photo" not in shown(app)


async def test_another_photo_in_an_edited_plan_is_read_anew() -> None:
    def load(plan: Plan) -> Reference:
        if plan.photo == "head.png":
            raise CoachError("head.png: is no photo")
        return drawn_reference(plan)

    on = easel()
    app = coloured(on, load)
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: "is no photo" in shown(app))
        on.source.text = on.source.text.replace("head.png", "sitter.png")
        app._tick()
        await until(pilot, lambda: app._easel._picture.rows > 0)
        await until(pilot, lambda: "is no photo" not in shown(app))


async def test_on_a_slow_line_the_photo_comes_only_when_it_is_asked_for() -> None:
    on = easel()
    app = CoachApp(
        on.session,
        ScreenFactory(lambda: state_of([])),
        light=False,
        load_reference=drawn_reference,
        is_picture_asked=True,
    )
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause(0.1)
        assert app._easel._picture._photo is None
        assert "screen colour" not in shown(app)
        await press(pilot, "plus")
        await until(pilot, lambda: app._easel._picture.rows > 0)
        await press(pilot, "minus")
        assert not app._easel._picture.display


async def test_without_colours_values_are_shown_and_said() -> None:
    app = app_on(easel(), load_reference=drawn_reference)
    app.console._color_system = ColorSystem.STANDARD
    async with app.run_test(size=SIZE) as pilot:
        await until(pilot, lambda: app._easel._picture.rows > 0)
        await pilot.pause()
        assert "values only" in shown(app)
        assert set("".join(line[54:] for line in shown(app).splitlines()[1:12])) <= set(" ·░▒▓█")
