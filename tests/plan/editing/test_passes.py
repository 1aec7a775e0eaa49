"""Passes added, renamed, moved, deleted, and sorted from dark to light (common practice, no source)."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.plan.commission import Canvas, Passage, Plan
from coach.plan.editing.edited import EditError
from coach.plan.editing.passes import add_pass, delete_pass, move_pass, rename_pass, sort_dark_to_light
from coach.plan.editing.soundness import pass_of
from coach.plan.reading import read_plan
from tests.plan.editing.made import layered, names, passage


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


def _plan(*passages: Passage) -> Plan:
    return Plan(canvases=(Canvas("Hall"),), passes=(pass_of("eyes", passages),))


def _sorted(*passages: Passage) -> str:
    return " ".join(names(sort_dark_to_light(_plan(*passages), "eyes").plan, "eyes"))


def test_a_run_is_placed_by_its_darkest_passage_and_opens_with_it() -> None:
    """The mean of a and b is 5: by its mean the run would come behind c."""
    run = (Passage("a", value=9), Passage("b", value=1))
    assert _sorted(run[0], run[1], Passage("c", value=4)) == "b c a"
    assert _sorted(run[0], run[1]._replace(beside="a"), Passage("c", value=4)) == "a b c"


def test_in_a_run_each_passage_waits_for_its_neighbour() -> None:
    passages = (
        Passage("a", value=5),
        Passage("b", value=7, beside="a"),
        Passage("c", value=1, beside="b"),
        Passage("d", value=6, beside="a"),
    )
    assert _sorted(*passages) == "a d b c"


def test_what_is_equal_keeps_its_order() -> None:
    assert _sorted(Passage("a", value=3), Passage("b", value=3), Passage("c", value=3)) == "a b c"


def test_a_passage_without_a_value_stays_behind_the_one_it_stood_behind() -> None:
    a, b, c = Passage("a", value=5), Passage("b"), Passage("c", value=2)
    assert _sorted(a, b, c) == "c a b"
    assert _sorted(b, a, c) == "b c a"
    in_a_run = (Passage("a", value=1), Passage("b", value=8, beside="a"), Passage("c", beside="a"))
    assert _sorted(*in_a_run, Passage("d", value=4, beside="a")) == "a d b c"


def test_nothing_comes_before_what_it_lies_over_however_dark_it_is() -> None:
    passages = (Passage("sky", value=7), Passage("tree", value=1, over=("eyes", "sky")), Passage("sea", value=3))
    assert _sorted(*passages) == "sea sky tree"
    assert names(sort_dark_to_light(layered(), "ground").plan, "ground") == ["sky", "tree", "edge"]


def test_a_passage_waits_for_all_that_it_needs() -> None:
    a, b = Passage("a", value=4), Passage("b", value=8, beside="a")
    assert _sorted(a, b, Passage("c", value=1, beside="a", into=("eyes", "b")), Passage("d", value=2)) == "a b c d"
    under = (Passage("sky", value=7), Passage("sea", value=5))
    both = (Passage("x", value=1, over=("eyes", "sky")), Passage("y", value=3, beside="x", over=("eyes", "sea")))
    assert _sorted(*under, *both, Passage("z", value=6)) == "sea z sky x y"


def test_runs_that_lie_over_each_other_both_ways_are_not_sorted() -> None:
    plan = _plan(
        Passage("a", value=3),
        Passage("b", value=4),
        Passage("c", beside="a", over=("eyes", "b")),
        Passage("d", beside="b", over=("eyes", "a")),
    )
    with pytest.raises(EditError, match='runs of "eyes" lie over each other both ways: split one of them first'):
        sort_dark_to_light(plan, "eyes")


def test_a_pass_that_is_sorted_is_the_same_plan() -> None:
    edited = sort_dark_to_light(layered(), "eyes")
    assert edited.plan is layered()
    assert edited.remark == '"eyes" goes from dark to light already.'


def test_the_remark_counts_what_moved() -> None:
    plan = read_plan(
        "canvases: [Hall]\npasses: [{name: eyes, passages: [{name: a, value: 3}, {name: b, value: 1}]}]\n", "plan.yaml"
    )
    assert (
        sort_dark_to_light(plan, "eyes").remark == '"eyes" goes from dark to light now; 2 passages have another place.'
    )


@st.composite
def _passages(draw: st.DrawFn) -> tuple[Passage, ...]:
    found: list[Passage] = []
    for number in range(draw(st.integers(1, 12))):
        beside = draw(st.none() | st.sampled_from(found)) if found else None
        value = draw(st.none() | st.integers(0, 10).map(float))
        found.append(Passage(f"p{number}", value=value, beside=beside.name if beside else None))
    return tuple(found)


@given(_passages())
@settings(max_examples=80, deadline=None)
def test_sorting_keeps_runs_and_passages_and_is_done_once(passages: tuple[Passage, ...]) -> None:
    before = _plan(*passages)
    after = sort_dark_to_light(before, "eyes").plan
    (old,), (new,) = before.passes, after.passes
    assert set(new.passages) == set(old.passages)
    assert {frozenset(run.passage_names) for run in new.runs} == {frozenset(run.passage_names) for run in old.runs}
    assert new.passages == tuple(passage for run in new.runs for passage in run.passages)
    assert sort_dark_to_light(after, "eyes").plan is after
    if all(passage.value is not None for passage in passages):
        darkest = [min(passage.value or 0 for passage in run.passages) for run in new.runs]
        assert darkest == sorted(darkest)
