"""Passages and runs move; neighbours and layers keep their order."""

import pytest

from coach.plan.editing.edited import EditError
from coach.plan.editing.moving import move_passage, move_run, move_to_pass
from coach.plan.reading import read_plan
from tests.plan.editing.made import layered, names, passage


@pytest.mark.parametrize(
    ("name", "by", "order"),
    [
        ("iris", -1, ["socket", "iris", "lid", "light"]),
        ("iris", -9, ["iris", "socket", "lid", "light"]),
        ("lid", 9, ["socket", "iris", "light", "lid"]),
    ],
)
def test_a_passage_moves_as_far_as_there_is_room_and_stays_in_its_run(name: str, by: int, order: list[str]) -> None:
    plan = move_passage(layered(), "eyes", name, by).plan
    assert names(plan, "eyes") == order
    assert ("socket", "lid") in [run.passage_names for run in plan.passes[0].runs]


@pytest.mark.parametrize(
    ("pass_name", "name", "by", "said"),
    [
        ("eyes", "lid", -1, '"lid" is beside "socket" and must come after it: split it from its run first'),
        ("eyes", "socket", 1, '"lid" is beside "socket" and must come after it: split it from its run first'),
        ("eyes", "light", -1, '"light" is painted into "eyes / iris" and must come after it'),
        ("ground", "sky", 1, '"tree" lies over "ground / sky" and must come after it'),
    ],
)
def test_a_passage_never_comes_before_what_it_needs(pass_name: str, name: str, by: int, said: str) -> None:
    with pytest.raises(EditError) as caught:
        move_passage(layered(), pass_name, name, by)
    assert str(caught.value) == said


def test_nothing_changes_where_there_is_no_room() -> None:
    for edited in (move_passage(layered(), "eyes", "light", 1), move_run(layered(), "eyes", 1, -1)):
        assert edited.plan is layered()
        assert edited.remark.endswith("stays where it is.")


def test_a_run_moves_whole_among_the_runs_of_its_pass() -> None:
    edited = move_run(layered(), "eyes", 1, 1)
    assert names(edited.plan, "eyes") == ["iris", "socket", "lid", "light"]
    assert edited.remark == '"socket + lid" is run 2 of "eyes" now.'
    with pytest.raises(EditError, match='"eyes" has no run 4; its runs go from 1 to 3'):
        move_run(layered(), "eyes", 4, 1)


def test_a_passage_goes_to_another_pass_and_layers_over_it_follow() -> None:
    edited = move_to_pass(layered(), "eyes", "socket", "nose", after="ridge")
    assert names(edited.plan, "nose") == ["ridge", "socket", "tip", "glaze"]
    assert passage(edited.plan, "nose", "glaze").over == ("nose", "socket")
    assert passage(edited.plan, "eyes", "lid").beside is None
    assert edited.remark == '"socket" belongs to "nose" now. "lid" is beside none now.'
    assert names(move_to_pass(layered(), "eyes", "lid", "nose").plan, "nose")[-1] == "lid"
    assert 'beside "socket" no more' in move_to_pass(layered(), "eyes", "lid", "nose").remark


def test_a_passage_that_cannot_go_is_told_why() -> None:
    with pytest.raises(EditError, match="the journal knows it by this name: it cannot be moved to another pass"):
        move_to_pass(layered(), "eyes", "lid", "nose", done={("eyes", "lid")})
    with pytest.raises(EditError, match='"iris" belongs to "eyes" already'):
        move_to_pass(layered(), "eyes", "iris", "eyes")
    with pytest.raises(EditError, match='"light" is painted into "nose / iris" and must come after it'):
        move_to_pass(layered(), "eyes", "iris", "nose")
    text = "canvases: [Hall]\npasses: [{name: eyes, passages: [Rim, lid]}, {name: ears, passages: [rim]}]\n"
    plan = read_plan(text, "plan.yaml")
    with pytest.raises(EditError, match='"ears" has a passage "rim" already: rename one of them first'):
        move_to_pass(plan, "eyes", "Rim", "ears")
    with pytest.raises(EditError, match='"rim" is the only passage of "ears", and a pass is never empty'):
        move_to_pass(read_plan(text.replace("Rim", "hollow"), "plan.yaml"), "ears", "rim", "eyes")
