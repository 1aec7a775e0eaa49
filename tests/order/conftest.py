"""The exact planner's cost by trying every string of leads; written from the specification alone."""

from collections.abc import Callable
from itertools import product
from math import inf

import pytest

from coach.order.opening import opening_no
from coach.order.request import OrderRequest

Cost = tuple[int, int, int, int, tuple[bool, ...]]
Priced = tuple[Cost, tuple[int, ...]]


def _price(request: OrderRequest, leads: tuple[int, ...]) -> Cost | None:
    """Return the cost tuple of these leads on two canvases; None if the band or the streak forbids them."""
    opens = opening_no(request.seed, 2)
    painted = [(run.pass_no, max(1, run.weight), run.order[0]) for run in request.history]
    planned = [(run.pass_no, max(1, run.weight), j) for run, j in zip(request.runs, leads, strict=True)]
    whole = painted + planned
    weight_of: dict[int, int] = {}
    for pass_no, weight, _ in whole:
        weight_of[pass_no] = weight_of.get(pass_no, 0) + weight
    band = 2 * max(weight for _, weight, _ in whole)
    imbalance = streak = excess = repeats = 0
    for k, (pass_no, weight, lead) in enumerate(whole):
        repeated = k > 0 and lead == whole[k - 1][2]
        streak = streak + 1 if repeated else 1
        imbalance += weight if lead == 0 else -weight
        if k < len(painted):
            continue
        forced = request.runs[k - len(painted)].lead is not None
        if (streak > 3 and not forced) or abs(imbalance) > band:
            return None
        streak = min(streak, 3)
        repeats += repeated
        last = k == len(whole) - 1
        if last or whole[k + 1][0] != pass_no:
            tolerance = max(1, weight_of[pass_no] * 5 // 100)
            if last:
                tolerance = min(tolerance, max(1, sum(weight_of.values()) * 2 // 100))
            excess += max(0, abs(imbalance) - tolerance)
    changed = sum(old[0] != new for old, new in zip(request.earlier, leads, strict=False))
    return excess, repeats, changed, abs(imbalance), tuple(lead != opens for lead in leads)


@pytest.fixture(scope="session")
def price() -> Callable[[OrderRequest, tuple[int, ...]], Cost | None]:
    return _price


@pytest.fixture(scope="session")
def best_by_trying() -> Callable[[OrderRequest], Priced | None]:
    """Return the best cost and leads among all strings that keep the wishes; None if none is allowed.

    Where every lead was announced, the end is no worse than announced, or the tolerance, if possible.
    """

    def find(request: OrderRequest) -> Priced | None:
        choices = [(0, 1) if run.lead is None else (run.lead,) for run in request.runs]
        tried = [(_price(request, leads), leads) for leads in product(*choices)]
        priced = [(cost, leads) for cost, leads in tried if cost is not None]
        limit = _announced_end(request)
        return min((p for p in priced if p[0][3] <= limit), default=min(priced, default=None))

    return find


def _announced_end(request: OrderRequest) -> float:
    """Return the imbalance at the end as announced, or the tolerance; infinite if not all is known."""
    old: list[int | None] = [order[0] for order in request.earlier]
    old += [None] * (len(request.runs) - len(old))
    leads = [lead if run.lead is None else run.lead for run, lead in zip(request.runs, old, strict=True)]
    if None in leads:
        return inf
    weights = [(run.pass_no, max(1, run.weight)) for run in request.history]
    weights += [(run.pass_no, max(1, run.weight)) for run in request.runs]
    signs = [1 if lead == 0 else -1 for lead in [run.order[0] for run in request.history] + leads]
    end = abs(sum(sign * weight for sign, (_, weight) in zip(signs, weights, strict=True)))
    whole = sum(weight for _, weight in weights)
    last = sum(weight for pass_no, weight in weights if pass_no == weights[-1][0])
    return float(max(end, min(max(1, last * 5 // 100), max(1, whole * 2 // 100))))
