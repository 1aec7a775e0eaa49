"""The strategies that look at no weights, the rows and draws they share, and what each strategy promises."""

from collections.abc import Sequence
from functools import cache
from random import Random
from typing import Final, TypeVar

from coach.order.batches import Batches, honoured
from coach.order.request import Order
from coach.plan.strategy import Strategy

Item = TypeVar("Item")

LEADS_IN_BLOCK: Final = 2
"""By lot, each of two canvases leads so often in a block; with more, a block is one whole Williams design."""

PROMISES: Final = {
    Strategy.EVEN_TURNS: (
        "For nearly every commission: the minutes each canvas leads end as even as the runs allow, within 2 % wherever "
        "that can be, with few extra changes of canvas."
    ),
    Strategy.THERE_AND_BACK: (
        "For runs of about equal length: you never change canvas between runs, but nothing evens out long and short "
        "runs."
    ),
    Strategy.BY_ROTATION: (
        "For a round you can learn by heart: every canvas leads equally often, however long the runs are."
    ),
    Strategy.BY_LOT: (
        "For comparing the canvases as in an experiment: chance decides, and every canvas leads equally often in each "
        "block of runs."
    ),
    Strategy.ALWAYS_THE_SAME: (
        "For one canvas that is to teach the others: it always leads, and what it teaches is never shared out."
    ),
}
"""What each strategy is good for and what it guarantees, without wishes, absences and slips."""


def promise(strategy: Strategy, canvas_count: int, *, batch: int = 1) -> str:
    """Return what a strategy is good for and what it guarantees, for so many canvases and runs in a batch."""
    if canvas_count == 1:
        return "With one canvas there is no lead to share."
    said = PROMISES[strategy]
    if strategy is Strategy.THERE_AND_BACK and canvas_count > 2:  # noqa: PLR2004
        said = f"{said} Only two of the {canvas_count} canvases ever lead."
    return said if batch == 1 else f"{said} The runs of a batch, up to {batch}, count as one run here."


def orders_by_rule(strategy: Strategy, canvas_count: int, batches: Batches, seed: int) -> tuple[Order, ...]:
    """Return the order of each batch by a strategy other than even turns."""
    opens = opening_no(seed, canvas_count)
    last = next((run.order for run in reversed(batches.painted) if run.order), ())
    done = len(batches.painted)
    first = tuple((opens + step) % canvas_count for step in range(canvas_count))
    rows = [tuple((canvas + opens) % canvas_count for canvas in row) for row in williams_rows(canvas_count)]
    if strategy is Strategy.BY_LOT:
        rows = _drawn(canvas_count, seed, done + len(batches.ahead))
    orders = []
    for batch in batches.ahead:
        base = rows[done % len(rows)]
        if strategy is Strategy.THERE_AND_BACK:
            base = last[::-1] or first
        elif strategy is Strategy.ALWAYS_THE_SAME:
            base = tuple(range(canvas_count))
        order = honoured(base, batch)
        orders.append(order)
        last, done = (order, done + 1) if order else (last, done)
    return tuple(orders)


def _drawn(canvas_count: int, seed: int, most: int) -> list[Order]:
    """Return at least so many orders in blocks, each shuffled by the seed, every arrangement equally likely.

    Source:
        Permuted-block randomisation: Hill (1951), Pocock (1983) (from memory).
    """
    chance = Random(seed)  # noqa: S311 - fairness, not secrecy
    drawn: list[Order] = []
    while len(drawn) < max(1, most):
        drawn.extend(shuffled(block_rows(canvas_count), chance))
    return drawn


def block_rows(canvas_count: int) -> tuple[Order, ...]:
    """Return the orders of one block before they are shuffled."""
    return williams_rows(canvas_count) * (LEADS_IN_BLOCK if canvas_count == 2 else 1)  # noqa: PLR2004


@cache
def williams_rows(canvas_count: int) -> tuple[Order, ...]:
    """Return the rows of a Williams design: n rows for an even number of canvases, 2n for an odd one.

    Each canvas stands equally often in each place, and each ordered pair of canvases equally often side by
    side. The rows are closed under mirroring: row r backwards is row r + n/2 for even n, row r + n for odd n.

    Source:
        E. J. Williams, Experimental designs balanced for the estimation of residual effects of treatments,
        Aust. J. Sci. Res. A 2 (1949) 149-168 (summary seen: n rows suffice for even n, 2n for odd n).
    """
    base = [(step + 1) // 2 if step % 2 else canvas_count - step // 2 for step in range(1, canvas_count)]
    base.insert(0, 0)
    rows = tuple(tuple((canvas + shift) % canvas_count for canvas in base) for shift in range(canvas_count))
    if canvas_count % 2 == 0 or canvas_count == 1:
        return rows
    return rows + tuple(row[::-1] for row in rows)


def opening_no(seed: int, choices: int) -> int:
    """Return which of so many choices opens the work, 0-based: one throw of the seed."""
    return int(Random(seed).random() * choices)  # noqa: S311 - fairness, not secrecy


def shuffled(items: Sequence[Item], chance: Random) -> tuple[Item, ...]:
    """Return the items in an order drawn evenly from all orders.

    Written out because only `random()` keeps its stream from one version of Python to the next.

    Source:
        Fisher and Yates, Statistical Tables (1938), in the form of Durstenfeld, CACM 7 (1964) 420 (from
        memory).
    """
    drawn = list(items)
    for last in range(len(drawn) - 1, 0, -1):
        other = int(chance.random() * (last + 1))
        drawn[last], drawn[other] = drawn[other], drawn[last]
    return tuple(drawn)
