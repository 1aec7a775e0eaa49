"""How an order is bent to a wish, and what is said of wishes that cannot be kept."""

from itertools import pairwise

from coach.order.batches import Batch, batches_to_order
from coach.order.request import Order, OrderRequest


def honoured(base: Order, batch: Batch) -> Order:
    """Return the base order without absent canvases, with missing ones added and the wished ones first."""
    rest = [c for c in base if c in batch.present and c not in batch.prefix]
    missing = [c for c in batch.present if c not in batch.prefix and c not in base]
    return (*batch.prefix, *rest, *missing)


def canvas_name(request: OrderRequest, canvas: int) -> str:
    """Return the name of a canvas for a remark."""
    return request.names[canvas] if request.names else f"canvas {canvas + 1}"


def _label(request: OrderRequest, number: int) -> str:
    return request.runs[number].label or f"Run {number + 1}"


def unkept_wishes(request: OrderRequest) -> tuple[str, ...]:
    """Return a sentence for each wish that cannot be kept."""
    said: list[str] = []
    for number, run in enumerate(request.runs):
        label = _label(request, number)
        if len(run.away) == request.canvas_count:
            said.append(f"{label}: every canvas is away, so nothing can be painted.")
        if run.lead is None:
            continue
        name = canvas_name(request, run.lead)
        if run.lead in run.away:
            said.append(f"{label}: {name} should lead but is away; another canvas leads.")
        elif run.begun and run.begun[0] != run.lead:
            first = canvas_name(request, run.begun[0])
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
