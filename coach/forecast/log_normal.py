"""A painter's factor on planned time as a log-normal, and what is believed of it before any log."""

from math import exp
from typing import Final, NamedTuple

PRIOR_SD: Final = 0.25
"""Spread of painters' factors before any log, on the log scale. Source: ours (facts/order.md N uses it)."""

NOISE_SD: Final = 0.30
"""Spread of one turn about the painter's factor, on the log scale. Source: ours (facts/order.md N uses it)."""


class Factor(NamedTuple):
    """A factor on planned time whose logarithm is normal.

    Attributes:
        log_mean: Mean of the logarithm.
        log_sd: Standard deviation of the logarithm: how uncertain the factor is; 0 or more.
    """

    log_mean: float = 0.0
    log_sd: float = 0.0

    @property
    def median_frac(self) -> float:
        """Return the median of the factor."""
        return exp(self.log_mean)

    @property
    def mean_frac(self) -> float:
        """Return the mean of the factor."""
        return exp(self.log_mean + self.log_sd**2 / 2)


PRIOR: Final = Factor(0.0, PRIOR_SD)
"""The painter's factor before any log: the plan's own times, and how far painters stray from them."""
