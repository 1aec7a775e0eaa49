"""Null distributions of rank statistics: exact counts, and how deep an interval may reach.

Each statistic here is a whole number, symmetric about its mean when there is no effect. An interval at depth
k runs from the k-th smallest to the k-th largest of the values the statistic counts.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from itertools import accumulate
from math import comb, floor
from statistics import NormalDist


@dataclass(frozen=True, slots=True, kw_only=True)
class Depth:
    """How far an interval's ends lie from the extremes.

    Attributes:
        k: 1 means smallest to largest; 0 means no interval reaches the confidence asked for.
        confidence_frac: Confidence attained at that depth; 0 where k is 0.
        is_exact: Counted exactly, not by the normal approximation.
    """

    k: int
    confidence_frac: float
    is_exact: bool


@cache
def signed_rank_counts(n: int) -> tuple[int, ...]:
    """Return how many of the 2^n sign patterns give W+ = 0, 1 ... n(n+1)/2.

    Args:
        n: Number of differences, 0 or more.

    Source:
        Coefficients of the product of (1 + x^i), i = 1..n (Wilcoxon 1945, from memory).
    """
    counts = [1]
    for rank in range(1, n + 1):
        pad = [0] * rank
        counts = [a + b for a, b in zip(counts + pad, pad + counts, strict=True)]
    return tuple(counts)


@cache
def rank_sum_counts(n_1: int, n_2: int) -> tuple[int, ...]:
    """Return how many labellings give U = 0, 1 ... n_1*n_2.

    Args:
        n_1: Size of the first group, 1 or more.
        n_2: Size of the second group, 1 or more.

    Source:
        Coefficients of the Gaussian binomial: product of (1 - x^(n_2+i)) / (1 - x^i), i = 1..n_1
        (Mann & Whitney 1947, from memory).
    """
    top = n_1 * n_2
    counts = [1] + [0] * top
    for i in range(1, n_1 + 1):
        for s in range(top, n_2 + i - 1, -1):
            counts[s] -= counts[s - n_2 - i]
        for s in range(i, top + 1):
            counts[s] += counts[s - i]
    return tuple(counts)


@cache
def sign_counts(n: int) -> tuple[int, ...]:
    """Return how many of the 2^n sign patterns have 0, 1 ... n positive signs (binomial coefficients)."""
    return tuple(comb(n, positive) for positive in range(n + 1))


def exact_depth(counts: Sequence[int], confidence_frac: float) -> Depth:
    """Return the largest k with P(statistic <= k - 1) at most half of what the confidence leaves over.

    Args:
        counts: Ways of each value of the statistic, from 0 up, symmetric.
        confidence_frac: Confidence asked for, 0 to 1, both excluded.
    """
    below = list(accumulate(counts, initial=0))
    total = below[-1]
    k = bisect_right(below, total * (1 - confidence_frac) / 2) - 1
    return Depth(k=k, confidence_frac=1 - 2 * below[k] / total if k else 0.0, is_exact=True)


def normal_depth(mean: float, sd: float, confidence_frac: float) -> Depth:
    """Return the depth by the normal approximation with continuity correction.

    Args:
        mean: Mean of the statistic when there is no effect.
        sd: Its standard deviation, 0 or more.
        confidence_frac: Confidence asked for, 0 to 1, both excluded.
    """
    if sd == 0:
        return Depth(k=0, confidence_frac=0.0, is_exact=False)
    normal = NormalDist(mean, sd)
    k = max(0, floor(normal.inv_cdf((1 - confidence_frac) / 2) + 0.5))
    return Depth(k=k, confidence_frac=1 - 2 * normal.cdf(k - 0.5) if k else 0.0, is_exact=False)


def exact_two_sided_p(counts: Sequence[int], value: int) -> float:
    """Return the probability of a value at least as far from the middle of a symmetric count."""
    nearer_end = min(value, len(counts) - 1 - value)
    return min(1.0, 2 * sum(counts[: nearer_end + 1]) / sum(counts))


def normal_two_sided_p(distance: float, sd: float) -> float:
    """Return the two-sided p of a distance from the mean that the caller has corrected for continuity."""
    return 1.0 if sd == 0 else 2 * NormalDist().cdf(-max(0.0, distance) / sd)
