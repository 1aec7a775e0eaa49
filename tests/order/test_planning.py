"""Every order is complete and honours what was asked; what cannot be is said; the plan is always the same."""

import os
import subprocess
import sys
from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.order.batches import batches_to_order, in_batches
from coach.order.planning import plan_orders
from coach.order.request import Order, OrderError, OrderRequest, PaintedRun, RunToOrder
from coach.plan.strategy import Strategy


@st.composite
def requests(draw: st.DrawFn) -> OrderRequest:
    count = draw(st.integers(1, 5))
    canvas = st.integers(0, count - 1)
    runs = []
    for _ in range(draw(st.integers(0, 12))):
        away = draw(st.frozensets(canvas, max_size=draw(st.sampled_from([0, 0, 0, count]))))
        free = [c for c in range(count) if c not in away]
        begun = tuple(draw(st.permutations(free))[: draw(st.sampled_from([0, 0, 0, 1, 2]))])
        lead = draw(st.one_of(st.none(), canvas))
        weight = draw(st.sampled_from([0, 1, 7, 30, 10**9]))
        runs.append(RunToOrder(pass_no=draw(st.integers(0, 2)), weight=weight, lead=lead, away=away, begun=begun))
    some = st.permutations(range(count)).flatmap(
        lambda order: st.integers(0, count).map(lambda length: tuple(order[:length]))
    )
    history = [
        PaintedRun(pass_no=0, weight=weight, order=order, begins_batch=apart)
        for weight, order, apart in draw(st.lists(st.tuples(st.integers(0, 40), some, st.booleans()), max_size=6))
    ]
    batch = draw(st.integers(1, 4))
    done_count = draw(st.integers(0, batch - 1)) if runs else 0
    if done_count:
        first = runs[0]
        order = first.begun + tuple(c for c in range(count) if c not in first.away and c not in first.begun)
        history += [PaintedRun(pass_no=first.pass_no, weight=3, order=order)] * done_count
    return OrderRequest(
        canvas_count=count,
        runs=tuple(runs),
        history=tuple(history),
        strategy=draw(st.sampled_from(Strategy)),
        seed=draw(st.integers(-3, 3)),
        earlier=tuple(draw(st.lists(some, max_size=len(runs)))),
        batch=batch,
        batch_done_count=done_count,
    )


@settings(max_examples=300, deadline=None)
@given(request=requests())
def test_any_request_gives_complete_orders_that_keep_what_can_be_kept(request: OrderRequest) -> None:
    plan = plan_orders(request)

    assert len(plan.orders) == len(request.runs)
    for run, order in zip(request.runs, plan.orders, strict=True):
        assert sorted(order) == [c for c in range(request.canvas_count) if c not in run.away]
        assert order[: len(run.begun)] == run.begun
        if run.lead is not None and run.lead not in run.away and not run.begun and not request.batch_done_count:
            assert order[0] == run.lead
    if request.batch_done_count:
        assert plan.orders[0] == request.history[-1].order
    assert plan == plan_orders(request)


def test_the_same_plan_comes_from_another_process() -> None:
    """No order may hang on the hashes of a process."""
    code = (
        "from coach.order.planning import plan_orders\n"
        "from coach.order.request import OrderRequest, RunToOrder\n"
        "from coach.plan.strategy import Strategy\n"
        "runs = tuple(RunToOrder(pass_no=i // 5, weight=(i * i) % 41 + 5, "
        "away=frozenset({i % 4} if i % 7 == 3 else ())) for i in range(30))\n"
        "print([plan_orders(OrderRequest(canvas_count=4, runs=runs, strategy=s, seed=9)).orders "
        "for s in Strategy])\n"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }

    assert len(found) == 1


def two(*runs: RunToOrder, history: tuple[PaintedRun, ...] = (), batch: int = 1) -> OrderRequest:
    return OrderRequest(canvas_count=2, runs=runs, history=history, batch=batch, names=("Hall", "School"))


