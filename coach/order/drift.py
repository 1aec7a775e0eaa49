"""Drift imbalance: whether a canvas tends to lead early in the work or late."""

from collections.abc import Sequence
from fractions import Fraction

from coach.order.ledger import SHARE
from coach.order.request import Order, PaintedRun


def trend_of_leads(canvas_count: int, runs: Sequence[PaintedRun]) -> tuple[Fraction, ...]:
    """Return, for each canvas, the sum of weight x (led or not, less what it was owed) x time of the run.

    Args:
        canvas_count: Number of canvases.
        runs: The runs in the order painted; weights of 1 or more.

    Returns:
        Weighted minutes; above 0 where the canvas led late rather than early. Time is the middle of the run
        on the scale of all weighted minutes, from -1 to 1. For two canvases the two figures differ by
        |sum s_i w_i u_i|, which is at most |D| + 2 max|D_k|.

    Source:
        Abel summation, own derivation.
    """
    whole = sum(run.weight * len(run.order) for run in runs)
    before = 0
    times: dict[Order, int] = {}
    for run in runs:
        length = run.weight * len(run.order)
        times[run.order] = times.get(run.order, 0) + run.weight * (2 * before + length - whole)
        before += length
    sums = [0] * canvas_count
    for order, time in times.items():
        sums[order[0]] += time * SHARE
        for canvas in order:
            sums[canvas] -= time * SHARE // len(order)
    return tuple(Fraction(total, SHARE * max(1, whole)) for total in sums)
