"""How much of a promised day is painted: set-up, clean-up and rests, and how far promises are kept."""

from collections.abc import Sequence
from math import sqrt
from statistics import fmean
from typing import Final, NamedTuple

from coach.plan.commission import Limits

SETUP_S: Final = 15 * 60
"""Setting up on a day, in seconds. Source: common practice, no source."""

CLEANUP_S: Final = 15 * 60
"""Clearing up on a day, in seconds. Source: common practice, no source."""

MOST_LOST_FRAC: Final = 0.25
"""Of a short day at most so much goes to setting up and clearing up. Source: ours."""

PRIOR_DAYS: Final = 5
"""Promises are taken as kept as if this many days had shown it. Source: ours."""

PRIOR_SD: Final = 0.2
"""Spread of one day's share before any log. Source: ours."""

LARGEST_SHARE_FRAC: Final = 2.0
"""A day counts at most as kept so many times over: a long day against a short promise tells little more."""

LEAST_SHARE_FRAC: Final = 0.05
"""The share kept is never taken as less: a painter who paints nothing has no day of the last stroke."""


class DayKept(NamedTuple):
    """A day gone by: seconds of work promised, and seconds spent on turns."""

    promised_s: float
    painted_s: float


class Overhead(NamedTuple):
    """What a promised day loses before a turn is painted.

    Attributes:
        setup_s: Setting up, in seconds a day, 0 or more.
        cleanup_s: Clearing up, in seconds a day, 0 or more.
        work_frac: Share of the rest that is work and not rests, above 0, at most 1.
    """

    setup_s: float = 0.0
    cleanup_s: float = 0.0
    work_frac: float = 1.0

    def usable_s(self, promised_s: float) -> float:
        """Return the seconds of turns that fit into a promised day; on a short day less is set up and cleared up."""
        lost_s = min(self.setup_s + self.cleanup_s, MOST_LOST_FRAC * promised_s)
        return (promised_s - lost_s) * self.work_frac


class Adherence(NamedTuple):
    """Share of the usable time that is really painted.

    Attributes:
        mean_frac: Its mean over days.
        day_sd: Spread of one day about the mean.
        days: How many days the log gave.
    """

    mean_frac: float = 1.0
    day_sd: float = PRIOR_SD
    days: int = 0

    def mean_sd(self, days_to_come: float) -> float:
        """Return the spread of the mean share over so many days to come, above 0: known mean and days both vary."""
        return self.day_sd * sqrt(1 / (PRIOR_DAYS + self.days) + 1 / days_to_come)


def overhead_of(limits: Limits, *, setup_s: float = SETUP_S, cleanup_s: float = CLEANUP_S) -> Overhead:
    """Return what a day loses under the painter's limits: a rest follows each block."""
    return Overhead(setup_s, cleanup_s, limits.block_s / (limits.block_s + limits.rest_s))


def adherence_of(days: Sequence[DayKept], overhead: Overhead) -> Adherence:
    """Return the share kept: few days leave it near 1, many near the log.

    Args:
        days: Days gone by; those on which nothing was usable do not count.
        overhead: What those days lost before a turn was painted.
    """
    shares = [
        min(LARGEST_SHARE_FRAC, day.painted_s / usable_s)
        for day in days
        if (usable_s := overhead.usable_s(day.promised_s)) > 0
    ]
    weight = PRIOR_DAYS + len(shares)
    mean = (PRIOR_DAYS + sum(shares)) / weight
    own_mean = fmean(shares) if shares else 1.0
    spread = PRIOR_DAYS * PRIOR_SD**2 + sum((share - own_mean) ** 2 for share in shares)
    return Adherence(max(LEAST_SHARE_FRAC, mean), sqrt(spread / weight), len(shares))
