"""How the leads of some runs are shared, by count, by weight and in a row."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import groupby
from typing import NamedTuple

from coach.order.ledger import SHARE
from coach.order.request import PaintedRun
from coach.order.tally import Tally, tally


class Leads(NamedTuple):
    """The leads of some runs; runs on one canvas have none.

    Attributes:
        counts: Number of runs each canvas led.
        weights: Weight of the runs each canvas led, in weighted minutes.
        imbalance: Largest less smallest lead weight; for two canvases |D|.
        imbalance_frac: The imbalance as a part of the weight of these runs, 0 to 1.
    """

    counts: tuple[int, ...]
    weights: tuple[int, ...]
    imbalance: Fraction
    imbalance_frac: Fraction


def spread_of(loads: Sequence[int]) -> Fraction:
    """Return largest less smallest of these loads (in the ledger's unit), in weighted minutes."""
    return Fraction(max(loads, default=0) - min(loads, default=0), SHARE)


def leads_by_pass(canvas_count: int, shared: Sequence[PaintedRun]) -> tuple[tuple[int, Leads], ...]:
    """Return number and leads of each pass, in the order in which the passes were begun."""
    passes: dict[int, list[PaintedRun]] = {}
    for run in shared:
        passes.setdefault(run.pass_no, []).append(run)
    return tuple((pass_no, leads_of(canvas_count, tally(runs))) for pass_no, runs in passes.items())


def leads_of(canvas_count: int, shared: Tally) -> Leads:
    """Return the leads of these runs; each has two canvases or more."""
    counts, weights, owed = [0] * canvas_count, [0] * canvas_count, [0] * canvas_count
    for order, weight in shared.weights.items():
        counts[order[0]] += shared.counts[order]
        weights[order[0]] += weight
        for canvas in order:
            owed[canvas] += weight * SHARE // len(order)
    imbalance = spread_of([SHARE * led - due for led, due in zip(weights, owed, strict=True)])
    return Leads(
        counts=tuple(counts),
        weights=tuple(weights),
        imbalance=imbalance,
        imbalance_frac=imbalance / max(1, sum(weights)),
    )


def peak_of_leads(canvas_count: int, shared: Sequence[PaintedRun]) -> Fraction:
    """Return the largest spread of lead weights after any run; for two canvases P = max |D_k|."""
    led = [0] * canvas_count
    peak = 0
    for run in shared:
        led[run.order[0]] += run.weight * SHARE
        if len(run.order) < canvas_count:
            for canvas in run.order:
                led[canvas] -= run.weight * SHARE // len(run.order)
        peak = max(peak, max(led) - min(led))
    return Fraction(peak, SHARE)


def longest_streak(shared: Sequence[PaintedRun]) -> tuple[int, int | None]:
    """Return length and canvas of the longest row of leads, the first such; (0, None) without runs."""
    longest, by = 0, None
    for lead, runs in groupby(run.order[0] for run in shared):
        length = sum(1 for _ in runs)
        if length > longest:
            longest, by = length, lead
    return longest, by
