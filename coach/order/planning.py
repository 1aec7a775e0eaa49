"""The order of the canvases on every run still to come.

Two canvases: the lead alternates, so that the canvas that ends a run begins the next, and passes open with
alternating leads. Three or more: the order rotates, so that every canvas takes every place in turn. After a
deviation the canvas that has led least comes first again, which brings the balance back.
"""

from coach.order.request import Order, OrderPlan, OrderRequest

_TWO = 2


def plan_orders(request: OrderRequest) -> OrderPlan:
    """Return the order of the canvases for every run of the request.

    Guarantee, without deviations: at any moment the leads of two canvases differ by at most one, in the whole
    work and in each pass; three or more canvases lead, and take every place, equally often within one.

    Source:
        AB/BA counterbalancing and the cyclic Latin square: standard designs of experiments, see ISO
        3534-3:2013 for the words (catalogue page seen).
    """
    strategy = request.strategy or ("snake" if request.canvas_count == _TWO else "rotation")
    tally = _Tally(request.canvas_count, opens_apart=strategy == "snake")
    for painted in request.history:
        tally.add(painted.pass_no, painted.order)
    orders: list[Order] = []
    for run in request.runs:
        order = _rotated(request.canvas_count, tally.next_lead(run.pass_no))
        tally.add(run.pass_no, order)
        orders.append(order)
    return OrderPlan(orders=tuple(orders))


def _rotated(count: int, lead: int) -> Order:
    return tuple((lead + step) % count for step in range(count))


class _Tally:
    """Leads so far, and who opened the last pass."""

    def __init__(self, count: int, *, opens_apart: bool) -> None:
        self._leads = [0] * count
        self._last = count - 1
        self._opens_apart = opens_apart
        self._opener: int | None = None
        self._pass_no: int | None = None

    def next_lead(self, pass_no: int) -> int:
        """Return the canvas with fewest leads; of several the next after the last lead, or after the opener."""
        count, fewest = len(self._leads), min(self._leads)
        after = self._last
        if self._opens_apart and pass_no != self._pass_no and self._opener is not None:
            after = self._opener
        return next(
            lead for step in range(1, count + 1) if self._leads[lead := (after + step) % count] == fewest
        )

    def add(self, pass_no: int, order: Order) -> None:
        """Count a run that was, or will be, painted in this order."""
        if not order:
            return
        if pass_no != self._pass_no:
            self._pass_no, self._opener = pass_no, order[0]
        self._leads[order[0]] += 1
        self._last = order[0]
