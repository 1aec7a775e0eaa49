"""Passages and runs added, renamed, moved, joined, split and deleted, with everything that names them."""

import pytest

from coach.plan.commission import Passage
from coach.plan.editing.edited import EditError
from coach.plan.editing.passages import (
    add_passage,
    delete_passage,
    join,
    move_passage,
    move_run,
    move_to_pass,
    rename_passage,
    split,
)
from coach.plan.reading import read_plan
from tests.plan.editing.made import layered, names, passage


def test_a_passage_is_added_after_another_or_at_the_end() -> None:
    after = add_passage(layered(), "eyes", Passage("  lower \t lid ", value=5), after="lid")
    assert names(after.plan, "eyes") == ["socket", "lid", "lower lid", "iris", "light"]
    assert after.remark == '"lower lid" is added to "eyes", after "lid".'
    last = add_passage(layered(), "nose", Passage("wing", beside="tip", over=("eyes", "iris")))
    assert names(last.plan, "nose")[-1] == "wing"
    assert [run.passage_names for run in last.plan.passes[1].runs] == [("ridge", "tip", "wing"), ("glaze",)]


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        (Passage("LID"), 'the name "lid" is taken: give each its own name'),
        (Passage(" \n"), "a name is missing: write at least one letter"),
        (Passage("x" * 301), "has 301 characters; use at most 300"),
        (Passage("a/b"), '"a/b" has a /, which parts the name of a pass from that of a passage'),
        (Passage("new", value=11), '"11" is not a number from 0 to 10; write a number such as 3 or 2.5'),
        (Passage("new", value=float("nan")), '"nan" is not a number from 0 to 10'),
        (Passage("new", planned_s=0), "is not between 1 s and 24 h; write 14 min or 1 h 30 min"),
        (Passage("new", area_cm2=0), "is not an area greater than 0; write an area such as 12 cm2"),
        (Passage("new", difficulty=float("inf")), "is not a number greater than 0, at most 10"),
        (Passage("new", mixture="drak"), 'there is no mixture "drak"; did you mean "dark"'),
        (Passage("new", lead="Hal"), 'there is no canvas "Hal"; did you mean "Hall"'),
        (Passage("new", beside="nowhere"), '"new" is beside "nowhere" and must come after it'),
        (Passage("new", over=("ground", "sky")), '"new" lies over "ground / sky" and must come after it'),
        (Passage("new", over=("eyes", "iris"), into=("eyes", "iris")), "not both"),
        (Passage("new", beside="lid", over=("eyes", "socket")), "which would still be wet in the same run"),
    ],
)
def test_a_passage_that_cannot_be_is_refused_in_one_sentence(typed: Passage, said: str) -> None:
    with pytest.raises(EditError) as caught:
        add_passage(layered(), "eyes", typed)
    assert said in str(caught.value)


def test_a_run_never_gets_two_leads() -> None:
    with pytest.raises(EditError) as caught:
        add_passage(layered(), "nose", Passage("wing", beside="tip", lead="School"))
    assert str(caught.value) == '"ridge + tip + wing" would form one run with two leads, "Hall" and "School"'


def test_what_names_a_passage_follows_its_new_name() -> None:
    plan = rename_passage(layered(), "eyes", "socket", "hollow").plan
    assert passage(plan, "eyes", "lid").beside == "hollow"
    assert passage(plan, "nose", "glaze").over == ("eyes", "hollow")
    assert [run.passage_names for run in plan.passes[0].runs] == [("hollow", "lid"), ("iris",), ("light",)]
    assert passage(rename_passage(layered(), "eyes", "iris", "IRIS").plan, "eyes", "light").into == ("eyes", "IRIS")


def test_what_is_done_keeps_its_name_and_stays() -> None:
    done = {("eyes", "socket")}
    why = '"eyes / socket" is begun and the journal knows it by this name: it cannot be '
    with pytest.raises(EditError) as caught:
        rename_passage(layered(), "eyes", "socket", "hollow", done=done)
    assert str(caught.value) == why + "renamed"
    with pytest.raises(EditError) as caught:
        delete_passage(layered(), "eyes", "socket", done=done)
    assert str(caught.value) == why + "deleted"
    assert rename_passage(layered(), "eyes", "lid", "upper lid", done=done).plan != layered()
    assert rename_passage(layered(), "eyes", "socket", "socket", done=done).plan is layered()


def test_a_deleted_passage_hands_on_its_neighbours_its_lead_and_its_layers() -> None:
    text = """\
canvases: [Hall, School]
passes:
  - name: eyes
    passages:
      - ground
      - {name: a, over: ground, lead: Hall}
      - {name: b, beside: a}
      - {name: c, beside: a}
      - {name: glaze, over: a}
      - {name: wet, into: a}
"""
    edited = delete_passage(read_plan(text, "plan.yaml"), "eyes", "a")
    (one_pass,) = edited.plan.passes
    assert one_pass.passages[1:] == (
        Passage("b", lead="Hall"),
        Passage("c", beside="b"),
        Passage("glaze", over=("eyes", "ground")),
        Passage("wet", over=("eyes", "ground")),
    )
    assert edited.remark == (
        '"a" is deleted. "b" is beside none now. "c" is beside "b" now. '
        '"glaze" lies over "eyes / ground" now. "wet" lies over "eyes / ground" now.'
    )


