"""The sign-flip test against published p values, scipy and its own definition."""

from itertools import product
from math import inf, nan
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from coach.errors import CoachError
from coach.review.statistics.sign_flip import sign_flip

DARWIN = [49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48]
"""Maize heights, crossed minus self-fertilised, eighths of an inch: Darwin, in Fisher (1935)."""

SLEEP = [1.2, 2.4, 1.3, 1.3, 0, 1.0, 1.8, 0.8, 4.6, 1.4]
"""Hours of sleep gained, second drug minus first: Cushny & Peebles, in Student (1908)."""


@pytest.mark.parametrize(
    ("differences", "hits"),
    [
        (
            DARWIN,
            1726,
        ),  # 1726/32768: Fisher (1935) and Ernst (2004), cited in facts/order.md part 2 section I
        (SLEEP, 4),  # 4/1024: facts/order.md part 2 section I
        ([1, 2, 3], 2),  # 2/8: same section
        ([0, 0, 0], 8),
        ([0.0, 0.0], 4),
        ([], 1),
    ],
)
def test_published_exact_p(differences: list[float], hits: int) -> None:
    found = sign_flip(differences, seed=1)

    assert found.is_exact
    assert found.patterns == 2 ** len(differences)
    assert found.p == hits / 2 ** len(differences)


@pytest.mark.parametrize(("n", "p"), [(4, 0.125), (5, 0.0625), (6, 0.03125), (7, 0.015625), (8, 0.0078125)])
def test_smallest_two_sided_p(n: int, p: float) -> None:
    """facts/order.md part 2 section I: below six runs 5 % cannot be reached."""
    assert sign_flip([1.5 + i / 7 for i in range(n)], seed=1).p == p


def test_darwin_agrees_with_scipy() -> None:
    found = stats.permutation_test(
        (DARWIN,), lambda x, axis: x.sum(axis=axis), permutation_type="samples", n_resamples=40_000
    )

    assert sign_flip(DARWIN, seed=1).p == pytest.approx(found.pvalue, abs=1e-12)


def test_ties_of_decimal_fractions_are_ties() -> None:
    """0.1 + 0.2 is not 0.3 in a float, yet as minutes they are the same; of 8 patterns 4 are as extreme."""
    assert sign_flip([0.1, 0.2, -0.3], seed=1).p == 1
    assert sign_flip([0.1, 0.2, 0.3, -0.6], seed=1).p == 1
    assert sign_flip([1, 2, 3, -6, 0.5], seed=1).p == sign_flip([0.1, 0.2, 0.3, -0.6, 0.05], seed=1).p


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(-30, 30), min_size=1, max_size=9))
def test_exact_p_is_the_share_of_patterns(differences: list[int]) -> None:
    observed = abs(sum(differences))
    sums = [sum(s * d for s, d in zip(signs, differences, strict=True)) for signs in _patterns(differences)]

    share = sum(abs(value) >= observed for value in sums) / len(sums)

    assert sign_flip(differences, seed=1).p == share
    assert sign_flip([d / 10 for d in differences], seed=1).p == share
    assert sign_flip([-d for d in reversed(differences)], seed=1).p == share
    assert sign_flip([*differences, 0], seed=1).p == share


def _patterns(differences: list[int]) -> list[tuple[int, ...]]:
    return list(product((1, -1), repeat=len(differences)))


def test_twenty_are_counted_and_twenty_one_are_drawn() -> None:
    chance = Random(7)  # noqa: S311 - repeatable data
    differences = [chance.gauss(0.4, 1.0) for _ in range(21)]

    assert sign_flip(differences[:20], seed=1).patterns == 2**20
    assert sign_flip(differences[:20], seed=1) == sign_flip(differences[:20], seed=2)
    assert sign_flip(differences, seed=1).patterns == 10_000
    assert not sign_flip(differences, seed=1).is_exact


def test_drawn_p_is_near_the_exact_one_and_repeatable() -> None:
    """A zero leaves p as it is, so Darwin's plants with ten zeros keep their p; within 4 standard errors."""
    padded = [*DARWIN, *[0] * 10]

    drawn = sign_flip(padded, seed=5, draws=20_000)

    assert drawn == sign_flip(padded, seed=5, draws=20_000)
    assert drawn.p == pytest.approx(1726 / 32768, abs=4 * (0.0527 * 0.9473 / 20_000) ** 0.5)
    assert drawn.p != sign_flip(padded, seed=6, draws=20_000).p


def test_drawn_p_is_never_zero() -> None:
    """(1 + hits) / (1 + draws): Phipson & Smyth (2010) (from memory)."""
    assert sign_flip([1.0] * 60, seed=1).p == 1 / 10_001


@pytest.mark.parametrize("bad", [nan, inf, -inf, 1e200, True, "3"])
def test_bad_differences_are_refused(bad: float) -> None:
    with pytest.raises(CoachError):
        sign_flip([1.0, bad], seed=1)


def test_no_draws_are_refused() -> None:
    with pytest.raises(CoachError):
        sign_flip([1.0], seed=1, draws=0)
