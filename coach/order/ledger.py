"""The running account of an order of work: who was painted in which place, after whom, how heavily."""

from itertools import pairwise

from coach.order.request import Order

SHARE = 27_720
"""One weighted minute in the ledger's unit; the least common multiple of 1 to 12, so shares are whole."""


class Ledger:
    """Adds up orders, one batch after another; weights in the unit SHARE.

    A run on q canvases owes each of them 1/q of every place and each pair of them 1/q of the neighbourhoods.
    A run that lacks a canvas is booked less what it owes, so that absence is no debt; a run on all canvases
    owes the same to all and is booked as it is.

    Attributes:
        batch_count: Batches booked.
        last: The last order booked; () at the start.
        place: place[c][k], weight with which canvas c was painted in place k (0-based).
        follow: follow[a][b], weight with which b came straight after a within a run.
        lateness: lateness[c], sum of weight x (twice the place, counted from the middle one).
        load_of: Weight of each order of two canvases or more.
    """

    def __init__(self, canvas_count: int) -> None:
        self.canvas_count = canvas_count
        self.batch_count = 0
        self.last: Order = ()
        self.place = [[0] * canvas_count for _ in range(canvas_count)]
        self.follow = [[0] * canvas_count for _ in range(canvas_count)]
        self.lateness = [0] * canvas_count
        self.load_of: dict[Order, int] = {}

    @property
    def at(self) -> int | None:
        """The canvas where the palette stands; None before the first run."""
        return self.last[-1] if self.last else None

    def add(self, order: Order, weight: int) -> None:
        """Book a batch with this order; an empty order is none."""
        if not order:
            return
        load = weight * SHARE
        self.batch_count += 1
        self.last = order
        if len(order) > 1:
            self.load_of[order] = self.load_of.get(order, 0) + load
        for place, canvas in enumerate(order):
            self.place[canvas][place] += load
            self.lateness[canvas] += load * (2 * place - len(order) + 1)
        for before, after in pairwise(order):
            self.follow[before][after] += load
        if len(order) < self.canvas_count:
            self._book_what_is_owed(order, load // len(order))

    def lead_spread(self, order: Order, weight: int) -> int:
        """Return largest less smallest lead weight, after one more order."""
        leads = [row[0] for row in self.place]
        leads[order[0]] += weight * SHARE
        return max(leads) - min(leads)

    def carry_over_spread(self, order: Order, weight: int) -> int:
        """Return largest less smallest weight of an ordered pair of neighbours, after one more order."""
        new = set(pairwise(order))
        loads = [
            self.follow[a][b] + (weight * SHARE if (a, b) in new else 0)
            for a in range(self.canvas_count)
            for b in range(self.canvas_count)
            if a != b
        ]
        return max(loads) - min(loads)

    def _book_what_is_owed(self, order: Order, owed: int) -> None:
        for canvas in order:
            for place in range(len(order)):
                self.place[canvas][place] -= owed
            for other in order:
                if other != canvas:
                    self.follow[canvas][other] -= owed
