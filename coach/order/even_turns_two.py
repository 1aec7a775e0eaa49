"""Even turns on two canvases: the leads of least cost, by dynamic programming over the balance.

The cost is a tuple, smaller first: how far the leads are apart beyond 2 % of the work at its end; how far beyond 5 % of
a pass at the ends of the passes; changes of canvas; leads that differ from those announced; leads of one canvas beyond
three in a row; how far the leads are apart at the end; the leads as a string in which the opening canvas sorts first.
On the way the leads are at most twice the heaviest batch apart, or as far as the past and the wishes force them, unless
the end could not be met so. The cost is additive along the work, so that planning again from any point of a plan that
was obeyed returns the rest of that plan.
"""

from collections.abc import Sequence
from functools import reduce
from itertools import accumulate, groupby
from math import gcd
from typing import Final, NamedTuple

from coach.order.batches import Batch, Batches, heaviest_of, honoured
from coach.order.measures import least_imbalance
from coach.order.request import Order, PaintedRun
from coach.order.strategies import opening_no

PASS_TOLERANCE: Final = 20
"""One part in so many of a pass's weight is free at its end (5 %); common practice, no source."""

END_TOLERANCE: Final = 50
"""One part in so many of the whole weight is free at the very end (2 %); common practice, no source."""

LONGEST_STREAK: Final = 3
"""One canvas leads so many batches in a row before it costs something."""

BAND_FACTOR: Final = 2
"""On the way the leads are at most so many times the heaviest batch apart."""

STEPS_OF_WORK: Final = 2000
"""The balance is told apart in steps of at most one part in so many of the work (0.05 %) ..."""

STEPS_OF_RUN: Final = 32
"""... and of the heaviest batch."""

FINER: Final = 8
"""Where the end is not met in these steps, it is tried in steps so many times smaller."""

MOST_CELLS: Final = 400_000
"""A finer or wider search looks at no more balances than this."""


class Stage(NamedTuple):
    """One batch on two canvases, or on one of them.

    Attributes:
        weight: Its weight in seconds; 0 if it is on one canvas, for then nobody leads.
        leads: Leads allowed: (0, 1), one of them, or () if nobody leads.
        changes: changes[last lead][lead], 1 if the painter must change canvas to begin, else 0.
        strays: strays[lead], number of its runs that were announced under the other lead.
        tolerance: How far apart the leads may be at its end for nothing, if it ends a pass; else None.
    """

    weight: int
    leads: Order
    changes: tuple[Order, Order]
    strays: Order
    tolerance: int | None


class Start(NamedTuple):
    """Where the work stands: seconds that canvas 0 is ahead, the last lead, and how often in a row it led."""

    apart: int = 0
    lead: int = 0
    streak: int = 0


class Search(NamedTuple):
    """What one sweep works on.

    Attributes:
        stages: What remains.
        weights: Weight of each stage in steps.
        start: Where the work stands.
        step: Seconds in a step.
        band: How far apart, in seconds, the leads may be on the way.
        tolerance: How far apart they may be at the end for nothing.
        opens: The lead taken where costs are equal.
    """

    stages: tuple[Stage, ...]
    weights: Order
    start: Start
    step: int
    band: int
    tolerance: int
    opens: int


def even_turns_of_two(batches: Batches, seed: int, least: int) -> tuple[Order, ...]:
    """Return the order of each batch on two canvases; () where both are away.

    Args:
        batches: The work on two canvases.
        seed: Decides which canvas opens where all else is equal.
        least: The least that the leads can be apart at the end (`least_apart`).
    """
    ahead = [batch for batch in batches.ahead if batch.present]
    leads = iter(
        _best_leads(_stages(ahead, batches.painted), _start(batches.painted), batches, opening_no(seed, 2), least)
    )
    return tuple(_order(next(leads), batch) if batch.present else () for batch in batches.ahead)


def least_apart(batches: Batches) -> int:
    """Return the least that the leads can be apart at the end, in seconds, whatever is asked on the way."""
    settled, free = _start(batches.painted).apart, []
    for batch in batches.ahead:
        if len(batch.present) > 1 and batch.prefix:
            settled += _signed(batch.prefix[0], batch.weight)
        elif len(batch.present) > 1:
            free.append(batch.weight)
    return least_imbalance(settled, free)


