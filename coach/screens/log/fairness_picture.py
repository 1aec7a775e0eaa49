"""A picture of who led when, in plain characters: strips of leads, the balance as a line, first against second.

Everything is told by shape and word; no colour is needed to read it.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Final, TypeVar

from coach.review.fairness.run_times import RunTimes
from coach.text import cells as cells_of
from coach.text import padded

_T = TypeVar("_T")

_MOST_LABEL: Final = 20
_FEWEST_LETTERS: Final = 3
_MOST_CELLS_A_RUN: Final = 3
_LONGEST_BAR: Final = 60
_SHARES: Final = "▁▂▃▄▅▆▇█"
_FOLLOWED: Final = "·"
_HALF_ROWS: Final = 13
"""Half rows of the line of balance: an odd number, so that zero has one of its own."""


def fairness_picture(runs: Sequence[RunTimes], names: Sequence[str], columns: int) -> tuple[str, ...]:
    """Return the picture, one text a line, each at most `columns` cells wide.

    Args:
        runs: Runs in the order painted.
        names: Names of the canvases, in the order of their rows.
        columns: Width in cells, 40 or more; less is taken as 40.
    """
    shared = [run for run in runs if len(run.order) > 1]
    if not shared:
        return ()
    width = max(40, columns)
    ahead = [f"{name} ahead" for name in names] if len(names) == 2 else names  # noqa: PLR2004
    label = min(_MOST_LABEL, max(map(cells_of, ahead)))
    return (
        *_strips(shared, names, label, width),
        "",
        *_balance(shared, names, label, width),
        "",
        *_first_against_second(shared, len(names), width),
    )


def _strips(runs: Sequence[RunTimes], names: Sequence[str], label: int, width: int) -> list[str]:
    groups = _grouped(runs, width - label - 1)
    most = max(map(len, groups))
    led = "█ led" if most == 1 else f"▁ to █ the share led of up to {most} runs"
    lines = [f"leads along the work: {led}, {_FOLLOWED} followed"]
    cells = _cells_each(groups, width - label - 1)
    ruler = _ruler([group[0].pass_name for group in groups for _ in range(cells)])
    lines.append(" " * (label + 1) + ruler.rstrip())
    for name in names:
        marks = "".join(_mark(group, name).ljust(cells) for group in groups)
        lines.append(f"{padded(name, label)} {marks}".rstrip())
    return lines


def _mark(group: Sequence[RunTimes], name: str) -> str:
    painted = [run for run in group if name in run.order]
    led = sum(run.order[0] == name for run in painted)
    if not painted:
        return " "
    return _SHARES[round(led / len(painted) * (len(_SHARES) - 1))] if led else _FOLLOWED


def _ruler(passes: Sequence[str]) -> str:
    """Return the names of the passes above the marks where they begin, as far as there is room."""
    starts = [0, *(i for i, (one, other) in enumerate(pairwise(passes), start=1) if one != other), len(passes)]
    return "".join(
        padded(passes[start] if stop - start > _FEWEST_LETTERS else "", stop - start - 1) + " "
        for start, stop in pairwise(starts)
    )


def _balance(runs: Sequence[RunTimes], names: Sequence[str], label: int, width: int) -> list[str]:
    if len(names) == 2:  # noqa: PLR2004
        heights = _running_difference(runs, names[0])
        top, bottom = (f"{padded(name, min(cells_of(name), label - 6))} ahead" for name in names)
        title = "balance of the lead so far, in minutes of work"
    else:
        heights = _running_spread(runs, names)
        top, bottom = "apart", ""
        title = "minutes between the canvas that led most and the one that led least"
    peak = max(1.0, *map(abs, heights))
    groups = _grouped(heights, width - label - 1)
    cells = _cells_each(groups, width - label - 1)
    ends = [group[-1] for group in groups for _ in range(cells)]
    rows = _line(ends, peak, is_signed=bool(bottom))
    labels = {0: f"{peak:.0f} min", 1: top}
    if bottom:
        labels |= {len(rows) // 2: "0", len(rows) - 2: bottom, len(rows) - 1: f"{peak:.0f} min"}
    else:
        labels |= {len(rows) - 1: "0"}
    return [title, *(f"{padded(labels.get(no, ''), label)} {row}" for no, row in enumerate(rows))]


def _running_difference(runs: Sequence[RunTimes], first: str) -> list[float]:
    ahead, heights = 0.0, []
    for run in runs:
        ahead += run.mean_min if run.order[0] == first else -run.mean_min
        heights.append(ahead)
    return heights


def _running_spread(runs: Sequence[RunTimes], names: Sequence[str]) -> list[float]:
    led = dict.fromkeys(names, 0.0)
    heights = []
    for run in runs:
        led[run.order[0]] += run.mean_min
        heights.append(max(led.values()) - min(led.values()))
    return heights


def _line(ends: Sequence[float], peak: float, *, is_signed: bool) -> list[str]:
    """Return the rows of a line; each column is a half block at its height, zero a rule where nothing else is."""
    lowest = -peak if is_signed else 0.0
    levels = [round((end - lowest) / (peak - lowest) * (_HALF_ROWS - 1)) for end in ends]
    zero_level = round(-lowest / (peak - lowest) * (_HALF_ROWS - 1))
    rows = []
    for row in range(_HALF_ROWS // 2, -1, -1):
        empty = "╌" if zero_level // 2 == row else " "
        rows.append("".join(_half(level, row, empty) for level in levels).rstrip())
    return rows


def _half(level: int, row: int, empty: str) -> str:
    if level // 2 != row:
        return empty
    return "▀" if level % 2 else "▄"


def _first_against_second(runs: Sequence[RunTimes], canvases: int, width: int) -> list[str]:
    compared = [run for run in runs if len(run.order) == canvases]
    if not compared:
        return ["no run is painted on every canvas yet, so leading and following cannot be set side by side"]
    passes = dict.fromkeys(run.pass_name for run in compared)
    groups = [("all", compared)]
    if len(passes) > 1:
        groups += [(name, [run for run in compared if run.pass_name == name]) for name in passes]
    means = [(name, *_lead_and_follow(group)) for name, group in groups]
    label = min(_MOST_LABEL, max(cells_of(name) for name, *_ in means))
    longest = max(max(lead, follow) for _, lead, follow in means)
    room = min(_LONGEST_BAR, width - label - len(" follow 999.9 min "))
    lines = ["minutes of a turn, leading against following"]
    for name, lead, follow in means:
        lines.append(f"{padded(name, label)} lead   {lead:5.1f} min {'━' * round(lead / longest * room)}")
        lines.append(f"{' ' * label} follow {follow:5.1f} min {'─' * round(follow / longest * room)}")
    return lines


def _lead_and_follow(runs: Sequence[RunTimes]) -> tuple[float, float]:
    leads = [run.minutes[0] for run in runs]
    follows = [minutes for run in runs for minutes in run.minutes[1:]]
    return sum(leads) / len(leads), sum(follows) / len(follows)


def _grouped(items: Sequence[_T], most: int) -> list[Sequence[_T]]:
    size = -(-len(items) // most)
    return [items[start : start + size] for start in range(0, len(items), size)]


def _cells_each(groups: Sequence[object], room: int) -> int:
    return min(_MOST_CELLS_A_RUN, room // len(groups))
