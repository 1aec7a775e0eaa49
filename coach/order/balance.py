"""How evenly the lead is shared, in figures a painter understands."""

from collections.abc import Iterable
from itertools import groupby
from typing import NamedTuple

from coach.order.request import Order


class OrderedRun(NamedTuple):
    """A run with its order: name of its pass, seconds on one canvas, canvases by place (may lack some)."""

    pass_name: str
    planned_s: int
    order: Order


class Balance(NamedTuple):
    """The lead of one stretch of work.

    Attributes:
        leads: Runs led, a figure for each canvas.
        lead_s: Seconds of the runs led, a figure for each canvas.
        longest_streak: Most runs in a row with the same lead; 0 without runs.
        moves: Times the palette goes from one canvas to another.
    """

    leads: tuple[int, ...]
    lead_s: tuple[int, ...]
    longest_streak: int
    moves: int


def balance_of(runs: Iterable[OrderedRun], canvas_count: int) -> Balance:
    """Return the balance of runs in the order they are painted; runs without any canvas do not count."""
    painted = [run for run in runs if run.order]
    leads, lead_s = [0] * canvas_count, [0] * canvas_count
    for run in painted:
        leads[run.order[0]] += 1
        lead_s[run.order[0]] += run.planned_s
    streaks = [len(list(same)) for _, same in groupby(run.order[0] for run in painted)]
    turns = [canvas for run in painted for canvas in run.order]
    moves = sum(before != after for before, after in zip(turns, turns[1:], strict=False))
    return Balance(
        leads=tuple(leads), lead_s=tuple(lead_s), longest_streak=max(streaks, default=0), moves=moves
    )
