"""What a plan says of a passage is changed, taken away, or refused in one sentence, as the table of keys has it."""

from typing import Any

import pytest

from coach.plan.commission import Passage
from coach.plan.editing.edited import EditError
from coach.plan.editing.figures import change, checked_figures, stated
from tests.plan.editing.made import layered, passage


@pytest.mark.parametrize(
    ("key", "text", "figure", "said"),
    [
        ("minutes", "90", {"planned_s": 5400}, "1 h 30 min"),
        ("minutes", "1 h 30 min", {"planned_s": 5400}, "1 h 30 min"),
        ("minutes", "", {"planned_s": None}, "no minutes"),
        ("value", "2,5", {"value": 2.5}, "value 2.5"),
        ("value", " ", {"value": None}, "no value"),
        ("area", "12", {"area_cm2": 12.0}, "area 12 cm2"),
        ("area", "2 in2", {"area_cm2": 2 * 2.54**2}, "area 2 in2"),
        ("difficulty", "1.5", {"difficulty": 1.5}, "difficulty 1.5"),
        ("mixture", " light ", {"mixture": "light"}, 'the mixture "light"'),
        ("mixture", "", {"mixture": None}, "no mixture"),
        ("brush", "6", {"brush_mm": 6.0}, "brush 6 mm"),
        ("shapes", "k2, k1 k2", {"shapes": ("k2", "k1")}, "the shapes k2, k1"),
    ],
)
def test_each_figure_is_changed_alone_and_said(key: str, text: str, figure: dict[str, Any], said: str) -> None:
    plan = layered()
    edited = change(plan, "eyes", "socket", key, text)
    new = passage(edited.plan, "eyes", "socket")
    assert new == passage(plan, "eyes", "socket")._replace(**figure)
    assert edited.remark == f'"socket" has {said} now.'
    assert all(new is old for new, old in zip(edited.plan.passes[1:], plan.passes[1:], strict=True))
    assert change(edited.plan, "eyes", "socket", key, stated(new, key)).plan is edited.plan


def test_what_is_painted_becomes_no_check_and_a_shape_goes_into_one_passage_of_a_pass() -> None:
    with pytest.raises(EditError, match='"socket" is a check and lays no paint: it has no value or mixture'):
        change(layered(), "eyes", "socket", "check", "mirror")
    with pytest.raises(EditError, match='"ridge" is a check and lays no paint: none can be beside it'):
        change(layered(), "nose", "ridge", "check", "mirror")
    bare = change(layered(), "ground", "sky", "value", "").plan
    with pytest.raises(EditError, match='"ground / sky" is a check and lays no paint: none can lie over it'):
        change(bare, "ground", "sky", "check", "mirror")
    shaped = change(layered(), "eyes", "socket", "shapes", "k1").plan
    with pytest.raises(EditError, match='"k1" belongs to "socket" in this pass'):
        change(shaped, "eyes", "iris", "shapes", "k1")


def test_a_passage_lies_over_an_earlier_one_or_is_painted_into_it_and_what_is_given_last_holds() -> None:
    here = ("nose", "ridge")
    over = change(layered(), *here, "over", "eyes / socket")
    assert passage(over.plan, *here).over == ("eyes", "socket")
    assert over.remark == '"ridge" lies over "eyes / socket" now.'
    into = change(over.plan, *here, "into", "iris")
    assert (passage(into.plan, *here).over, passage(into.plan, *here).into) == (None, ("eyes", "iris"))
    assert change(into.plan, *here, "into", stated(passage(into.plan, *here), "into")).plan is into.plan
    assert passage(change(into.plan, *here, "into", "").plan, *here).into is None
    with pytest.raises(EditError, match='no earlier passage is called "sky"'):
        change(layered(), *here, "over", "sky")


def test_a_difficulty_that_is_taken_away_is_the_usual_one() -> None:
    hard = change(layered(), "eyes", "socket", "difficulty", "2").plan
    edited = change(hard, "eyes", "socket", "difficulty", "")
    assert edited.plan == layered()
    assert edited.remark == '"socket" has difficulty 1 now.'


def test_the_same_figure_again_is_the_same_plan() -> None:
    edited = change(layered(), "eyes", "socket", "minutes", "14 min")
    assert edited.plan is layered()
    assert edited.remark == '"socket" has 14 min already.'


@pytest.mark.parametrize(
    ("key", "text", "said"),
    [
        ("minutes", "0", '"0" is not between 1 s and 24 h; write 14 min or 1 h 30 min'),
        ("minutes", "soon", '"soon" is not a time; write 14 min or 1 h 30 min'),
        ("minutes", "24 h 1 s", '"24 h 1 s" is not between 1 s and 24 h; write 14 min or 1 h 30 min'),
        ("value", "10.1", '"10.1" is not a number from 0 to 10; write a number such as 3 or 2.5'),
        ("value", "-1", '"-1" is not a number from 0 to 10; write a number such as 3 or 2.5'),
        ("difficulty", "0", '"0" is not a number greater than 0, at most 10; write a number such as 1.5'),
        ("area", "0", '"0 cm2" is not an area greater than 0; write an area such as 12 cm2'),
        ("mixture", "drak", 'there is no mixture "drak"; did you mean "dark"'),
        ("lead", "Hal", 'there is no canvas "Hal"; did you mean "Hall"'),
    ],
)
def test_what_the_reader_of_a_plan_refuses_is_refused_in_its_words(key: str, text: str, said: str) -> None:
    with pytest.raises(EditError) as caught:
        change(layered(), "nose", "ridge", key, text)
    assert str(caught.value) == said


def test_figures_are_cut_to_what_a_plan_can_hold() -> None:
    assert checked_figures(Passage("iris", value=10 / 3)).value == 3.333333


@pytest.mark.parametrize("figure", [-1.0, float("nan"), float("inf")])
@pytest.mark.parametrize("field", ["value", "area_cm2", "difficulty"])
def test_figures_off_their_scale_are_refused(field: str, figure: float) -> None:
    wrong: dict[str, Any] = {field: figure}
    with pytest.raises(EditError):
        checked_figures(Passage("iris", **wrong))


def test_a_lead_is_the_lead_of_the_whole_run() -> None:
    edited = change(layered(), "nose", "ridge", "lead", "School")
    assert [p.lead for p in edited.plan.passes[1].passages] == ["School", None, None]
    assert edited.remark == '"ridge + tip" is led by "School".'
    assert edited.plan.passes[1].runs[0].lead == "School"
    free = change(edited.plan, "nose", "tip", "lead", "")
    assert free.plan.passes[1].runs[0].lead is None
    assert free.remark == '"ridge + tip" may be led by any canvas.'
