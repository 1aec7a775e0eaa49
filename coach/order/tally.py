"""How often, and with what weight, runs were painted in each order; what needs no sequence is read off here."""

from collections.abc import Iterable
from typing import NamedTuple

from coach.order.request import Order, PaintedRun


class Tally(NamedTuple):
    """Runs told apart by their order alone.

    Attributes:
        counts: Number of runs painted in each order.
        weights: Weight of these runs, in weighted minutes.
    """

    counts: dict[Order, int]
    weights: dict[Order, int]


def tally(runs: Iterable[PaintedRun]) -> Tally:
    """Return the tally of these runs."""
    counts: dict[Order, int] = {}
    weights: dict[Order, int] = {}
    for run in runs:
        counts[run.order] = counts.get(run.order, 0) + 1
        weights[run.order] = weights.get(run.order, 0) + run.weight
    return Tally(counts, weights)
