"""Work that is not saved: kept as it changes, offered at the next opening, gone once it is saved or dropped."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.composition.marking import with_head
from coach.forecast.what_if import Change
from coach.plan.commission import MarkedBox
from coach.plan.reading import read_plan
from coach.screens.app import CoachApp
from coach.screens.composition.state import draft_of, with_draft
from coach.screens.deadline.screen import change_in
from coach.screens.deadline.screen import draft_of as tried_draft
from coach.screens.plan.draft import kept_text, taken_up
from coach.screens.plan.repository import OpenedPlan
from coach.screens.plan.screen import PlanScreen
from tests.screens.driving import SIZE, app_on, begun, notes, press, shown, until_shown
from tests.screens.made_shapes import TEXT as SHAPES_TEXT
from tests.screens.made_shapes import SetShapes
from tests.screens.test_composition_view import opened
from tests.screens.test_plan_screen import SetRepository
from tests.sessions import TWO_CANVASES


class MemoryDrafts:
    """Drafts in memory."""

    def __init__(self) -> None:
        self.texts: dict[str, str] = {}

    def load(self) -> dict[str, str]:
        return dict(self.texts)

    def put(self, kind: str, text: str) -> None:
        self.texts[kind] = text
        if not text:
            del self.texts[kind]


def plan_app(repository: SetRepository, drafts: MemoryDrafts) -> CoachApp:
    return app_on(begun(repository.text), drafts=drafts, plan_repository=lambda: repository)


async def test_plan_edits_are_kept_offered_and_can_be_taken_back_or_saved() -> None:
    repository, drafts = SetRepository(), MemoryDrafts()
    async with plan_app(repository, drafts).run_test(size=SIZE) as pilot:
        await press(pilot, "v", "down", "enter", "down", "enter", *"77", "enter", "escape")
        assert isinstance(pilot.app, CoachApp)
        pilot.app.keep_drafts()
    assert list(drafts.texts) == ["plan edits"]
    async with plan_app(repository, drafts).run_test(size=SIZE) as pilot:
        assert "You left changes to the plan unsaved last time: v shows them." in shown(pilot.app)
        await press(pilot, "v")
        assert "edits of last time" in await until_shown(pilot, "NOT SAVED")
        await press(pilot, "u")
        assert "NOT SAVED" not in shown(pilot.app)
        await press(pilot, "ctrl+y", "w")
        await until_shown(pilot, "Saved in")
        assert isinstance(pilot.app, CoachApp)
        pilot.app.keep_drafts()
    assert drafts.texts == {}
    assert repository.saved[0].passes[0].passages[0].planned_s == 77 * 60


async def test_edits_of_a_plan_that_was_changed_since_are_saved_beside_it_not_over_it() -> None:
    repository, drafts = SetRepository(), MemoryDrafts()
    async with plan_app(repository, drafts).run_test(size=SIZE) as pilot:
        await press(pilot, "v", "down", "enter", "down", "enter", *"77", "enter", "escape")
        assert isinstance(pilot.app, CoachApp)
        pilot.app.keep_drafts()
    repository.text = repository.text.replace("minutes: 9", "minutes: 8")
    async with plan_app(repository, drafts).run_test(size=SIZE) as pilot:
        await press(pilot, "v")
        await until_shown(pilot, "The file was changed since")
        screen = pilot.app.screen
        assert isinstance(screen, PlanScreen)
        assert screen._opened is not None
        assert "minutes: 9" in screen._opened.text


@pytest.mark.parametrize(("leaving", "kept"), [("x", {}), ("escape", {"note": "so far"})])
async def test_a_half_typed_note_is_kept_and_n_goes_on_with_it(leaving: str, kept: dict[str, str]) -> None:
    easel, drafts = begun(), MemoryDrafts()
    app = app_on(easel, drafts=drafts)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "n", *"so far", "ctrl+q")
        assert "A note is not finished." in shown(app)
        await press(pilot, leaving)
        app.keep_drafts()
    assert drafts.texts == kept
    if kept:
        again = app_on(easel, drafts=drafts)
        async with again.run_test(size=SIZE) as pilot:
            assert "You left a note unfinished last time: n goes on with it." in shown(again)
            await press(pilot, "n", "!", "enter")
            again.keep_drafts()
        assert notes(easel) == ["so far!"]
        assert drafts.texts == {}


async def test_a_note_that_the_disk_refuses_stays_in_its_field() -> None:
    easel = begun()
    app = app_on(easel)
    async with app.run_test(size=SIZE) as pilot:
        easel.journal.is_full = True
        await press(pilot, "n", *"edge", "enter")
        assert "the disk is full" in shown(app)
        easel.journal.is_full = False
        await press(pilot, "s", "enter")
    assert notes(easel) == ["edges"]


async def test_the_tick_keeps_what_has_changed_and_nothing_else() -> None:
    drafts = MemoryDrafts()
    app = app_on(begun(), drafts=drafts)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "n", *"half")
        app._tick()
        await app.workers.wait_for_complete()
        assert drafts.texts == {"note": "half"}
        drafts.texts.clear()
        app._tick()
        await app.workers.wait_for_complete()
        assert drafts.texts == {}


def test_marks_survive_their_draft_and_wait_for_their_own_photo() -> None:
    before = opened()
    assert before.shown is not None
    assert before.sitter is not None
    box = MarkedBox(10, 20, 300, 400)
    changed = before._replace(shown=before.shown._replace(marking=with_head(before.shown.marking, box)))
    text = draft_of(changed)
    restored, said = with_draft(before, text)
    assert restored is not None
    assert restored.marked == changed.marked
    assert "w saves them" in said
    other, said = with_draft(before._replace(sitter=before.sitter._replace(photo="other.jpg")), text)
    assert other is None
    assert "sitter.jpg" in said


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "7", '{"photo": "sitter.jpg"}', '{"photo": "sitter.jpg", "heads": [1]}']
)
def test_a_draft_that_is_no_draft_is_told_in_a_sentence(text: str) -> None:
    before = opened()
    assert with_draft(before, text) == (before, "the marks of last time cannot be read any more")
    assert change_in(text) == Change()


@given(
    week_s=st.none() | st.tuples(*[st.integers(0, 86400)] * 7),
    due=st.none() | st.dates(),
    room_c=st.none() | st.floats(0, 40),
    days=st.none() | st.integers(0, 99),
)
def test_what_was_tried_survives_its_draft(
    week_s: tuple[int, ...] | None, due: dt.date | None, room_c: float | None, days: int | None
) -> None:
    change = Change(week_s=week_s, due=due, room_c=room_c, framing_working_days=days)
    assert change_in(tried_draft(change)) == change


def test_edits_of_last_time_that_lie_in_the_file_already_are_no_edits() -> None:
    opened_plan = OpenedPlan(TWO_CANVASES, read_plan(TWO_CANVASES, ""))
    other = TWO_CANVASES.replace("minutes: 14", "minutes: 77")
    kept = kept_text(opened_plan, read_plan(other, ""))
    saved = OpenedPlan(other, read_plan(other, ""))
    assert taken_up(saved, frozenset(), kept)[1].is_saved
    assert not taken_up(opened_plan, frozenset(), kept)[1].is_saved


async def test_edits_of_last_time_wait_while_the_plan_cannot_be_read() -> None:
    repository, drafts = SetRepository(), MemoryDrafts()
    opened_plan = repository.opened()
    drafts.texts["plan edits"] = kept_text(opened_plan, read_plan(TWO_CANVASES.replace("14", "77"), ""))
    repository.fault = "plan.yaml:3: a fault"
    app = plan_app(repository, drafts)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "v")
        await until_shown(pilot, "a fault")
        await press(pilot, "v")
        app.keep_drafts()
        assert list(drafts.texts) == ["plan edits"]
        repository.fault = ""
        await press(pilot, "v")
        await until_shown(pilot, "The edits of last time are here")


async def test_the_plan_says_before_it_is_saved_that_unsaved_shapes_will_lie_beside_it() -> None:
    plan, shapes = SetRepository(SHAPES_TEXT), SetShapes()
    app = app_on(begun(plan.text), plan_repository=lambda: plan, shapes_repository=lambda: shapes)
    async with app.run_test(size=SIZE) as pilot:
        await press(pilot, "t")
        await until_shown(pilot, "cheek left")
        await press(pilot, "c", "enter", *"temple", "enter")
        await until_shown(pilot, "temple")
        await press(pilot, "v")
        await until_shown(pilot, "The shapes hold changes that are not saved: before you edit here")
        await press(pilot, "a", *"rim", "enter", "w")
        await until_shown(pilot, "press w again")
        assert plan.saved == []
        await press(pilot, "w")
        await until_shown(pilot, "Saved in")
    assert len(plan.saved) == 1
