"""How evenly the lead was shared, in minutes, against the least possible; and where the return marks fell."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import comb
from typing import Final, Literal

from coach.order.measures import least_imbalance
from coach.review.fairness.run_times import RunTimes

FAIR_FRAC: Final = 0.02
"""Leads up to this part of the minutes apart are fair. Source: the aim of the ordering engine, ours."""

NEARLY_FRAC: Final = 0.05
"""Leads up to this part apart are nearly fair. Source: the bound for a pass in the ordering engine, ours."""

_SHARINGS: Final = 5_000
"""About so many sharings of the lead are looked at where there are three canvases and more."""

_Seconds = tuple[float, ...]

Answer = Literal["yes", "nearly", "no"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LeadBalance:
    """How the lead of some runs was shared. A run weighs the mean of its turns and owes each of its canvases alike.

    Attributes:
        fair: Whether the lead was shared alike.
        apart_minutes: Between the canvas that led most over its share and the one that led least.
        apart_frac: The same as a part of the minutes of these runs.
        least_frac: The least that could have been apart, given these runs.
        most: The canvas that led most over its share.
        least: The canvas that led least.
    """

    fair: Answer
    apart_minutes: float
    apart_frac: float
    least_frac: float
    most: str
    least: str


def lead_balance(runs: Sequence[RunTimes]) -> LeadBalance | None:
    """Return how evenly the lead was shared; None where no run was painted on two canvases."""
    shared = [run for run in runs if len(run.order) > 1]
    if not shared:
        return None
    names = tuple(dict.fromkeys(name for run in shared for name in run.order))
    weighed = [(max(1, round(run.mean_min * 60)), run.order) for run in shared]
    over = (0.0,) * len(names)
    for weight, order in weighed:
        over = _led(over, names, order, order[0], weight)
    apart, total = _apart(over), sum(weight for weight, _ in weighed)
    least = min(apart, _least_apart(weighed, names))
    fair: Answer = "nearly" if apart <= NEARLY_FRAC * total else "no"
    return LeadBalance(
        fair="yes" if apart <= max(FAIR_FRAC * total, least) else fair,
        apart_minutes=apart / 60,
        apart_frac=apart / total,
        least_frac=least / total,
        most=names[over.index(max(over))],
        least=names[over.index(min(over))],
    )


def _led(over: _Seconds, names: Sequence[str], order: Sequence[str], leader: str, weight: int) -> _Seconds:
    """Return what each canvas led over its share after one more run."""
    gains = (weight * ((name == leader) - 1 / len(order)) if name in order else 0.0 for name in names)
    return tuple(before + gain for before, gain in zip(over, gains, strict=True))


def _apart(over: _Seconds) -> float:
    return round(max(over) - min(over), 6)


def _least_apart(weighed: Sequence[tuple[int, Sequence[str]]], names: Sequence[str]) -> float:
    """Return the least the leads can be apart: exact for two canvases, else the least that a search of sharings finds.

    The search deals out the heaviest runs first and goes on with the evenest sharings so far.
    """
    if len(names) == 2:  # noqa: PLR2004
        return least_imbalance(0, [weight for weight, _ in weighed])
    kept = max(1, _SHARINGS // (len(weighed) * len(names)))
    ways = [(0.0,) * len(names)]
    for weight, order in sorted(weighed, key=lambda run: -run[0]):
        further = {_led(over, names, order, leader, weight) for over in ways for leader in order}
        ways = sorted(further, key=lambda over: (_apart(over), over))[:kept]
    return _apart(ways[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class ReturnMarks:
    """On which canvas the return marks fell, in the runs painted on every canvas and marked on just one.

    Attributes:
        leading: Runs marked on the canvas that led.
        following: Runs marked on a canvas that followed.
        p: Two-sided p of "each canvas of a run is marked as easily as another"; exact.
    """

    leading: int
    following: int
    p: float


def return_marks(runs: Sequence[RunTimes], canvases: int) -> ReturnMarks:
    """Return where the return marks fell.

    Source:
        Sign test; for three canvases and more the binomial test, its outcomes no likelier than the one observed taken
        together (textbook).
    """
    marked = [run for run in runs if len(run.order) == canvases > 1 and len(run.marked) == 1]
    leading, n = sum(run.order[0] in run.marked for run in marked), len(marked)
    # Whole numbers: ways in which k of n runs are marked on their lead, out of canvases ** n.
    ways = [comb(n, k) * (canvases - 1) ** (n - k) for k in range(n + 1)]
    at_most = sum(way for way in ways if way <= ways[leading])
    return ReturnMarks(leading=leading, following=n - leading, p=at_most / sum(ways))