def test_wishes_that_cannot_be_kept_are_told() -> None:
    plan = plan_orders(
        two(
            RunToOrder(pass_no=0, weight=9, lead=1, away=frozenset({1})),
            RunToOrder(pass_no=0, weight=9, lead=1, begun=(0,)),
            RunToOrder(pass_no=0, weight=9, away=frozenset({0, 1})),
        )
    )

    assert plan.orders == ((0,), (0, 1), ())
    assert plan.remarks[:3] == (
        "Run 1: School should lead but is away; another canvas leads.",
        "Run 2: School should lead, but Hall has begun; it keeps the lead.",
        "Run 3: every canvas is away, so nothing can be painted.",
    )


def test_the_cost_of_wishes_is_told_where_there_is_one() -> None:
    runs = tuple(RunToOrder(pass_no=0, weight=600, lead=0 if i < 4 else None) for i in range(6))
    plan = plan_orders(two(*runs))
    run = RunToOrder(pass_no=0, weight=600)
    opens = plan_orders(two(run, run)).orders[0][0]
    free = plan_orders(two(run._replace(lead=opens), run))

    assert [order[0] for order in plan.orders] == [0, 0, 0, 0, 1, 1]
    assert plan.unrepairable == 1200
    assert plan.remarks == (
        "One canvas will lead 20 minutes more; no order can avoid it.",
        "Your wishes for the lead cost 4 changes of canvas and leave the leads 20 minutes further apart at the end.",
    )
    assert free.remarks == ()


def test_what_batches_save_is_told() -> None:
    plan = plan_orders(two(*[RunToOrder(pass_no=0, weight=600)] * 12, batch=3))

    assert plan.remarks == ("The batches save 8 changes of canvas.",)


