"""Runs are joined and split; each passage stays in exactly one."""

import pytest

from coach.plan.editing.edited import EditError
from coach.plan.editing.neighbours import join, split
from coach.plan.reading import read_plan
from tests.plan.editing.made import layered, passage


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
