"""How much of a promised day is painted: set-up, clean-up and rests, and how far promises are kept."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import fsum, sqrt
from typing import Final, NamedTuple

from coach.plan.commission import Limits

SETUP_S: Final = 15 * 60
"""Setting up on a day, in seconds. Source: common practice, no source."""

CLEANUP_S: Final = 15 * 60
"""Clearing up on a day, in seconds. Source: common practice, no source."""

MOST_LOST_FRAC: Final = 0.25
"""Of a short day at most so much goes to setting up and clearing up. Source: ours."""

PRIOR_KEPT: Final = (4.89, 1.22)
"""Beta distribution of the share kept before any log: mean 0.80, sd 0.15. Source: trade facts K4, as the next."""

PRIOR_DAYS: Final = 5
"""The spread of one day holds as if this many days had shown it."""

PRIOR_SD: Final = 0.25
"""Spread of one day's share before any log."""

DAY_WEIGHT_VAR: Final = 0.16
"""A day of a spread t counts for this over t squared: 1 where days are all or nothing."""

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


@dataclass(frozen=True, slots=True, kw_only=True)
class Adherence:
    """Share of the usable time that is really painted.

    Attributes:
        alpha: First parameter of the Beta distribution of its mean.
        beta: The second.
        day_sd: Spread of one day about the mean; 0 takes every promise as kept.
        days: How many days the log gave.
        kept_frac: Hours painted over hours promised on those days; None without any.
    """

    alpha: float = PRIOR_KEPT[0]
    beta: float = PRIOR_KEPT[1]
    day_sd: float = PRIOR_SD
    days: int = 0
    kept_frac: float | None = None

    @property
    def mean_frac(self) -> float:
        """The share that is likely kept, above 0, at most 1."""
        return self.alpha / (self.alpha + self.beta)


ALL_KEPT: Final = Adherence(alpha=1.0, beta=0.0, day_sd=0.0)
"""Every promised second is painted: plain arithmetic."""


def overhead_of(limits: Limits, *, setup_s: float = SETUP_S, cleanup_s: float = CLEANUP_S) -> Overhead:
    """Return what a day loses under the painter's limits: a rest follows each block."""
    return Overhead(setup_s, cleanup_s, limits.block_s / (limits.block_s + limits.rest_s))


def adherence_of(days: Sequence[DayKept], overhead: Overhead) -> Adherence:
    """Return the share kept: few days leave it near what painters keep, many near the log.

    Args:
        days: Days since the first session, skipped ones too; those on which nothing was usable do not count.
        overhead: What those days lost before a turn was painted.

    Source:
        Trade facts K4, with a check figure.
    """
    promised = [day for day in days if overhead.usable_s(day.promised_s) > 0]
    shares = [min(LARGEST_SHARE_FRAC, day.painted_s / overhead.usable_s(day.promised_s)) for day in promised]
    mean = fsum(shares) / len(shares) if shares else 0.0
    spread = PRIOR_DAYS * PRIOR_SD**2 + sum((share - mean) ** 2 for share in shares)
    day_sd = sqrt(spread / (PRIOR_DAYS + max(0, len(shares) - 1)))
    weight, kept = DAY_WEIGHT_VAR / day_sd**2, [min(1.0, share) for share in shares]
    promised_s = sum(day.promised_s for day in promised)
    return Adherence(
        alpha=PRIOR_KEPT[0] + weight * sum(kept),
        beta=PRIOR_KEPT[1] + weight * (len(kept) - sum(kept)),
        day_sd=day_sd,
        days=len(shares),
        kept_frac=sum(day.painted_s for day in promised) / promised_s if promised else None,
    )
