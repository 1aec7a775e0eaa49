"""A painter's factor on planned time as a log-normal, and what the log does to it."""

from collections.abc import Sequence
from math import exp, sqrt
from statistics import NormalDist
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

    def quantile_frac(self, probability_frac: float) -> float:
        """Return the value that the factor stays below with a probability between 0 and 1, both excluded."""
        return exp(self.log_mean + self.log_sd * NormalDist().inv_cdf(probability_frac))

    def of_one_turn(self, noise_sd: float = NOISE_SD) -> "Factor":
        """Return the factor of one turn to come: uncertain itself, and with the noise of a turn."""
        return Factor(self.log_mean, sqrt(self.log_sd**2 + noise_sd**2))


PRIOR: Final = Factor(0.0, PRIOR_SD)
"""The painter's factor before any log: the plan's own times, and how far painters stray from them."""


def posterior(log_ratios: Sequence[float], *, prior: Factor = PRIOR, noise_sd: float = NOISE_SD) -> Factor:
    """Return the painter's factor after some turns: few leave it near the plan, many near the log.

    Args:
        log_ratios: ln(worked / planned) of turns.
        prior: What is believed before them; its spread is above 0.
        noise_sd: Spread of one turn, on the log scale, above 0.

    Source:
        Normal mean with known spread: Gelman et al., Bayesian Data Analysis, 3rd edition, 2013, section 2.5 (from
        memory); facts/order.md part 2 N.
    """
    precision = prior.log_sd**-2 + len(log_ratios) * noise_sd**-2
    weighted = prior.log_mean * prior.log_sd**-2 + sum(log_ratios) * noise_sd**-2
    return Factor(weighted / precision, precision**-0.5)
