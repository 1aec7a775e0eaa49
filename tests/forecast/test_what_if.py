"""A change tried without touching the plan."""

import datetime as dt

import pytest

from coach.errors import CoachError
from coach.forecast.outlook import Laid, Outlook
from coach.forecast.what_if import Change, changed_outlook, changed_plan
from coach.plan.commission import After, Forecast, Paint, Passage
from tests.forecast.made import FRIDAY, HOUR_S, MONDAY, plan_of, turns_of

PLAN = plan_of(
    ("face", (Passage("cheek", HOUR_S, mixture="white"), Passage("chin", HOUR_S, beside="cheek"))),
    ("glaze", (Passage("blush", HOUR_S, over=("face", "cheek")), Passage("lip", HOUR_S, into=("face", "chin")))),
)._replace(due=FRIDAY, after=After(drying_days=9, framing_working_days=3))


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


def test_another_medium_puts_the_table_in_the_place_of_measured_and_stated_days() -> None:
    plan = PLAN._replace(palette=(Paint("titanium white", "PW6", dries_days=5),))
    found = changed_plan(plan, Change(medium="alkyd"))
    assert found.after.drying_days is None
    assert found.palette == (Paint("titanium white", "PW6"),)
    assert found.forecast.medium == "alkyd"
    assert changed_plan(plan, Change(medium="oil")) == plan


def test_a_warmer_room_shortens_measured_and_stated_days_by_the_cautious_end_of_the_band() -> None:
    """Trade check 44: 43 kJ/mol from 21 to 25 degrees is 0.790."""
    plan = PLAN._replace(palette=(Paint("titanium white", "PW6", dries_days=5),), forecast=Forecast(room_c=21))
    found = changed_plan(plan, Change(room_c=25))
    assert found.palette[0].dries_days == pytest.approx(5 * 0.790, abs=0.003)
    assert found.after.drying_days == 8


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
