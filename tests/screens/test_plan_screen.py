"""The Plan screen by its keys, on a repository in memory."""

import datetime as dt
import sys
import threading
from collections.abc import Callable, Sequence

import numpy as np
import pytest
from rich.cells import cell_len
from textual.pilot import Pilot
from textual.widgets import Input

from coach.errors import CoachError
from coach.journal.events import Turn
from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.plan.writing_in_place import edited_text
from coach.screens.app import CoachApp
from coach.screens.easel.picture import EaselPicture
from coach.screens.easel.screen import EaselScreen
from coach.screens.log.screen import LogScreen
from coach.screens.plan.repository import OpenedPlan, PlanProgress, SaveResult
from coach.screens.plan.screen import PlanScreen
from coach.screens.screen_factory import ScreenFactory
from coach.session.journal_state import state_of
from coach.shapes.reference import Reference
from tests.easel_states import drawn_reference
from tests.sessions import TWO_CANVASES, Easel

TODAY = dt.date(2027, 4, 7)
SIZE = (100, 30)


class SetRepository:
    """A repository in memory that keeps what is saved."""

    def __init__(self, text: str = TWO_CANVASES) -> None:
        self.text = text
        self.now = PlanProgress(TODAY)
        self.saved: list[Plan] = []
        self.taken_up: list[tuple[str, ...]] = []
        self.difference: tuple[str, ...] = ()
        self.fault = self.saving_fault = self.photo_fault = ""
        self.may_read = threading.Event()

    def opened(self) -> OpenedPlan:
        if self.fault:
            raise CoachError(self.fault)
        return OpenedPlan(self.text, read_plan(self.text, "plan.yaml"))

    def progress(self) -> PlanProgress:
        return self.now

    def take_up_skipped(self, pass_name: str, passages: Sequence[str]) -> str:
        self.taken_up.append((pass_name, *passages))
        return "iris on Hall comes again."

    def reference(self, plan: Plan) -> Reference:
        assert self.may_read.wait(20)
        if self.photo_fault:
            raise CoachError(self.photo_fault)
        return drawn_reference(plan)

    def save(self, opened: OpenedPlan, plan: Plan) -> SaveResult:
        if self.saving_fault:
            raise CoachError(self.saving_fault)
        self.saved.append(plan)
        if self.difference:
            return SaveResult(opened.text, "changed by another hand; yours lies in plan.edited.yaml", self.difference)
        self.text = edited_text(opened.text, opened.plan, plan)
        return SaveResult(self.text, "Saved in plan.yaml")


def app_with(repository: SetRepository) -> CoachApp:
    easel = Easel(repository.text)
    return CoachApp(
        easel.session,
        ScreenFactory(lambda: state_of(easel.journal.after(0)), plan_repository=lambda: repository),
        light=False,
    )


def lines(pilot: Pilot[None]) -> list[str]:
    return [strip.text for strip in pilot.app.screen._compositor.render_strips()]


def in_hand(pilot: Pilot[None]) -> str:
    """Return the row that is marked."""
    return next(line for line in lines(pilot) if line.startswith(" >"))[3:].lstrip("┌│└ !")


async def until(pilot: Pilot[None], claim: Callable[[str], bool]) -> str:
    """Wait until what the screen shows bears a claim out, and return it."""
    shown = ""
    for _ in range(300):
        shown = "\n".join(lines(pilot))
        if claim(shown):
            return shown
        await pilot.pause(0.02)
    raise AssertionError(shown)


async def press(pilot: Pilot[None], *keys: str) -> None:
    await pilot.press(*keys)
    await pilot.pause()


async def to_iris(pilot: Pilot[None]) -> None:
    """Open the Plan and take the iris in hand."""
    await press(pilot, "v", "down", "down", "down")
    await until(pilot, lambda shown: ">" in shown)
    assert in_hand(pilot).strip().startswith("iris")


@pytest.mark.parametrize("closing", ["v", "escape"])
async def test_v_opens_the_plan_and_v_or_escape_lead_back(closing: str) -> None:
    switch_s = sys.getswitchinterval()
    app = app_with(SetRepository())
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "v")
        assert isinstance(app.screen, PlanScreen)
        await until(pilot, lambda shown: "is it sound?" in shown)
        await press(pilot, closing)
        assert isinstance(app.screen, EaselScreen)
        assert sys.getswitchinterval() == switch_s


async def test_a_newcomer_adds_a_passage_by_five_keys() -> None:
    repository = SetRepository()
    async with app_with(repository).run_test(size=(80, 24)) as pilot:
        keys = ["v", "a", *"limbus", "enter", "w"]
        for key in keys:
            await press(pilot, key)
        await until(pilot, lambda shown: "Saved in plan.yaml" in shown)
    assert len(keys) - len("limbus") <= 5
    assert "limbus" in [passage.name for passage in repository.saved[0].passes[0].passages]


