"""Which neighbouring runs share one order, and how an order is bent to wishes and absences."""

from collections.abc import Iterable, Iterator
from itertools import chain, pairwise, repeat
from typing import NamedTuple

from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder, counted


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


def honoured(base: Order, batch: Batch) -> Order:
    """Return the base order without absent canvases, with missing ones added and the wished ones first."""
    rest = [c for c in base if c in batch.present and c not in batch.prefix]
    missing = [c for c in batch.present if c not in batch.prefix and c not in base]
    return (*batch.prefix, *rest, *missing)


def unkept_wishes(request: OrderRequest) -> tuple[str, ...]:
    """Return a sentence for each wish that cannot be kept."""
    said: list[str] = []
    for number, run in enumerate(request.runs):
        label = _label(request, number)
        if len(run.away) == request.canvas_count:
            said.append(f"{label}: every canvas is away, so nothing can be painted.")
        if run.lead is None:
            continue
        name = request.name_of(run.lead)
        if run.lead in run.away:
            said.append(f"{label}: {name} should lead but is away; another canvas leads.")
        elif run.begun and run.begun[0] != run.lead:
            first = request.name_of(run.begun[0])
            said.append(f"{label}: {name} should lead, but {first} has begun; it keeps the lead.")
    return (*said, *_split_batches(request))


def _split_batches(request: OrderRequest) -> tuple[str, ...]:
    if request.batch == 1:
        return ()
    batches = batches_to_order(request)
    said = []
    first = 0
    for before, after in pairwise(batches):
        first += before.run_count
        same = (before.pass_no, before.present) == (after.pass_no, after.present)
        torn = before.prefix[:1] and after.prefix[:1] and before.prefix[:1] != after.prefix[:1]
        if same and torn and before.run_count < request.batch and not before.begun_count:
            said.append(
                f"{_label(request, first)}: a batch is cut short here, because different canvases must lead before "
                "and after."
            )
    return tuple(said)


def _label(request: OrderRequest, number: int) -> str:
    return request.runs[number].label or f"Run {number + 1}"
