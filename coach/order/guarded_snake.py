"""Guarded snake and Williams snake: back the way one came, unless that unbalances the rows of the design."""

from coach.order.batches import Batch
from coach.order.exact_next import exact_next_order
from coach.order.ledger import SHARE, Ledger
from coach.order.opening import opening_no
from coach.order.request import Order
from coach.order.williams import rows_from, williams_rows
from coach.order.wishes import honoured

SLIP_CAP = 2
"""After a slip an order without a walk is kept while no spread passes so many times the largest weight."""

EXACT_WORK = 600_000
"""Steps that the exact orders of one plan may take together; a tenth of a second at most (measured)."""


class GuardedSnake:
    """Takes the mirror of the last row while the row loads stay within the cap, else the row of least load.

    For an even number of canvases every place and every pair of neighbours belongs to exactly one row, for an
    odd number to two; so the cap on row loads caps lead, place and carry-over (twice the cap for odd
    numbers). With an order booked that is no row (a slip, or a canvas away), orders are looked for one by one
    until EXACT_WORK is spent; the rest of the plan, far off, is laid out in rows again.
    """

    def __init__(self, canvas_count: int, seed: int, *, heaviest: int, factor: int) -> None:
        rows = williams_rows(canvas_count)
        self._rows = rows_from(rows, opening_no(seed, len(rows)))
        self._known = frozenset(rows)
        self._cap = factor * heaviest * SHARE
        self._slip_cap = SLIP_CAP * heaviest * SHARE
        self._exact_left = max(1, EXACT_WORK // (2**canvas_count * canvas_count**2))

    def __call__(self, ledger: Ledger, batch: Batch) -> Order:
        """Return the order for the next batch."""
        whole = len(batch.present) == ledger.canvas_count and any(_begins(row, batch.prefix) for row in self._rows)
        if whole and (self._exact_left == 0 or ledger.load_of.keys() <= self._known):
            return self._row(ledger, batch)
        kept = self._order_kept(ledger, batch)
        if kept:
            return kept
        if self._exact_left == 0:
            return self._row(ledger, batch)
        self._exact_left -= 1
        return exact_next_order(ledger, batch.present, batch.weight, batch.prefix)

    def _row(self, ledger: Ledger, batch: Batch) -> Order:
        loads = {row: ledger.load_of.get(row, 0) for row in self._rows}
        back = ledger.last[::-1]
        if back in loads and _begins(back, batch.prefix):
            raised = loads[back] + batch.weight * SHARE
            others = [load for row, load in loads.items() if row != back]
            if max(raised, *others) - min(raised, *others) <= self._cap:
                return back
        fitting = [row for row in self._rows if _begins(row, batch.prefix)]
        return min(fitting, key=lambda row: (loads[row], ledger.at not in {None, row[0]}))

    def _order_kept(self, ledger: Ledger, batch: Batch) -> Order:
        """Return the announced order or the way back if it needs no walk and keeps the spreads, else ()."""
        for order in (batch.announced[0], ledger.last[::-1]):
            fits = set(order) == set(batch.present) and order == honoured(order, batch)
            if not fits or (order[0] != ledger.at and not batch.begun_count):
                continue
            if (
                ledger.lead_spread(order, batch.weight) <= self._slip_cap
                and ledger.carry_over_spread(order, batch.weight) <= self._slip_cap
            ):
                return order
        return ()


def _begins(row: Order, prefix: Order) -> bool:
    return row[: len(prefix)] == prefix
