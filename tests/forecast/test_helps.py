"""Which changes are tried: only those the plan allows and the body's hours bear."""

import datetime as dt

import pytest

from coach.forecast.helps import LEAST_GAIN_FRAC, changes_to_try, helps_of
from coach.forecast.outlook import Laid, Outlook
from coach.forecast.what_if import Change
from coach.plan.commission import After, Forecast, Passage, Plan
from tests.forecast.made import FRIDAY, HOUR_S, MONDAY, hours_of_work, plan_of, turns_of


def words_of(plan: Plan, outlook: Outlook | None = None) -> list[str]:
    return [words for words, _ in changes_to_try(plan, outlook or Outlook(MONDAY, hours_of_work(3)))]


def test_an_hour_more_and_saturdays_are_tried_on_a_week_that_bears_them() -> None:
    found = dict(changes_to_try(plan_of(), Outlook(MONDAY, hours_of_work(3))))
    assert found["one hour more on each day you paint"] == Change(week_s=(7 * HOUR_S,) * 5 + (0, 0))
    assert found["Saturdays too, 6 h"] == Change(week_s=(6 * HOUR_S,) * 6 + (0,))


@pytest.mark.parametrize(
    ("week_h", "gone"),
    [
        ((10, 0, 0, 0, 0, 0, 0), "one hour more on each day you paint"),
        ((9, 9, 9, 9, 8, 0, 0), "one hour more on each day you paint"),
        ((9, 9, 9, 9, 9, 0, 0), "Saturdays too, 9 h"),
        ((5, 5, 5, 5, 5, 3, 0), "Saturdays too, 5 h"),
        ((0,) * 7, "one hour more on each day you paint"),
    ],
)
def test_hours_past_the_cautions_of_the_plan_are_not_offered(week_h: tuple[float, ...], gone: str) -> None:
    """Trade facts H: caution at 10 h a day, 48 h a week."""
    assert gone not in words_of(plan_of(week_h=week_h))


def test_a_plan_without_a_week_is_not_given_more_hours() -> None:
    assert not any("hour" in words for words in words_of(plan_of()._replace(week_s=None)))


def test_medium_and_room_are_tried_where_they_can_still_change() -> None:
    assert "an alkyd medium from now on" in words_of(plan_of())
    assert "a room of 23 C" in words_of(plan_of())
    found = words_of(plan_of()._replace(forecast=Forecast(medium="alkyd", room_c=24)))
    assert not any("alkyd" in words or "room" in words for words in found)


def test_the_pass_with_most_time_left_may_be_left_out_unless_it_is_the_only_one() -> None:
    plan = plan_of(("eyes", (Passage("iris", HOUR_S),)), ("coat", (Passage("lapel", 2 * HOUR_S),)))
    assert "leaving out the rest of coat" in words_of(plan, Outlook(MONDAY, turns_of(plan)))
    assert "leaving out the rest of eyes" in words_of(plan, Outlook(MONDAY, turns_of(plan)[:2]))
    assert not any("leaving out" in words for words in words_of(plan_of()))


def test_with_nothing_left_to_paint_only_drying_framing_and_the_due_day_can_help() -> None:
    plan = plan_of()._replace(due=FRIDAY, after=After(framing_working_days=3))
    outlook = Outlook(MONDAY, laid=(Laid("Hall", "eyes", "iris", MONDAY),))
    expected = ["a room of 23 C", "one working day less at the framer", "a week more until the hand-over"]
    assert words_of(plan, outlook) == expected


def test_a_week_more_is_not_offered_past_the_end_of_the_calendar() -> None:
    assert not any("week more" in words for words in words_of(plan_of()._replace(due=dt.date.max)))


def test_nothing_is_offered_that_would_not_show() -> None:
    plan, outlook = plan_of()._replace(due=FRIDAY), Outlook(MONDAY, hours_of_work(3), trials=200)
    assert helps_of(plan, outlook, 1 - LEAST_GAIN_FRAC / 2) == ()