def test_a_layer_over_a_deleted_passage_that_named_none_is_cut() -> None:
    edited = delete_passage(layered(), "eyes", "socket")
    assert passage(edited.plan, "nose", "glaze").over is None
    assert '"glaze" lies over none now.' in edited.remark


def test_the_only_passage_of_a_pass_is_not_deleted() -> None:
    plan = read_plan("canvases: [Hall]\npasses: [{name: eyes, passages: [iris]}]\n", "plan.yaml")
    with pytest.raises(EditError, match='"iris" is the only passage of "eyes": delete the pass'):
        delete_passage(plan, "eyes", "iris")


def test_a_name_that_is_not_there_is_told_with_the_nearest() -> None:
    with pytest.raises(EditError, match='no passage of "eyes" is called "irs"; did you mean "iris"'):
        delete_passage(layered(), "eyes", "irs")
    with pytest.raises(EditError, match='no pass is called "eye"; did you mean "eyes"'):
        delete_passage(layered(), "eye", "iris")


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
    assert edited.remark == '"socket + lid" stands after "iris" now.'
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


def _runs(text: str) -> list[tuple[str, ...]]:
    return [tuple(run.split()) for run in text.split(", ")]


@pytest.mark.parametrize(("one", "other"), [("iris", "lid"), ("lid", "iris")])
def test_the_later_of_two_neighbours_is_beside_the_earlier(one: str, other: str) -> None:
    edited = join(layered(), "eyes", one, other)
    assert passage(edited.plan, "eyes", "iris").beside == "lid"
    assert [run.passage_names for run in edited.plan.passes[0].runs] == _runs("socket lid iris, light")
    assert edited.remark == '"iris" is beside "lid" now: they are painted one after the other.'


def test_a_neighbour_in_the_same_run_may_be_changed() -> None:
    plan = join(join(layered(), "eyes", "iris", "lid").plan, "eyes", "iris", "socket").plan
    assert passage(plan, "eyes", "iris").beside == "socket"
    assert join(plan, "eyes", "iris", "socket").plan is plan


@pytest.mark.parametrize(
    ("pass_name", "one", "other", "said"),
    [
        ("eyes", "iris", "iris", '"iris" cannot be beside itself'),
        ("ground", "sky", "edge", '"edge" is beside "tree" in another run: split it from that run first'),
        ("ground", "sky", "tree", '"tree" lies over "sky", which would still be wet in the same run'),
    ],
)
def test_neighbours_that_cannot_be_are_refused(pass_name: str, one: str, other: str, said: str) -> None:
    with pytest.raises(EditError) as caught:
        join(layered(), pass_name, one, other)
    assert str(caught.value) == said


def test_runs_with_two_leads_are_not_joined() -> None:
    text = (
        "canvases: [Hall, School]\npasses: [{name: eyes, passages: [{name: a, lead: Hall}, {name: b, lead: School}]}]"
    )
    with pytest.raises(EditError, match="would form one run with two leads"):
        join(read_plan(text, "plan.yaml"), "eyes", "a", "b")


@pytest.mark.parametrize(
    ("name", "runs", "told"),
    [
        ("a", "a, b c d", '"b" is beside none now. "c" is beside "b" now.'),
        ("b", "a c d, b", '"d" is beside "a" now.'),
        ("d", "a b c, d", '"d" is a run of its own now.'),
    ],
)
def test_what_is_left_of_a_split_run_stays_a_run(name: str, runs: str, told: str) -> None:
    passages = "a, {name: b, beside: a}, {name: c, beside: a}, {name: d, beside: b}"
    plan = read_plan(f"canvases: [Hall]\npasses: [{{name: eyes, passages: [{passages}]}}]\n", "plan.yaml")
    edited = split(plan, "eyes", name)
    assert [run.passage_names for run in edited.plan.passes[0].runs] == _runs(runs)
    assert edited.remark.endswith(told)


def test_both_parts_of_a_split_run_keep_its_lead() -> None:
    plan = split(layered(), "nose", "tip").plan
    assert [run.lead for run in plan.passes[1].runs] == ["Hall", "Hall", None]


def test_what_is_done_or_stands_alone_is_not_split() -> None:
    with pytest.raises(EditError, match='"iris" has no neighbour: it is a run of its own already'):
        split(layered(), "eyes", "iris")
    with pytest.raises(EditError, match="it cannot be split from its run"):
        split(layered(), "eyes", "lid", done={("eyes", "lid")})
    assert split(layered(), "eyes", "lid", done={("eyes", "socket")}).plan != layered()
