"""Balanced snake: batches, history and tolerances as stages for the exact planner for two canvases."""

from collections.abc import Sequence
from itertools import groupby

from coach.order.batches import Batch, Batches, heaviest_of
from coach.order.exact_two import TwoCanvases, best_leads
from coach.order.opening import opening_no
from coach.order.request import Order, PaintedRun
from coach.order.stages import Stage, Start
from coach.order.wishes import honoured

PASS_TOLERANCE = 20
"""One part in so many of a pass's weight is free at its end (5 %); common practice, no source."""

END_TOLERANCE = 50
"""One part in so many of the whole weight is free at the very end (2 %); common practice, no source."""

BAND_FACTOR = 2
"""The running imbalance stays within so many times the largest weight."""

MOST_CELLS = 1024
"""The balance is told apart in at most so many steps; heavier weights are counted in larger steps."""

MOST_WORK = 1 << 23
"""Steps times runs are at most so many, which bounds memory (four bytes each) and time."""


def weight_step(batches: Batches) -> int:
    """Return the step in which weights are counted, 1 where they are small enough to be exact."""
    cells = max(1, min(MOST_CELLS, MOST_WORK // max(1, len(batches.ahead) + len(batches.painted))))
    return -(-BAND_FACTOR * heaviest_of(batches) // cells)


def balanced_orders(batches: Batches, seed: int, *, arrays: bool | None = None) -> tuple[Order, ...]:
    """Return the order of each batch on two canvases, of least cost (see `exact_two`).

    Args:
        batches: The work on two canvases.
        seed: Decides which canvas opens where all else is equal.
        arrays: As for `best_leads`.

    Returns:
        One order a batch, () where both canvases are away.
    """
    step = weight_step(batches)
    ahead = [batch for batch in batches.ahead if batch.present]
    stages, start = _stages(ahead, batches.painted, step), _start(batches.painted, step)
    work = TwoCanvases(
        stages=stages,
        start=start,
        band=BAND_FACTOR * _steps(heaviest_of(batches), step),
        opens=opening_no(seed, 2),
        limit=_limit(ahead, stages, start),
    )
    leads = iter(best_leads(work, arrays=arrays))
    return tuple(_order(next(leads), batch) if batch.present else () for batch in batches.ahead)


def _order(lead: int | None, batch: Batch) -> Order:
    return honoured(() if lead is None else (lead, 1 - lead), batch)


def _steps(weight: int, step: int) -> int:
    return (weight + step // 2) // step


def _start(painted: Sequence[PaintedRun], step: int) -> Start:
    led = [(run.order[0], _steps(run.weight, step)) for run in painted if len(run.order) > 1]
    streaks = [(lead, len(list(runs))) for lead, runs in groupby(lead for lead, _ in led)]
    return Start(
        led=sum(weight for lead, weight in led if lead == 0),
        total=sum(weight for _, weight in led),
        lead=streaks[-1][0] if streaks else None,
        streak=streaks[-1][1] if streaks else 0,
    )


def _stages(batches: Sequence[Batch], painted: Sequence[PaintedRun], step: int) -> tuple[Stage, ...]:
    weight_of_pass = _weight_of_pass(batches, painted)
    whole = sum(weight_of_pass.values())
    at = painted[-1].order[-1] if painted else None
    exits: tuple[int | None, int | None] = (at, at)
    stages = []
    for k, batch in enumerate(batches):
        is_last = k == len(batches) - 1
        tolerance = None
        if is_last or batches[k + 1].pass_no != batch.pass_no:
            tolerance = max(1, weight_of_pass.get(batch.pass_no, 0) // PASS_TOLERANCE)
            tolerance = min(tolerance, max(1, whole // END_TOLERANCE)) if is_last else tolerance
        entries = _entries(batch)
        stages.append(
            Stage(
                weight=_steps(batch.weight, step) if len(batch.present) > 1 else 0,
                leads=_leads(batch),
                walks=(_walks(exits[0], entries), _walks(exits[1], entries)),
                strays=(_strays(batch, 0), _strays(batch, 1)),
                tolerance=None if tolerance is None else tolerance // step,
            )
        )
        exits = (1, 0) if len(batch.present) > 1 else (batch.present[0], batch.present[0])
    return tuple(stages)


def _weight_of_pass(batches: Sequence[Batch], painted: Sequence[PaintedRun]) -> dict[int, int]:
    """Return the weight of each pass; what is on one canvas has no lead and does not count."""
    shared = [(run.pass_no, run.weight) for run in painted if len(run.order) > 1]
    shared += [(batch.pass_no, batch.weight) for batch in batches if len(batch.present) > 1]
    weight_of: dict[int, int] = {}
    for pass_no, weight in shared:
        weight_of[pass_no] = weight_of.get(pass_no, 0) + weight
    return weight_of


def _limit(batches: Sequence[Batch], stages: Sequence[Stage], start: Start) -> int | None:
    """Return the final imbalance of the announced orders, at least the tolerance; None if some are not known.

    Mending must not leave more than not mending would.
    """
    imbalance = 2 * start.led - start.total
    for batch, stage in zip(batches, stages, strict=True):
        if not stage.leads:
            continue
        leads = stage.leads if len(stage.leads) == 1 else batch.announced[0][:1]
        if not leads:
            return None
        imbalance += stage.weight if leads[0] == 0 else -stage.weight
    tolerance = stages[-1].tolerance if stages else None
    return max(abs(imbalance), tolerance or 0)


def _leads(batch: Batch) -> tuple[int, ...]:
    if len(batch.present) == 1:
        return ()
    return batch.prefix[:1] or (0, 1)


def _entries(batch: Batch) -> tuple[int, int]:
    """Return the canvas on which painting begins, if canvas 0 leads and if canvas 1 does."""
    if len(batch.present) == 1:
        return (batch.present[0], batch.present[0])
    return (1, 0) if batch.begun_count else (0, 1)


def _walks(exit_from: int | None, entries: tuple[int, int]) -> tuple[int, int]:
    first, second = (int(exit_from not in {None, entry}) for entry in entries)
    return (first, second)


def _strays(batch: Batch, lead: int) -> int:
    return sum(1 for order in batch.announced if len(order) > 1 and order[0] != lead)
