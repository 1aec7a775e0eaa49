"""A change tried without touching the plan, and the rows that a painter changes by hand."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.errors import CoachError
from coach.forecast.drying import DryAnswer
from coach.forecast.outlook import Laid, Outlook, RemainingTurn
from coach.forecast.steps import DryingTimes
from coach.forecast.what_if import Change, changed_outlook, changed_plan, rows_of, stepped
from coach.plan.commission import Paint, Passage, Plan
from coach.plan.delivery import After, Forecast
from coach.plan.reading import read_plan
from tests.forecast.made import FRIDAY, HOUR_S, MONDAY, plan_of, turns_of

PLAN = plan_of(
    ("face", (Passage("cheek", HOUR_S, mixture="white"), Passage("chin", HOUR_S, beside="cheek"))),
    ("glaze", (Passage("blush", HOUR_S, over=("face", "cheek")), Passage("lip", HOUR_S, into=("face", "chin")))),
)._replace(due=FRIDAY, after=After(drying_days=9, framing_working_days=3))


TODAY = dt.date(2027, 4, 1)
ROWS_PLAN = read_plan(
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
LABELS = [row.label for row in rows_of(ROWS_PLAN, Change())]


def test_no_change_is_the_same_plan() -> None:
    assert changed_plan(PLAN, Change()) == PLAN
    assert changed_outlook(PLAN, Outlook(MONDAY, turns_of(PLAN)), Change()) == Outlook(MONDAY, turns_of(PLAN))


def test_hours_due_day_and_framing_replace_those_of_the_plan_together() -> None:
    week_s = (HOUR_S,) * 7
    found = changed_plan(PLAN, Change(week_s=week_s, due=MONDAY, framing_working_days=0))
    assert (found.week_s, found.due, found.after) == (week_s, MONDAY, After(drying_days=9, framing_working_days=0))


def test_without_a_pass_its_turns_go_and_what_lay_over_it_lies_on_nothing() -> None:
    change = Change(without_pass="face")
    found = changed_plan(PLAN, change)
    assert [(one.name, one.passages) for one in found.passes] == [
        ("glaze", (Passage("blush", HOUR_S), Passage("lip", HOUR_S)))
    ]
    assert [run.passage_names for run in found.runs] == [("blush",), ("lip",)]
    left = changed_outlook(PLAN, Outlook(MONDAY, turns_of(PLAN)), change).remaining
    assert {turn.pass_name for turn in left} == {"glaze"}


@pytest.mark.parametrize("change", [Change(medium="alkyd"), Change(room_c=25)])
def test_what_is_tried_is_what_would_be_written_and_no_other_figure_changes(change: Change) -> None:
    plan = PLAN._replace(palette=(Paint("titanium white", "PW6", dries_days=5),))
    found = changed_plan(plan, change)

    assert found == plan._replace(forecast=found.forecast)
    assert (found.forecast.medium, found.forecast.room_c) == (change.medium or "oil", change.room_c or 20)


def test_what_was_found_tells_of_another_room_and_not_of_another_medium() -> None:
    """Trade check 44: 43 kJ/mol from 21 to 25 degrees is 0.790."""
    outlook = Outlook(MONDAY, answers=(DryAnswer(mixture="white", wet_days=5, dry_days=None),))
    plan = PLAN._replace(forecast=Forecast(room_c=21))

    (scaled,) = changed_outlook(plan, outlook, Change(room_c=25)).answers
    assert scaled.wet_days == pytest.approx(5 * 0.790, abs=0.003)
    assert scaled.dry_days is None
    white = plan_of(("face", (Passage("cheek", mixture="white"),)))
    days = [
        DryingTimes(changed_plan(white, change), changed_outlook(white, outlook, change).answers).of("face", "cheek")
        for change in (Change(), Change(medium="alkyd"))
    ]
    assert 4 < days[0].low_days < 5
    assert days[1] == (0.75, 1)


def test_what_is_laid_keeps_its_medium_and_a_warmer_room_tells_only_on_the_days_left() -> None:
    """Titanium white, 4 to 8 d, laid six days ago: the fast end is past, two days of the slow end are left."""
    outlook = Outlook(MONDAY, laid=(Laid("Hall", "face", "cheek", MONDAY - dt.timedelta(days=6)),))
    plan = PLAN._replace(forecast=Forecast(room_c=21))
    at_21 = changed_outlook(plan, outlook, Change(medium="alkyd")).laid[0].dries
    assert at_21 is not None
    found = changed_outlook(plan, outlook, Change(room_c=25)).laid[0].dries
    assert found is not None
    assert found.low_days == at_21.low_days
    assert found.high_days == pytest.approx(6 + (at_21.high_days - 6) * 0.790, abs=0.002)
    assert 7 < at_21.high_days < 8


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (Change(without_pass="ears"), "there is no pass ears"),
        (Change(week_s=(HOUR_S,) * 6), "seven days"),
        (Change(week_s=(25 * HOUR_S, *(HOUR_S,) * 6)), "0 to 24 h"),
    ],
)
def test_a_change_that_cannot_be_is_refused_in_a_sentence(change: Change, says: str) -> None:
    with pytest.raises(CoachError, match=says):
        changed_plan(PLAN, change)


def test_the_only_pass_cannot_be_left_out() -> None:
    with pytest.raises(CoachError, match="only pass"):
        changed_plan(plan_of(), Change(without_pass="eyes"))


def after(change: Change, plan: Plan = ROWS_PLAN) -> dict[str, str]:
    return {row.label: row.after for row in rows_of(plan, change)}


def one_step(label: str, step: int, plan: Plan = ROWS_PLAN) -> Change:
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
        change = stepped(ROWS_PLAN, OUTLOOK, change, LABELS.index("leave out"), 1)
        seen.append(change.without_pass)

    assert seen == ["hair", "nose", None]


def test_a_plan_without_a_week_is_tried_with_hours_from_monday_to_friday() -> None:
    bare = ROWS_PLAN._replace(week_s=None)
    assert after(Change(), bare)["hours a painting day"] == "none"
    assert one_step("hours a painting day", 1, bare).week_s == (1800,) * 5 + (0, 0)


@given(st.lists(st.tuples(st.integers(0, len(LABELS) - 1), st.sampled_from([1, -1])), max_size=40))
def test_whatever_is_tried_is_a_plan_that_can_be(steps: list[tuple[int, int]]) -> None:
    change = Change()
    for row, step in steps:
        change = stepped(ROWS_PLAN, OUTLOOK, change, row, step)
    plan = changed_plan(ROWS_PLAN, change)

    assert 5 <= plan.forecast.room_c <= 40
    assert plan.week_s is not None
    assert all(0 <= day_s <= 16 * 3600 for day_s in plan.week_s)
    assert len(rows_of(ROWS_PLAN, change)) == len(LABELS)


@pytest.mark.parametrize("row", range(len(LABELS)))
def test_a_row_taken_there_and_back_is_no_change(row: int) -> None:
    there = stepped(ROWS_PLAN, OUTLOOK, Change(), row, 1)
    assert there != Change()
    assert stepped(ROWS_PLAN, OUTLOOK, there, row, -1) == Change()