async def test_a_passage_is_added_filled_in_by_its_form_joined_undone_and_saved() -> None:
    repository = SetRepository()
    app = app_with(repository)
    async with app.run_test(size=SIZE) as pilot:
        await to_iris(pilot)
        await press(pilot, "a", *"limbus", "enter", "enter", "down", "enter", *"12", "enter", "escape", "j")
        shown = await until(pilot, lambda shown: "└ limbus" in shown)
        assert "NOT SAVED" in shown
        await press(pilot, "f")
        assert in_hand(pilot).split()[:2] == ["limbus", "12"]
        await press(pilot, "f", "u", "ctrl+y", "w")
        await until(pilot, lambda shown: "Saved in plan.yaml" in shown and "NOT SAVED" not in shown)
        await press(pilot, "escape")
        assert isinstance(app.screen, EaselScreen)

    assert [run.passage_names for run in repository.saved[0].passes[0].runs][1] == ("iris", "limbus")
    assert "{name: limbus, minutes: 12, beside: iris}" in repository.text


async def test_the_form_is_typed_in_place_and_what_is_refused_stays_with_its_reason() -> None:
    async with app_with(SetRepository()).run_test(size=(80, 24)) as pilot:
        await to_iris(pilot)
        await press(pilot, "enter", "down", "enter", *"soon")
        at = next(line for line in lines(pilot) if "minutes on a canvas" in line)
        assert at.rstrip().endswith("  soon")
        await press(pilot, "enter")
        shown = await until(pilot, lambda shown: '"soon" is not a time' in shown)
        assert next(line for line in shown.splitlines() if "minutes on a canvas" in line).rstrip().endswith("  soon")
        await press(pilot, *["backspace"] * 4, "7", "enter")
        shown = await until(pilot, lambda shown: "NOT SAVED" in shown)
        assert in_hand(pilot).split()[-1] == "7"
        await press(pilot, "u")
        assert in_hand(pilot).split()[-1] == "10"
        await press(pilot, "x", "a", "j", "right")
        assert in_hand(pilot).split()[-1] == "6"
        await press(pilot, "escape")
        assert "NOT SAVED" not in await until(pilot, lambda shown: "is it sound?" in shown)


async def test_a_click_takes_a_row_in_hand_and_another_opens_it() -> None:
    async with app_with(SetRepository()).run_test(size=(80, 24)) as pilot:
        await press(pilot, "v")
        at = next(number for number, line in enumerate(lines(pilot)) if "lash line" in line)
        await pilot.click(offset=(8, at))
        await until(pilot, lambda _: in_hand(pilot).startswith("lash line"))
        await pilot.click(offset=(8, at))
        await until(pilot, lambda shown: "minutes on a canvas" in shown)


async def test_the_plan_opens_at_the_turn_in_hand() -> None:
    repository = SetRepository()
    turn = Turn(pass_name="nose", run=2, passages=("tip",), canvas="Hall", place=1, planned_s=60)
    repository.now = PlanProgress(TODAY, in_hand=turn)
    async with app_with(repository).run_test(size=(80, 24)) as pilot:
        await press(pilot, "v")
        assert in_hand(pilot).startswith("tip")


async def test_letters_and_arrows_in_an_open_field_are_no_keys_and_escape_drops_it() -> None:
    repository = SetRepository()
    app = app_with(repository)
    async with app.run_test(size=SIZE) as pilot:
        await to_iris(pilot)
        await press(pilot, "c", "enter", *"wvlgq", "down", "pagedown", "shift+up")
        assert isinstance(app.screen, PlanScreen)
        assert app.screen.query_one(Input).value == "wvlgq"
        await press(pilot, "escape", "escape")
        assert in_hand(pilot).strip().startswith("iris")
    assert repository.saved == []


@pytest.mark.parametrize("key", ["escape", "v", "l", "q"])
async def test_what_is_not_saved_is_asked_about_by_name_and_only_x_drops_it(key: str) -> None:
    repository = SetRepository()
    app = app_with(repository)
    async with app.run_test(size=SIZE) as pilot:
        await to_iris(pilot)
        await press(pilot, "x", "x", key)
        await until(pilot, lambda shown: "2 edits are not saved." in shown)
        await press(pilot, "v", "l", "q", "space", "escape")
        assert isinstance(app.screen, PlanScreen)
        assert "NOT SAVED" in await until(pilot, lambda shown: "2 edits are" not in shown)
        await press(pilot, key, "x")
        assert app.is_running == (key != "q")
        if key in {"escape", "v"}:
            assert "turn 1 of" in await until(pilot, lambda shown: "is it sound?" not in shown)
        elif key == "l":
            assert isinstance(app.screen, LogScreen)
    assert repository.saved == []


