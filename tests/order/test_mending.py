"""After a deviation: the rest is mended, what was obeyed stays, and what cannot be repaired is said."""

from collections.abc import Callable
from itertools import product
from random import Random
from statistics import median

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from coach.order.measures import measure
from coach.order.planning import plan_orders
from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder, Strategy

Cost = tuple[int, int, int, int, tuple[bool, ...]]
Priced = tuple[Cost, tuple[int, ...]]
WEIGHTS = st.lists(st.integers(1, 60), min_size=2, max_size=24)


def runs_of(weights: list[int]) -> tuple[RunToOrder, ...]:
    return tuple(RunToOrder(pass_no=i // 5, weight=weight) for i, weight in enumerate(weights))


def painted(runs: tuple[RunToOrder, ...], orders: tuple[Order, ...]) -> tuple[PaintedRun, ...]:
    return tuple(
        PaintedRun(pass_no=run.pass_no, weight=run.weight, order=order)
        for run, order in zip(runs, orders, strict=False)
    )


@given(weights=WEIGHTS, canvases=st.integers(2, 6), data=st.data(), strategy=st.sampled_from(Strategy))
@settings(max_examples=150, deadline=None)
def test_planning_again_from_any_point_of_an_obeyed_plan_returns_its_rest(
    weights: list[int], canvases: int, data: st.DataObject, strategy: Strategy
) -> None:
    runs = runs_of(weights)
    seed = data.draw(st.integers(0, 5))
    plan = plan_orders(OrderRequest(canvas_count=canvases, runs=runs, strategy=strategy, seed=seed))
    done = data.draw(st.integers(1, len(runs) - 1))

    again = plan_orders(
        OrderRequest(
            canvas_count=canvases,
            runs=runs[done:],
            history=painted(runs, plan.orders[:done]),
            strategy=strategy,
            seed=seed,
            earlier=plan.orders[done:] if data.draw(st.booleans()) else (),
        )
    )

    assert again.orders == plan.orders[done:]
    assert (again.first_changed, again.changed) == (None, 0)


def after_a_slip(weights: list[int], slip_at: int) -> OrderRequest:
    """Return the request after the canvases were swapped in one run of the plan, everything else obeyed."""
    runs = runs_of(weights)
    orders = plan_orders(OrderRequest(canvas_count=2, runs=runs)).orders
    done = (*orders[:slip_at], orders[slip_at][::-1])
    return OrderRequest(
        canvas_count=2,
        runs=runs[slip_at + 1 :],
        history=painted(runs, done),
        earlier=orders[slip_at + 1 :],
    )


@given(weights=WEIGHTS, data=st.data())
@settings(max_examples=120, deadline=None)
def test_mending_never_leaves_more_than_not_mending_would(
    weights: list[int], data: st.DataObject, price: Callable[[OrderRequest, tuple[int, ...]], Cost | None]
) -> None:
    """Beyond the tolerance at the end, and unless the streak or the band forbids to go on as announced."""
    request = after_a_slip(weights, data.draw(st.integers(0, len(weights) - 2)))
    kept = price(request, tuple(order[0] for order in request.earlier))
    assume(kept is not None)
    mended = price(request, tuple(order[0] for order in plan_orders(request).orders))
    last_pass = sum(w for i, w in enumerate(weights) if i // 5 == (len(weights) - 1) // 5)
    tolerance = min(max(1, last_pass // 20), max(1, sum(weights) // 50))

    assert mended is not None
    assert kept is not None
    assert mended[3] <= max(kept[3], tolerance)


@given(weights=st.lists(st.integers(1, 60), min_size=2, max_size=9), data=st.data())
@settings(max_examples=80, deadline=None)
def test_the_mended_rest_has_the_least_excess_and_says_what_is_left(
    weights: list[int],
    data: st.DataObject,
    best_by_trying: Callable[[OrderRequest], Priced | None],
    price: Callable[[OrderRequest, tuple[int, ...]], Cost | None],
) -> None:
    request = after_a_slip(weights, data.draw(st.integers(0, len(weights) - 2)))
    request = OrderRequest(canvas_count=2, runs=request.runs, history=request.history)
    plan = plan_orders(request)
    found = best_by_trying(request)
    settled = sum(run.weight if run.order[0] == 0 else -run.weight for run in request.history)
    sums = (
        abs(settled + sum(sign * run.weight for sign, run in zip(signs, request.runs, strict=True)))
        for signs in product((1, -1), repeat=len(request.runs))
    )

    assert plan.unrepairable == min(sums)
    assume(found is not None)
    cost = price(request, tuple(order[0] for order in plan.orders))
    assert cost is not None
    assert found is not None
    assert cost[0] == found[0][0]


def test_the_announced_end_is_kept_where_mending_would_leave_more() -> None:
    """Without that limit it would save an excess at a pass end and leave 5 instead of 1 (found by search)."""
    weights = (2, 1, 5, 7, 6)
    runs = tuple(RunToOrder(pass_no=i // 2, weight=weight) for i, weight in enumerate(weights))
    history = (PaintedRun(pass_no=0, weight=4, order=(1, 0)),)
    earlier = ((0, 1), (1, 0), (0, 1), (1, 0), (0, 1))
    kept = plan_orders(OrderRequest(canvas_count=2, runs=runs, history=history, earlier=earlier))
    free = plan_orders(OrderRequest(canvas_count=2, runs=runs, history=history))

    assert measure(2, (*history, *painted(runs, kept.orders))).imbalance == 1
    assert measure(2, (*history, *painted(runs, free.orders))).imbalance == 5


def test_a_slip_on_the_last_run_is_told_to_be_beyond_repair() -> None:
    history = (PaintedRun(pass_no=0, weight=90, order=(0, 1)), PaintedRun(pass_no=0, weight=60, order=(0, 1)))
    plan = plan_orders(OrderRequest(canvas_count=2, runs=(RunToOrder(pass_no=0, weight=20),), history=history))

    assert plan.orders == ((1, 0),)
    assert plan.unrepairable == 130
    assert plan.remarks == ("130 of 170 weighted minutes of lead cannot be evened out any more.",)


def test_the_first_change_and_the_number_of_changes_are_told() -> None:
    request = after_a_slip([20] * 12, 3)
    plan = plan_orders(request)
    differing = [i for i, (a, b) in enumerate(zip(plan.orders, request.earlier, strict=True)) if a != b]

    assert differing
    assert (plan.first_changed, plan.changed) == (differing[0], len(differing))


def test_after_a_slip_an_announced_order_without_a_walk_is_kept() -> None:
    history = tuple(PaintedRun(pass_no=0, weight=10, order=order) for order in ((0, 1, 2, 3), (1, 0, 2, 3)))
    runs = (RunToOrder(pass_no=0, weight=10),)

    free = plan_orders(OrderRequest(canvas_count=4, runs=runs, history=history))
    kept = plan_orders(OrderRequest(canvas_count=4, runs=runs, history=history, earlier=((3, 0, 1, 2),)))

    assert free.orders == ((3, 2, 0, 1),)
    assert (kept.orders, kept.changed) == (((3, 0, 1, 2),), 0)


def test_far_orders_are_laid_out_in_rows_when_absences_are_many() -> None:
    """With 12 canvases one order a plan is looked for exactly; all are complete and the leads stay shared."""
    runs = tuple(
        RunToOrder(pass_no=i // 5, weight=20, away=frozenset({i % 12} if i % 4 == 1 else ())) for i in range(48)
    )
    orders = plan_orders(OrderRequest(canvas_count=12, runs=runs)).orders
    leads = [order[0] for order in orders]

    assert all(len(order) == 12 - len(run.away) for run, order in zip(runs, orders, strict=True))
    assert max(leads.count(canvas) for canvas in range(12)) <= 8


def carry_over_after_slips(canvases: int, seed: int, *, mend: bool) -> float:
    """Return carry-over spread / heaviest weight after 60 runs, neighbours swapped in 30 % of them."""
    chance = Random(seed)  # noqa: S311 - a simulation, not secrecy
    runs = runs_of([chance.randint(8, 60) for _ in range(60)])
    plan = plan_orders(OrderRequest(canvas_count=canvases, runs=runs)).orders
    done: list[PaintedRun] = []
    for i, run in enumerate(runs):
        asked = OrderRequest(canvas_count=canvases, runs=runs[i:], history=tuple(done))
        order = list(plan_orders(asked).orders[0] if mend else plan[i])
        if chance.random() < 0.3:
            k = int(chance.random() * (canvases - 1))
            order[k], order[k + 1] = order[k + 1], order[k]
        done.append(PaintedRun(pass_no=run.pass_no, weight=run.weight, order=tuple(order)))
    return float(measure(canvases, done).carry_over_spread) / max(run.weight for run in runs)


@pytest.mark.parametrize("canvases", [3, 4, 5])
def test_after_many_slips_on_more_canvases_carry_over_stays_even(canvases: int) -> None:
    """Measured, not proved: facts/order.md part 1, section 6 has 1.7 to 1.8 mended, 4.3 to 4.7 kept."""
    mended = median(carry_over_after_slips(canvases, seed, mend=True) for seed in range(9))
    kept = median(carry_over_after_slips(canvases, seed, mend=False) for seed in range(9))

    assert mended <= 2.5
    assert mended <= 0.6 * kept
