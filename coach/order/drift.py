"""Drift imbalance: whether a canvas tends to lead early in the work or late."""

from collections.abc import Sequence
from fractions import Fraction

from coach.order.ledger import SHARE
from coach.order.request import PaintedRun


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
    sums = [0] * canvas_count
    for run in runs:
        length = run.weight * len(run.order)
        time = 2 * before + length - whole
        before += length
        if len(run.order) > 1:
            for canvas in run.order:
                sums[canvas] -= run.weight * time * (SHARE // len(run.order))
            sums[run.order[0]] += run.weight * time * SHARE
    return tuple(Fraction(total, SHARE * max(1, whole)) for total in sums)
