"""Passages added, renamed and deleted, with everything that names them."""

import pytest

from coach.plan.commission import Passage
from coach.plan.editing.edited import EditError
from coach.plan.editing.passage_edits import add_passage, delete_passage, rename_passage
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
        (Passage("new", value=11), "a value is from 0, black, to 10, white: write a number such as 3 or 2.5"),
        (Passage("new", value=float("nan")), "a value is from 0, black, to 10, white"),
        (Passage("new", planned_s=0), "the time of a passage is from 1 s to 24 h: write a time such as 14 min"),
        (Passage("new", area_cm2=0), "an area is greater than 0: write square centimetres, such as 12"),
        (Passage("new", difficulty=float("inf")), "a difficulty is above 0 and at most 10"),
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
