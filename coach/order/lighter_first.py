"""Lighter first: the canvas that has led least leads."""

from coach.order.batches import Batch
from coach.order.ledger import Ledger
from coach.order.opening import opening_no
from coach.order.request import Order


class LighterFirst:
    """Gives the lead to the canvas of least lead weight; of the others, those that came late go first.

    The spread of lead weights never passes the largest weight: the new spread is at most the larger of the
    old one and the weight added.
    """

    def __init__(self, canvas_count: int, seed: int) -> None:
        self._opens = opening_no(seed, canvas_count)

    def __call__(self, ledger: Ledger, batch: Batch) -> Order:
        """Return the order for the next batch; ties go to the canvas just painted, then in turn."""

        def turn(canvas: int) -> int:
            return (canvas - self._opens) % ledger.canvas_count

        lead = min(batch.present, key=lambda c: (ledger.place[c][0], c != ledger.at, turn(c)))
        rest = sorted((c for c in batch.present if c != lead), key=lambda c: (-ledger.lateness[c], turn(c)))
        return (lead, *rest)
