"""Passes added, renamed, moved and deleted."""

import pytest

from coach.plan.commission import Passage
from coach.plan.editing.edited import EditError
from coach.plan.editing.pass_edits import add_pass, delete_pass, move_pass, rename_pass
from coach.plan.reading import read_plan
from tests.plan.editing.made import layered, passage


def _order(names: str) -> list[str]:
    return names.split()


def test_a_pass_is_added_with_its_first_passage() -> None:
    edited = add_pass(layered(), " ears ", Passage("rim", value=4), after="eyes")
    assert [one.name for one in edited.plan.passes] == ["eyes", "ears", "nose", "ground"]
    assert edited.plan.passes[1].runs[0].passages == (Passage("rim", value=4),)
    assert edited.remark == 'The pass "ears" is added, after "eyes".'
    assert add_pass(layered(), "ears", Passage("rim")).plan.passes[-1].name == "ears"


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("EYES", 'the name "eyes" is taken'),
        ("Return to eyes", "begins like a pass of corrections"),
        ("", "a name is missing"),
    ],
)
def test_a_pass_whose_name_cannot_be_is_refused(name: str, said: str) -> None:
    with pytest.raises(EditError, match=said):
        add_pass(layered(), name, Passage("rim"))
    with pytest.raises(EditError, match=said):
        rename_pass(layered(), "nose", name)


def test_layers_follow_the_new_name_of_a_pass() -> None:
    plan = rename_pass(layered(), "eyes", "both eyes").plan
    assert passage(plan, "nose", "glaze").over == ("both eyes", "socket")
    assert passage(plan, "both eyes", "light").into == ("both eyes", "iris")
    assert {run.pass_name for run in plan.passes[0].runs} == {"both eyes"}
    assert rename_pass(layered(), "eyes", "eyes", done={("eyes", "iris")}).plan is layered()


@pytest.mark.parametrize(
    ("name", "by", "order"),
    [("ground", -1, "eyes ground nose"), ("ground", -9, "ground eyes nose"), ("nose", 9, "eyes ground nose")],
)
def test_a_pass_moves_as_far_as_there_is_room(name: str, by: int, order: str) -> None:
    assert [one.name for one in move_pass(layered(), name, by).plan.passes] == _order(order)


def test_a_pass_never_comes_before_what_it_lies_over() -> None:
    with pytest.raises(EditError) as caught:
        move_pass(layered(), "nose", -1)
    assert str(caught.value) == '"glaze" lies over "eyes / socket" and must come after it'
    assert move_pass(layered(), "eyes", -1).plan is layered()


def test_a_pass_is_not_moved_where_a_layer_could_not_be_named_any_more() -> None:
    """The name `a/b` can only stand alone, and then it is not to be told from its namesake above."""
    text = "canvases: [Hall]\npasses:\n"
    for one in (
        "{name: eyes, passages: [a/b]}",
        "{name: x, passages: [{name: y, over: a/b}]}",
        "{name: z, passages: [a/b]}",
    ):
        text += f"  - {one}\n"
    with pytest.raises(EditError) as caught:
        move_pass(read_plan(text, "plan.yaml"), "z", -1)
    what = '"y" could no longer tell "eyes / a/b" from its namesakes'
    assert str(caught.value) == f"{what}: choose names that differ and have no /"


def test_a_deleted_pass_takes_its_passages_along_and_cuts_layers_over_them() -> None:
    edited = delete_pass(layered(), "eyes")
    assert [one.name for one in edited.plan.passes] == ["nose", "ground"]
    assert passage(edited.plan, "nose", "glaze").over is None
    assert edited.remark == 'The pass "eyes" is deleted with its 4 passages. "glaze" lies over none now.'


def test_what_is_done_keeps_its_pass_but_the_pass_may_move() -> None:
    done = {("ground", "tree")}
    with pytest.raises(EditError, match='"ground / tree" is begun and the journal knows it'):
        delete_pass(layered(), "ground", done=done)
    with pytest.raises(EditError, match='"ground / tree" is begun and the journal knows it'):
        rename_pass(layered(), "ground", "land", done=done)
    assert move_pass(layered(), "ground", -1).plan.passes[1].name == "ground"


def test_the_only_pass_is_not_deleted() -> None:
    plan = read_plan("canvases: [Hall]\npasses: [{name: eyes, passages: [iris]}]\n", "plan.yaml")
    with pytest.raises(EditError, match='"eyes" is the only pass of the plan, and a plan has at least one'):
        delete_pass(plan, "eyes")
