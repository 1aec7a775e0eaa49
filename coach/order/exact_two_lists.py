"""The backward sweep of the exact planner for two canvases with plain lists."""

from collections.abc import Sequence
from operator import add, le, lt
from typing import NamedTuple

from coach.order.stages import LONGEST_STREAK, Prices, Stage, Task, Window

Costs = list[list[list[int]]]
"""Cost of what remains: [last lead][streak - 1][led - low of the window]."""

Turns = list[list[bytes]]
"""Whether to change the lead: [last lead][streak - 1][led - low]; it always does after the longest streak."""


class Swept(NamedTuple):
    """The turns of each stage, None where there is no choice, and the costs after the first stage."""

    turns: list[Turns | None]
    values: Sequence[Sequence[Sequence[int]]]


def sweep_lists(task: Task) -> Swept:
    """Return the best turns of every stage but the first, which is left to the caller.

    Args:
        task: What to work on.

    Returns:
        Turns and costs; O(stages x window x longest streak) time.

    Source:
        Backward recurrence over (imbalance, last lead, streak): R. Bellman, Dynamic Programming (1957) (from
        memory).
    """
    windows, totals, never = task.windows, task.totals, task.prices.infeasible
    final = [abs(2 * led - totals[-1]) for led in _range(windows[-1])]
    if task.limit is not None:
        final = [left if left <= task.limit else never for left in final]
    values: Costs = [[final] * LONGEST_STREAK for _ in range(2)]
    turns: list[Turns | None] = [None] * len(task.stages)
    for k in range(len(task.stages) - 1, 0, -1):
        stage = task.stages[k]
        if stage.tolerance is not None:
            ends = (2 * led - totals[k + 1] for led in _range(windows[k + 1]))
            dues = [task.prices.of_imbalance(stage, end) for end in ends]
            values = [[list(map(add, row, dues)) for row in rows] for rows in values]
        size = windows[k].size
        by = windows[k].low - windows[k + 1].low
        if not stage.leads:
            values = [
                [_plus(_moved(row, by, size, never), task.prices.of_step(stage, last, 0)) for row in values[last]]
                for last in range(2)
            ]
            continue
        shifts = (by + stage.weight, by)
        moved = [[_moved(row, shifts[lead], size, never) for row in values[lead]] for lead in range(2)]
        if len(stage.leads) == 1:
            values = _forced(moved, stage, task.prices)
        else:
            values, turns[k] = _chosen(moved, stage, task.prices, task.opens)
    return Swept(turns, values)


def _chosen(moved: Costs, stage: Stage, prices: Prices, opens: int) -> tuple[Costs, Turns]:
    values: Costs = []
    turns: Turns = []
    for last in range(2):
        other = 1 - last
        change = _plus(moved[other][0], prices.of_step(stage, last, other))
        wins = le if other == opens else lt
        row_values, row_turns = [], []
        for again in moved[last][1:]:
            stay = _plus(again, prices.of_step(stage, last, last))
            turn = bytes(map(wins, change, stay))
            row_turns.append(turn)
            row_values.append([c if t else s for t, c, s in zip(turn, change, stay, strict=True)])
        values.append([*row_values, change])
        turns.append(row_turns)
    return values, turns


def _forced(moved: Costs, stage: Stage, prices: Prices) -> Costs:
    lead = stage.leads[0]
    longer = [*moved[lead][1:], moved[lead][-1]]
    return [
        [
            _plus(row, prices.of_step(stage, last, lead))
            for row in (longer if last == lead else [moved[lead][0]] * LONGEST_STREAK)
        ]
        for last in range(2)
    ]


def _range(window: Window) -> range:
    return range(window.low, window.low + window.size)


def _moved(row: list[int], by: int, size: int, never: int) -> list[int]:
    """Return size entries of the row from index `by` on, `never` where the row has none."""
    before = min(size, max(0, -by))
    found = row[max(0, by) : max(0, by + size)]
    return [never] * before + found + [never] * (size - before - len(found))


def _plus(row: list[int], cost: int) -> list[int]:
    return [value + cost for value in row] if cost else row