async def test_w_saves_what_is_asked_about_and_then_leaves() -> None:
    repository = SetRepository()
    app = app_with(repository)
    async with app.run_test(size=SIZE) as pilot:
        await to_iris(pilot)
        await press(pilot, "x", "escape", "w")
        await until(pilot, lambda shown: "turn 1 of" in shown)
    assert [passage.name for passage in repository.saved[0].passes[0].passages][-1] == "lash line"


async def test_what_another_hand_has_changed_is_shown_before_the_plan_is_left() -> None:
    repository = SetRepository()
    repository.difference = ("- iris", "+ limbus")
    app = app_with(repository)
    async with app.run_test(size=SIZE) as pilot:
        await to_iris(pilot)
        await press(pilot, "x", "q", "w")
        await until(pilot, lambda shown: "+ limbus" in shown)
        assert app.is_running


async def test_a_refusal_is_one_calm_line_and_nothing_changes() -> None:
    repository = SetRepository()
    repository.now = PlanProgress(TODAY, {("eyes", "iris", "Hall"): 1})
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await to_iris(pilot)
        await press(pilot, "x")
        shown = await until(pilot, lambda shown: "cannot be deleted" in shown)
        assert "NOT SAVED" not in shown
        assert in_hand(pilot).split()[-2:] == ["\u221a", "\u00b7"]
        await press(pilot, "up", "up", "up", "k")
        await until(pilot, lambda shown: "choose a passage" in shown)
        assert not pilot.app.screen.has_class("-field")
        await press(pilot, "w")
        await until(pilot, lambda shown: "Nothing is changed" in shown)


async def test_both_versions_are_kept_where_another_hand_wrote_and_the_difference_is_shown_and_scrolls() -> None:
    repository = SetRepository()
    repository.difference = tuple(f"+line {number} [b]bold[/b]" for number in range(100))
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await to_iris(pilot)
        await press(pilot, "x", "w")
        shown = await until(pilot, lambda shown: "changed by another hand" in shown)
        assert "+line 0 [b]bold[/b]" in shown
        await press(pilot, "end")
        await until(pilot, lambda shown: "+line 99 [b]bold[/b]" in shown)
        await press(pilot, "x", "escape")
        shown = await until(pilot, lambda shown: "NOT SAVED" not in shown and "lash line" in shown)
        assert "iris" not in shown
    assert len(repository.saved) == 1


async def test_a_plan_that_cannot_be_saved_stays_unsaved_and_the_sentence_says_why() -> None:
    repository = SetRepository()
    repository.saving_fault = "the file is write-protected"
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await to_iris(pilot)
        await press(pilot, "x", "w")
        await until(pilot, lambda shown: "write-protected" in shown and "NOT SAVED" in shown)
        repository.saving_fault = ""
        repository.now = PlanProgress(TODAY, {("eyes", "iris", "Hall"): 1})
        await press(pilot, "w")
        await until(pilot, lambda shown: "was painted meanwhile" in shown)
    assert repository.saved == []


async def test_a_plan_that_cannot_be_read_is_told_and_escape_leads_back() -> None:
    repository = SetRepository()
    app = app_with(repository)
    async with app.run_test(size=SIZE) as pilot:
        repository.fault = "plan.yaml:2:1: there is no such day\nplan.yaml:3:1: the key is not known"
        await press(pilot, "v", "down", "x", "c", "w", "tab")
        await until(pilot, lambda shown: "plan.yaml:3:1: the key is not known" in shown)
        await press(pilot, "escape")
        assert isinstance(app.screen, EaselScreen)


async def test_rows_and_order_are_one_view_where_it_is_wide_and_tabs_elsewhere() -> None:
    async with app_with(SetRepository()).run_test(size=(130, 40)) as pilot:
        await press(pilot, "v")
        shown = await until(pilot, lambda shown: "to come" in shown and "─" in shown)
        assert "socket shadow" in shown
        await press(pilot, "f")
        await until(pilot, lambda shown: "10 turns to come" in shown)
        await press(pilot, "down", "down", "down", "x")
        await until(pilot, lambda shown: "8 turns to come" in shown)
    async with app_with(SetRepository()).run_test(size=(80, 24)) as pilot:
        await press(pilot, "v")
        assert "who leads?" not in await until(pilot, lambda shown: "is it sound?" in shown)
        await press(pilot, "tab")
        await until(pilot, lambda shown: "Hall leads 3 times" in shown and "is it sound?" not in shown)
        await press(pilot, "x", "f")
        await until(pilot, lambda shown: "10 turns to come" in shown)
        await press(pilot, "f", "tab")
        await until(pilot, lambda shown: "is it sound?" in shown and "NOT SAVED" not in shown)


