"""The re-labelling test: would chance labels part two groups as far as the real ones do?"""

from collections.abc import Sequence
from itertools import combinations

from coach.review.statistics.number_check import check_finite

MOST_EXACT = 20
"""Up to so many values in both groups together every labelling is counted: at most 184 756."""

TIE_FRAC = 1e-12
"""Gaps closer than this, against the sum of all sizes, are ties."""


def relabelling_p(first: Sequence[float], second: Sequence[float]) -> float | None:
    """Return the share of labellings whose means lie at least as far apart as the observed ones.

    Only a plan whose leads were drawn by chance (shuffled blocks) makes this a test by design; for other
    plans it is a check of the t test against skewed differences.

    Args:
        first: Values of the first group, at least one, any unit.
        second: Values of the second group, at least one, same unit.

    Returns:
        Exact two-sided p, above 0 and at most 1; None for more than MOST_EXACT values.

    Raises:
        CoachError: An empty group, or a value that is not a finite number.

    Source:
        R. A. Fisher, The Design of Experiments (1935) (from memory).
    """
    check_finite(first, where="first group", at_least=1)
    check_finite(second, where="second group", at_least=1)
    values = [*first, *second]
    if len(values) > MOST_EXACT:
        return None
    # The gap between the means grows with the first group's sum, so sums about their mean are enough.
    centre = len(first) * sum(values) / len(values)
    limit = abs(sum(first) - centre) - TIE_FRAC * sum(map(abs, values))
    gaps = [abs(sum(group) - centre) for group in combinations(values, len(first))]
    return sum(gap >= limit for gap in gaps) / len(gaps)
