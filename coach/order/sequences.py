"""Strategies that follow a fixed sequence of orders, whatever the weights."""

from collections.abc import Callable

from coach.order.batches import Batch
from coach.order.ledger import Ledger
from coach.order.opening import opening_no
from coach.order.request import Order
from coach.order.thue_morse import digit_sum
from coach.order.williams import rotation_rows, rows_from, williams_rows

NextOrder = Callable[[Ledger, Batch], Order]
"""What comes next, given what was booked so far; wishes and absences are applied afterwards."""


def fixed(canvas_count: int, _seed: int) -> NextOrder:
    """Return the rule: the canvases in the plan's order, always."""
    order = rotation_rows(canvas_count)[0]
    return lambda _ledger, _batch: order


def snake(canvas_count: int, seed: int) -> NextOrder:
    """Return the rule: each run begins where the last one ended and goes back the same way."""
    first = rotation_rows(canvas_count)[opening_no(seed, canvas_count)]
    return lambda ledger, _batch: ledger.last[::-1] or first


def mirror(canvas_count: int, seed: int) -> NextOrder:
    """Return the rule: there, back, back, there, and so on."""
    there = rotation_rows(canvas_count)[opening_no(seed, canvas_count)]
    return lambda ledger, _batch: there[::-1] if ledger.batch_count % 4 in {1, 2} else there


def nested_mirror(canvas_count: int, seed: int) -> NextOrder:
    """Return the rule: the cyclic row whose number is the digit sum of the run's number in base n."""
    rows = rows_from(rotation_rows(canvas_count), opening_no(seed, canvas_count))
    base = max(2, canvas_count)
    return lambda ledger, _batch: rows[digit_sum(ledger.batch_count, base) % canvas_count]


def rotation(canvas_count: int, seed: int) -> NextOrder:
    """Return the rule: the rows of the cyclic Latin square in turn."""
    return _in_turn(rows_from(rotation_rows(canvas_count), opening_no(seed, canvas_count)))


def williams(canvas_count: int, seed: int) -> NextOrder:
    """Return the rule: the rows of the Williams design in turn."""
    rows = williams_rows(canvas_count)
    return _in_turn(rows_from(rows, opening_no(seed, len(rows))))


def _in_turn(rows: tuple[Order, ...]) -> NextOrder:
    return lambda ledger, _batch: rows[ledger.batch_count % len(rows)]
