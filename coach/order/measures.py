"""Measures of balance for any sequence of orders, planned or painted; exact numbers only.

A run on q canvases owes each of them 1/q of the lead, of each place and of each neighbourhood. Spreads
compare what the canvases had over what they were owed, so that a canvas that was away has neither debt nor
credit; where every canvas took part in every run, a spread is simply largest less smallest.
"""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from coach.order.batches import counted, painted_batches
from coach.order.checking import check_painted
from coach.order.drift import trend_of_leads
from coach.order.leads import Leads, leads_by_pass, leads_of, longest_streak, peak_of_leads, spread_of
from coach.order.ledger import SHARE, Ledger
from coach.order.request import Order, PaintedRun
from coach.order.tally import tally
from coach.order.walks import count_walks

Table = tuple[tuple[int, ...], ...]


class Measures(NamedTuple):
    """How evenly the canvases were treated. Weights are in weighted minutes.

    Attributes:
        canvas_count: Number of canvases.
        run_count: Runs on two canvases or more.
        weight: Weight of these runs.
        leads: Leads of the whole work.
        by_pass: Pass number and leads of each pass, in the order in which the passes were begun.
        peak: Largest imbalance after any run.
        trend: For each canvas, its leads against working time: above 0 if it led late rather than early.
        drift: Largest less smallest trend; for two canvases |sum of +-weight x time|, time from -1 to 1.
        drift_frac: The drift as a part of the weight.
        streak: Longest row of runs led by one canvas.
        streak_lead: The canvas that led it, the first such; None without runs.
        walks: Changes from canvas to canvas, those between runs included.
        walks_floor: The changes no order can avoid.
        carry_over_counts: [a][b], how often b came straight after a within a run.
        carry_over_weights: The same by weight.
        place_counts: [c][k], how often canvas c was painted in place k.
        place_weights: The same by weight.
        place_spread: Largest less smallest place weight over canvases and places.
        carry_over_spread: Largest less smallest weight of an ordered pair of neighbours.
        mean_place: For each canvas, sum of weight x (place - middle place); 0 is even, above 0 is late.
    """

    canvas_count: int
    run_count: int
    weight: int
    leads: Leads
    by_pass: tuple[tuple[int, Leads], ...]
    peak: Fraction
    trend: tuple[Fraction, ...]
    drift: Fraction
    drift_frac: Fraction
    streak: int
    streak_lead: int | None
    walks: int
    walks_floor: int
    carry_over_counts: Table
    carry_over_weights: Table
    place_counts: Table
    place_weights: Table
    place_spread: Fraction
    carry_over_spread: Fraction
    mean_place: tuple[Fraction, ...]

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
            changing over; only the walks depend on it.

    Raises:
        OrderError: A run cannot be: see `check_painted`.
    """
    check_painted(runs, canvas_count, "runs")
    painted = [PaintedRun(run.pass_no, counted(run.weight), run.order) for run in runs if run.order]
    shared = [run for run in painted if len(run.order) > 1]
    told = tally(shared)
    ledger = Ledger(canvas_count)
    for order, load in told.weights.items():
        ledger.add(order, load)
    trend = trend_of_leads(canvas_count, painted)
    weight = sum(told.weights.values())
    streak, streak_lead = longest_streak(shared)
    walks, floor = count_walks(painted_batches(painted, batch))
    return Measures(
        canvas_count=canvas_count,
        run_count=len(shared),
        weight=weight,
        leads=leads_of(canvas_count, told),
        by_pass=leads_by_pass(canvas_count, shared),
        peak=peak_of_leads(canvas_count, shared),
        trend=trend,
        drift=max(trend) - min(trend),
        drift_frac=(max(trend) - min(trend)) / max(1, weight),
        streak=streak,
        streak_lead=streak_lead,
        walks=walks,
        walks_floor=floor,
        carry_over_counts=_neighbours(canvas_count, told.counts),
        carry_over_weights=_neighbours(canvas_count, told.weights),
        place_counts=_places(canvas_count, told.counts),
        place_weights=_places(canvas_count, told.weights),
        place_spread=spread_of([load for row in ledger.place for load in row]),
        carry_over_spread=spread_of([load for a, row in enumerate(ledger.follow) for load in row[:a] + row[a + 1 :]]),
        mean_place=tuple(Fraction(load, 2 * SHARE) for load in ledger.lateness),
    )


def _places(canvas_count: int, amount_of: Mapping[Order, int]) -> Table:
    table = [[0] * canvas_count for _ in range(canvas_count)]
    for order, amount in amount_of.items():
        for place, canvas in enumerate(order):
            table[canvas][place] += amount
    return tuple(map(tuple, table))


def _neighbours(canvas_count: int, amount_of: Mapping[Order, int]) -> Table:
    table = [[0] * canvas_count for _ in range(canvas_count)]
    for order, amount in amount_of.items():
        for before, after in pairwise(order):
            table[before][after] += amount
    return tuple(map(tuple, table))


def weight_figure(weight: Fraction) -> str:
    """Return a weight as it is said: whole where it is, else to a tenth."""
    return str(weight) if weight.denominator == 1 else f"{float(weight):.1f}"
