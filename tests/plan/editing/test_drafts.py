"""Undo and redo go through every plan of an editing, without end."""

from coach.plan.editing.drafts import Drafts
from coach.plan.editing.figures import change_minutes
from tests.plan.editing.made import layered


def test_a_thousand_edits_are_undone_and_redone_one_by_one() -> None:
    drafts = Drafts(plans=(layered(),))
    for seconds in range(1, 1001):
        drafts = drafts.edited(change_minutes(drafts.plan, "eyes", "iris", seconds).plan)
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
    one = change_minutes(layered(), "eyes", "iris", 60).plan
    other = change_minutes(layered(), "eyes", "iris", 120).plan
    drafts = Drafts(plans=(layered(),)).edited(one).undone()
    assert drafts.can_redo
    assert drafts.edited(other).plans == (layered(), other)


def test_the_same_plan_again_is_no_draft() -> None:
    drafts = Drafts(plans=(layered(),))
    assert drafts.edited(layered()) is drafts
