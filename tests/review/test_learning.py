"""Learning curves against handbook factors and a worked fit."""

from itertools import accumulate
from math import inf, log, log2, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from coach.errors import CoachError
from coach.review.statistics.learning_curve import LearningCurve, fit_unit

FACTORS = {
    0.80: {
        2: (0.8000, 1.8000),
        3: (0.7021, 2.5021),
        4: (0.6400, 3.1421),
        5: (0.5956, 3.7377),
        6: (0.5617, 4.2994),
        7: (0.5345, 4.8339),
        8: (0.5120, 5.3459),
        9: (0.4929, 5.8389),
        10: (0.4765, 6.3154),
        16: (0.4096, 8.9201),
        20: (0.3812, 10.4849),
        32: (0.3277, 14.6786),
        100: (0.2271, 32.6508),
    },
    0.90: {
        2: (0.9000, 1.9000),
        3: (0.8462, 2.7462),
        4: (0.8100, 3.5562),
        5: (0.7830, 4.3392),
        6: (0.7616, 5.1008),
        7: (0.7439, 5.8447),
        8: (0.7290, 6.5737),
        9: (0.7161, 7.2898),
        10: (0.7047, 7.9945),
        16: (0.6561, 12.0398),
        20: (0.6342, 14.6078),
        32: (0.5905, 21.9107),
        100: (0.4966, 58.1410),
    },
}
"""Unit and cumulative factors: facts/order.md part 2 section K; textbook tables print .477/6.315 and
.705/7.994 for n = 10 (from memory)."""

MADE_UP = [100, 88, 78, 73, 74, 66, 65, 64, 60, 61]
"""Invented times of ten units: facts/order.md part 2 section K."""


def curve_of(rate_frac: float) -> LearningCurve:
    """Return the curve through two units, of which the second takes so much of the first."""
    return fit_unit([1, rate_frac], [1, 2])


@pytest.mark.parametrize(
    ("rate_frac", "slope"),
    [
        (0.70, -0.5145731728),
        (0.80, -0.3219280949),
        (0.85, -0.2344652536),
        (0.90, -0.1520030934),
        (0.95, -0.0740005814),
    ],
)
def test_slopes(rate_frac: float, slope: float) -> None:
    """facts/order.md part 2 section K."""
    assert curve_of(rate_frac).slope == pytest.approx(slope, abs=5e-11)


@pytest.mark.parametrize("rate_frac", FACTORS)
def test_a_curve_through_two_units_runs_through_the_printed_table(rate_frac: float) -> None:
    curve = curve_of(rate_frac)
    units = [curve.first * n**curve.slope for n in range(1, 101)]
    sums = list(accumulate(units))

    for n, (unit, cumulative) in FACTORS[rate_frac].items():
        assert units[n - 1] == pytest.approx(unit, abs=5.1e-5)
        assert sums[n - 1] == pytest.approx(cumulative, abs=5.1e-5)


@pytest.mark.parametrize("rate_frac", FACTORS)
def test_the_printed_unit_factors_give_back_their_rate(rate_frac: float) -> None:
    """The factors are printed to four places, and no more is asked of the rate."""
    found = fit_unit([unit for unit, _ in FACTORS[rate_frac].values()], list(FACTORS[rate_frac]))

    assert found.rate_frac == pytest.approx(rate_frac, abs=5e-5)
    assert found.first == pytest.approx(1, abs=1e-4)


@pytest.mark.parametrize(("rate_frac", "factors"), [(0.80, (0.6000, 0.5063, 0.4537)), (0.90, (0.8000, 0.7386, 0.7014))])
def test_averages_of_the_printed_increments_give_back_their_rate(rate_frac: float, factors: tuple[float, ...]) -> None:
    """facts/order.md part 2 section K, n = 2, 3, 4: in the cumulative-average model the averages lie on the curve."""
    averages = [total / n for n, total in enumerate(accumulate((1, *factors)), start=1)]

    assert fit_unit(averages, range(1, 5)).rate_frac == pytest.approx(rate_frac, abs=5e-5)


def test_exact_data_are_recovered() -> None:
    """facts/order.md part 2 section K: exact 80 % data, n = 1..20, T1 = 100."""
    times = [100 * n ** log2(0.80) for n in range(1, 21)]

    found = fit_unit(times, range(1, 21))

    assert found.slope == pytest.approx(-0.3219280949, abs=5e-11)
    assert found.first == pytest.approx(100, abs=1e-9)
    assert found.rate_frac == pytest.approx(0.80, abs=1e-12)
    assert found.r2_frac == pytest.approx(1, abs=1e-12)


def test_worked_fit() -> None:
    """facts/order.md part 2 section K."""
    found = fit_unit(MADE_UP, range(1, 11))

    assert found.slope == pytest.approx(-0.224309, abs=5e-7)
    assert found.slope_se == pytest.approx(0.011191, abs=5e-7)
    assert found.rate_frac == pytest.approx(0.856005, abs=5e-7)
    assert found.rate_ends is not None
    assert found.rate_ends.low_frac == pytest.approx(0.840829, abs=5e-7)
    assert found.rate_ends.high_frac == pytest.approx(0.871455, abs=5e-7)
    assert found.first == pytest.approx(100.9872, abs=5e-5)
    assert found.r2_frac == pytest.approx(0.980475, abs=5e-7)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(1, 1000), min_size=3, max_size=20).filter(lambda times: len(set(times)) > 1))
def test_agrees_with_scipy(times: list[int]) -> None:
    line = stats.linregress([log(n) for n in range(1, len(times) + 1)], [log(t) for t in times])

    found = fit_unit(times, range(1, len(times) + 1))

    assert found.slope == pytest.approx(line.slope, abs=1e-9)
    assert found.slope_se == pytest.approx(line.stderr, rel=1e-6, abs=1e-7)


def test_two_units_have_no_error_and_even_times_no_r2() -> None:
    assert fit_unit([10, 8], [1, 2]).slope_se is None
    assert fit_unit([10, 8], [1, 2]).rate_frac == pytest.approx(0.8)
    assert fit_unit([10, 10, 10], [1, 2, 3]).r2_frac is None


def test_hopeless_scatter_keeps_to_numbers() -> None:
    found = fit_unit([1e-90, 1e90, 1e-90], [100, 101, 102])

    assert found.rate_ends is not None
    assert 0 < found.rate_ends.low_frac < found.rate_ends.high_frac < inf


@pytest.mark.parametrize("times", [[], [1.0], [1.0, 0.0], [1.0, -2.0], [1.0, nan], [inf, 1.0]])
def test_bad_times_are_refused(times: list[float]) -> None:
    with pytest.raises(CoachError):
        fit_unit(times, range(1, len(times) + 1))


@pytest.mark.parametrize("unit_nos", [[1], [1, 1], [0, 1], [1, 2, 3]])
def test_bad_unit_numbers_are_refused(unit_nos: list[int]) -> None:
    with pytest.raises(CoachError):
        fit_unit([3.0, 2.0], unit_nos)
