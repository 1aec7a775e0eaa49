"""The rest of the work on the calendar: plain cases worked by hand, seeds, and what is laid."""

import datetime as dt

import numpy as np
import pytest

from coach.forecast.adherence import DayKept
from coach.forecast.calendar import latest_last_stroke
from coach.forecast.drying_table import DaysRange
from coach.forecast.outlook import Laid, Outlook
from coach.forecast.simulation import NEVER, chance_of, day_quantile, reached, simulate
from coach.plan.commission import After, Canvas, DayRange, Forecast, Passage, Plan
from tests.forecast.made import FRIDAY, HOUR_S, MONDAY, hours_of_work, orchard, orchard_at_40_percent, plan_of

PLAIN = Forecast(is_spread=False)
AFTER = After(drying_days=9, framing_working_days=3, transport_working_days=2)


def plain(**changes: object) -> Plan:
    return plan_of()._replace(forecast=PLAIN, after=AFTER, due=FRIDAY)._replace(**changes)  # type: ignore[arg-type]


def days_of(plan: Plan, outlook: Outlook) -> list[dt.date | None]:
    """Return last stroke, touch-dry, framed and delivered of the median."""
    return [day_quantile(outlook.today, own, 0.5) for own in reached(simulate(plan, outlook))]


def test_sixty_hours_at_six_a_day_from_19_november_are_delivered_on_18_december() -> None:
    """Trade check 104, forwards: last painting day 2 December, framer 11 December, studio left 16 December."""
    found = days_of(plain(), Outlook(dt.date(2026, 11, 19), hours_of_work(60)))
    assert found == [dt.date(2026, 12, 2), dt.date(2026, 12, 11), dt.date(2026, 12, 16), FRIDAY]


def test_the_latest_last_stroke_lies_drying_framing_and_transport_before_the_due_day() -> None:
    """Trade check 104, backwards."""
    assert latest_last_stroke(plain(), 9) == dt.date(2026, 12, 2)
    assert latest_last_stroke(plain(due=None), 9) is None


def test_of_today_only_what_is_left_counts() -> None:
    turns = hours_of_work(6)
    assert days_of(plain(), Outlook(MONDAY, turns))[0] == MONDAY
    later = Outlook(MONDAY, turns, today_painted_s=HOUR_S)
    assert days_of(plain(), later)[0] == MONDAY + dt.timedelta(days=1)
    assert days_of(plain(), later._replace(today_painted_s=9 * HOUR_S))[0] == MONDAY + dt.timedelta(days=1)


def test_days_off_and_days_with_hours_of_their_own_count() -> None:
    off = plain(off=(DayRange(MONDAY, MONDAY + dt.timedelta(days=3)),))
    assert days_of(off, Outlook(MONDAY, hours_of_work(6)))[0] == dt.date(2026, 11, 6)
    also = plain(also=((DayRange(MONDAY, MONDAY), 12 * HOUR_S),))
    assert days_of(also, Outlook(MONDAY, hours_of_work(12)))[0] == MONDAY


def test_what_is_laid_can_be_the_last_to_dry() -> None:
    """Crimson (6 to 12 d) laid yesterday outlasts an hour of umber (1 to 3 d) today; plain takes the slow end."""
    plan = plan_of(("eyes", (Passage("iris", HOUR_S, mixture="umber"), Passage("lid", HOUR_S, mixture="crimson"))))
    plan = plan._replace(forecast=PLAIN)
    laid = (Laid("Hall", "eyes", "lid", MONDAY - dt.timedelta(days=1)),)
    assert days_of(plan, Outlook(MONDAY, hours_of_work(1)))[1] == MONDAY + dt.timedelta(days=3)
    assert days_of(plan, Outlook(MONDAY, hours_of_work(1), laid=laid))[1] == MONDAY + dt.timedelta(days=11)
    known = (laid[0]._replace(dries=DaysRange(5, 5)),)
    assert days_of(plan, Outlook(MONDAY, hours_of_work(1), laid=known))[1] == MONDAY + dt.timedelta(days=4)


