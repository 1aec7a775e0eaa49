"""The order of the canvases for every run to come."""

from typing import NamedTuple

from coach.order.batches import Batches, in_batches, unkept_wishes
from coach.order.even_turns_two import even_turns_of_two, least_apart
from coach.order.remarks import remarks_on
from coach.order.request import Order, OrderRequest, check_request
from coach.order.strategies import orders_by_rule
from coach.plan.strategy import Strategy


class OrderPlan(NamedTuple):
    """The answer to an OrderRequest.

    Attributes:
        orders: The order of each run to come; every canvas that is not away stands in it once.
        unrepairable: Seconds between the leads at the end that no order could avoid (two canvases), or that
            this plan leaves (three and more; rounded up).
        remarks: Sentences for the painter: wishes that could not be kept, what wishes cost, what cannot be
            evened out.
    """

    orders: tuple[Order, ...]
    unrepairable: int
    remarks: tuple[str, ...]


def plan_orders(request: OrderRequest) -> OrderPlan:
    """Return the order of the canvases for every run to come.

    Pure and deterministic: the same request gives the same plan on every machine. History is taken as it is;
    what remains is planned so that the balance of the whole returns.

    Raises:
        OrderError: The request cannot be: see `check_request`.
    """
    check_request(request)
    remaining = tuple(c for c in range(request.canvas_count) if any(c not in run.away for run in request.runs))
    orders: tuple[Order, ...] = ((),) * len(request.runs)
    left, said = 0, unkept_wishes(request)
    if remaining:
        inner = _without_withdrawn(request, remaining)
        found, least = _planned(inner)
        orders = tuple(tuple(remaining[i] for i in order) for order in found)
        free = _without_wishes(inner)
        left, more = remarks_on(inner, found, least, None if free is None else (free, _planned(free)[0]))
        said = (*said, *more)
    return OrderPlan(orders=orders, unrepairable=left, remarks=said)


def _planned(request: OrderRequest) -> tuple[tuple[Order, ...], int]:
    """Return the order of each run, and the least that the leads can be apart at the end (two canvases; else 0)."""
    batches, count = in_batches(request), request.canvas_count
    least = least_apart(batches) if count == 2 else 0  # noqa: PLR2004
    orders = _batch_orders(request, batches, least)
    return tuple(order for order, one in zip(orders, batches.ahead, strict=True) for _ in range(one.run_count)), least


def _batch_orders(request: OrderRequest, batches: Batches, least: int) -> tuple[Order, ...]:
    count = request.canvas_count
    if request.strategy is not Strategy.EVEN_TURNS:
        return orders_by_rule(request.strategy, count, batches, request.seed)
    if count == 2:  # noqa: PLR2004
        return even_turns_of_two(batches, request.seed, least)
    from coach.order.even_turns_more import even_turns_of_many  # noqa: PLC0415  most commissions have two canvases

    return even_turns_of_many(count, batches, request.seed)


def _without_withdrawn(request: OrderRequest, remaining: Order) -> OrderRequest:
    """Return the request without the canvases that are in no run to come; the others are numbered anew from 0."""
    if len(remaining) == request.canvas_count:
        return request
    number = {canvas: i for i, canvas in enumerate(remaining)}

    def kept(order: Order) -> Order:
        return tuple(number[c] for c in order if c in number)

    return request._replace(
        canvas_count=len(remaining),
        names=tuple(request.names[c] for c in remaining) if request.names else (),
        runs=tuple(
            run._replace(
                away=frozenset(number[c] for c in run.away if c in number),
                begun=kept(run.begun),
                lead=number.get(run.lead) if run.lead is not None else None,
            )
            for run in request.runs
        ),
        history=tuple(run._replace(order=kept(run.order)) for run in request.history),
        earlier=tuple(map(kept, request.earlier)),
    )


def _without_wishes(request: OrderRequest) -> OrderRequest | None:
    """Return the request without wishes for the lead and without batches; None where there are none."""
    if request.canvas_count == 1 or (request.batch == 1 and all(run.lead is None for run in request.runs)):
        return None
    return request._replace(runs=tuple(run._replace(lead=None) for run in request.runs), batch=1, batch_done_count=0)
