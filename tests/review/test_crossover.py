"""The AB/BA cross-over analysis against published data sets, scipy and least squares."""

import csv
from collections.abc import Sequence
from math import exp, inf, log, nan
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from coach.errors import CoachError
from coach.review.statistics.crossover import Effect, crossover, half_difference
from coach.review.statistics.rank_sum import rank_sum
from coach.review.statistics.relabelling import relabelling_p

SENN_A_FIRST = [(310, 270), (310, 260), (370, 300), (410, 390), (250, 210), (380, 350), (330, 365)]
SENN_B_FIRST = [(370, 385), (310, 400), (380, 410), (290, 320), (260, 340), (90, 220)]
"""Peak flow, first and second period: Senn, Cross-over Trials in Clinical Research, ch. 3, as printed by a
statistics package's manual and a university course (facts/order.md part 2 section H, case 1)."""

PEAK_FLOW = Path(__file__).parent.parent / "cases" / "crossover_peak_flow.csv"
"""Jones & Kenward, Design and Analysis of Cross-Over Trials, example 2.1 (case 2)."""

HILLS_A_FIRST = [
    (8, 5), (14, 10), (8, 0), (9, 7), (11, 6), (3, 5), (6, 0), (0, 0), (13, 12),
    (10, 2), (7, 5), (13, 13), (8, 10), (7, 7), (9, 0), (10, 6), (2, 2),
]  # fmt: skip
HILLS_B_FIRST = [
    (12, 11), (6, 8), (13, 9), (8, 8), (8, 9), (4, 8), (8, 14), (2, 4), (8, 13), (9, 7), (7, 10), (7, 6),
]  # fmt: skip
"""Dry nights, Hills & Armitage (1979): from memory, used as arithmetic only (case 4)."""


def differences(pairs: Sequence[tuple[float, float]]) -> list[float]:
    return [first - second for first, second in pairs]


def sums(pairs: Sequence[tuple[float, float]]) -> list[float]:
    return [first + second for first, second in pairs]


def peak_flow(sequence: str) -> list[tuple[float, float]]:
    with PEAK_FLOW.open(encoding="utf-8") as lines:
        rows = csv.DictReader(line for line in lines if not line.startswith("#"))
        return [
            (float(row["first_period"]), float(row["second_period"])) for row in rows if row["sequence"] == sequence
        ]


def assert_effect(effect: Effect, estimate: float, t: float, df: int, p: float) -> None:
    assert effect.estimate == pytest.approx(estimate, abs=5e-7)
    assert effect.t == pytest.approx(t, abs=5e-7)
    assert effect.df == df
    assert effect.p == pytest.approx(p, abs=5e-7)


def test_senn_by_t() -> None:
    """facts/order.md part 2 section H, case 1."""
    found = crossover(differences(SENN_A_FIRST), differences(SENN_B_FIRST))

    assert_effect(found.canvas, 46.607143, 4.324863, 11, 0.00120485)
    assert_effect(found.place, -15.892857, -1.474762, 11, 0.168314)
    assert found.canvas.se == found.place.se == pytest.approx(10.776560, abs=5e-7)
    assert found.canvas.low == pytest.approx(22.8881, abs=5e-5)
    assert found.canvas.high == pytest.approx(70.3262, abs=5e-5)


def test_senn_by_ranks() -> None:
    """facts/order.md part 2 section H, case 1."""
    robust = crossover(differences(SENN_A_FIRST), differences(SENN_B_FIRST)).robust_canvas

    assert robust.ranks.u == 39
    assert robust.ranks.p == pytest.approx(0.012180, abs=5e-7)
    assert robust.estimate == pytest.approx(45, abs=1e-12)
    assert relabelling_p(differences(SENN_A_FIRST), differences(SENN_B_FIRST)) == 5 / 1716


def test_senn_carry_over_and_naive_figures() -> None:
    """The same two-sample t on the sums, and scipy's paired t: they hold the data to the printed figures."""
    carried = half_difference(sums(SENN_A_FIRST), sums(SENN_B_FIRST))
    naive = stats.ttest_1samp(differences(SENN_A_FIRST) + [-d for d in differences(SENN_B_FIRST)], popmean=0.0)

    assert carried.t == pytest.approx(0.179152, abs=5e-7)
    assert carried.p == pytest.approx(0.861076, abs=5e-7)
    assert naive.statistic == pytest.approx(4.031195, abs=5e-7)
    assert naive.pvalue == pytest.approx(0.001666, abs=5e-7)


def test_peak_flow_of_56_people() -> None:
    """facts/order.md part 2 section H, case 2; the book prints 10.40 and t 3.046 (from memory)."""
    a_first, b_first = peak_flow("AB"), peak_flow("BA")

    found = crossover(differences(a_first), differences(b_first))

    assert (len(a_first), len(b_first)) == (27, 29)
    assert_effect(found.canvas, 10.402583, 3.045596, 54, 0.00358667)
    assert found.canvas.se == pytest.approx(3.415615, abs=5e-7)
    assert found.place.estimate == pytest.approx(-3.767176, abs=5e-7)
    assert found.place.t == pytest.approx(-1.102928, abs=5e-7)
    assert found.place.p == pytest.approx(0.27495, abs=5e-6)
    assert relabelling_p(differences(a_first), differences(b_first)) is None
    carried = half_difference(sums(a_first), sums(b_first))
    assert carried.t == pytest.approx(0.948306, abs=5e-7)
    assert carried.p == pytest.approx(0.347198, abs=5e-7)


