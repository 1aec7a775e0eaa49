"""What a plan says of a passage is changed, taken away, or refused in one sentence."""

import pytest

from coach.plan.editing.edited import EditError
from coach.plan.editing.figures import (
    change_area,
    change_difficulty,
    change_lead,
    change_minutes,
    change_mixture,
    change_value,
)
from tests.plan.editing.made import layered, passage


def test_each_figure_is_changed_alone_and_said() -> None:
    plan = layered()
    old = passage(plan, "eyes", "socket")
    for edited, new, said in (
        (change_minutes(plan, "eyes", "socket", 5400), old._replace(planned_s=5400), "1 h 30 min"),
        (change_minutes(plan, "eyes", "socket", None), old._replace(planned_s=None), "no time of its own"),
        (change_value(plan, "eyes", "socket", 2.5), old._replace(value=2.5), "value 2.5"),
        (change_value(plan, "eyes", "socket", None), old._replace(value=None), "no value"),
        (change_area(plan, "eyes", "socket", 12), old._replace(area_cm2=12), "12 cm2"),
        (change_difficulty(plan, "eyes", "socket", 1.5), old._replace(difficulty=1.5), "difficulty 1.5"),
        (change_mixture(plan, "eyes", "socket", " light "), old._replace(mixture="light"), 'the mixture "light"'),
        (change_mixture(plan, "eyes", "socket", None), old._replace(mixture=None), "no mixture"),
    ):
        assert passage(edited.plan, "eyes", "socket") == new
        assert edited.remark == f'"socket" has {said} now.'
        assert all(new is old for new, old in zip(edited.plan.passes[1:], plan.passes[1:], strict=True))


def test_the_same_figure_again_is_the_same_plan() -> None:
    edited = change_minutes(layered(), "eyes", "socket", 14 * 60)
    assert edited.plan is layered()
    assert edited.remark == '"socket" has 14 min already.'


def test_a_figure_is_cut_to_what_a_plan_can_hold() -> None:
    assert passage(change_value(layered(), "eyes", "iris", 10 / 3).plan, "eyes", "iris").value == 3.333333


@pytest.mark.parametrize("planned_s", [0, -60, 86401])
def test_a_time_of_nothing_or_of_more_than_a_day_is_refused(planned_s: int) -> None:
    with pytest.raises(EditError, match="the time of a passage is from 1 s to 24 h"):
        change_minutes(layered(), "eyes", "iris", planned_s)


@pytest.mark.parametrize("figure", [-1, 10.1, float("nan"), float("inf")])
def test_figures_off_their_scale_are_refused(figure: float) -> None:
    with pytest.raises(EditError, match="a value is from 0, black, to 10, white"):
        change_value(layered(), "eyes", "iris", figure)
    with pytest.raises(EditError, match="a difficulty is above 0 and at most 10"):
        change_difficulty(layered(), "eyes", "iris", figure)
    if figure != 10.1:
        with pytest.raises(EditError, match="an area is greater than 0"):
            change_area(layered(), "eyes", "iris", figure)


def test_a_lead_is_the_lead_of_the_whole_run() -> None:
    edited = change_lead(layered(), "nose", "ridge", "School")
    assert [p.lead for p in edited.plan.passes[1].passages] == ["School", None, None]
    assert edited.remark == '"ridge + tip" is led by "School".'
    assert edited.plan.passes[1].runs[0].lead == "School"
    free = change_lead(edited.plan, "nose", "tip", None)
    assert free.plan.passes[1].runs[0].lead is None
    assert free.remark == '"ridge + tip" may be led by any canvas.'
    with pytest.raises(EditError, match='there is no canvas "Hal"; did you mean "Hall"'):
        change_lead(layered(), "nose", "ridge", "Hal")
