"""The whole answer, and the sentences for a plan that cannot hold."""

import datetime as dt
import json

import pytest

from coach.forecast.answer import ForecastAnswer, forecast_of
from coach.forecast.forecast_plain import forecast_plain
from coach.forecast.helps import changes_to_try
from coach.forecast.outlook import Laid, Outlook, RemainingTurn, TurnTime
from coach.forecast.simulation import chance_of, reached, simulate
from coach.forecast.what_if import changed_outlook, changed_plan
from coach.plan.commission import After, Forecast, Passage, Plan
from tests.forecast.made import FRIDAY, HOUR_S, MONDAY, hours_of_work, orchard, orchard_at_40_percent, plan_of, turns_of

TIGHT = dt.date(2027, 4, 13)
PLAIN = Forecast(is_spread=False)
AFTER = After(drying_days=9, framing_working_days=3, transport_working_days=2)


def tight() -> tuple[Plan, Outlook, ForecastAnswer]:
    """Return the orchard keeper so late that 1 May may or may not hold."""
    plan, outlook = orchard(), orchard_at_40_percent(TIGHT)
    return plan, outlook, forecast_of(plan, outlook)


def test_the_answer_of_the_demo_has_every_key_of_the_command_and_is_the_same_again() -> None:
    plan, outlook, answer = tight()
    found = json.loads(json.dumps(forecast_plain(answer)))
    assert set(found) >= {
        *("due", "chance", "last_stroke", "touch_dry", "framed", "delivered"),
        *("latest_last_stroke", "slack_hours", "hours_a_day_for", "helps"),
    }
    assert set(found["last_stroke"]) == {"p50", "p80", "p95"}
    assert 0.1 < found["chance"] < 0.9
    assert found["due"] == "2027-05-01"
    assert forecast_plain(forecast_of(plan, outlook)) == forecast_plain(answer)


def test_days_follow_each_other_by_stage_and_by_chance() -> None:
    answer = tight()[2]
    stages = [answer.last_stroke, answer.touch_dry, answer.framed, answer.delivered]
    for days in (*stages, *zip(*stages, strict=True)):
        known = [day for day in days if day is not None]
        assert len(known) == len(days)
        assert known == sorted(known)


def test_the_hours_that_are_named_restore_the_chance_and_a_tenth_less_does_not() -> None:
    """Every day of the rest of the plan gets the hours; today keeps its own."""
    plan, outlook, answer = tight()
    outlook = outlook._replace(today=TIGHT - dt.timedelta(days=2))  # a Sunday: no hours of its own
    answer = forecast_of(plan, outlook)
    for hours, wanted in ((answer.hours_for_80, 0.80), (answer.hours_for_95, 0.95)):
        assert hours is not None
        for tenths, is_enough in ((hours, True), (hours - 0.1, False)):
            simulation = simulate(plan._replace(week_s=(round(tenths * HOUR_S),) * 6 + (0,)), outlook)
            chance = chance_of(simulation, reached(simulation))
            assert chance is not None
            assert (chance >= wanted) is is_enough


def test_the_helps_are_the_three_best_of_those_tried_each_with_its_own_chance() -> None:
    plan, outlook, answer = tight()
    chances = {}
    for words, change in changes_to_try(plan, outlook):
        simulation = simulate(changed_plan(plan, change), changed_outlook(plan, outlook, change))
        chances[words] = chance_of(simulation, reached(simulation)) or 0.0
    best = sorted(chances.values(), reverse=True)[:3]
    assert [found.chance for found in answer.helps] == best
    assert [chances[found.words] for found in answer.helps] == best
    assert answer.chance is not None
    assert all(found.chance > answer.chance for found in answer.helps)


def test_a_plain_plan_answers_by_the_calendar_alone() -> None:
    """Trade check 104: sixty hours at six a day."""
    plan = plan_of()._replace(due=FRIDAY, after=AFTER, forecast=PLAIN)
    answer = forecast_of(plan, Outlook(dt.date(2026, 11, 19), hours_of_work(60)))
    assert answer.chance is None
    assert set(answer.delivered) == {FRIDAY}
    assert answer.latest_last_stroke == dt.date(2026, 12, 2)
    assert answer.slack_h == pytest.approx(0)
    assert (answer.hours_for_80, answer.hours_for_95) == (6.0, 6.0)
    assert answer.headline == "2026-12-18 holds: delivered on 2026-12-18 if all goes by the plan."
    late = forecast_of(plan, Outlook(dt.date(2026, 11, 20), hours_of_work(60)))
    assert late.headline.startswith("2026-12-18 does not hold: delivered on 2026-12-21")
    assert late.slack_h == pytest.approx(-6)


def test_a_due_day_that_is_past_is_said_with_the_days() -> None:
    plan = plan_of()._replace(due=MONDAY - dt.timedelta(days=3))
    answer = forecast_of(plan, Outlook(MONDAY, hours_of_work(1)))
    assert answer.remarks[0] == "The due day 2026-10-30 is past by 3 days."
    assert answer.chance == 0
    assert answer.hours_for_80 is None