def test_dry_nights_as_arithmetic() -> None:
    """facts/order.md part 2 section H, case 4; the data are from memory."""
    found = crossover(differences(HILLS_A_FIRST), differences(HILLS_B_FIRST))

    assert_effect(found.canvas, 2.036765, 3.292539, 27, 0.00277251)
    assert found.canvas.se == pytest.approx(0.618600, abs=5e-7)
    assert_effect(found.place, 0.786765, 1.271847, 27, 0.214274)


def test_hand_case() -> None:
    """facts/order.md part 2 section H: canvas 4, place 1."""
    found = crossover([30 - 26, 40 - 34], [24 - 28, 33 - 35])

    assert_effect(found.canvas, 4, 5.656854, 2, 0.0298575)
    assert found.canvas.se == pytest.approx(0.707107, abs=5e-7)
    assert found.place.estimate == 1


def test_noise_free_recovery() -> None:
    """facts/order.md part 2 section H, without its drift: 0.05 on B - 0.08 in second place, to 1e-10."""
    a_first = [(exp(2.0), exp(2.0 + 0.05 - 0.08))] * 4
    b_first = [(exp(2.4 + 0.05), exp(2.4 - 0.08))] * 4

    found = crossover(*([log(x) - log(y) for x, y in pairs] for pairs in (a_first, b_first)))

    assert found.canvas.estimate == pytest.approx(-0.05, abs=1e-10)
    assert found.place.estimate == pytest.approx(0.08, abs=1e-10)


@pytest.mark.filterwarnings("ignore:Precision loss:RuntimeWarning")  # scipy's, where nothing scatters
@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.floats(1, 100), st.floats(1, 100)), min_size=2, max_size=9),
    st.lists(st.tuples(st.floats(1, 100), st.floats(1, 100)), min_size=2, max_size=9),
)
def test_equals_least_squares_and_scipy(a_first: list[tuple[float, float]], b_first: list[tuple[float, float]]) -> None:
    """facts/order.md part 2 section H: equal to least squares with run, place and canvas terms."""
    found = crossover(differences(a_first), differences(b_first))
    runs = len(a_first) + len(b_first)
    rows, values = [], []
    for run, (pair, on_first) in enumerate([(p, 0.5) for p in a_first] + [(p, -0.5) for p in b_first]):
        for value, place, canvas in zip(pair, (0.5, -0.5), (on_first, -on_first), strict=True):
            rows.append([float(run == i) for i in range(runs)] + [place, canvas])
            values.append(value)
    fitted = np.linalg.lstsq(np.array(rows), np.array(values), rcond=None)[0]

    assert found.place.estimate == pytest.approx(fitted[-2], abs=1e-9)
    assert found.canvas.estimate == pytest.approx(fitted[-1], abs=1e-9)
    if found.canvas.se > 1e-6:
        t, p = stats.ttest_ind(differences(a_first), differences(b_first))
        assert found.canvas.t == pytest.approx(t, rel=1e-6, abs=1e-9)
        assert found.canvas.p == pytest.approx(p, rel=1e-6, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(-8, 8), min_size=2, max_size=12),
    st.lists(st.integers(-8, 8), min_size=2, max_size=12),
)
def test_rank_sum_agrees_with_scipy(first: list[int], second: list[int]) -> None:
    found = rank_sum(first, second)
    is_tied = len({*first, *second}) < len(first) + len(second)
    if len({*first, *second}) == 1:
        assert found.p == 1
        return

    scipy_found = stats.mannwhitneyu(first, second, method="asymptotic" if is_tied else "exact")

    assert found.u == scipy_found.statistic
    assert found.p == pytest.approx(min(1, scipy_found.pvalue), rel=1e-9)


def test_rank_sum_interval_without_ties() -> None:
    """Two groups of four reach 1 - 2/70 at most; the interval then spans all sixteen differences."""
    found = rank_sum([1.1, 2.3, 3.7, 4.9], [10.2, 20.5, 30.6, 40.4])

    assert found.depth.k == 1
    assert found.depth.confidence_frac == pytest.approx(1 - 2 / 70)
    assert found.low == pytest.approx(1.1 - 40.4)
    assert found.high == pytest.approx(4.9 - 10.2)
    assert rank_sum([1.0], [2.0]).low is None


@settings(max_examples=20, deadline=None)
@given(st.lists(st.integers(-9, 9), min_size=2, max_size=5), st.lists(st.integers(-9, 9), min_size=2, max_size=5))
def test_relabelling_agrees_with_scipy(first: list[int], second: list[int]) -> None:
    found = relabelling_p(first, second)

    scipy_found = stats.permutation_test(
        (first, second),
        lambda x, y, axis: abs(x.mean(axis=axis) - y.mean(axis=axis)),
        alternative="greater",
        n_resamples=1000,
        vectorized=True,
    )
    assert found == pytest.approx(scipy_found.pvalue, abs=1e-12)


def test_differences_without_scatter_have_no_t() -> None:
    effect = half_difference([2.0, 2.0], [1.0, 1.0])

    assert (effect.estimate, effect.se, effect.t, effect.p) == (0.5, 0, None, None)
    assert (effect.low, effect.high) == (0.5, 0.5)


@pytest.mark.parametrize(
    ("a_first", "b_first"),
    [([], [1.0, 2.0]), ([1.0, 2.0], []), ([1.0], [2.0]), ([1.0, nan], [2.0]), ([1.0, 2.0], [inf])],
)
def test_bad_runs_are_refused(a_first: list[float], b_first: list[float]) -> None:
    with pytest.raises(CoachError):
        crossover(a_first, b_first)
    with pytest.raises(CoachError):
        rank_sum([nan], b_first)
    with pytest.raises(CoachError):
        relabelling_p([], b_first)
