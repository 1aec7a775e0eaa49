"""Three canvases and more: the leads end close, few changes of canvas are added, and slips are mended."""

from random import Random
from statistics import mean, median

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.order.measures import measure
from coach.order.planning import OrderPlan, plan_orders
from coach.order.request import OrderRequest, PaintedRun, RunToOrder
from coach.plan.strategy import Strategy
from tests.order.spreads import peak, place_and_follow_spread


def runs_of(weights: list[int]) -> tuple[RunToOrder, ...]:
    return tuple(RunToOrder(pass_no=i // 5, weight=weight) for i, weight in enumerate(weights))


def whole(request: OrderRequest, plan: OrderPlan) -> list[PaintedRun]:
    """Return the history and the planned runs as one sequence."""
    planned = zip(request.runs, plan.orders, strict=True)
    return [*request.history, *(PaintedRun(run.pass_no, run.weight, order) for run, order in planned)]


def painted_for(canvases: int, seed: int) -> list[PaintedRun]:
    chance = Random(seed)  # noqa: S311 - made figures, not secrecy
    request = OrderRequest(canvas_count=canvases, runs=runs_of([chance.randint(240, 3600) for _ in range(40)]))
    return whole(request, plan_orders(request))


@pytest.mark.parametrize(("canvases", "most_extra"), [(3, 5.2), (4, 6.5), (5, 5.4)])
def test_forty_runs_end_within_two_percent_with_few_extra_changes(canvases: int, most_extra: float) -> None:
    """Measured, not proved; the bench has 60 works each. The order before ended 5.4 to 8.4 % apart."""
    found = [measure(canvases, painted_for(canvases, seed)) for seed in range(6)]

    assert median(one.imbalance_frac for one in found) <= 0.02
    assert mean(one.canvas_changes - one.least_canvas_changes for one in found) <= most_extra


@given(weights=st.lists(st.integers(60, 3600), min_size=1, max_size=16), canvases=st.integers(3, 7))
@settings(max_examples=25, deadline=None)
def test_on_the_way_the_leads_stay_within_twice_the_heaviest_run(weights: list[int], canvases: int) -> None:
    request = OrderRequest(canvas_count=canvases, runs=runs_of(weights))

    assert peak(canvases, whole(request, plan_orders(request))) <= 2 * max(weights)


@pytest.mark.parametrize("canvases", [4, 6])
def test_places_and_neighbours_are_shared_as_evenly_as_the_leads(canvases: int) -> None:
    """With an even number of canvases each place and each pair of neighbours belongs to one row."""
    assert max(place_and_follow_spread(canvases, painted_for(canvases, 1))) <= 2 * 3600


@pytest.mark.parametrize("canvases", [3, 4, 5])
def test_equal_runs_are_led_equally_often(canvases: int) -> None:
    request = OrderRequest(canvas_count=canvases, runs=runs_of([1200] * (4 * canvases)))

    assert set(measure(canvases, whole(request, plan_orders(request))).leads.counts) == {4}


@pytest.mark.parametrize("canvases", [3, 4, 5])
def test_what_one_canvas_led_alone_is_made_up(canvases: int) -> None:
    history = tuple(PaintedRun(0, 1200, tuple(range(canvases))) for _ in range(12))
    request = OrderRequest(canvas_count=canvases, runs=runs_of([1200] * (14 * canvases)), history=history)
    plan = plan_orders(request)

    assert measure(canvases, whole(request, plan)).imbalance_frac <= 0.03


@pytest.mark.parametrize("canvases", [3, 4, 5])
def test_an_announced_rest_that_was_obeyed_stays(canvases: int) -> None:
    chance = Random(canvases)  # noqa: S311 - made figures, not secrecy
    runs = runs_of([chance.randint(240, 3600) for _ in range(30)])
    plan = plan_orders(OrderRequest(canvas_count=canvases, runs=runs))
    painted = tuple(PaintedRun(run.pass_no, run.weight, order) for run, order in zip(runs, plan.orders, strict=True))
    for done in (1, 12, 25):
        rest = OrderRequest(canvas_count=canvases, runs=runs[done:], history=painted[:done], earlier=plan.orders[done:])
        assert plan_orders(rest).orders == plan.orders[done:]


def test_a_canvas_that_is_away_to_the_end_leaves_its_wish_unkept_and_says_so() -> None:
    runs = (RunToOrder(pass_no=0, weight=540, lead=2, away=frozenset({2})),) * 4
    plan = plan_orders(OrderRequest(canvas_count=3, runs=runs, names=("North", "Harbour", "Mill")))

    assert [sorted(order) for order in plan.orders] == [[0, 1]] * 4
    assert plan.remarks[0] == "Run 1: Mill should lead but is away; another canvas leads."


def test_absences_of_many_canvases_leave_the_leads_shared() -> None:
    runs = tuple(
        RunToOrder(pass_no=i // 5, weight=1200, away=frozenset({i % 12} if i % 4 == 1 else ())) for i in range(48)
    )
    orders = plan_orders(OrderRequest(canvas_count=12, runs=runs)).orders
    leads = [order[0] for order in orders]

    assert all(len(order) == 12 - len(run.away) for run, order in zip(runs, orders, strict=True))
    assert max(leads.count(canvas) for canvas in range(12)) <= 5


def test_leads_that_end_far_apart_are_named() -> None:
    history = tuple(PaintedRun(0, 1200, (0, 1, 2)) for _ in range(9))
    request = OrderRequest(
        canvas_count=3, runs=runs_of([1200] * 3), history=history, names=("North", "Harbour", "Mill")
    )
    plan = plan_orders(request)

    assert plan.unrepairable == 9600 - 1200 + 1200
    assert plan.remarks == ("North will have led 160 minutes more than Harbour at the end.",)


@pytest.mark.parametrize(("canvases", "count"), [(6, 6), (6, 8), (8, 12), (12, 13), (12, 16), (12, 30)])
def test_with_few_runs_for_many_canvases_each_leads_once_before_any_leads_thrice(canvases: int, count: int) -> None:
    runs = runs_of([900] * count)
    plan = plan_orders(OrderRequest(canvas_count=canvases, runs=runs))
    led = [sum(order[0] == canvas for order in plan.orders) for canvas in range(canvases)]

    assert max(led) - min(led) <= 1


def follow_spread_after_slips(canvases: int, seed: int, *, mend: bool) -> float:
    """Return neighbour spread / heaviest weight after 24 runs, neighbours swapped in 30 % of them."""
    chance = Random(seed)  # noqa: S311 - a simulation, not secrecy
    runs = runs_of([chance.randint(480, 3600) for _ in range(24)])
    plan = plan_orders(OrderRequest(canvas_count=canvases, runs=runs)).orders
    done: list[PaintedRun] = []
    for i, run in enumerate(runs):
        asked = OrderRequest(canvas_count=canvases, runs=runs[i:], history=tuple(done))
        order = list(plan_orders(asked).orders[0] if mend else plan[i])
        if chance.random() < 0.3:
            k = int(chance.random() * (canvases - 1))
            order[k], order[k + 1] = order[k + 1], order[k]
        done.append(PaintedRun(pass_no=run.pass_no, weight=run.weight, order=tuple(order)))
    return float(place_and_follow_spread(canvases, done)[1]) / max(run.weight for run in runs)


@pytest.mark.parametrize("canvases", [3, 4, 5])
def test_after_many_slips_neighbours_stay_more_even_than_without_mending(canvases: int) -> None:
    """Measured, not proved."""
    mended = mean(follow_spread_after_slips(canvases, seed, mend=True) for seed in range(4))
    kept = mean(follow_spread_after_slips(canvases, seed, mend=False) for seed in range(4))

    assert mended <= 0.85 * kept


@pytest.mark.parametrize("canvases", [3, 12])
def test_weights_of_nothing_beside_huge_ones_keep_the_leads_shared(canvases: int) -> None:
    runs = tuple(RunToOrder(pass_no=0, weight=10**9 if i % 3 else 0) for i in range(5 * canvases))
    request = OrderRequest(canvas_count=canvases, runs=runs, strategy=Strategy.EVEN_TURNS)

    assert peak(canvases, whole(request, plan_orders(request))) <= 2 * 10**9
