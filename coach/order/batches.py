"""Which neighbouring runs are painted on a canvas before changing over, and so share one order."""

from collections.abc import Iterable, Iterator
from itertools import chain, repeat
from typing import NamedTuple

from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder


class Batch(NamedTuple):
    """Neighbouring runs of one pass that share one order; a single run where runs are painted one by one.

    Attributes:
        pass_no: 0-based number of the pass.
        weight: Sum of the weights of its runs, those that are over included.
        present: Canvases to be painted, ascending.
        prefix: Canvases with which the order must begin: those that have begun, or the one wished to lead; all of them
            where runs of the batch are over.
        begun_count: How many of the prefix have begun.
        run_count: Number of its runs to come.
        announced: Orders announced for its runs, () for a run without one.
    """

    pass_no: int
    weight: int
    present: Order
    prefix: Order
    begun_count: int
    run_count: int
    announced: tuple[Order, ...]


class Batches(NamedTuple):
    """The whole work in batches: what is to come, the batch in hand included, and what was painted before."""

    ahead: tuple[Batch, ...]
    painted: tuple[PaintedRun, ...]


def in_batches(request: OrderRequest) -> Batches:
    """Return the runs to come and the history in batches."""
    before = request.history[: len(request.history) - request.batch_done_count]
    return Batches(batches_to_order(request), tuple(painted_batches(before, request.batch)))


def heaviest_of(batches: Batches) -> int:
    """Return the largest weight of a batch that has a lead, to come or painted; 1 if there is none."""
    ahead = [batch.weight for batch in batches.ahead if len(batch.present) > 1]
    return max(ahead + [run.weight for run in batches.painted if len(run.order) > 1], default=1)


def counted(weight: int) -> int:
    """Return the weight that is counted: a run without weight counts as 1."""
    return max(1, weight)


def prefix_of(run: RunToOrder) -> Order:
    """Return the canvases with which the order of this run must begin, leaving out an impossible wish."""
    if run.begun or run.lead is None or run.lead in run.away:
        return run.begun
    return (run.lead,)


def batches_to_order(request: OrderRequest) -> tuple[Batch, ...]:
    """Return the runs to come in batches: one pass, the same canvases, no contradicting wishes.

    The batch in hand weighs what all its runs weigh, and keeps the order in which the first of them were painted.
    """
    batches: list[Batch] = []
    room = 0
    for run, announced in zip(request.runs, chain(request.earlier, repeat(())), strict=False):
        one = _batch_of_one(run, announced, request.canvas_count)
        if room > 0 and _join(batches[-1], one):
            batches[-1] = _joined(batches[-1], one)
        elif batches:
            room = request.batch
            batches.append(one)
        else:
            room = request.batch - request.batch_done_count
            batches.append(_gone_on_with(one, request))
        room -= 1
    return tuple(batches)


def painted_batches(history: Iterable[PaintedRun], most: int) -> Iterator[PaintedRun]:
    """Yield what was painted, neighbours of one batch joined; empty runs are dropped."""
    held: PaintedRun | None = None
    held_count = 0
    for run in history:
        if not run.order:
            continue
        weight = counted(run.weight)
        same = held is not None and (held.pass_no, held.order) == (run.pass_no, run.order) and not run.begins_batch
        if held is not None and same and held_count < most:
            held = PaintedRun(pass_no=run.pass_no, weight=held.weight + weight, order=run.order)
            held_count += 1
            continue
        if held is not None:
            yield held
        held, held_count = PaintedRun(pass_no=run.pass_no, weight=weight, order=run.order), 1
    if held is not None:
        yield held


def _batch_of_one(run: RunToOrder, announced: Order, canvas_count: int) -> Batch:
    return Batch(
        pass_no=run.pass_no,
        weight=counted(run.weight),
        present=tuple(c for c in range(canvas_count) if c not in run.away),
        prefix=prefix_of(run),
        begun_count=len(run.begun),
        run_count=1,
        announced=(announced,),
    )


def _gone_on_with(one: Batch, request: OrderRequest) -> Batch:
    """Return the first batch with the runs of it that are over."""
    over = request.history[len(request.history) - request.batch_done_count :]
    if not over:
        return one
    return one._replace(weight=one.weight + sum(counted(run.weight) for run in over), prefix=over[-1].order)


def _join(batch: Batch, one: Batch) -> bool:
    return (batch.pass_no, batch.present) == (one.pass_no, one.present) and _agree(batch.prefix, one.prefix)


def _joined(batch: Batch, one: Batch) -> Batch:
    return batch._replace(
        weight=batch.weight + one.weight,
        prefix=max(batch.prefix, one.prefix, key=len),
        begun_count=max(batch.begun_count, one.begun_count),
        run_count=batch.run_count + 1,
        announced=batch.announced + one.announced,
    )


def _agree(a: Order, b: Order) -> bool:
    shorter = min(len(a), len(b))
    return a[:shorter] == b[:shorter]
