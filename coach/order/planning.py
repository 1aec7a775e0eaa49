"""The order of the canvases for every run to come."""

from collections.abc import Callable, Iterable
from typing import NamedTuple

from coach.order.balanced_snake import balanced_orders
from coach.order.batches import Batches, heaviest_of, in_batches
from coach.order.checking import check_request
from coach.order.guarded_snake import GuardedSnake
from coach.order.leaving import remaining_canvases, without_gone
from coach.order.ledger import Ledger
from coach.order.lighter_first import LighterFirst
from coach.order.remarks import remarks_on
from coach.order.request import Order, OrderRequest, Strategy, default_strategy
from coach.order.sequences import NextOrder, fixed, mirror, nested_mirror, rotation, snake, williams
from coach.order.shuffled_blocks import ShuffledBlocks
from coach.order.wishes import honoured, unkept_wishes


class OrderPlan(NamedTuple):
    """The answer to an OrderRequest.

    Attributes:
        orders: The order of each run to come; every canvas that is not away stands in it once.
        first_changed: Index of the first run whose order differs from the announced one; None if none does.
        changed: Number of runs whose order differs from the announced one.
        unrepairable: Imbalance at the end, in weighted minutes, that no order could avoid (two canvases), or
            that this plan leaves between the lead weights (three and more; rounded up).
        remarks: Sentences for the painter: wishes that could not be kept, what wishes cost, what cannot be
            repaired.
    """

    orders: tuple[Order, ...]
    first_changed: int | None
    changed: int
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
    remaining = remaining_canvases(request)
    orders: tuple[Order, ...] = ((),) * len(request.runs)
    left, said = 0, unkept_wishes(request)
    if remaining:
        inner = without_gone(request, remaining)
        batches = in_batches(inner)
        found = _orders(inner, batches)
        orders = tuple(tuple(remaining[i] for i in order) for order in found) if inner is not request else found
        left, more = remarks_on(inner, batches, found, _planned)
        said = (*said, *more)
    differing = [i for i, (new, old) in enumerate(zip(orders, request.earlier, strict=False)) if new != old]
    return OrderPlan(
        orders=orders,
        first_changed=differing[0] if differing else None,
        changed=len(differing),
        unrepairable=left,
        remarks=said,
    )


def _planned(request: OrderRequest) -> tuple[Order, ...]:
    return _orders(request, in_batches(request))


def _orders(request: OrderRequest, batches: Batches) -> tuple[Order, ...]:
    return tuple(
        order
        for order, batch in zip(_batch_orders(request, batches), batches.ahead, strict=True)
        for _ in range(batch.run_count)
    )


def _batch_orders(request: OrderRequest, batches: Batches) -> Iterable[Order]:
    strategy = request.strategy or default_strategy(request.canvas_count)
    if request.canvas_count == 2 and strategy is Strategy.BALANCED_SNAKE:  # noqa: PLR2004
        return balanced_orders(batches, request.seed)
    return _in_turn(request.canvas_count, batches, _rule(strategy, request, heaviest_of(batches)))


def _in_turn(canvas_count: int, batches: Batches, rule: NextOrder) -> list[Order]:
    ledger = Ledger(canvas_count)
    for run in batches.painted:
        ledger.add(run.order, run.weight)
    orders = []
    for batch in batches.ahead:
        base = rule(ledger, batch) if len(batch.present) > 1 else ()
        orders.append(honoured(base, batch))
        ledger.add(orders[-1], batch.weight)
    return orders


_RULES: dict[Strategy, Callable[[int, int], NextOrder]] = {
    Strategy.FIXED: fixed,
    Strategy.SNAKE: snake,
    Strategy.MIRROR: mirror,
    Strategy.NESTED_MIRROR: nested_mirror,
    Strategy.ROTATION: rotation,
    Strategy.WILLIAMS: williams,
    Strategy.SHUFFLED_BLOCKS: ShuffledBlocks,
    Strategy.LIGHTER_FIRST: LighterFirst,
}


def _rule(strategy: Strategy, request: OrderRequest, heaviest: int) -> NextOrder:
    count, seed = request.canvas_count, request.seed
    if strategy in _RULES:
        return _RULES[strategy](count, seed)
    factor = 1 if strategy is Strategy.GUARDED_SNAKE else 2
    return GuardedSnake(count, seed, heaviest=heaviest, factor=factor)
