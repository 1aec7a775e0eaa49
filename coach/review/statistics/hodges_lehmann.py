"""The Hodges-Lehmann estimate: a typical difference that one slip of the clock cannot spoil."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from coach.review.statistics.number_check import check_confidence, check_finite
from coach.review.statistics.pair_sums import PairSums
from coach.review.statistics.rank_nulls import Depth, exact_depth, normal_depth, signed_rank_counts

MOST_EXACT = 300
"""Up to so many differences the confidence is counted exactly; our own limit, a fraction of a second."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HodgesLehmann:
    """A typical difference and its interval, in the unit of the differences.

    Attributes:
        estimate: Median of the Walsh averages.
        low: Lower end; None where no interval has the confidence asked for (95 %: fewer than 6 differences).
        high: Upper end, or None.
        depth: How far the ends lie from the extremes, and the confidence attained.
    """

    estimate: float
    low: float | None
    high: float | None
    depth: Depth


def hodges_lehmann(differences: Sequence[float], *, confidence_frac: float = 0.95) -> HodgesLehmann:
    """Return the median of the Walsh averages (d_i + d_j) / 2, i <= j, and its interval.

    Args:
        differences: At least one, any unit. Ties and zeros make the confidence approximate.
        confidence_frac: Confidence to reach at least, 0 to 1, both excluded.

    Returns:
        Estimate and interval from the null distribution of the signed-rank sum W+: exact up to MOST_EXACT
        differences, then by the normal approximation.

    Raises:
        CoachError: No difference, one that is not a finite number, or a confidence out of range.

    Source:
        Hodges & Lehmann (1963), Ann. Math. Stat. 34:598-611 (from memory).
    """
    check_finite(differences, where="differences", at_least=1)
    check_confidence(confidence_frac)
    steps = sorted(map(float, differences))
    sums = PairSums(rows=[(d, i) for i, d in enumerate(steps)], steps=steps)
    depth = _depth(len(steps), confidence_frac)
    low, high = (end / 2 for end in sums.ends(depth.k)) if depth.k else (None, None)
    return HodgesLehmann(estimate=sums.median() / 2, low=low, high=high, depth=depth)


def _depth(n: int, confidence_frac: float) -> Depth:
    if n <= MOST_EXACT:
        return exact_depth(signed_rank_counts(n), confidence_frac)
    return normal_depth(n * (n + 1) / 4, sqrt(n * (n + 1) * (2 * n + 1) / 24), confidence_frac)
