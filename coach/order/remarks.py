"""What the painter is told about a plan: wishes not kept, what wishes cost, what cannot be repaired."""

from collections.abc import Callable
from math import ceil

from coach.order.balanced_snake import weight_step
from coach.order.batches import Batches, counted, prefix_of
from coach.order.leads import leads_of
from coach.order.measures import measure, weight_figure
from coach.order.request import Order, OrderRequest, PaintedRun, Strategy, default_strategy
from coach.order.tally import tally
from coach.order.unrepairable import least_imbalance

WORTH_A_WORD = 50
"""With two canvases, what cannot be repaired is said beyond one part in so many of the weight (2 %)."""

SPREAD_WORTH_A_WORD = 2
"""With three canvases and more, a spread of leads is said beyond so many times the heaviest run."""

Orders = Callable[[OrderRequest], tuple[Order, ...]]


def remarks_on(
    request: OrderRequest, batches: Batches, orders: tuple[Order, ...], plan: Orders
) -> tuple[int, tuple[str, ...]]:
    """Return what is left unrepaired, in weighted minutes, and the sentences for the painter.

    Args:
        request: What was asked, for the canvases that remain.
        batches: The same in batches.
        orders: The plan.
        plan: Makes another plan, to compare it with.
    """
    count = request.canvas_count
    if count == 1:
        return 0, ()
    whole = _whole(request, orders)
    left = _least_left(batches) if count == 2 else _lead_spread(count, whole)  # noqa: PLR2004
    said = (*_on_strategy(request, batches), *_on_rest(request, whole, left))
    if request.batch > 1 or any(run.lead is not None for run in request.runs):
        said = (*said, _on_cost(request, whole, plan))
    return left, said


def _whole(request: OrderRequest, orders: tuple[Order, ...]) -> tuple[PaintedRun, ...]:
    """Return what was painted and what is planned as one sequence of runs."""
    planned = (
        PaintedRun(pass_no=run.pass_no, weight=run.weight, order=order)
        for run, order in zip(request.runs, orders, strict=True)
    )
    return (*request.history, *planned)


def _on_rest(request: OrderRequest, whole: tuple[PaintedRun, ...], left: int) -> tuple[str, ...]:
    weights = [counted(run.weight) for run in whole if len(run.order) > 1]
    if request.canvas_count == 2:  # noqa: PLR2004
        if left <= max(1, sum(weights) // WORTH_A_WORD):
            return ()
        more = " any more" if request.history else ""
        return (f"{left} of {sum(weights)} weighted minutes of lead cannot be evened out{more}.",)
    if left <= SPREAD_WORTH_A_WORD * request.batch * max(weights, default=0):
        return ()
    return (f"The plan ends with {left} of {sum(weights)} weighted minutes between the leads.",)


def _lead_spread(canvas_count: int, whole: tuple[PaintedRun, ...]) -> int:
    """Return the lead spread in weighted minutes, rounded up."""
    shared = tally(run._replace(weight=counted(run.weight)) for run in whole if len(run.order) > 1)
    return ceil(leads_of(canvas_count, shared).imbalance)


def _least_left(batches: Batches) -> int:
    settled = sum(_signed(run.order[0], run.weight) for run in batches.painted if len(run.order) > 1)
    free = []
    for batch in batches.ahead:
        if len(batch.present) > 1 and batch.prefix:
            settled += _signed(batch.prefix[0], batch.weight)
        elif len(batch.present) > 1:
            free.append(batch.weight)
    return least_imbalance(settled, free)


def _signed(lead: int, weight: int) -> int:
    return weight if lead == 0 else -weight


def _on_strategy(request: OrderRequest, batches: Batches) -> tuple[str, ...]:
    strategy = request.strategy or default_strategy(request.canvas_count)
    if strategy is not Strategy.BALANCED_SNAKE:
        return ()
    if request.canvas_count > 2:  # noqa: PLR2004
        return ("The balanced snake is for two canvases; with more the Williams snake is used.",)
    step = weight_step(batches)
    if step == 1:
        return ()
    said = (
        f"Weights were counted in steps of {step} weighted minutes to plan in time; the weight of a run may "
        "be out by half a step, so the balance is a little less even than it could be."
    )
    return (said,)


def _on_cost(request: OrderRequest, whole: tuple[PaintedRun, ...], plan: Orders) -> str:
    free = request._replace(runs=tuple(run._replace(lead=None) for run in request.runs), batch=1, batch_done_count=0)
    measured = measure(request.canvas_count, whole, batch=request.batch)
    other = measure(request.canvas_count, _whole(free, plan(free)))
    wish = "The wishes for the lead and the batches" if request.batch > 1 else "The wishes for the lead"
    if request.batch > 1 and all(prefix_of(run) == run.begun for run in request.runs):
        wish = "The batches"
    return (
        f"{wish} leave {weight_figure(measured.imbalance)} instead of {weight_figure(other.imbalance)} of "
        f"{measured.weight} weighted minutes between the leads, with {measured.walks} instead of "
        f"{other.walks} walks."
    )