def test_a_due_day_before_drying_can_end_is_said_with_the_days() -> None:
    """Monday + 9 d of drying is Wednesday 11; framing ends on Monday 16, transport on Wednesday 18 November."""
    plan = plan_of()._replace(due=dt.date(2026, 11, 12), after=AFTER)
    answer = forecast_of(plan, Outlook(MONDAY, hours_of_work(1)))
    assert answer.remarks[0] == (
        "Even with the last stroke today it is dry, framed and delivered on 2026-11-18 at the earliest: "
        "6 days after the due day."
    )


def test_drying_that_is_computed_counts_at_its_fast_end_for_the_earliest_day() -> None:
    """Titanium white: 4 d at best; laid crimson: 6 d from yesterday."""
    plan = plan_of(("eyes", (Passage("iris", HOUR_S, mixture="white"), Passage("lid", mixture="crimson"))))
    plan = plan._replace(due=MONDAY + dt.timedelta(days=2))
    alone = forecast_of(plan, Outlook(MONDAY, hours_of_work(1)))
    assert "on 2026-11-06 at the earliest: 2 days" in alone.remarks[0]
    laid = (Laid("Hall", "eyes", "lid", MONDAY - dt.timedelta(days=1)),)
    both = forecast_of(plan, Outlook(MONDAY, hours_of_work(1), laid=laid))
    assert "on 2026-11-07 at the earliest: 3 days" in both.remarks[0]


@pytest.mark.parametrize(
    ("week_s", "says"),
    [
        (None, "The plan states no hours"),
        ((0,) * 7, "leave no time to paint in the next 128 days"),
        ((2 * 60, 0, 0, 0, 0, 0, 0), "does not end within ten years"),
    ],
)
def test_hours_that_never_suffice_are_said(week_s: tuple[int, ...] | None, says: str) -> None:
    plan = plan_of()._replace(week_s=week_s)
    answer = forecast_of(plan, Outlook(MONDAY, hours_of_work(60), trials=100))
    assert answer.delivered == (None, None, None)
    assert says in " ".join(answer.remarks)


def test_a_log_with_one_turn_and_a_log_with_a_forgotten_key_are_said() -> None:
    good = TurnTime("eyes", True, 900, 1000)
    forgotten = TurnTime("eyes", False, 840, 14 * HOUR_S, words="iris, School")
    answer = forecast_of(plan_of(), Outlook(MONDAY, hours_of_work(3), turns=(good, forgotten)))
    assert answer.outliers == (forgotten,)
    assert "Only 1 turn is timed: the times of the plan count for most." in answer.remarks
    assert "iris, School: 14 h worked, 14 min planned. Left out until it is corrected." in answer.remarks


def test_from_four_turns_on_nothing_is_said_of_a_short_log() -> None:
    good = TurnTime("eyes", True, 900, 1000)
    asked = {
        count: forecast_of(plan_of(), Outlook(MONDAY, hours_of_work(1), turns=(good,) * count)) for count in (3, 4)
    }
    assert asked[3].remarks == ("Only 3 turns are timed: the times of the plan count for most.",)
    assert asked[4].remarks == ()


def test_paints_the_table_does_not_know_and_an_icy_room_are_said() -> None:
    plan = plan_of(("eyes", (Passage("iris", HOUR_S, mixture="odd"),)))._replace(forecast=Forecast(room_c=0))
    remarks = " ".join(forecast_of(plan, Outlook(MONDAY, turns_of(plan))).remarks)
    assert "house paint is not in the table of drying: counted as slow, 6 to 12 d to touch-dry." in remarks
    assert "At 0 C the drying times are a guess" in remarks


def test_layers_that_may_crack_are_among_the_remarks() -> None:
    plan = plan_of(
        ("face", (Passage("cheek", HOUR_S, mixture="crimson"),)),
        ("glaze", (Passage("blush", HOUR_S, mixture="umber", over=("face", "cheek")),)),
    )
    assert "Fast over slow" in " ".join(forecast_of(plan, Outlook(MONDAY, turns_of(plan))).remarks)


def test_a_plan_without_a_due_day_has_days_but_no_chance() -> None:
    answer = forecast_of(plan_of(), Outlook(MONDAY, hours_of_work(6)))
    assert (answer.chance, answer.latest_last_stroke, answer.slack_h, answer.helps) == (None, None, None, ())
    assert answer.delivered.p80 is not None
    assert answer.headline.startswith("The plan states no due day; delivered on ")


@pytest.mark.parametrize("due", [dt.date(1970, 1, 1), dt.date.max])
def test_due_days_at_the_ends_of_the_calendar_are_answered(due: dt.date) -> None:
    plan = plan_of()._replace(due=due, after=AFTER)
    answer = forecast_of(plan, Outlook(MONDAY, hours_of_work(3), trials=50))
    assert answer.chance == (due > MONDAY)


def test_a_turn_of_no_time_and_of_a_pass_that_the_plan_lacks_are_no_trouble() -> None:
    turns = (RemainingTurn("Hall", "returns", ("iris",), True, 0), *hours_of_work(1))
    named = turns[1]._replace(pass_name="returns")
    answer = forecast_of(plan_of()._replace(forecast=PLAIN), Outlook(MONDAY, (turns[0], named)))
    assert answer.needed_h == pytest.approx(1)
