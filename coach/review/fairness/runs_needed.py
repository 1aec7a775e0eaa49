"""How many runs a question needs before the painted work can answer it."""

from collections.abc import Sequence
from math import ceil, log
from statistics import NormalDist, stdev

FEWEST_RUNS = 6
"""Below six runs no 95 % interval of ranks exists: five reach 93.75 % (facts/order.md part 2 section J)."""

WITHIN_FRAC = 0.05
"""An answer to within 5 % either way is close enough for a painter; our own choice."""

WITHIN_LOG = log(1 + WITHIN_FRAC)
"""The same on the scale of log minutes."""

CONFIDENCE_FRAC = 0.95
"""Confidence of every interval of the review."""


def runs_for_spread(differences: Sequence[float]) -> int:
    """Return about how many runs bring the interval of their typical difference to within 5 %.

    Args:
        differences: Differences of log minutes, one a run.

    Returns:
        (z * standard deviation / ln 1.05)^2, rounded up, but FEWEST_RUNS at least; FEWEST_RUNS also for fewer
        than two differences, whose spread is not known.

    Source:
        Textbook sample size for a mean; the Hodges-Lehmann estimate needs 3/pi to 1 times it where the
        differences are normal (from memory).
    """
    if len(differences) < 2:  # noqa: PLR2004 - one difference has no spread
        return FEWEST_RUNS
    z = NormalDist().inv_cdf((1 + CONFIDENCE_FRAC) / 2)
    return max(FEWEST_RUNS, ceil((z * stdev(differences) / WITHIN_LOG) ** 2))


def runs_for_reach(runs: int, reach_log: float) -> int:
    """Return about how many runs bring half an interval's width from what it is to within 5 %.

    Args:
        runs: Runs behind the interval.
        reach_log: Half its width, in log minutes; it shrinks with the square root of the runs.
    """
    return max(FEWEST_RUNS, ceil(runs * (reach_log / WITHIN_LOG) ** 2))
