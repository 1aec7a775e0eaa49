"""Puts the ordering of a plan's runs to the engine, and says what a deviation changed."""

from collections.abc import Sequence

from coach.order.planning import OrderPlan, plan_orders
from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder, Strategy
from coach.plan.commission import Plan, Run
from coach.session.journal_state import TurnRecord
from coach.session.work import Done, Orders, Work, batch_done_count

_S_PER_MIN = 60


def planned_orders(plan: Plan, runs: Sequence[Run], done: Done, absent: frozenset[int]) -> tuple[Orders, str]:
    """Return an order for every run, the rest planned from what was painted, and what is to be said of it."""
    orders, answer = _ask(plan, runs, done, absent, ())
    return orders, " ".join(answer.remarks)


def mended_orders(work: Work, runs: Sequence[Run], done: Done, record: TurnRecord) -> tuple[Orders, str]:
    """Return the orders after a turn that left the plan, near those announced, and what changed and why.

    Args:
        work: Where the work stood before the turn.
        runs: Every run there is now, those of `work` first.
        done: What is done of them, the turn included.
        record: The turn.
    """
    orders, answer = _ask(work.plan, runs, done, work.absent, work.orders)
    return orders, _what_changed(work, orders, record, answer)


def strategy_of(plan: Plan) -> Strategy | None:
    """Return the strategy that a plan names, or None for the default."""
    return Strategy(plan.order) if plan.order else None


def weight(run: Run) -> int:
    """Return the weighted minutes of a run on one canvas, a whole number of at least 1.

    Source:
        Planned minutes times difficulty, rounded: the definition of the ordering engine, ours.
    """
    return max(1, round(run.weighted_s / _S_PER_MIN))


def request_of(
    plan: Plan, runs: Sequence[Run], done: Done, absent: frozenset[int], earlier: Orders = ()
) -> tuple[OrderRequest, list[int]]:
    """Return what the engine is asked, and the numbers of the runs that the answer is about."""
    numbers = range(len(plan.canvases))
    pass_numbers = {one_pass.name: no for no, one_pass in enumerate(plan.passes)}
    of_returns = len(pass_numbers)
    canvas_numbers = {canvas.name: no for no, canvas in enumerate(plan.canvases)}
    ahead, to_order = [], []
    for no, run in enumerate(runs):
        left = done.left(plan, run, no, absent)
        if not left:
            continue
        begun = tuple(done.painted.get(no, ()))
        away = frozenset(c for c in numbers if c not in begun and c not in left)
        lead = canvas_numbers.get(run.lead) if run.lead else None
        ahead.append(no)
        to_order.append(
            RunToOrder(
                pass_no=pass_numbers.get(run.pass_name, of_returns),
                weight=weight(run),
                lead=lead,
                away=away,
                begun=begun,
                label=f"{run.pass_name} run {run.number}",
            )
        )
    coming = set(ahead)
    over = [no for no in done.painted if no not in coming]
    history = tuple(
        PaintedRun(
            pass_no=pass_numbers.get(runs[no].pass_name, of_returns),
            weight=weight(runs[no]),
            order=tuple(done.painted[no]),
            begins_batch=before is not None and _is_apart(plan, runs[no], done, before, no),
        )
        for before, no in zip([None, *over], over, strict=False)
    )
    announced = tuple(earlier[no] for no in ahead if no < len(earlier))
    request = OrderRequest(
        canvas_count=len(plan.canvases),
        runs=tuple(to_order),
        history=history,
        strategy=strategy_of(plan),
        seed=plan.seed,
        earlier=announced,
        batch=plan.batch,
        batch_done_count=batch_done_count(plan, runs, done, absent, ahead[0]) if ahead else 0,
        names=tuple(canvas.name for canvas in plan.canvases),
    )
    return request, ahead


def _is_apart(plan: Plan, run: Run, done: Done, before: int, no: int) -> bool:
    """Return whether a run that is over shared no batch with the one that ended before it.

    In a batch it was begun before that one ended; of runs on one canvas this says nothing, unless that is the only one
    left because the others were passed over, which ends a batch.
    """
    if done.spans[no][0] < done.spans[before][1]:
        return False
    order = done.painted[no]
    others = (c for c, canvas in enumerate(plan.canvases) if c not in order and run.is_for(canvas.name))
    return len(order) > 1 or any(done.is_closed(run, no, c) for c in others)


def _ask(
    plan: Plan, runs: Sequence[Run], done: Done, absent: frozenset[int], earlier: Orders
) -> tuple[Orders, OrderPlan]:
    request, ahead = request_of(plan, runs, done, absent, earlier)
    answer = plan_orders(request)
    planned: dict[int, Order] = dict(zip(ahead, answer.orders, strict=True))
    orders = tuple(planned.get(no, tuple(done.painted.get(no, ()))) for no in range(len(runs)))
    return orders, answer


def _what_changed(work: Work, orders: Orders, record: TurnRecord, answer: OrderPlan) -> str:
    turn = record.turn
    if record.went_other_way:
        why = f"{turn.canvas} was taken out of turn"
    elif record.is_skipped:
        why = f"{turn.canvas} was skipped in {turn.pass_name} run {turn.run}"
    else:
        why = "the plan was left"
    if record.is_marked:
        why = f"{turn.pass_name} run {turn.run} comes again on {turn.canvas} at the end"
    changed = [
        no
        for no in range(work.run_no + 1, len(work.orders))
        if orders[no] and work.orders[no] and orders[no][0] != work.orders[no][0]
    ]
    if not changed:
        return " ".join([f"{why}; nothing ahead had to change.", *answer.remarks])
    first = work.runs[changed[0]]
    lead = work.plan.canvases[orders[changed[0]][0]].name
    runs = "1 run ahead changes its lead" if len(changed) == 1 else f"{len(changed)} runs ahead change their lead"
    said = f"{why}: {runs}, first {first.pass_name} run {first.number}, which {lead} now leads."
    return " ".join([said, *answer.remarks])
