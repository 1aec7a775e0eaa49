"""The exact planner for two canvases: the leads of least cost, by dynamic programming over the balance.

The cost is a tuple, smaller first: total excess of the running imbalance over the tolerance at the pass ends;
repeats of a lead (each is one more walk); leads that differ from those announced; final imbalance; leads as a
string in which the opening canvas sorts first. It is additive along the work, so that planning again from any
point of a plan that was obeyed returns the rest of that plan.
"""

from importlib.util import find_spec
from itertools import accumulate, product, takewhile
from typing import NamedTuple

from coach.order.exact_two_lists import Swept, sweep_lists
from coach.order.stages import LONGEST_STREAK, Prices, Stage, Start, Task
from coach.order.windows import band_windows, wide_windows

RUNS_WITHOUT_ARRAYS = 300
"""Up to so many runs plain lists are quick enough, and an array library need not be loaded."""


class TwoCanvases(NamedTuple):
    """The work that remains on two canvases.

    Attributes:
        stages: What is to come.
        start: Where the work stands.
        band: Largest running imbalance, unless history or wishes force more.
        opens: The canvas that sorts first where all else is equal.
        limit: Final imbalance not to be passed if that is possible; None for no limit.
    """

    stages: tuple[Stage, ...]
    start: Start
    band: int
    opens: int
    limit: int | None = None


def best_leads(work: TwoCanvases, *, arrays: bool | None = None) -> tuple[int | None, ...]:
    """Return the lead of each stage, None for a stage on one canvas.

    Args:
        work: What remains.
        arrays: Whether to compute with numpy; None: where there are many runs and numpy is installed. The
            answer is the same.

    Returns:
        One entry a stage.
    """
    alone = tuple(takewhile(lambda stage: not stage.leads, work.stages))
    stages = work.stages[len(alone) :]
    if not stages:
        return (None,) * len(alone)
    totals = tuple(accumulate((stage.weight for stage in stages), initial=work.start.total))
    windows = [find(stages, work.start, totals, work.band) for find in (band_windows, wide_windows)]
    limits = [None] if work.limit is None else [work.limit, None]
    for within, limit in product(windows, limits):
        prices = Prices.of(stages, within, totals)
        task = Task(stages=stages, windows=within, totals=totals, prices=prices, opens=work.opens, limit=limit)
        swept = _sweep(task, arrays)
        first = _first_lead(task, work.start, swept)
        if first is not None:
            return (None,) * len(alone) + _follow(task, work.start, first, swept)
    raise AssertionError  # pragma: no cover - the wide windows hold the greedy leads, always possible


def _sweep(task: Task, arrays: bool | None) -> Swept:
    if arrays is None:
        arrays = len(task.stages) > RUNS_WITHOUT_ARRAYS and find_spec("numpy") is not None
    if arrays and task.prices.fits_64_bits:
        from coach.order.exact_two_arrays import sweep_arrays  # noqa: PLC0415 - loaded only where it pays

        return sweep_arrays(task)
    return sweep_lists(task)


def _first_lead(task: Task, start: Start, swept: Swept) -> int | None:
    """Return the best lead of the first stage; None if nothing is possible within the windows."""
    stage, window = task.stages[0], task.windows[1]
    best: tuple[int, int] | None = None
    for lead in (task.opens, 1 - task.opens):
        streak = _streak_after(start.lead, start.streak, lead)
        led = start.led + (stage.weight if lead == 0 else 0)
        too_long = streak > LONGEST_STREAK and len(stage.leads) > 1
        if lead not in stage.leads or too_long or not 0 <= led - window.low < window.size:
            continue
        cost = swept.values[lead][min(streak, LONGEST_STREAK) - 1][led - window.low]
        cost += task.prices.of_step(stage, start.lead or 0, lead)
        cost += task.prices.of_imbalance(stage, 2 * led - task.totals[1])
        if cost < (task.prices.infeasible if best is None else best[0]):
            best = (cost, lead)
    return None if best is None else best[1]


def _follow(task: Task, start: Start, first: int, swept: Swept) -> tuple[int | None, ...]:
    """Return the leads to which the turns of the sweep lead."""
    lead = first
    streak = min(LONGEST_STREAK, _streak_after(start.lead, start.streak, first))
    led = start.led + (task.stages[0].weight if first == 0 else 0)
    chosen: list[int | None] = [first]
    for k, stage in enumerate(task.stages[1:], start=1):
        if not stage.leads:
            chosen.append(None)
            continue
        turns = swept.turns[k]
        if turns is None:
            now = stage.leads[0]
        elif streak == LONGEST_STREAK or turns[lead][streak - 1][led - task.windows[k].low]:
            now = 1 - lead
        else:
            now = lead
        streak = min(LONGEST_STREAK, _streak_after(lead, streak, now))
        lead = now
        led += stage.weight if lead == 0 else 0
        chosen.append(lead)
    return tuple(chosen)


def _streak_after(last: int | None, streak: int, lead: int) -> int:
    return streak + 1 if lead == last else 1
