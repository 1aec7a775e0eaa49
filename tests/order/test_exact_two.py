"""The exact planner for two canvases against every string of leads, and numpy against plain lists."""

from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from coach.order.balanced_snake import balanced_orders
from coach.order.batches import in_batches
from coach.order.exact_two import TwoCanvases, best_leads
from coach.order.planning import plan_orders
from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder
from coach.order.stages import Stage, Start

BestByTrying = Callable[[OrderRequest], tuple[object, tuple[int, ...]] | None]
ORDERS = ((0, 1), (1, 0))


def runs_of(weights: list[int], pass_len: int, leads: list[int | None] | None = None) -> tuple[RunToOrder, ...]:
    wishes = leads or [None] * len(weights)
    return tuple(
        RunToOrder(pass_no=i // pass_len, weight=weight, lead=lead)
        for i, (weight, lead) in enumerate(zip(weights, wishes, strict=True))
    )


@st.composite
def requests(draw: st.DrawFn, *, most: int = 8, wishes: bool = False, absences: bool = False) -> OrderRequest:
    weights = draw(st.lists(st.integers(0, 60), min_size=1, max_size=most))
    wish = st.sampled_from([None, None, None, 0, 1]) if wishes else st.none()
    leads = draw(st.lists(wish, min_size=len(weights), max_size=len(weights)))
    history = draw(st.lists(st.tuples(st.integers(1, 60), st.sampled_from(ORDERS)), max_size=4))
    runs = runs_of(weights, draw(st.integers(1, 5)), leads)
    if absences:
        away = st.sampled_from([frozenset[int](), frozenset({0}), frozenset({1})])
        runs = tuple(run._replace(away=draw(away)) for run in runs)
    return OrderRequest(
        canvas_count=2,
        runs=runs,
        history=tuple(PaintedRun(pass_no=0, weight=weight, order=order) for weight, order in history),
        earlier=tuple(draw(st.lists(st.sampled_from(ORDERS), max_size=len(weights)))),
        seed=draw(st.integers(0, 3)),
    )


def leads_of(orders: tuple[Order, ...]) -> tuple[int, ...]:
    return tuple(order[0] for order in orders)


@settings(max_examples=120, deadline=None)
@given(request=requests())
def test_the_plan_is_the_best_of_all_strings_of_leads(request: OrderRequest, best_by_trying: BestByTrying) -> None:
    found = best_by_trying(request)
    assume(found is not None)

    assert found is not None
    assert leads_of(plan_orders(request).orders) == found[1]


@settings(max_examples=80, deadline=None)
@given(request=requests(most=7, wishes=True))
def test_with_wishes_it_is_the_best_of_those_that_keep_them(
    request: OrderRequest, best_by_trying: BestByTrying
) -> None:
    found = best_by_trying(request)
    leads = leads_of(plan_orders(request).orders)

    assert all(run.lead in {None, lead} for run, lead in zip(request.runs, leads, strict=True))
    assume(found is not None)
    assert found is not None
    assert leads == found[1]


@pytest.mark.parametrize("seed", range(4))
def test_ten_runs_in_three_passes(seed: int, best_by_trying: BestByTrying) -> None:
    weights = [14, 9, 31, 22, 8, 45, 17, 12, 26, 11]
    request = OrderRequest(canvas_count=2, runs=runs_of(weights, 4), seed=seed)

    found = best_by_trying(request)

    assert found is not None
    assert leads_of(plan_orders(request).orders) == found[1]


@settings(max_examples=40, deadline=None)
@given(request=requests(most=40, wishes=True, absences=True))
def test_arrays_and_lists_give_the_same_orders(request: OrderRequest) -> None:
    pytest.importorskip("numpy")
    batches = in_batches(request)

    assert balanced_orders(batches, request.seed, arrays=True) == balanced_orders(batches, request.seed, arrays=False)


def test_arrays_and_lists_agree_on_a_long_work() -> None:
    pytest.importorskip("numpy")
    request = OrderRequest(canvas_count=2, runs=runs_of([(7 * i * i) % 53 + 4 for i in range(700)], 9))
    batches = in_batches(request)

    assert balanced_orders(batches, 0, arrays=True) == balanced_orders(batches, 0, arrays=False)


@given(weights=st.lists(st.integers(1, 30), min_size=1, max_size=12), factor=st.integers(2, 9))
@settings(max_examples=40, deadline=None)
def test_a_common_factor_of_weights_tolerances_and_band_changes_nothing(weights: list[int], factor: int) -> None:
    def leads(scale: int) -> tuple[int | None, ...]:
        walks = ((1, 0), (0, 1))
        stages = tuple(
            Stage(
                weight=scale * weight,
                leads=(0, 1),
                walks=((0, 0), (0, 0)) if i == 0 else walks,
                strays=(0, 0),
                tolerance=scale * 3 if i % 4 == 3 else None,
            )
            for i, weight in enumerate(weights)
        )
        return best_leads(TwoCanvases(stages=stages, start=Start(), band=2 * scale * max(weights), opens=0))

    assert leads(factor) == leads(1)


@given(count=st.integers(1, 60), weight=st.integers(0, 90), seed=st.integers(0, 9))
@settings(max_examples=30, deadline=None)
def test_with_equal_weights_it_is_a_plain_snake(count: int, weight: int, seed: int) -> None:
    plan = plan_orders(OrderRequest(canvas_count=2, runs=runs_of([weight] * count, 6), seed=seed))

    assert all(before == after[::-1] for before, after in pairwise(plan.orders))


@given(weights=st.lists(st.integers(1, 60), min_size=1, max_size=30))
@settings(max_examples=30, deadline=None)
def test_another_opening_canvas_swaps_the_whole_plan(weights: list[int]) -> None:
    opened = {}
    for seed in range(12):
        orders = plan_orders(OrderRequest(canvas_count=2, runs=runs_of(weights, 5), seed=seed)).orders
        opened[orders[0]] = orders

    assert opened[0, 1] == tuple(order[::-1] for order in opened[1, 0])


def test_forced_leads_count_in_the_streak_that_the_run_before_them_foresees() -> None:
    """Leading 0 at once brings the streak to 3, so that the last run could not lead 0 as balance asks."""
    history = (PaintedRun(pass_no=0, weight=80, order=(1, 0)),)
    runs = tuple(
        RunToOrder(pass_no=0, weight=weight, lead=lead) for weight, lead in ((10, None), (20, 0), (20, 0), (30, None))
    )
    plan = plan_orders(OrderRequest(canvas_count=2, runs=runs, history=history))

    assert leads_of(plan.orders) == (1, 0, 0, 0)


@pytest.mark.parametrize("seed", range(6))
def test_a_canvas_that_catches_up_is_where_the_run_before_should_end(seed: int) -> None:
    """Run 2 was begun on canvas 0; whichever canvas opens, run 1 should end on canvas 1."""
    history = (PaintedRun(pass_no=0, weight=100, order=(1, 0)),)
    runs = (RunToOrder(pass_no=0, weight=1), RunToOrder(pass_no=0, weight=100, begun=(0,)))
    plan = plan_orders(OrderRequest(canvas_count=2, runs=runs, history=history, seed=seed))

    assert plan.orders == ((0, 1), (0, 1))
