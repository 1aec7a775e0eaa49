"""Balanced number partitioning (facts/order.md part 2, G)."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.order.unrepairable import least_imbalance


@pytest.mark.parametrize(
    ("weights", "least"),
    [
        (
            [4, 5, 6, 7, 8],
            0,
        ),  # textbook case where heaviest-first leaves 4 and differencing 2 (loads printed)
        ([3, 3, 2, 2, 2], 0),  # tight case of heaviest-first: it reaches 7, the optimum is 6 (Graham 1969)
        ([3, 3, 3, 2, 2, 2], 1),  # odd total: |D| has the parity of the sum of the weights
        ([10], 10),
        ([], 0),
    ],
)
def test_published_partitions(weights: list[int], least: int) -> None:
    assert least_imbalance(0, weights) == least


@given(settled=st.integers(-500, 500), weights=st.lists(st.integers(1, 240), max_size=10))
@settings(max_examples=150, deadline=None)
def test_the_least_imbalance_is_that_of_all_signs(settled: int, weights: list[int]) -> None:
    sums = (
        abs(settled + sum(sign * weight for sign, weight in zip(signs, weights, strict=True)))
        for signs in product((1, -1), repeat=len(weights))
    )

    assert least_imbalance(settled, weights) == min(sums)


@given(settled=st.integers(-(10**9), 10**9), weights=st.lists(st.integers(1, 10**9), max_size=9))
@settings(max_examples=60, deadline=None)
def test_huge_weights_are_exact_while_they_are_few(settled: int, weights: list[int]) -> None:
    sums = (
        abs(settled + sum(sign * weight for sign, weight in zip(signs, weights, strict=True)))
        for signs in product((1, -1), repeat=len(weights))
    )

    assert least_imbalance(settled, weights) == min(sums)


@pytest.mark.parametrize("settled", [0, 1, 777, -3000])
def test_many_runs_leave_nothing_but_parity(settled: int) -> None:
    weights = [(i * i) % 97 + 3 for i in range(400)]

    assert least_imbalance(settled, weights) == (settled + sum(weights)) % 2


def test_many_huge_weights_are_brought_near_level() -> None:
    """Not exact, but far below one weight: 60 weights of about a thousand million."""
    weights = [10**9 + (i * 7_919_317) % 99_999_989 for i in range(60)]

    assert least_imbalance(0, weights) < 10**6


def test_where_dealing_the_heavy_runs_fails_all_sums_are_looked_at() -> None:
    """{4,5,6,7,8} again, in thousands: dealt greedily they leave 4000, which 64 runs of 2 cannot answer."""
    assert least_imbalance(0, [4000, 5000, 6000, 7000, 8000] + [2] * 64) == 0
