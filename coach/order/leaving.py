"""A canvas in none of the runs to come no longer counts: the order is planned for those that remain."""

from coach.order.request import Order, OrderRequest


def remaining_canvases(request: OrderRequest) -> Order:
    """Return the canvases that are in at least one run to come, ascending."""
    return tuple(c for c in range(request.canvas_count) if any(c not in run.away for run in request.runs))


def without_gone(request: OrderRequest, remaining: Order) -> OrderRequest:
    """Return the request with the remaining canvases numbered anew from 0, in the same sequence.

    Args:
        request: The request for all canvases.
        remaining: The canvases kept, ascending; at least one.
    """
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
        earlier=tuple(kept(order) for order in request.earlier),
    )
