"""Even turns on three canvases and more: a beam search over the rows of the Williams design, then exchanges.

Of all ways of going on the most promising are kept after each batch. A way costs its changes of canvas between batches,
and a part of a change for leads that are apart, for places and neighbours taken before, and for leads that differ from
those announced. On the way the leads are at most twice the heaviest batch apart, or as far as the past forces them. At
the end it comes first how far the leads are apart beyond 2 % of the work; where they are, the orders of two batches are
exchanged, or a batch is given the row of a canvas that led less, as long as it helps.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import combinations, pairwise
from typing import Final, NamedTuple

from coach.order.batches import Batch, Batches, heaviest_of, honoured
from coach.order.request import Order
from coach.order.strategies import opening_no, williams_rows

END_TOLERANCE: Final = 50
"""One part in so many of the work is free between the leads at the end (2 %); common practice, no source."""

END_TOLERANCE_ODD: Final = 100
"""The same for an odd number of canvases, where two rows begin with the canvas that ends another, so that a closer end
costs few changes of canvas; ours."""

CAP_FACTOR: Final = 2
"""On the way the leads are at most so many times the heaviest batch apart."""

APART_PRICE: Final = 0.15
"""Changes of canvas that leads one mean batch apart are worth far from the end; ours, tuned by the bench."""

APART_RAMP: Final = 8
"""So many batches before the end they are worth twice as much; ours, tuned by the bench."""

UNEVEN_PRICE: Final = 0.05
"""Changes of canvas that a place or a neighbour taken one mean batch too often is worth; ours, tuned by the bench."""

UNEVEN_PRICE_OFF_ROWS: Final = 0.4
"""The same once an order was painted that is no row; ours, tuned by the tests."""

STRAY_PRICE: Final = 0.1
"""Changes of canvas that a lead differing from the announced one is worth; ours."""

STAY_PRICE: Final = 2.0
"""What was announced is left only where it costs so many changes of canvas more than what was found; ours."""

LIGHT: Final = 3
"""Besides what needs no change of canvas, orders led by so many canvases that led least are looked at."""

WIDEST: Final = 16
"""So many ways are kept after each batch ..."""

MOST_KEPT: Final = 40_000
"""... and over all batches and canvases so many, but at least four; bounds the time."""

MOST_EXCHANGED: Final = 60
"""Orders of the last so many batches are exchanged."""


FAR: Final = 1.5
"""A batch is led by another canvas where that led less by so many times its weight; ours, tuned by the tests."""

MOST_TRIED: Final = 12
"""So many exchanges are looked at closely before one is made."""


class _Way(NamedTuple):
    """One way of going on.

    Attributes:
        price: What it has cost so far, in changes of canvas.
        leads: Seconds each canvas led beyond what it was owed.
        taken: Loads of the places, [canvas * n + place], and behind them of the neighbours, [before * n + after].
        last: The last order; () at the start.
        before: The way it goes on from; None at the start.
    """

    price: float
    leads: tuple[float, ...]
    taken: list[float]
    last: Order
    before: "_Way | None"


class _Work(NamedTuple):
    """What does not change while a plan is looked for.

    Attributes:
        canvas_count: Number of canvases.
        batches: What is to come.
        rows: The rows of the design, that of the opening first.
        mean: Mean weight of the batches that have a lead.
        cap: How far apart the leads may be on the way.
        tolerance: How far apart they may be at the end for nothing.
        is_off_rows: Whether an order painted was no row, so that others may make places and neighbours even again.
        uneven_price: What a place or a neighbour taken one mean batch too often is worth.
    """

    canvas_count: int
    batches: tuple[Batch, ...]
    rows: tuple[Order, ...]
    mean: float
    cap: float
    tolerance: float
    is_off_rows: bool
    uneven_price: float


def even_turns_of_many(canvas_count: int, batches: Batches, seed: int) -> tuple[Order, ...]:
    """Return the order of each batch on three canvases or more (or on one); () where all are away.

    Args:
        canvas_count: Number of canvases.
        batches: The work.
        seed: Decides which row opens where all else is equal.
    """
    rows = williams_rows(canvas_count)
    opens = opening_no(seed, len(rows))
    ahead = tuple(batch for batch in batches.ahead if batch.present)
    shared = [one.weight for one in ahead if len(one.present) > 1]
    shared += [run.weight for run in batches.painted if len(run.order) > 1]
    is_off_rows = any(len(run.order) > 1 and run.order not in rows for run in batches.painted)
    work = _Work(
        canvas_count=canvas_count,
        batches=ahead,
        rows=rows[opens:] + rows[:opens],
        mean=max(1, sum(shared)) / max(1, len(shared)),
        cap=CAP_FACTOR * heaviest_of(batches),
        is_off_rows=is_off_rows,
        uneven_price=UNEVEN_PRICE_OFF_ROWS if is_off_rows else UNEVEN_PRICE,
        tolerance=sum(shared) / (END_TOLERANCE_ODD if canvas_count % 2 else END_TOLERANCE),
    )
    start = _Way(0.0, (0.0,) * canvas_count, [0.0] * (2 * canvas_count * canvas_count), (), None)
    for run in batches.painted:
        start = _gone(work, start, run.order, run.weight, 0.0)
    start = start._replace(before=None)
    found = _exchanged(work, start, _searched(work, start))
    announced = [one.announced[0] for one in ahead]
    if all(order and order == honoured(order, one) for order, one in zip(announced, ahead, strict=True)):
        kept = _exchanged(work, start, announced)
        over, _, beyond, price = _cost(work, start, found)
        kept_over, _, kept_beyond, kept_price = _cost(work, start, kept)
        found = kept if (kept_over, kept_beyond, kept_price) <= (over, beyond, price + STAY_PRICE) else found
    best = iter(found)
    return tuple(next(best) if batch.present else () for batch in batches.ahead)


def _searched(work: _Work, start: _Way) -> list[Order]:
    """Return the orders that the beam search ends with."""
    ways = [start]
    width = max(4, min(WIDEST, MOST_KEPT // (len(work.batches) * work.canvas_count)))
    for left, batch in zip(range(len(work.batches), 0, -1), work.batches, strict=True):
        free = work.cap if left > 1 else work.tolerance
        worth = APART_PRICE / work.mean * (1 + APART_RAMP / left)
        offers: dict[tuple[Order, tuple[float, ...]], tuple[float, float, int, float, _Way]] = {}
        for way in ways:
            for order in _candidates(work, way, batch):
                leads, price = _after(work, way, batch, order)
                apart = max(leads) - min(leads)
                offer = (max(0.0, apart - free), price + worth * apart, len(offers), price, way)
                known = offers.setdefault((order, leads), offer)
                if price < known[3]:
                    offers[order, leads] = offer
        best = sorted(offers.items(), key=lambda one: one[1][:3])[:width]
        ways = [_gone(work, way, order, batch.weight, price) for (order, _), (_, _, _, price, way) in best]
    return _orders(ways[0], len(work.batches))


def _candidates(work: _Work, way: _Way, batch: Batch) -> Iterator[Order]:
    """Yield the orders worth a look, as wishes and absences bend them: the way back, what was announced, and rows."""
    if len(batch.present) < 2:  # noqa: PLR2004
        yield honoured((), batch)
        return
    light = sorted(batch.present, key=way.leads.__getitem__)[:LIGHT]
    near = [row for row in work.rows if row[0] in light or row[:1] == way.last[-1:]]
    if work.is_off_rows:
        leads = dict.fromkeys([*light, *(c for c in way.last[-1:] if c in batch.present)])
        near += [_evening(work, way, batch, lead) for lead in leads]
    bases = (way.last[::-1], batch.announced[0], *near)
    if len(batch.present) == work.canvas_count and not batch.prefix:
        yield from dict.fromkeys(base for base in bases if len(base) == work.canvas_count)
    else:
        yield from dict.fromkeys(honoured(base, batch) for base in bases if base)


def _evening(work: _Work, way: _Way, batch: Batch, lead: int) -> Order:
    """Return the order led by a canvas in which each next one has the place and the neighbour taken least so far."""
    order, count = [lead], work.canvas_count
    left = [canvas for canvas in batch.present if canvas != lead]
    while left:
        follow, place = (count + order[-1]) * count, len(order)
        order.append(min(left, key=lambda c: way.taken[follow + c] + way.taken[c * count + place]))
        left.remove(order[-1])
    return tuple(order)


def _after(work: _Work, way: _Way, batch: Batch, order: Order) -> tuple[tuple[float, ...], float]:
    """Return the leads and the price of a way after one more order."""
    price = way.price + (not batch.begun_count and way.last[-1:] not in {(), order[:1]})
    if len(order) < 2:  # noqa: PLR2004
        return way.leads, price
    indices = _indices(order, work.canvas_count)
    price += work.uneven_price * sum(map(way.taken.__getitem__, indices)) / work.mean / len(indices)
    price += STRAY_PRICE * sum([1 for old in batch.announced if len(old) > 1 and old[0] != order[0]])
    return _led(way.leads, order, batch.weight), price


def _led(leads: Sequence[float], order: Order, weight: int) -> tuple[float, ...]:
    after = list(leads)
    after[order[0]] += weight
    if len(order) < len(leads):
        for canvas in order:
            after[canvas] -= weight / len(order)
    return tuple(after)


def _gone(work: _Work, way: _Way, order: Order, weight: int, price: float) -> _Way:
    """Return the way after one more order."""
    if len(order) < 2:  # noqa: PLR2004
        return _Way(price, way.leads, way.taken, order or way.last, way)
    taken, count = way.taken.copy(), work.canvas_count
    for index in _indices(order, count):
        taken[index] += weight
    if len(order) < count:  # a run owes its canvases the same share of each place, and each pair of them
        share = weight / len(order)
        for canvas in order:
            for place, other in enumerate(order):
                taken[canvas * count + place] -= share
                taken[(count + canvas) * count + other] -= share * (other != canvas)
    return _Way(price, _led(way.leads, order, weight), taken, order, way)


@lru_cache(maxsize=1024)
def _indices(order: Order, count: int) -> tuple[int, ...]:
    """Return where in `_Way.taken` the places and the neighbours of an order stand."""
    places = tuple(canvas * count + place for place, canvas in enumerate(order))
    return places + tuple((count + a) * count + b for a, b in pairwise(order))


def _orders(way: _Way, count: int) -> list[Order]:
    orders: list[Order] = []
    at: _Way | None = way
    while at is not None and len(orders) < count:
        orders.append(at.last)
        at = at.before
    return orders[::-1]


def _cost(work: _Work, start: _Way, orders: Sequence[Order]) -> tuple[float, float, float, float]:
    """Return what orders cost, the gravest first.

    How far apart they end beyond the tolerance, and how uneven then; how far beyond the cap on the way; the price.
    """
    way, beyond = start, 0.0
    for batch, order in zip(work.batches, orders, strict=True):
        way = _gone(work, way, order, batch.weight, _after(work, way, batch, order)[1])
        beyond = max(beyond, max(way.leads) - min(way.leads) - work.cap)
    return *_end(work, way.leads), beyond, way.price


def _end(work: _Work, leads: Sequence[float]) -> tuple[float, float]:
    """Return how far apart leads are beyond the tolerance, and, where they are, how uneven."""
    over = max(leads) - min(leads) - work.tolerance
    mean = sum(leads) / len(leads)
    return (over, sum((one - mean) ** 2 for one in leads)) if over > 0 else (0.0, 0.0)


def _exchanged(work: _Work, start: _Way, orders: list[Order]) -> list[Order]:
    """Return the orders after exchanges that bring the leads closer at the end, until they are close enough."""
    cost = _cost(work, start, orders)
    while cost[0] > 0:
        options = [(cost, orders)]
        for changes in _helping(work, start, orders)[:MOST_TRIED]:
            exchanged = [*orders]
            for place, order in changes:
                exchanged[place] = order
            options.append((_cost(work, start, exchanged), exchanged))
        best = min(option for option in options if option[0][2] <= cost[2])
        if best[0] >= cost:
            break
        cost, orders = best
    return orders


Changes = tuple[tuple[int, Order], ...]
"""Places of batches, each with the order it gets."""


def _helping(work: _Work, start: _Way, orders: Sequence[Order]) -> list[Changes]:
    """Return the changes of one or two batches that bring the leads closer at the end, the most helpful first."""
    leads = start.leads
    for batch, order in zip(work.batches, orders, strict=True):
        leads = _led(leads, order, batch.weight) if len(order) > 1 else leads
    known = _end(work, leads)
    found = []
    for changes in (*_exchanges(work, orders), *_taken_over(work, orders, leads)):
        after = list(leads)
        for place, order in changes:
            after[orders[place][0]] -= work.batches[place].weight
            after[order[0]] += work.batches[place].weight
        if (end := _end(work, after)) < known:
            latest = -changes[0][0]  # what is changed late is seldom far apart on the way
            found.append((end, latest, changes))
    return [changes for *_, changes in sorted(found)]


def _exchanges(work: _Work, orders: Sequence[Order]) -> Iterator[Changes]:
    """Yield the exchanges of the orders of two of the last batches."""
    for a, b in combinations(_free(work, orders), 2):
        one, other = work.batches[a], work.batches[b]
        if one.present == other.present and one.weight != other.weight and orders[a][0] != orders[b][0]:
            yield (a, orders[b]), (b, orders[a])


def _taken_over(work: _Work, orders: Sequence[Order], leads: Sequence[float]) -> Iterator[Changes]:
    """Yield a row for one of the last batches, led by a canvas that led far less than the one that leads it now."""
    for place in _free(work, orders):
        least = FAR * work.batches[place].weight
        if len(orders[place]) == work.canvas_count:
            rows = [row for row in work.rows if leads[orders[place][0]] - leads[row[0]] >= least]
            yield from (((place, row),) for row in rows)


def _free(work: _Work, orders: Sequence[Order]) -> list[int]:
    """Return which of the last batches may be given another order."""
    first = max(0, len(orders) - MOST_EXCHANGED)
    return [place for place in range(first, len(orders)) if len(orders[place]) > 1 and not work.batches[place].prefix]
