"""How far places and neighbours are apart, and the leads on the way: what the strategies are held to.

A run that lacks canvases owes each of those it has the same share of each place, and each pair of them the same.
"""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise

from coach.order.measures import SHARE
from coach.order.request import PaintedRun


def place_and_follow_spread(canvas_count: int, runs: Sequence[PaintedRun]) -> tuple[Fraction, Fraction]:
    """Return largest less smallest weight of a canvas in a place, and of an ordered pair of neighbours."""
    numbers = range(canvas_count)
    place = [[0] * canvas_count for _ in numbers]
    follow = [[0] * canvas_count for _ in numbers]
    for run in runs:
        order, weight = run.order, run.weight * SHARE
        share = weight // len(order) if len(order) < canvas_count else 0
        for no, canvas in enumerate(order):
            place[canvas][no] += weight
            for other_no, other in enumerate(order):
                follow[canvas][other] -= share * (other != canvas)
                place[canvas][other_no] -= share
        for before, after in pairwise(order):
            follow[before][after] += weight
    places = [load for row in place for load in row]
    pairs = [follow[a][b] for a in numbers for b in numbers if a != b]
    return Fraction(max(places) - min(places), SHARE), Fraction(max(pairs) - min(pairs), SHARE)


def peak(canvas_count: int, runs: Sequence[PaintedRun]) -> Fraction:
    """Return the largest spread of lead weights after any run; for two canvases max |D_k|."""
    led = [0] * canvas_count
    most = 0
    for run in runs:
        if len(run.order) < 2:
            continue
        led[run.order[0]] += run.weight * SHARE
        if len(run.order) < canvas_count:
            for canvas in run.order:
                led[canvas] -= run.weight * SHARE // len(run.order)
        most = max(most, max(led) - min(led))
    return Fraction(most, SHARE)
