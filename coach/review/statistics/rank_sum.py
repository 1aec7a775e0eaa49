"""The rank-sum test of two groups and the Hodges-Lehmann shift between them."""

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from coach.review.statistics.number_check import check_confidence, check_finite
from coach.review.statistics.pair_sums import PairSums
from coach.review.statistics.rank_nulls import (
    Depth,
    exact_depth,
    exact_two_sided_p,
    normal_depth,
    normal_two_sided_p,
    rank_sum_counts,
)

MOST_EXACT_PAIRS = 5_000
"""Up to so many pairs, and without ties, the distribution is counted exactly; our own limit."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RankSum:
    """Outcome of a rank-sum test.

    Attributes:
        u: Pairs in which the first group's value is larger; a tie counts one half.
        p: Two-sided p, exact without ties, else normal with tie and continuity correction.
        shift: Median of all differences first - second, in the unit of the values.
        low: Lower end of the shift's interval; None where the groups are too small for one.
        high: Upper end, or None.
        depth: How far the ends lie from the extremes, and the confidence attained.
    """

    u: float
    p: float
    shift: float
    low: float | None
    high: float | None
    depth: Depth


def rank_sum(first: Sequence[float], second: Sequence[float], *, confidence_frac: float = 0.95) -> RankSum:
    """Return the rank-sum test of two groups and the shift between them.

    Args:
        first: Values of the first group, at least one, any unit.
        second: Values of the second group, at least one, same unit.
        confidence_frac: Confidence the interval must reach, 0 to 1, both excluded.

    Raises:
        CoachError: An empty group, a value that is not a finite number, or a confidence out of range.

    Source:
        Mann & Whitney (1947); shift: Hodges & Lehmann (1963); on cross-over differences: Koch (1972),
        Biometrics 28:577-584 (all from memory).
    """
    check_finite(first, where="first group", at_least=1)
    check_finite(second, where="second group", at_least=1)
    check_confidence(confidence_frac)
    u = _pairs_won(first, second)
    sd = _sd(first, second)
    mean = len(first) * len(second) / 2
    if len(first) * len(second) <= MOST_EXACT_PAIRS and len({*first, *second}) == len(first) + len(second):
        counts = rank_sum_counts(*sorted((len(first), len(second))))
        depth, p = exact_depth(counts, confidence_frac), exact_two_sided_p(counts, int(u))
    else:
        depth, p = normal_depth(mean, sd, confidence_frac), normal_two_sided_p(abs(u - mean) - 0.5, sd)
    sums = PairSums(rows=[(float(x), 0) for x in first], steps=sorted(-float(y) for y in second))
    low, high = sums.ends(depth.k) if depth.k else (None, None)
    return RankSum(u=u, p=p, shift=sums.median(), low=low, high=high, depth=depth)


def _pairs_won(first: Sequence[float], second: Sequence[float]) -> float:
    ordered = sorted(second)
    return sum(bisect_left(ordered, x) + bisect_right(ordered, x) for x in first) / 2


def _sd(first: Sequence[float], second: Sequence[float]) -> float:
    n = len(first) + len(second)
    ties = sum(t**3 - t for t in Counter([*first, *second]).values())
    return sqrt(len(first) * len(second) / 12 * max(0.0, n + 1 - ties / (n * max(1, n - 1))))