def _best_leads(stages: tuple[Stage, ...], start: Start, batches: Batches, opens: int, least: int) -> list[int | None]:
    whole = sum(run.weight for run in batches.painted if len(run.order) > 1) + sum(one.weight for one in stages)
    heaviest = heaviest_of(batches)
    tolerance = max(1, whole // END_TOLERANCE)
    step = max(1, min(whole // STEPS_OF_WORK, heaviest // STEPS_OF_RUN))
    step = max(step, reduce(gcd, (stage.weight for stage in stages), 0))
    best: tuple[int, list[int | None]] | None = None
    for seconds, within in (
        (step, BAND_FACTOR * heaviest),
        (max(1, step // FINER), BAND_FACTOR * heaviest),
        (step, whole),
    ):
        weights = tuple((stage.weight + seconds // 2) // seconds for stage in stages)
        if best and len(stages) * min(sum(weights), within // seconds) > MOST_CELLS:
            continue
        band = max(within, _greedy(stages, weights, start.apart, seconds))
        search = Search(stages, weights, start, seconds, band, tolerance, opens)
        leads = _followed(search, _sweep(search))
        left = start.apart + sum(_signed(j, one.weight) for j, one in zip(leads, stages, strict=True) if j is not None)
        over = max(0, abs(left) - max(tolerance, least))
        if best is None or over < best[0]:
            best = (over, leads)
        if over == 0:
            break
    return best[1] if best else []


class _Prices(NamedTuple):
    """Factors that pack the cost tuple into one whole number without mixing its members."""

    streak: int
    stray: int
    change: int
    excess: int
    end: int
    never: int

    @classmethod
    def of(cls, search: Search) -> "_Prices":
        """Return the prices; each is more than all that is cheaper can add up to."""
        count = len(search.stages) + 1
        most = abs(search.start.apart) + search.step * sum(search.weights) + 1
        stray = most * count
        change = stray * (1 + sum(max(stage.strays) for stage in search.stages))
        excess = change * count
        end = excess * most * (1 + sum(stage.tolerance is not None for stage in search.stages))
        return cls(streak=most, stray=stray, change=change, excess=excess, end=end, never=end * most)


Costs = list[list[list[int]]]
"""Cost of what remains: [last lead][streak - 1][cell]; cell 0 is the least weight canvas 0 may have led by then."""


class _Swept(NamedTuple):
    """Least and largest steps led by canvas 0 after each stage, and the costs from there on."""

    windows: list[tuple[int, int]]
    costs: list[Costs]
    prices: _Prices


def _sweep(search: Search) -> _Swept:
    """Return what every state after every stage costs to the end; O(stages x balances) time.

    Source:
        Backward recurrence: R. Bellman, Dynamic Programming (1957) (from memory).
    """
    prices, windows = _Prices.of(search), _windows(search)
    low, high = windows[-1]
    total = sum(search.weights)
    ends = [abs(search.start.apart + search.step * (2 * led - total)) for led in range(low, high + 1)]
    row = [end + prices.end * max(0, end - search.tolerance) for end in ends]
    costs: Costs = [[row] * LONGEST_STREAK for _ in range(2)]
    swept = [costs]
    for k in range(len(search.stages) - 1, -1, -1):
        stage, weight = search.stages[k], search.weights[k]
        if stage.tolerance is not None:
            low, high = windows[k + 1]
            middle = search.start.apart - search.step * total
            past = [abs(middle + 2 * search.step * led) - stage.tolerance for led in range(low, high + 1)]
            dues = [prices.excess * over if over > 0 else 0 for over in past]
            costs = [[[a + b for a, b in zip(row, dues, strict=True)] for row in rows] for rows in costs]
            swept[-1] = costs
        if k > 0:
            costs = _before(stage, weight, costs, (windows[k], windows[k + 1]), prices)
            swept.append(costs)
            total -= weight
    return _Swept(windows, swept[::-1], prices)


def _before(
    stage: Stage, weight: int, costs: Costs, windows: tuple[tuple[int, int], tuple[int, int]], prices: _Prices
) -> Costs:
    """Return the costs before a stage from those after it."""
    (low, high), (after, _) = windows

    def moved(row: list[int], by: int) -> list[int]:
        first, end = low - after + by, high + 1 - after + by
        found = row[max(0, first) : max(0, end)]
        before = [prices.never] * min(end - first, max(0, -first))
        return [*before, *found, *[prices.never] * (end - first - len(before) - len(found))]

    found: Costs = []
    for last in range(2):
        if not stage.leads:
            due = prices.change * stage.changes[last][0]
            found.append([[cost + due for cost in moved(row, 0)] for row in costs[last]])
            continue
        other = 1 - last
        turned = _plus(moved(costs[other][0], weight * last), _due(stage, last, other, prices))
        longer = [moved(row, weight * other) for row in costs[last][1:]]
        stayed = [_plus(row, _due(stage, last, last, prices)) for row in longer]
        stayed.append(_plus(stayed[-1], prices.streak))
        if len(stage.leads) == 1:
            found.append(stayed if stage.leads[0] == last else [turned] * LONGEST_STREAK)
            continue
        found.append([[a if a < b else b for a, b in zip(turned, row, strict=True)] for row in stayed])  # noqa: FURB136  min() costs more
    return found


def _plus(row: list[int], due: int) -> list[int]:
    return [cost + due for cost in row] if due else row


def _due(stage: Stage, last: int, lead: int, prices: _Prices) -> int:
    return prices.change * stage.changes[last][lead] + prices.stray * stage.strays[lead]


def _followed(search: Search, swept: _Swept) -> list[int | None]:
    """Return the leads that the costs speak for, stage by stage; None where nobody leads."""
    _, last, streak = search.start
    led = 0
    chosen: list[int | None] = []
    for stage, weight, costs, (low, high) in zip(
        search.stages, search.weights, swept.costs, swept.windows[1:], strict=True
    ):
        if not stage.leads:
            chosen.append(None)
            continue
        options = []
        for lead in stage.leads:
            at = led + weight * (1 - lead)
            if low <= at <= high:
                row = costs[lead][min(streak, LONGEST_STREAK - 1) if lead == last else 0]
                due = _due(stage, last, lead, swept.prices)
                due += swept.prices.streak * (lead == last and streak >= LONGEST_STREAK)
                options.append((row[at - low] + due, lead != search.opens, lead, at))
        _, _, lead, led = min(options)
        streak = streak + 1 if lead == last else 1
        last = lead
        chosen.append(lead)
    return chosen


def _windows(search: Search) -> list[tuple[int, int]]:
    """Return the least and the largest steps led by canvas 0, at the start and after each stage, within the band."""
    windows = [(0, 0)]
    for weight, total in zip(search.weights, accumulate(search.weights), strict=True):
        middle = search.step * total - search.start.apart
        low = max(windows[-1][0], -((search.band - middle) // (2 * search.step)))
        windows.append((low, max(low, min(windows[-1][1] + weight, (middle + search.band) // (2 * search.step)))))
    return windows


def _greedy(stages: Sequence[Stage], weights: Order, apart: int, step: int) -> int:
    """Return how far apart the leads come if the canvas that led less always leads where it may."""
    most = abs(apart)
    for stage, weight in zip(stages, weights, strict=True):
        if stage.leads:
            lead = stage.leads[0] if len(stage.leads) == 1 else int(apart > 0)
            apart += _signed(lead, weight * step)
            most = max(most, abs(apart))
    return most


def _order(lead: int | None, batch: Batch) -> Order:
    return honoured(() if lead is None else (lead, 1 - lead), batch)


def _signed(lead: int, weight: int) -> int:
    return weight if lead == 0 else -weight


def _start(painted: Sequence[PaintedRun]) -> Start:
    led = [(run.order[0], run.weight) for run in painted if len(run.order) > 1]
    streaks = [(lead, len(list(runs))) for lead, runs in groupby(lead for lead, _ in led)]
    return Start(sum(_signed(*one) for one in led), *(streaks[-1] if streaks else ()))


def _stages(batches: Sequence[Batch], painted: Sequence[PaintedRun]) -> tuple[Stage, ...]:
    weight_of_pass: dict[int, int] = {}  # what is on one canvas has no lead and does not count
    for pass_no, weight, canvases in [
        *((run.pass_no, run.weight, run.order) for run in painted),
        *((batch.pass_no, batch.weight, batch.present) for batch in batches),
    ]:
        weight_of_pass[pass_no] = weight_of_pass.get(pass_no, 0) + weight * (len(canvases) > 1)
    at = painted[-1].order[-1] if painted else None
    exits = (at, at)
    stages = []
    for batch, following in zip(batches, [*batches[1:], None], strict=True):
        ends_pass = following is None or following.pass_no != batch.pass_no
        entries = _entries(batch)
        stages.append(
            Stage(
                weight=batch.weight if len(batch.present) > 1 else 0,
                leads=(batch.prefix[:1] or (0, 1)) if len(batch.present) > 1 else (),
                changes=(_changes(exits[0], entries), _changes(exits[1], entries)),
                strays=(_strays(batch, 0), _strays(batch, 1)),
                tolerance=max(1, weight_of_pass[batch.pass_no] // PASS_TOLERANCE) if ends_pass else None,
            )
        )
        exits = (1, 0) if len(batch.present) > 1 else (batch.present[0], batch.present[0])
    return tuple(stages)


def _entries(batch: Batch) -> Order:
    """Return the canvas on which painting begins, if canvas 0 leads and if canvas 1 does."""
    if len(batch.present) == 1:
        return (batch.present[0], batch.present[0])
    return (1, 0) if batch.begun_count else (0, 1)


def _changes(exit_from: int | None, entries: Order) -> Order:
    return tuple(int(exit_from not in {None, entry}) for entry in entries)


def _strays(batch: Batch, lead: int) -> int:
    return sum(1 for order in batch.announced if len(order) > 1 and order[0] != lead)
