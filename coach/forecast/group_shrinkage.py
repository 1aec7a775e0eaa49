"""Means of groups drawn together by empirical Bayes: a small group borrows from the others."""

from collections.abc import Sequence
from statistics import fmean
from typing import NamedTuple


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