def test_with_nothing_left_to_paint_the_last_stroke_is_the_last_one_laid() -> None:
    laid = tuple(Laid("Hall", "eyes", "iris", MONDAY - dt.timedelta(days=days)) for days in (7, 3))
    assert days_of(plain(), Outlook(MONDAY, laid=laid))[:2] == [dt.date(2026, 10, 30), dt.date(2026, 11, 8)]
    assert days_of(plain(), Outlook(MONDAY))[0] == MONDAY


def test_a_passage_waits_on_its_own_canvas_only() -> None:
    face, glaze = Passage("cheek", HOUR_S, mixture="umber"), Passage("blush", HOUR_S, over=("face", "cheek"))
    plan = plan_of(("face", (face,)), ("glaze", (glaze,)))._replace(forecast=PLAIN)
    laid = (Laid("School", "face", "cheek", MONDAY),)
    turn = hours_of_work(1)[0]._replace(pass_name="glaze", passages=("blush",))
    assert days_of(plan, Outlook(MONDAY, (turn,), laid=laid))[0] == MONDAY
    there = turn._replace(canvas="School")
    assert days_of(plan, Outlook(MONDAY, (there,), laid=laid))[0] == MONDAY + dt.timedelta(days=3)


def test_a_canvas_that_is_away_is_painted_last_and_not_before_it_is_back() -> None:
    """Six hours on each canvas; School is back on Thursday, and Hall fills Monday."""
    turns = (*hours_of_work(6, "School"), *hours_of_work(6, "Hall"))
    assert days_of(plain(), Outlook(MONDAY, turns))[0] == MONDAY + dt.timedelta(days=1)
    away = plain(away=(("School", MONDAY + dt.timedelta(days=3)),))
    assert days_of(away, Outlook(MONDAY, turns))[0] == MONDAY + dt.timedelta(days=3)
    long_back = plain(away=(("School", MONDAY),))
    assert days_of(long_back, Outlook(MONDAY, turns))[0] == MONDAY + dt.timedelta(days=1)


def test_a_week_of_no_hours_never_ends() -> None:
    plan = plain(week_s=(0,) * 7)
    simulation = simulate(plan, Outlook(MONDAY, hours_of_work(1)))
    found = reached(simulation)
    assert found.delivered.tolist() == [NEVER]
    assert chance_of(simulation, found) == 0


def test_work_that_takes_years_is_still_found() -> None:
    plan = plain(week_s=(HOUR_S, 0, 0, 0, 0, 0, 0))
    assert days_of(plan, Outlook(MONDAY, hours_of_work(200)))[0] == MONDAY + dt.timedelta(weeks=199)


def test_the_same_seed_gives_the_same_days_and_the_demo_is_stable_to_the_day_between_seeds() -> None:
    outlook = orchard_at_40_percent(dt.date(2027, 4, 6))
    plan = orchard()._replace(after=After(framing_working_days=3, transport_working_days=2))
    answers = []
    for seed in (0, *range(10)):
        found = reached(simulate(plan._replace(forecast=Forecast(seed=seed)), outlook))
        answers.append(found)
    assert all(np.array_equal(first, again) for first, again in zip(answers[0], answers[1], strict=True))
    days = {tuple(day_quantile(outlook.today, own, q) for own in found for q in (0.5, 0.8, 0.95)) for found in answers}
    assert len(days) == 1


def test_promises_that_were_not_kept_put_the_day_off() -> None:
    plan = plan_of()._replace(canvases=(Canvas("Hall"),))
    outlook = Outlook(MONDAY, hours_of_work(60))
    poor = outlook._replace(days=(DayKept(6 * HOUR_S, 1.5 * HOUR_S),) * 20)
    kept, missed = (reached(simulate(plan, own)).last_stroke.mean() for own in (outlook, poor))
    assert missed > 1.7 * kept


@pytest.mark.parametrize("probability_frac", [0.5, 0.8, 0.95])
def test_a_quantile_is_the_first_day_by_which_that_share_is_done(probability_frac: float) -> None:
    days = np.arange(1, 101)
    assert day_quantile(MONDAY, days, probability_frac) == MONDAY + dt.timedelta(days=round(100 * probability_frac))
    assert day_quantile(MONDAY, np.array([NEVER]), probability_frac) is None
