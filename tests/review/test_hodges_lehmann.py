"""The Hodges-Lehmann estimate against published values and the list of Walsh averages."""

from math import inf, nan
from random import Random
from statistics import median

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.errors import CoachError
from coach.review.statistics.hodges_lehmann import hodges_lehmann
from coach.review.statistics.pair_sums import PairSums

DARWIN = [49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48]
SLEEP = [1.2, 2.4, 1.3, 1.3, 0, 1.0, 1.8, 0.8, 4.6, 1.4]
measured = st.floats(-1e6, 1e6, allow_nan=False)


@pytest.mark.parametrize(
    ("differences", "expected", "k", "confidence_frac"),
    [
        (DARWIN, [25, 4, 41.5], 26, 0.952087),
        (SLEEP, [1.3, 0.9, 2.7], 9, 0.951172),
    ],
)
def test_published_values(differences: list[float], expected: list[float], k: int, confidence_frac: float) -> None:
    """facts/order.md part 2 section J; data: section I."""
    found = hodges_lehmann(differences)

    assert [found.estimate, found.low, found.high] == pytest.approx(expected, abs=1e-12)
    assert found.depth.k == k
    assert found.depth.confidence_frac == pytest.approx(confidence_frac, abs=5e-7)
    assert found.depth.is_exact


def test_five_runs_have_no_interval_and_six_span_them_all() -> None:
    """facts/order.md part 2 section J: n = 5 reaches 0.9375 at most, n = 6 reaches 0.96875."""
    five = hodges_lehmann([3, 1, 4, 2, 5])
    six = hodges_lehmann([3, 1, 4, 2, 5, 9])

    assert (five.estimate, five.low, five.high, five.depth.k) == (3, None, None, 0)
    assert (six.low, six.high, six.depth.confidence_frac) == (1, 9, 0.96875)


@settings(max_examples=80, deadline=None)
@given(st.lists(measured, min_size=1, max_size=25))
def test_agrees_with_the_list_of_walsh_averages(differences: list[float]) -> None:
    ordered = sorted(differences)
    walsh = sorted((a + b) / 2 for i, a in enumerate(ordered) for b in ordered[i:])
    close = 1e-12 * max(map(abs, ordered))

    found = hodges_lehmann(differences)

    assert found.estimate == pytest.approx(median(walsh), abs=close)
    if found.depth.k:
        assert found.low == pytest.approx(walsh[found.depth.k - 1], abs=close)
        assert found.high == pytest.approx(walsh[-found.depth.k], abs=close)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(-1000, 1000), min_size=6, max_size=30), st.integers(-50, 50))
def test_moves_with_the_data_and_lies_inside_its_interval(differences: list[int], shift: int) -> None:
    found = hodges_lehmann(differences)
    moved = hodges_lehmann([d + shift for d in differences])

    assert found.low is not None
    assert found.high is not None
    assert found.low <= found.estimate <= found.high
    assert moved.estimate == pytest.approx(found.estimate + shift, abs=1e-9)
    assert moved.low == pytest.approx(found.low + shift, abs=1e-9)
    assert hodges_lehmann([-d for d in differences]).high == pytest.approx(-found.low, abs=1e-9)


@settings(max_examples=60, deadline=None)
@given(st.lists(measured, min_size=1, max_size=12), st.lists(measured, min_size=1, max_size=12), st.data())
def test_kth_pair_sum(first: list[float], second: list[float], data: st.DataObject) -> None:
    steps = sorted(second)
    sums = PairSums(rows=[(x, 0) for x in first], steps=steps)
    listed = sorted(x + y for x in first for y in steps)
    k = data.draw(st.integers(1, len(listed)))

    assert sums.size() == len(listed)
    assert sums.kth(k) == pytest.approx(listed[k - 1], abs=1e-12 * max(map(abs, listed)))


def test_sums_too_small_to_halve_still_end() -> None:
    smallest = 5e-324
    sums = PairSums(rows=[(0.0, 0)], steps=[0.0, smallest])

    assert [sums.kth(1), sums.kth(2)] == [0.0, smallest]


def test_thousands_of_runs() -> None:
    chance = Random(3)  # noqa: S311 - repeatable data
    differences = [chance.gauss(-0.12, 0.3) for _ in range(3000)]

    found = hodges_lehmann(differences)

    assert not found.depth.is_exact
    assert found.depth.confidence_frac == pytest.approx(0.95, abs=1e-3)
    assert found.low is not None
    assert found.high is not None
    # Half a 95 % interval: 1.96 * 0.3 / sqrt(3000) * sqrt(pi / 3) = 0.0110.
    assert (found.high - found.low) / 2 == pytest.approx(0.0110, abs=0.001)


def test_one_slip_of_the_clock_hardly_moves_it() -> None:
    steady = [-0.12, -0.1, -0.14, -0.11, -0.13, -0.12, -0.09, -0.15, -0.12]

    assert hodges_lehmann([*steady, 5.0]).estimate == pytest.approx(-0.12, abs=0.01)


@pytest.mark.parametrize("bad", [[], [1.0, nan], [inf], [1e200], [True]])
def test_bad_differences_are_refused(bad: list[float]) -> None:
    with pytest.raises(CoachError):
        hodges_lehmann(bad)


@pytest.mark.parametrize("confidence_frac", [0.0, 1.0, -1.0, nan])
def test_bad_confidence_is_refused(confidence_frac: float) -> None:
    with pytest.raises(CoachError):
        hodges_lehmann([1.0, 2.0], confidence_frac=confidence_frac)


def test_the_smallest_sum_is_found_where_rounding_of_what_is_added_is_coarser_than_that_of_the_sums() -> None:
    sums = PairSums(rows=[(469719.0, 0)], steps=[-524288.0, -415150.0])

    assert [sums.kth(1), sums.kth(2)] == [-54569.0, 54569.0]
