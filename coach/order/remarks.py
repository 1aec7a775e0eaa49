"""What the painter is told of a plan: what wishes cost, and what cannot be evened out."""

from fractions import Fraction
from math import ceil
from typing import Final

from coach.order.batches import prefix_of
from coach.order.measures import Leads, leads_of, measure
from coach.order.request import Order, OrderRequest, PaintedRun, counted
from coach.plan.strategy import OLDER_NAMES
from coach.text import counted as count_of

WORTH_A_WORD: Final = 50
"""Leads that end apart are spoken of beyond one part in so many of the work (2 %)."""

_S_PER_MIN: Final = 60


def on_older_name(name: str | None) -> str:
    """Return what is said of a plan's older name for its order; empty where it means what it meant."""
    if name not in {"mirror", "nested mirror"}:
        return ""
    return f'"{name}" is painted as {OLDER_NAMES[name].value} now.'


def remarks_on(
    request: OrderRequest,
    orders: tuple[Order, ...],
    least: int,
    free: tuple[OrderRequest, tuple[Order, ...]] | None,
) -> tuple[int, tuple[str, ...]]:
    """Return what is left between the leads at the end, in seconds, and the sentences for the painter.

    Args:
        request: What was asked, for the canvases that remain.
        orders: The plan.
        least: The least that can be left, with two canvases.
        free: The request without wishes and its plan, to tell what the wishes cost; None if there are none.
    """
    if request.canvas_count == 1:
        return 0, ()
    whole = _whole(request, orders)
    leads = leads_of(request.canvas_count, whole)
    left = least if request.canvas_count == 2 else ceil(leads.imbalance)  # noqa: PLR2004
    said = (_on_rest(request, whole, leads, left), "" if free is None else _on_cost(request, whole, _whole(*free)))
    return left, tuple(sentence for sentence in said if sentence)


def _whole(request: OrderRequest, orders: tuple[Order, ...]) -> tuple[PaintedRun, ...]:
    """Return what was painted and what is planned as one sequence of runs."""
    planned = (PaintedRun(run.pass_no, run.weight, order) for run, order in zip(request.runs, orders, strict=True))
    return tuple(run._replace(weight=counted(run.weight)) for run in (*request.history, *planned))


def _on_rest(request: OrderRequest, whole: tuple[PaintedRun, ...], leads: Leads, left: int) -> str:
    weights = [run.weight for run in whole if len(run.order) > 1]
    if len(weights) < 2 or left <= max(1, sum(weights) // WORTH_A_WORD):  # noqa: PLR2004
        return ""
    more = " any more" if request.history else ""
    if request.canvas_count == 2:  # noqa: PLR2004
        return f"One canvas will lead {minutes(left)} more; no order can avoid it{more}."
    if left <= request.batch * max(weights):
        return ""
    most, least = (request.name_of(leads.weights.index(end(leads.weights))) for end in (max, min))
    return f"{most} will have led {minutes(left)} more than {least} at the end."


def _on_cost(request: OrderRequest, whole: tuple[PaintedRun, ...], free: tuple[PaintedRun, ...]) -> str:
    """Return what the wishes change against a plan without them; empty where that is nothing."""
    has_wish = any(prefix_of(run) != run.begun for run in request.runs)
    wish = " and ".join(["Your wishes for the lead"] * has_wish + ["the batches"] * (request.batch > 1))
    mine = measure(request.canvas_count, whole, batch=request.batch)
    other = measure(request.canvas_count, free)
    changes = mine.canvas_changes - other.canvas_changes
    apart = mine.imbalance - other.imbalance
    said = []
    if changes:
        said.append(f"{'cost' if changes > 0 else 'save'} {count_of(abs(changes), 'change')} of canvas")
    if apart >= _S_PER_MIN:
        said.append(f"leave the leads {minutes(apart)} further apart at the end")
    return f"{wish[:1].upper()}{wish[1:]} {' and '.join(said)}." if said and wish else ""


def minutes(weight: Fraction | int) -> str:
    """Return a weight in minutes as it is said: whole, to a tenth below ten."""
    whole = weight / Fraction(_S_PER_MIN)
    places = 0 if whole.denominator == 1 or whole >= 10 else 1  # noqa: PLR2004
    figure = f"{float(whole):.{places}f}"
    return f"{figure} minute{'' if figure == '1' else 's'}"
