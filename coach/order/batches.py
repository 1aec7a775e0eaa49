"""Which neighbouring runs are painted on a canvas before changing over, and so share one order."""

from collections.abc import Iterator
from dataclasses import dataclass

from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Neighbouring runs of one pass that share one order; a single run where runs are painted one by one.

    Attributes:
        pass_no: 0-based number of the pass.
        weight: Sum of the weights of its runs.
        present: Canvases to be painted, ascending.
        prefix: Canvases with which the order must begin: those that have begun, or the one wished to lead.
        begun_count: How many of the prefix have begun.
        run_count: Number of runs.
        announced: Orders announced for its runs, () for a run without one.
    """

    pass_no: int
    weight: int
    present: Order
    prefix: Order
    begun_count: int
    run_count: int
    announced: tuple[Order, ...]


def counted(weight: int) -> int:
    """Return the weight that is counted: a run without weight counts as 1."""
    return max(1, weight)


def prefix_of(run: RunToOrder) -> Order:
    """Return the canvases with which the order of this run must begin, leaving out an impossible wish."""
    if run.begun or run.lead is None or run.lead in run.away:
        return run.begun
    return (run.lead,)


def batches_to_order(request: OrderRequest) -> tuple[Batch, ...]:
    """Return the runs to come in batches: one pass, the same canvases, no contradicting wishes."""
    groups: list[list[int]] = []
    room = 0
    prefix: Order = ()
    for i, run in enumerate(request.runs):
        wished = prefix_of(run)
        before = request.runs[groups[-1][0]] if groups else None
        joins = before is not None and room > 0 and (run.pass_no, run.away) == (before.pass_no, before.away)
        if joins and _agree(prefix, wished):
            groups[-1].append(i)
            prefix = max(prefix, wished, key=len)
        else:
            groups.append([i])
            prefix = wished
            room = request.batch - (_open_batch_len(request) if i == 0 else 0)
        room -= 1
    return tuple(_batch(request, group) for group in groups)


def painted_batches(history: tuple[PaintedRun, ...], most: int) -> Iterator[PaintedRun]:
    """Yield what was painted, neighbours of one pass and one order joined; empty runs are dropped."""
    held: PaintedRun | None = None
    held_count = 0
    for run in history:
        if not run.order:
            continue
        weight = counted(run.weight)
        same = held is not None and (held.pass_no, held.order) == (run.pass_no, run.order)
        if held is not None and same and held_count < most:
            held = PaintedRun(pass_no=run.pass_no, weight=held.weight + weight, order=run.order)
            held_count += 1
            continue
        if held is not None:
            yield held
        held, held_count = PaintedRun(pass_no=run.pass_no, weight=weight, order=run.order), 1
    if held is not None:
        yield held


def _agree(a: Order, b: Order) -> bool:
    shorter = min(len(a), len(b))
    return a[:shorter] == b[:shorter]


def _open_batch_len(request: OrderRequest) -> int:
    """Return how many painted runs belong to the batch in hand; 0 unless its first run to come has begun."""
    first = request.runs[0]
    if not first.begun:
        return 0
    count = 0
    for run in reversed(request.history):
        if run.pass_no != first.pass_no or not _agree(run.order, first.begun):
            break
        count += 1
    return count % request.batch


def _batch(request: OrderRequest, group: list[int]) -> Batch:
    runs = [request.runs[i] for i in group]
    begun = max((run.begun for run in runs), key=len)
    return Batch(
        pass_no=runs[0].pass_no,
        weight=sum(counted(run.weight) for run in runs),
        present=tuple(c for c in range(request.canvas_count) if c not in runs[0].away),
        prefix=max((prefix_of(run) for run in runs), key=len),
        begun_count=len(begun),
        run_count=len(runs),
        announced=tuple(request.earlier[i] if i < len(request.earlier) else () for i in group),
    )
