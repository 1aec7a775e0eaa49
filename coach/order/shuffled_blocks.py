"""Shuffled blocks: chance decides, but every block of runs is even."""

from random import Random

from coach.order.batches import Batch
from coach.order.ledger import Ledger
from coach.order.opening import shuffled
from coach.order.request import Order
from coach.order.williams import williams_rows

LEADS_IN_BLOCK = 2
"""With two canvases each leads so often in a block; with more, a block is one whole Williams design."""


def block_rows(canvas_count: int) -> tuple[Order, ...]:
    """Return the orders of one block before they are shuffled."""
    return williams_rows(canvas_count) * (LEADS_IN_BLOCK if canvas_count == 2 else 1)  # noqa: PLR2004


class ShuffledBlocks:
    """Draws blocks of orders, each shuffled by the seed, so that every arrangement is equally likely.

    Source:
        Permuted-block randomisation: Hill (1951), Pocock (1983) (from memory).
    """

    def __init__(self, canvas_count: int, seed: int) -> None:
        self._rows = block_rows(canvas_count)
        self._chance = Random(seed)  # noqa: S311 - fairness, not secrecy
        self._drawn: list[Order] = []

    def __call__(self, ledger: Ledger, _batch: Batch) -> Order:
        """Return the order for the batch that follows those in the ledger."""
        while len(self._drawn) <= ledger.batch_count:
            self._drawn.extend(shuffled(self._rows, self._chance))
        return self._drawn[ledger.batch_count]
