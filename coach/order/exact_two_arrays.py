"""The backward sweep of the exact planner for two canvases with numpy; the same answers as with lists."""

from typing import TYPE_CHECKING

import numpy as np

from coach.order.exact_two_lists import Swept, Turns
from coach.order.stages import COST_LIMIT, LONGEST_STREAK, Prices, Stage, Task, Window

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Costs = NDArray[np.int64]


def sweep_arrays(task: Task) -> Swept:
    """Return what `sweep_lists` returns; `task.prices.fits_64_bits` must hold."""
    windows, totals = task.windows, task.totals
    values = np.empty((2, LONGEST_STREAK, windows[-1].size), dtype=np.int64)
    final = np.abs(_imbalances(windows[-1], totals[-1]))
    values[:] = final if task.limit is None else np.where(final <= task.limit, final, COST_LIMIT)
    turns: list[Turns | None] = [None] * len(task.stages)
    for k in range(len(task.stages) - 1, 0, -1):
        stage = task.stages[k]
        if stage.tolerance is not None:
            over = np.abs(_imbalances(windows[k + 1], totals[k + 1])) - stage.tolerance
            values += task.prices.excess * np.maximum(over, 0)
        size = windows[k].size
        by = windows[k].low - windows[k + 1].low
        if not stage.leads:
            values = _moved(values, by, size)
            values += np.array([[[task.prices.of_step(stage, last, 0)]] for last in range(2)])
            continue
        moved = (_moved(values[0], by + stage.weight, size), _moved(values[1], by, size))
        if len(stage.leads) == 1:
            values = _forced(moved[stage.leads[0]], stage, task.prices)
        else:
            values, turns[k] = _chosen(moved, stage, task.prices, task.opens)
    return Swept(turns, values.tolist())


def _chosen(moved: "tuple[Costs, Costs]", stage: Stage, prices: Prices, opens: int) -> "tuple[Costs, Turns]":
    values = np.empty((2, *moved[0].shape), dtype=np.int64)
    turns: Turns = []
    for last in range(2):
        other = 1 - last
        change = moved[other][0] + prices.of_step(stage, last, other)
        stay = moved[last][1:] + prices.of_step(stage, last, last)
        turn = change <= stay if other == opens else change < stay
        turns.append([row.tobytes() for row in turn])
        np.minimum(change, stay, out=values[last, :-1])
        values[last, -1] = change
    return values, turns


def _forced(moved: "Costs", stage: Stage, prices: Prices) -> "Costs":
    lead = stage.leads[0]
    values = np.empty((2, *moved.shape), dtype=np.int64)
    values[lead, :-1] = moved[1:]
    values[lead, -1] = moved[-1]
    values[1 - lead] = moved[0]
    values += np.array([[[prices.of_step(stage, last, lead)]] for last in range(2)])
    return values


def _imbalances(window: Window, total: int) -> "Costs":
    return 2 * np.arange(window.low, window.low + window.size, dtype=np.int64) - total


def _moved(values: "Costs", by: int, size: int) -> "Costs":
    """Return size entries of the last axis from index `by` on, COST_LIMIT where there is none."""
    moved = np.full((*values.shape[:-1], size), COST_LIMIT, dtype=np.int64)
    found = values[..., max(0, by) : max(0, by + size)]
    before = min(size, max(0, -by))
    moved[..., before : before + found.shape[-1]] = found
    return moved