def test_the_runs_of_a_batch_share_one_order_and_batches_end_with_the_pass() -> None:
    runs = tuple(RunToOrder(pass_no=i // 4, weight=10) for i in range(8))
    orders = plan_orders(two(*runs, batch=3)).orders

    assert orders[0] == orders[1] == orders[2]
    assert orders[4] == orders[5] == orders[6]
    assert orders[3] == orders[2][::-1]


def test_a_batch_is_cut_where_wishes_contradict() -> None:
    runs = (RunToOrder(pass_no=0, weight=9, lead=0), RunToOrder(pass_no=0, weight=9, lead=1))
    plan = plan_orders(two(*runs, batch=2))

    assert plan.orders == ((0, 1), (1, 0))
    assert "Run 2: a batch is cut short here" in plan.remarks[0]


def test_a_batch_in_hand_keeps_its_order_to_its_end() -> None:
    """Two of three runs are painted on one canvas; the third belongs to the batch, the fourth does not."""
    runs = (
        RunToOrder(pass_no=0, weight=9, begun=(1,)),
        RunToOrder(pass_no=0, weight=9, begun=(1,)),
        RunToOrder(pass_no=0, weight=9),
        RunToOrder(pass_no=0, weight=9),
    )

    assert plan_orders(two(*runs, batch=3)).orders == ((1, 0), (1, 0), (1, 0), (0, 1))


def test_only_the_runs_that_are_said_to_be_of_the_batch_in_hand_fill_it() -> None:
    """Run 1 was painted in the same order as run 2 was begun; it takes room in the batch only if it was of it."""
    runs = (RunToOrder(pass_no=0, weight=9, begun=(0,)), *[RunToOrder(pass_no=0, weight=9)] * 4)
    request = two(*runs, history=(PaintedRun(pass_no=0, weight=9, order=(0, 1)),), batch=3)
    apart = batches_to_order(request)
    of_one = batches_to_order(request._replace(batch_done_count=1))

    assert [(batch.run_count, batch.weight) for batch in apart] == [(3, 27), (2, 18)]
    assert [(batch.run_count, batch.weight) for batch in of_one] == [(2, 27), (3, 27)]


def test_a_batch_in_hand_keeps_the_order_in_which_its_first_runs_were_painted() -> None:
    runs = (RunToOrder(pass_no=0, weight=9, begun=(2,)), *[RunToOrder(pass_no=0, weight=9)] * 2)
    request = OrderRequest(
        canvas_count=3,
        runs=runs,
        history=(PaintedRun(pass_no=0, weight=9, order=(2, 0, 1)),),
        strategy=Strategy.THERE_AND_BACK,
        batch=2,
        batch_done_count=1,
    )

    assert plan_orders(request).orders == ((2, 0, 1), (1, 0, 2), (1, 0, 2))


def test_painted_neighbours_are_one_batch_unless_one_is_known_to_begin_its_own() -> None:
    """A rotation turns back after one batch, and goes on the way it came after two."""
    run = PaintedRun(pass_no=0, weight=9, order=(0, 1))
    request = two(RunToOrder(pass_no=0, weight=9), batch=2)._replace(strategy=Strategy.BY_ROTATION)
    together = request._replace(history=(run, run))
    apart = request._replace(history=(run, run._replace(begins_batch=True)))

    assert [run.weight for run in in_batches(together).painted] == [18]
    assert [run.weight for run in in_batches(apart).painted] == [9, 9]
    assert plan_orders(together).orders[0] != plan_orders(apart).orders[0]


def test_a_canvas_that_never_returns_leaves_the_exact_planner_to_the_other_two() -> None:
    weights = [14, 9, 31, 22, 8, 45, 17, 12]
    pair = tuple(RunToOrder(pass_no=0, weight=weight) for weight in weights)
    gone = tuple(RunToOrder(pass_no=0, weight=weight, away=frozenset({1})) for weight in weights)
    names = {0: 0, 1: 2}

    def renamed(order: Order) -> Order:
        return tuple(names[canvas] for canvas in order)

    for_two = plan_orders(OrderRequest(canvas_count=2, runs=pair)).orders
    plan = plan_orders(OrderRequest(canvas_count=3, runs=gone))
    assert plan.orders == tuple(map(renamed, for_two))
    again = plan_orders(OrderRequest(canvas_count=3, runs=gone, earlier=plan.orders))
    assert again.orders == plan.orders


def test_where_only_one_canvas_can_be_painted_nobody_leads() -> None:
    runs = tuple(RunToOrder(pass_no=0, weight=5, away=frozenset({i % 2})) for i in range(3))
    plan = plan_orders(two(*runs))

    assert plan.orders == ((1,), (0,), (1,))
    assert plan.unrepairable == 0


@pytest.mark.parametrize("strategy", Strategy)
@pytest.mark.parametrize("canvases", range(1, 13))
def test_one_run_is_painted_once_on_every_canvas_and_needs_no_word(strategy: Strategy, canvases: int) -> None:
    request = OrderRequest(canvas_count=canvases, runs=(RunToOrder(pass_no=0, weight=900),), strategy=strategy)
    plan = plan_orders(request)

    assert [sorted(order) for order in plan.orders] == [list(range(canvases))]
    assert plan.remarks == ()


def test_no_run_at_all_gives_no_order_and_no_remark() -> None:
    plan = plan_orders(OrderRequest(canvas_count=2, runs=()))

    assert (plan.orders, plan.remarks, plan.unrepairable) == ((), (), 0)


def test_a_slip_on_the_last_run_is_told_to_be_beyond_repair() -> None:
    history = (PaintedRun(pass_no=0, weight=5400, order=(0, 1)), PaintedRun(pass_no=0, weight=3600, order=(0, 1)))
    plan = plan_orders(two(RunToOrder(pass_no=0, weight=1200), history=history))

    assert plan.orders == ((1, 0),)
    assert plan.unrepairable == 7800
    assert plan.remarks == ("One canvas will lead 130 minutes more; no order can avoid it any more.",)


def test_runs_caught_up_alone_count_as_neither_led_nor_followed() -> None:
    alone = (PaintedRun(0, 5000, (0,)), PaintedRun(0, 5000, (1,)))
    runs = tuple(RunToOrder(pass_no=1, weight=600) for _ in range(4))

    assert plan_orders(two(*runs, history=alone)).orders == ((1, 0), (0, 1), (1, 0), (0, 1))


def test_a_history_of_passes_that_are_no_more_still_counts_for_the_balance() -> None:
    """Hall led 40 minutes of a pass that the plan has lost; School leads both runs that answer it."""
    runs = (RunToOrder(pass_no=0, weight=20), RunToOrder(pass_no=0, weight=20))

    assert plan_orders(two(*runs, history=(PaintedRun(7, 40, (0, 1)),))).orders == ((1, 0), (1, 0))


@pytest.mark.parametrize("value", [True, -1, 1.5, nan, inf, "3", None])
def test_weights_that_are_no_whole_numbers_are_refused(value: object) -> None:
    run = RunToOrder(pass_no=0, weight=value)  # type: ignore[arg-type]
    painted = PaintedRun(pass_no=0, weight=value, order=(0, 1))  # type: ignore[arg-type]

    with pytest.raises(OrderError, match=r"runs\[0\]: .* is not a whole number of at least 0"):
        plan_orders(two(run))
    with pytest.raises(OrderError, match=r"history\[0\]: .* is not a whole number of at least 0"):
        plan_orders(two(history=(painted,)))


RUN = RunToOrder(pass_no=0, weight=5)
HALL = PaintedRun(pass_no=0, weight=5, order=(0, 1))
SCHOOL = PaintedRun(pass_no=0, weight=5, order=(1, 0))
APART = "batch_done_count: the runs of the batch in hand are of one pass and one order"


@pytest.mark.parametrize(
    ("request_", "said"),
    [
        (OrderRequest(canvas_count=0, runs=()), "canvas_count: 0 is not a whole number of at least 1"),
        (OrderRequest(canvas_count=27, runs=()), "canvas_count: 27 canvases; at most 12"),
        (two(RUN, RUN._replace(lead=2)), "runs[1]: there is no canvas number 3 among 2"),
        (two(RUN._replace(away=frozenset({5}))), "runs[0]: there is no canvas number 6 among 2"),
        (two(RUN._replace(begun=(-1,))), "runs[0]: -1 is not a whole number of at least 0"),
        (two(RUN._replace(begun=(0,), away=frozenset({0}))), "runs[0]: a canvas that was painted in this run"),
        (two(history=(PaintedRun(0, 5, (3,)),)), "history[0]: there is no canvas number 4 among 2"),
        (two(history=(PaintedRun(0, 5, (1, 1)),)), "history[0]: a canvas is named twice"),
        (two(RUN)._replace(earlier=((0, 1), (1, 0))), "earlier: more orders were announced than runs remain"),
        (two(RUN)._replace(earlier=((0, 7),)), "earlier[0]: there is no canvas number 8 among 2"),
        (two()._replace(names=("Hall",)), "names: there must be one name for each canvas"),
        (two()._replace(seed=True), "seed: the seed must be a whole number"),
        (two(batch=0), "batch: 0 is not a whole number of at least 1"),
        (two(RUN)._replace(batch_done_count=-1), "batch_done_count: -1 is not a whole number of at least 0"),
        (two(RUN, history=(HALL,))._replace(batch_done_count=1), "batch_done_count: of the batch in hand no more"),
        (two(RUN, batch=2)._replace(batch_done_count=1), "batch_done_count: of the batch in hand no more"),
        (two(history=(HALL,), batch=2)._replace(batch_done_count=1), "batch_done_count: of the batch in hand no more"),
        (two(RUN._replace(begun=(1,)), history=(HALL,), batch=2)._replace(batch_done_count=1), APART),
        (two(RUN._replace(away=frozenset({1})), history=(HALL,), batch=2)._replace(batch_done_count=1), APART),
        (two(RUN._replace(pass_no=1), history=(HALL,), batch=2)._replace(batch_done_count=1), APART),
        (two(RUN, history=(SCHOOL, HALL), batch=3)._replace(batch_done_count=2), APART),
    ],
)
def test_what_cannot_be_is_refused_with_its_place(request_: OrderRequest, said: str) -> None:
    with pytest.raises(OrderError) as refused:
        plan_orders(request_)

    assert str(refused.value).startswith(said)
