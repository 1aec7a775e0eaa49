"""How often the palette goes to another canvas."""

from collections.abc import Iterable

from coach.order.request import PaintedRun


def count_walks(batches: Iterable[PaintedRun]) -> tuple[int, int]:
    """Return the changes from canvas to canvas, and how many of them no order can avoid.

    Args:
        batches: What is painted, runs that share an order and are painted together joined; no order is empty.
    """
    within = between = 0
    at: int | None = None
    for batch in batches:
        within += len(batch.order) - 1
        between += at not in {None, batch.order[0]}
        at = batch.order[-1]
    return within + between, within
