"""Null distributions of rank statistics against published counts and scipy."""

from math import comb

import pytest
from scipy import stats

from coach.review.statistics.rank_nulls import (
    exact_depth,
    exact_two_sided_p,
    normal_depth,
    normal_two_sided_p,
    rank_sum_counts,
    sign_counts,
    signed_rank_counts,
)


def test_signed_rank_counts_of_five() -> None:
    """facts/order.md part 2 section J."""
    assert signed_rank_counts(5) == (1, 1, 1, 2, 2, 3, 3, 3, 3, 3, 3, 2, 2, 1, 1, 1)


@pytest.mark.parametrize("n", [1, 2, 7, 30])
def test_counts_add_up_and_are_symmetric(n: int) -> None:
    assert sum(signed_rank_counts(n)) == 2**n == sum(sign_counts(n))
    assert sum(rank_sum_counts(n, 5)) == comb(n + 5, 5)
    for counts in (signed_rank_counts(n), rank_sum_counts(n, 5), sign_counts(n)):
        assert counts == counts[::-1]


@pytest.mark.parametrize(
    ("n", "k", "confidence_frac"),
    [(15, 26, 0.952087), (10, 9, 0.951172), (6, 1, 0.96875), (5, 0, 0.0)],
)
def test_depth_of_a_signed_rank_interval(n: int, k: int, confidence_frac: float) -> None:
    """facts/order.md part 2 section J."""
    depth = exact_depth(signed_rank_counts(n), 0.95)

    assert depth.k == k
    assert depth.confidence_frac == pytest.approx(confidence_frac, abs=5e-7)


def test_depth_at_the_confidence_five_runs_reach() -> None:
    """facts/order.md part 2 section J: the widest interval of five has 0.9375."""
    assert exact_depth(signed_rank_counts(5), 0.9375).k == 1
    assert exact_depth(signed_rank_counts(5), 0.9376).k == 0


def test_normal_depth_is_near_the_exact_one() -> None:
    n = 120
    exact = exact_depth(signed_rank_counts(n), 0.95)

    normal = normal_depth(n * (n + 1) / 4, (n * (n + 1) * (2 * n + 1) / 24) ** 0.5, 0.95)

    assert abs(normal.k - exact.k) <= 2
    assert normal.confidence_frac == pytest.approx(exact.confidence_frac, abs=5e-4)
    assert not normal.is_exact


def test_no_scatter_gives_no_depth_and_no_evidence() -> None:
    assert normal_depth(0.0, 0.0, 0.95).k == 0
    assert normal_two_sided_p(0.0, 0.0) == 1


@pytest.mark.parametrize("w", [0, 3, 24, 60])
def test_signed_rank_p_agrees_with_scipy(w: int) -> None:
    """Darwin's plants have min(W+, W-) = 24 and exact p 0.0412598: facts/order.md part 2 section I."""
    found = exact_two_sided_p(signed_rank_counts(15), w)

    if w == 24:
        assert found == pytest.approx(0.0412598, abs=5e-8)
    ranks = _ranks_with_sum(w)
    signed = [rank if rank in ranks else -rank for rank in range(1, 16)]
    assert found == pytest.approx(stats.wilcoxon(signed, method="exact").pvalue, rel=1e-12)


def _ranks_with_sum(total: int) -> set[int]:
    taken = set()
    for rank in range(15, 0, -1):
        if rank <= total:
            taken.add(rank)
            total -= rank
    return taken


def test_sign_test_of_darwins_plants() -> None:
    """13 of 15 positive, p 0.00738525: facts/order.md part 2 section I."""
    assert exact_two_sided_p(sign_counts(15), 13) == pytest.approx(0.00738525, abs=5e-9)
