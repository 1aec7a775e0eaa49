"""The rows that a painter changes by hand: each step is a plan that can be, and back again is nothing tried."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.forecast.outlook import Outlook, RemainingTurn
from coach.forecast.what_if import Change, changed_plan, rows_of, stepped
from coach.plan.commission import Plan
from coach.plan.reading import read_plan

TODAY = dt.date(2027, 4, 1)
PLAN = read_plan(
    """
canvases: [Hall, School]
due: 2027-05-01
week: {mon-fri: 5 h, sat: 3 h}
after: {drying: 9 days, framing: 3 working days}
passes: [{name: eyes, passages: [iris]}, {name: hair, passages: [fringe]}, {name: nose, passages: [tip]}]
""",
    "plan.yaml",
)
OUTLOOK = Outlook(
    today=TODAY,
    remaining=tuple(RemainingTurn("Hall", name, ("x",), True, 900) for name in ("hair", "nose")),
)
LABELS = [row.label for row in rows_of(PLAN, Change())]


def after(change: Change, plan: Plan = PLAN) -> dict[str, str]:
    return {row.label: row.after for row in rows_of(plan, change)}


def one_step(label: str, step: int, plan: Plan = PLAN) -> Change:
    return stepped(plan, OUTLOOK, Change(), LABELS.index(label), step)


@pytest.mark.parametrize(
    ("label", "step", "shown"),
    [
        ("hours a painting day", 1, "5.5 h"),
        ("hours a painting day", -1, "4.5 h"),
        ("Saturday", 1, "3.5 h"),
        ("Sunday", 1, "0.5 h"),
        ("Sunday", -1, "none"),
        ("leave out", 1, "hair"),
        ("leave out", -1, "nose"),
        ("medium", 1, "alkyd"),
        ("room", 1, "21 °C"),
        ("due day", 1, "2027-05-02"),
        ("framing", -1, "2 working days"),
    ],
)
def test_a_step_changes_its_row_and_no_other(label: str, step: int, shown: str) -> None:
    told = after(one_step(label, step))

    assert told[label] == shown
    assert {name: text for name, text in told.items() if name != label} == {
        name: text for name, text in after(Change()).items() if name != label
    }


def test_only_passes_with_something_left_can_be_left_out() -> None:
    change, seen = Change(), []
    for _ in range(3):
        change = stepped(PLAN, OUTLOOK, change, LABELS.index("leave out"), 1)
        seen.append(change.without_pass)

    assert seen == ["hair", "nose", None]


def test_a_plan_without_a_week_is_tried_with_hours_from_monday_to_friday() -> None:
    bare = PLAN._replace(week_s=None)
    assert after(Change(), bare)["hours a painting day"] == "none"
    assert one_step("hours a painting day", 1, bare).week_s == (1800,) * 5 + (0, 0)


@given(st.lists(st.tuples(st.integers(0, len(LABELS) - 1), st.sampled_from([1, -1])), max_size=60))
def test_whatever_is_tried_is_a_plan_that_can_be(steps: list[tuple[int, int]]) -> None:
    change = Change()
    for row, step in steps:
        change = stepped(PLAN, OUTLOOK, change, row, step)
    plan = changed_plan(PLAN, change)

    assert 5 <= plan.forecast.room_c <= 40
    assert plan.week_s is not None
    assert all(0 <= day_s <= 16 * 3600 for day_s in plan.week_s)
    assert len(rows_of(PLAN, change)) == len(LABELS)
