"""Pace through the day against scipy's intervals."""

from math import log

import numpy as np
import pytest
from scipy.stats import t, ttest_ind

from coach.forecast.outlook import TurnTime
from coach.review.hours.pace_by_hour import (
    HourPace,
    day_pace_sentence,
    late_against_early,
    pace_by_hour,
    student_quantile,
)

EARLY = (1.0, 0.9, 1.1, 1.05, 0.95, 1.02)
LATE = (1.3, 1.2, 1.45, 1.25, 1.6)


def turns_at(ratios: tuple[float, ...], hour: float) -> list[TurnTime]:
    return [TurnTime("eyes", True, 600, 600 * ratio, on_duty_s=hour * 3600) for ratio in ratios]


def test_the_interval_of_late_over_early_is_welchs() -> None:
    """Held against scipy's t-test without equal variances."""
    found = late_against_early(turns_at(EARLY, 1) + turns_at(LATE, 4.5))
    other = ttest_ind([log(own) for own in LATE], [log(own) for own in EARLY], equal_var=False)
    low, high = other.confidence_interval(0.95)
    assert found is not None
    assert (found.low_frac, found.high_frac) == pytest.approx((np.exp(low), np.exp(high)), rel=1e-3)


def test_the_interval_of_an_hour_is_students() -> None:
    logs = np.log(EARLY)
    ends = t.interval(0.95, len(logs) - 1, loc=logs.mean(), scale=logs.std(ddof=1) / len(logs) ** 0.5)
    (found,) = pace_by_hour(turns_at(EARLY, 2.5))
    assert (found.hour, found.turns) == (3, 6)
    assert found.pace is not None
    assert (found.pace.low_frac, found.pace.high_frac) == pytest.approx(np.exp(ends), rel=1e-3)


def test_four_turns_in_an_hour_are_too_few_to_tell() -> None:
    assert pace_by_hour(turns_at(LATE[:4], 0.5)) == (HourPace(hour=1, turns=4, pace=None),)


@pytest.mark.parametrize(
    ("late", "start"),
    [
        (LATE, "After 4 h you are slower: a turn takes 135 % of the time"),
        (tuple(0.5 * own for own in EARLY), "After 4 h you are quicker: a turn takes 50 % of the time"),
        (EARLY, "After 4 h your pace shows no clear change"),
        (LATE[:4], "Too few turns to tell"),
    ],
)
def test_what_becomes_of_the_pace_is_said_in_a_sentence(late: tuple[float, ...], start: str) -> None:
    assert day_pace_sentence(turns_at(EARLY, 3.9) + turns_at(late, 4)).startswith(start)


def test_turns_without_a_time_on_duty_do_not_count() -> None:
    unknown = TurnTime("eyes", True, 600, 600)
    assert pace_by_hour([unknown] * 9) == ()
    assert late_against_early([unknown] * 9) is None


def test_turns_that_all_take_the_same_time_have_an_interval_of_no_width() -> None:
    found = late_against_early(turns_at((1.0,) * 5, 1) + turns_at((2.0,) * 5, 5))
    assert found is not None
    assert (found.ratio_frac, found.low_frac, found.high_frac) == pytest.approx((2, 2, 2))


@pytest.mark.parametrize("df", [4, 5.5, 10, 100, float("inf")])
def test_the_quantile_is_that_of_scipys_t(df: float) -> None:
    assert student_quantile(0.975, df) == pytest.approx(t.ppf(0.975, df), rel=1e-3)
