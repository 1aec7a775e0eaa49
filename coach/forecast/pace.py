"""How long the painter takes against the plan: apart for leading and following turns, and by pass."""

from collections.abc import Mapping, Sequence
from math import exp, sqrt
from statistics import fmean
from typing import Final, NamedTuple

from coach.forecast.outlook import TurnTime

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


class Shrunk(NamedTuple):
    """Groups drawn together.

    Attributes:
        within_var: Variance inside the groups.
        group_size: The size of group n0 that the variance between groups is taken from.
        between_var: Variance between the groups, 0 or more.
        mean: Mean of the groups, each weighted by how well it is known.
        weights_frac: For each group the weight of its own mean, 0 to 1.
        means: For each group its mean after shrinkage.
    """

    within_var: float
    group_size: float
    between_var: float
    mean: float
    weights_frac: tuple[float, ...]
    means: tuple[float, ...]


def shrunk(groups: Sequence[Sequence[float]]) -> Shrunk:
    """Return the groups drawn together, by the moments of a one-way layout.

    Args:
        groups: Two or more groups, none empty, with more values than groups.

    Source:
        One-way random effects by moments: facts/order.md part 2 N (formulas and check values).
    """
    sizes = [len(group) for group in groups]
    total, count = sum(sizes), len(groups)
    own = [fmean(group) for group in groups]
    grand = sum(map(sum, groups)) / total
    within_var = sum((value - mean) ** 2 for group, mean in zip(groups, own, strict=True) for value in group)
    within_var /= total - count
    group_size = (total - sum(size**2 for size in sizes) / total) / (count - 1)
    between = sum(size * (mean - grand) ** 2 for size, mean in zip(sizes, own, strict=True)) / (count - 1)
    between_var = max(0.0, (between - within_var) / group_size)
    if between_var + within_var == 0:  # every value is the same: there is nothing to weigh
        return Shrunk(0.0, group_size, 0.0, grand, (0.0,) * count, (grand,) * count)
    known = [1 / (between_var + within_var / size) for size in sizes]
    mean = sum(k * m for k, m in zip(known, own, strict=True)) / sum(known)
    weights = tuple(between_var * k for k in known)
    means = tuple(w * m + (1 - w) * mean for w, m in zip(weights, own, strict=True))
    return Shrunk(within_var, group_size, between_var, mean, weights, means)


ROLE_CORRELATION: Final = 0.8
"""How far the factors of leading and following turns go together before any log. Source: ours."""

NOISE_PRIOR_TURNS: Final = 10
"""The spread of a turn is `NOISE_SD` as if this many turns had shown it. Source: ours."""

TURNS_A_PASS: Final = 3
"""A pass counts apart from so many turns on. Source: ours."""

SPARE_TURNS: Final = 6
"""Passes count apart where there are so many more turns than passes. Source: ours."""


class Pace(NamedTuple):
    """The painter's pace; every factor is on planned time.

    Attributes:
        lead: Factor of leading turns.
        follow: Factor of following turns.
        noise_sd: Spread of one turn about its factor, on the log scale.
        turns: How many turns it was learned from.
        by_pass: What a pass adds on the log scale, for passes with enough turns; may be empty.
        other_pass: What a pass without turns of its own adds; its mean is 0.
    """

    lead: Factor = PRIOR
    follow: Factor = PRIOR
    noise_sd: float = NOISE_SD
    turns: int = 0
    by_pass: Mapping[str, Factor] = {}
    other_pass: Factor = Factor()

    def factor(self, pass_name: str, *, is_lead: bool) -> Factor:
        """Return the factor of a leading or following turn of a pass."""
        role = self.lead if is_lead else self.follow
        added = self.by_pass.get(pass_name, self.other_pass)
        return Factor(role.log_mean + added.log_mean, sqrt(role.log_sd**2 + added.log_sd**2))


PLANNED_PACE: Final = Pace(Factor(), Factor(), 0.0)
"""Every turn takes just what is planned: plain arithmetic."""


def pace_of(turns: Sequence[TurnTime]) -> Pace:
    """Return the pace learned from turns that count.

    Args:
        turns: Of earlier commissions and of this one, outliers left out; the order does not matter.
    """
    roles = [[turn.log_ratio for turn in turns if turn.is_lead is is_lead] for is_lead in (True, False)]
    noise_sd = _noise_sd(roles)
    lead, follow = _role_factors(roles[0], roles[1], noise_sd)
    pace = Pace(lead, follow, noise_sd, len(turns))
    by_pass, other = _pass_factors(turns, pace)
    return pace._replace(by_pass=by_pass, other_pass=other)


def _noise_sd(roles: Sequence[Sequence[float]]) -> float:
    """Return the spread of one turn: `NOISE_SD` at first, then more and more what the log shows."""
    spread, freedom = NOISE_PRIOR_TURNS * NOISE_SD**2, NOISE_PRIOR_TURNS
    for ratios in roles:
        if ratios:
            mean = fmean(ratios)
            spread += sum((ratio - mean) ** 2 for ratio in ratios)
            freedom += len(ratios) - 1
    return sqrt(spread / freedom)


def _role_factors(leading: Sequence[float], following: Sequence[float], noise_sd: float) -> tuple[Factor, Factor]:
    """Return both factors by Bayes' rule for two normals that go together; each alone as in order facts N.

    Source:
        Gelman et al., Bayesian Data Analysis, 3rd edition, 2013, section 3.5 (from memory).
    """
    own_precision = 1 / (PRIOR_SD**2 * (1 - ROLE_CORRELATION**2))
    shared = ROLE_CORRELATION * own_precision
    lead_precision = own_precision + len(leading) / noise_sd**2
    follow_precision = own_precision + len(following) / noise_sd**2
    lead_sum, follow_sum = sum(leading) / noise_sd**2, sum(following) / noise_sd**2
    determinant = lead_precision * follow_precision - shared**2
    return (
        Factor((follow_precision * lead_sum + shared * follow_sum) / determinant, sqrt(follow_precision / determinant)),
        Factor((lead_precision * follow_sum + shared * lead_sum) / determinant, sqrt(lead_precision / determinant)),
    )


def _pass_factors(turns: Sequence[TurnTime], pace: Pace) -> tuple[Mapping[str, Factor], Factor]:
    """Return what passes add to the factor of leading and following turns, where there is enough to tell."""
    residuals: dict[str, list[float]] = {}
    for turn in turns:
        role = pace.lead if turn.is_lead else pace.follow
        residuals.setdefault(turn.pass_name, []).append(turn.log_ratio - role.log_mean)
    groups = {name: values for name, values in residuals.items() if len(values) >= TURNS_A_PASS}
    spare = sum(map(len, groups.values())) - len(groups)
    if len(groups) < 2 or spare < SPARE_TURNS:  # noqa: PLR2004  one pass cannot differ from the others
        return {}, Factor()
    found = shrunk(list(groups.values()))
    by_pass = {
        name: Factor(mean - found.mean, sqrt(found.between_var * (1 - weight)))
        for name, mean, weight in zip(groups, found.means, found.weights_frac, strict=True)
    }
    return by_pass, Factor(0.0, sqrt(found.between_var))
