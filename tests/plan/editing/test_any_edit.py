"""Whatever the edit, a sound plan comes out or one sentence; what is done keeps its name; all can be undone."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.plan.commission import runs_of
from coach.plan.editing.edited import Drafts, EditError
from coach.plan.editing.figures import change
from coach.plan.reading import read_plan
from coach.plan.writing import plan_text
from coach.plan.writing_in_place import edited_text
from tests.plan.editing.made import LAYERED, PLANS, an_edit, layered


def _text_of(source: str | Path) -> str:
    return source.read_text() if isinstance(source, Path) else source


@pytest.mark.parametrize("source", [LAYERED, *PLANS], ids=["layered", *(path.stem for path in PLANS)])
@given(data=st.data())
@settings(max_examples=15, deadline=None)
def test_edits_in_a_row_leave_a_plan_that_is_written_and_read_as_the_same(
    source: str | Path, data: st.DataObject
) -> None:
    text = _text_of(source)
    plan = read_plan(text, "plan.yaml")
    every = sorted((one.name, passage.name) for one in plan.passes for passage in one.passages)
    done = frozenset(data.draw(st.lists(st.sampled_from(every), max_size=3)))
    drafts = Drafts(plans=(plan,))
    for _ in range(4):
        edit = data.draw(an_edit(drafts.plan, done))
        try:
            edited = edit()
        except EditError as error:
            said = str(error)
            assert said
            assert "\n" not in said
            continue
        assert edited.remark.endswith(".")
        assert "\n" not in edited.remark
        text = edited_text(text, drafts.plan, edited.plan)
        assert read_plan(text, "plan.yaml") == edited.plan
        assert read_plan(plan_text(edited.plan), "plan.yaml") == edited.plan
        assert all(one.runs == runs_of(one.name, one.passages) for one in edited.plan.passes)
        assert done <= {(one.name, passage.name) for one in edited.plan.passes for passage in one.passages}
        drafts = drafts.edited(edited.plan)
    while drafts.can_undo:
        drafts = drafts.undone()
    assert drafts.plan is plan


@given(st.data())
@settings(max_examples=60, deadline=None)
def test_comments_apart_from_what_an_edit_touches_survive_it(data: st.DataObject) -> None:
    """Only a comment beside or right above something deleted may go."""
    edit = data.draw(an_edit(layered()))
    try:
        plan = edit().plan
    except EditError:
        return
    text = edited_text(LAYERED, layered(), plan)
    assert "# ---- the rest ----" in text
    assert "# The head of the plan." in text
    assert "canvases: [Hall, School]   # two\n" in text
    assert "  - {name: dark, parts: {umber: 2}}  # the darkest\n" in text
    lost = {"# the deepest", "# thin", "# keep it clean", "# when dry", "# the last stroke"}
    left = {(one.name, passage.name) for one in plan.passes for passage in one.passages}
    here = {(one.name, passage.name) for one in layered().passes for passage in one.passages}
    if not any(passage.over == ("ground", "sky") for one in plan.passes for passage in one.passages):
        lost -= {"# when dry"}  # it stands beside what the tree lies over
    if here <= left:
        assert all(comment in text for comment in lost)


def test_a_thousand_edits_are_undone_and_redone_one_by_one() -> None:
    drafts = Drafts(plans=(layered(),))
    for seconds in range(1, 1001):
        drafts = drafts.edited(change(drafts.plan, "eyes", "iris", "minutes", f"{seconds} s").plan)
    last = drafts.plan
    for _ in range(1000):
        assert drafts.can_undo
        drafts = drafts.undone()
    assert drafts.plan is layered()
    assert not drafts.can_undo
    assert drafts.undone().plan is layered()
    for _ in range(1001):
        drafts = drafts.redone()
    assert drafts.plan is last
    assert not drafts.can_redo


def test_an_edit_after_an_undo_forgets_what_was_undone() -> None:
    one = change(layered(), "eyes", "iris", "minutes", "1").plan
    other = change(layered(), "eyes", "iris", "minutes", "2").plan
    drafts = Drafts(plans=(layered(),)).edited(one).undone()
    assert drafts.can_redo
    assert drafts.edited(other).plans == (layered(), other)


def test_the_same_plan_again_is_no_draft() -> None:
    drafts = Drafts(plans=(layered(),))
    assert drafts.edited(layered()) is drafts
