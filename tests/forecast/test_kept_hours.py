"""How much of a promised day is painted."""

import pytest

from coach.forecast.adherence import Adherence, DayKept, Overhead, adherence_of, overhead_of
from coach.plan.commission import Limits

HOUR_S = 3600
NONE = Overhead()


def test_five_promised_hours_leave_three_and_three_quarters_after_setting_up_and_rests() -> None:
    """50 min of work and 10 min of rest (trade facts H); a quarter of an hour at each end (common practice)."""
    assert overhead_of(Limits()).usable_s(5 * HOUR_S) == pytest.approx(3.75 * HOUR_S)


def test_on_a_short_day_less_is_set_up_and_cleared_up() -> None:
    work_frac = 50 / 60
    assert overhead_of(Limits()).usable_s(5 * HOUR_S) == pytest.approx(4.5 * HOUR_S * work_frac)
    assert overhead_of(Limits()).usable_s(2 * HOUR_S) == pytest.approx(1.5 * HOUR_S * work_frac)
    assert overhead_of(Limits()).usable_s(20 * 60) == pytest.approx(15 * 60 * work_frac)
    assert overhead_of(Limits()).usable_s(0) == 0


def test_promises_are_taken_as_kept_before_there_is_a_log() -> None:
    assert adherence_of([], NONE) == Adherence()


def test_few_days_leave_the_promise_and_many_leave_the_log() -> None:
    half = DayKept(4 * HOUR_S, 2 * HOUR_S)
    assert adherence_of([half], NONE).mean_frac == pytest.approx(5.5 / 6)
    assert adherence_of([half] * 95, NONE).mean_frac == pytest.approx(0.525)


def test_days_without_promise_do_not_count_and_a_day_off_counts_as_nothing_kept() -> None:
    found = adherence_of([DayKept(0, HOUR_S), DayKept(HOUR_S, 0)], NONE)
    assert found.days == 1
    assert found.mean_frac == pytest.approx(5 / 6)


def test_more_days_to_come_and_more_days_logged_narrow_the_spread() -> None:
    kept = Adherence(days=20)
    assert Adherence().mean_sd(10) > kept.mean_sd(10) > kept.mean_sd(100) > 0


def test_a_painter_who_never_painted_keeps_a_little() -> None:
    assert adherence_of([DayKept(HOUR_S, 0)] * 1000, NONE).mean_frac == 0.05