@pytest.mark.parametrize("size", [(40, 12), (80, 24), (120, 40), (200, 60)])
async def test_names_with_markup_are_shown_as_written_and_every_window_is_filled(size: tuple[int, int]) -> None:
    repository = SetRepository(TWO_CANVASES.replace("iris", "'[b]iris[/b]'").replace("Hall", "'[red]Hall'"))
    async with app_with(repository).run_test(size=size) as pilot:
        await press(pilot, "v", "down", "down", "down")
        await until(pilot, lambda shown: "[b]iris[/b]" in shown)
        assert {cell_len(line) for line in lines(pilot)} == {size[0]}
        await press(pilot, "c", "enter", *"[i]x", "enter", "escape")
        await until(pilot, lambda _: in_hand(pilot).strip().startswith("[i]x"))


async def test_what_was_skipped_comes_again_by_its_row() -> None:
    repository = SetRepository()
    repository.now = PlanProgress(TODAY, {("eyes", "iris", "Hall"): 0})
    async with app_with(repository).run_test(size=SIZE) as pilot:
        await to_iris(pilot)
        repository.now = PlanProgress(TODAY)
        await press(pilot, "enter", "end", "enter")
        await until(pilot, lambda shown: "iris on Hall comes again." in shown and "Hall to come" in shown)
        await press(pilot, "escape", "left", "enter", "end", "enter")
    assert repository.taken_up == [("eyes", "iris"), ("eyes", "socket shadow", "upper lid", "iris", "lash line")]


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
def test_the_plan_looks_as_it_did(snap_compare: Callable[..., bool], size: tuple[int, int]) -> None:
    repository = SetRepository()
    turn = Turn(pass_name="eyes", run=2, passages=("iris",), canvas="School", place=2, planned_s=600)
    places = {("eyes", name, "Hall"): 1 for name in ("socket shadow", "upper lid", "iris")}
    repository.now = PlanProgress(TODAY, places, {("eyes", "upper lid", "Hall"): None}, turn)

    async def opened(pilot: Pilot[None]) -> None:
        await pilot.press("v")
        await until(pilot, lambda shown: size[0] < 120 or "this row" in shown)

    assert snap_compare(app_with(repository), run_before=opened, terminal_size=size)


PICTURED = TWO_CANVASES.replace("canvases:", "photo: sitter.png\nshapes: plan.shapes.svg\ncanvases:").replace(
    "{name: iris,", "{name: iris, shapes: [k9],"
)


def picture_of(app: CoachApp) -> EaselPicture:
    return app.screen.query_one(EaselPicture)


def dots(app: CoachApp) -> np.ndarray:
    found = picture_of(app)._dots
    assert found is not None
    return found


@pytest.mark.parametrize("size", [(80, 24), (130, 40)])
async def test_the_picture_outlines_the_shapes_of_the_row_in_hand(size: tuple[int, int]) -> None:
    repository = SetRepository(PICTURED)
    repository.may_read.set()
    app = app_with(repository)
    async with app.run_test(size=size) as pilot:
        await to_iris(pilot)
        await press(pilot, *["tab"] * (size[0] < 120))
        await until(pilot, lambda _: picture_of(app).display and picture_of(app).rows > 5)
        of_iris = dots(app)
        await press(pilot, "down")
        await until(pilot, lambda _: not np.array_equal(dots(app), of_iris))
        await press(pilot, "up")
        await until(pilot, lambda _: np.array_equal(dots(app), of_iris))
        await press(pilot, "f", "tab")
        await until(pilot, lambda _: not picture_of(app).display or size[0] > 120)


async def test_a_photo_that_cannot_be_read_is_told_on_its_tab_and_the_tabs_go_round() -> None:
    repository = SetRepository(PICTURED)
    repository.photo_fault = "sitter.png: there is no such file"
    app = app_with(repository)
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "v", "tab")
        repository.may_read.set()
        await until(pilot, lambda shown: "there is no such file" in shown)
        await press(pilot, "tab")
        await until(pilot, lambda shown: "who leads?" in shown)
        await press(pilot, "tab")
        await until(pilot, lambda shown: "is it sound?" in shown)
        await pilot.resize_terminal(130, 40)
        await until(pilot, lambda shown: "there is no such file" in shown and "is it sound?" in shown)


async def test_a_plan_that_is_left_while_its_photo_is_read_is_left() -> None:
    repository = SetRepository(PICTURED)
    app = app_with(repository)
    async with app.run_test(size=(130, 40)) as pilot:
        for _ in range(3):
            await press(pilot, "v", "v")
        assert isinstance(app.screen, EaselScreen)
        repository.may_read.set()
        await press(pilot, "v")
        await until(pilot, lambda _: picture_of(app).rows > 5)
