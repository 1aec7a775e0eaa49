"""Ratios from their logarithms, and the two ends of a ratio's interval."""

from dataclasses import dataclass
from math import exp

LARGEST_LOG = 700.0
"""Beyond this e^x leaves the range of a float (which ends near e^709)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RatioEnds:
    """The interval of a ratio.

    Attributes:
        low_frac: Lower end, above 0.
        high_frac: Upper end, not below it.
    """

    low_frac: float
    high_frac: float


def ratio_of(log_ratio: float) -> float:
    """Return e^log_ratio, held between e^-700 and e^700: the ends of a hopelessly wide interval."""
    return exp(max(-LARGEST_LOG, min(LARGEST_LOG, log_ratio)))


def ratio_ends(low_log: float | None, high_log: float | None) -> RatioEnds | None:
    """Return the interval of a ratio from the ends of its logarithm; None where an end is lacking."""
    if low_log is None or high_log is None:
        return None
    return RatioEnds(low_frac=ratio_of(low_log), high_frac=ratio_of(high_log))
