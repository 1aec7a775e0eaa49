"""Measures of balance for any sequence of orders, planned or painted; exact numbers only.

A run on q canvases owes each of them 1/q of the lead, of each place and of each neighbourhood. Spreads
compare what the canvases had over what they were owed, so that a canvas that was away has neither debt nor
credit; where every canvas took part in every run, a spread is simply largest less smallest.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby
from typing import Final, NamedTuple

from coach.order.batches import painted_batches
from coach.order.request import PaintedRun, check_painted, counted

SHARE: Final = 27_720
"""One second in the unit of loads; the least common multiple of 1 to 12, so that a share of it is whole."""


MOST_SUM: Final = 1 << 20
"""What can be evened out is told exactly where the weights add up to at most this, else in larger steps."""


class Leads(NamedTuple):
    """The leads of some runs; runs on one canvas have none.

    Attributes:
        counts: Number of runs each canvas led.
        weights: Weight of the runs each canvas led, in seconds.
        imbalance: Largest less smallest lead weight; for two canvases |D|.
        imbalance_frac: The imbalance as a part of the weight of these runs, 0 to 1.
    """

    counts: tuple[int, ...]
    weights: tuple[int, ...]
    imbalance: Fraction
    imbalance_frac: Fraction


class Measures(NamedTuple):
    """How evenly the canvases were treated. Weights are in seconds.

    Attributes:
        canvas_count: Number of canvases.
        run_count: Runs on two canvases or more.
        weight: Weight of these runs.
        leads: Leads of the whole work.
        trend_frac: How far the canvases differ in leading late rather than early, as a part of the weight; for two
            canvases |sum of +-weight x time| / weight, time from -1 to 1.
        streak: Longest row of runs led by one canvas.
        canvas_changes: Changes from canvas to canvas, those between runs included.
        least_canvas_changes: The changes no order can avoid.
    """

    canvas_count: int
    run_count: int
    weight: int
    leads: Leads
    trend_frac: Fraction
    streak: int
    canvas_changes: int
    least_canvas_changes: int

    @property
    def imbalance(self) -> Fraction:
        """Overall imbalance: largest less smallest lead weight; for two canvases |D|."""
        return self.leads.imbalance

    @property
    def imbalance_frac(self) -> Fraction:
        """Overall imbalance as a part of the weight, 0 to 1."""
        return self.leads.imbalance_frac


def measure(canvas_count: int, runs: Sequence[PaintedRun], *, batch: int = 1) -> Measures:
    """Return the measures of these runs, in the order in which they are painted.

    Args:
        canvas_count: Number of canvases, 1 to 12.
        runs: The runs; those without an order are left out.
        batch: Up to so many neighbouring runs of a pass with one order are painted on a canvas before
            changing over; only the changes of canvas depend on it.

    Raises:
        OrderError: A run cannot be: see `check_painted`.
    """
    check_painted(runs, canvas_count, "runs")
    painted = [PaintedRun(run.pass_no, counted(run.weight), run.order) for run in runs if run.order]
    shared = [run for run in painted if len(run.order) > 1]
    weight = sum(run.weight for run in shared)
    changes, least_changes = _canvas_changes(painted, batch)
    return Measures(
        canvas_count=canvas_count,
        run_count=len(shared),
        weight=weight,
        leads=leads_of(canvas_count, shared),
        trend_frac=_trend(canvas_count, painted) / max(1, weight),
        streak=max((len(list(row)) for _, row in groupby(run.order[0] for run in shared)), default=0),
        canvas_changes=changes,
        least_canvas_changes=least_changes,
    )


def least_imbalance(settled: int, weights: Sequence[int]) -> int:
    """Return the least |settled +- w_1 +- w_2 ...| over all signs: what two canvases must end apart.

    Args:
        settled: What is settled: what was painted, and leads that are wished for, signed.
        weights: Weights of the runs whose lead may be chosen.

    Returns:
        Exact where they add up to at most MOST_SUM, else to about one part in so many.

    Source:
        Number partitioning over all sums: Karp (1972); R. Bellman, Dynamic Programming (1957) (from memory).
    """
    unit = 1 + (abs(settled) + sum(weights)) // MOST_SUM
    scaled = [round(weight / unit) for weight in weights]
    sums = 1  # bit s is set where some of the weights add up to s
    for weight in scaled:
        sums |= sums << weight
    offset = round(settled / unit) - sum(scaled)
    aim = max(0, min(sum(scaled), -offset // 2))
    below = (sums & ((2 << aim) - 1)).bit_length() - 1
    above = sums >> aim + 1
    after = aim + (above & -above).bit_length() if above else below
    return unit * min(abs(offset + 2 * led) for led in (below, after))


def leads_of(canvas_count: int, runs: Sequence[PaintedRun]) -> Leads:
    """Return the leads of these runs; those on one canvas have none."""
    counts, weights, owed = [0] * canvas_count, [0] * canvas_count, [0] * canvas_count
    for _, weight, order, _ in runs:
        if len(order) > 1:
            counts[order[0]] += 1
            weights[order[0]] += weight
            for canvas in order:
                owed[canvas] += weight * SHARE // len(order)
    imbalance = _spread([SHARE * led - due for led, due in zip(weights, owed, strict=True)])
    return Leads(tuple(counts), tuple(weights), imbalance, imbalance / max(1, sum(weights)))


def _spread(loads: Sequence[int]) -> Fraction:
    return Fraction(max(loads, default=0) - min(loads, default=0), SHARE)


def _trend(canvas_count: int, runs: Sequence[PaintedRun]) -> Fraction:
    """Return largest less smallest sum, over the canvases, of weight x (led or not, less its due) x time of the run.

    Time is the middle of the run on the scale of all seconds, from -1 to 1. For two canvases this
    is |sum s_i w_i u_i|, which is at most |D| + 2 max|D_k|.

    Source:
        Abel summation, own derivation.
    """
    whole = sum(run.weight * len(run.order) for run in runs)
    before = 0
    sums = [0] * canvas_count
    for run in runs:
        length = run.weight * len(run.order)
        time = run.weight * (2 * before + length - whole)
        before += length
        sums[run.order[0]] += time * SHARE
        for canvas in run.order:
            sums[canvas] -= time * SHARE // len(run.order)
    return _spread(sums) / max(1, whole)


def _canvas_changes(painted: Sequence[PaintedRun], batch: int) -> tuple[int, int]:
    """Return the changes from canvas to canvas, and how many of them no order can avoid."""
    within = between = 0
    at: int | None = None
    for one in painted_batches(painted, batch):
        within += len(one.order) - 1
        between += at not in {None, one.order[0]}
        at = one.order[-1]
    return within + between, within
