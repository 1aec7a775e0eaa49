"""Pictures of who led, in half blocks: a strip with a row a canvas, and a curve of the minutes ahead. Pure.

Both lie on one axis: the runs in the order painted, each as broad as its minutes, a gap between passes. Where there are
too many runs for that, a pass is a stretch in which each canvas has the part that it led.
"""

from collections.abc import Mapping, Sequence
from itertools import accumulate, groupby
from types import MappingProxyType
from typing import Final, NamedTuple, Protocol

from coach.plan.commission import pass_words
from coach.screens.lines import BLANK, Line, Role
from coach.text import cells, cut, padded

BAR: Final = "▀"
"""Where a canvas led."""

THIN_BAR: Final = "─"
"""Where it is to lead."""

THICK_BAR: Final = "█"
"""Where it leads the run that is looked at."""

NO_SIGNS: Final[Mapping[int, str]] = MappingProxyType({})

_ZERO: Final = "─"
_EVEN: Final = "even"
_MOST_LABEL: Final = 16


class Led(Protocol):
    """A run that somebody leads."""

    @property
    def pass_name(self) -> str:
        """Name of its pass."""

    @property
    def order(self) -> tuple[str, ...]:
        """Its canvases; the first one leads."""

    @property
    def mean_min(self) -> float:
        """Mean of the minutes of its turns."""


class Column(NamedTuple):
    """A column of the axis: the run it belongs to (a number from 0), and the canvas that led there."""

    run_no: int
    lead: str


Axis = Sequence[Column | None]
"""Columns from left to right; None is a gap between passes."""


def label_cells(names: Sequence[str]) -> int:
    """Return the cells of the labels left of strip and curve, which hold a name and its minutes ahead."""
    return min(_MOST_LABEL, max(map(cells, names)) + len(" +999"))


def axis_of(runs: Sequence[Led], names: Sequence[str], width: int) -> Axis:
    """Return the axis of some runs, at most `width` columns."""
    stretches = _stretches(runs)
    room = width - (len(stretches) - 1)
    if room >= len(runs):
        broad = _dealt_out(room, [run.mean_min for run in runs], 1)
        return _joined([[Column(no, runs[no].order[0]) for no in part for _ in range(broad[no])] for part in stretches])
    least = len(names)  # so that each canvas can have a column
    if room < least * len(stretches):
        stretches, room = [range(len(runs))], max(width, least)
    minutes = [sum(runs[no].mean_min for no in part) for part in stretches]
    broad = _dealt_out(room, minutes, least)
    return _joined([_shares(runs, part, names, columns) for part, columns in zip(stretches, broad, strict=True)])


def _stretches(runs: Sequence[Led]) -> list[range]:
    """Return the numbers of the runs, stretch by stretch of the same pass."""
    sizes = [len(list(group)) for _, group in groupby(runs, key=lambda run: run.pass_name)]
    return [range(stop - size, stop) for size, stop in zip(sizes, accumulate(sizes), strict=True)]


def _dealt_out(room: int, weights: Sequence[float], least: int) -> list[int]:
    """Return `room` columns dealt out by weight, `least` or more each."""
    total, free = sum(weights), room - least * len(weights)
    ends = [round(free * so_far / total) for so_far in accumulate(weights)]
    return [least + end - before for before, end in zip([0, *ends], ends, strict=False)]


def _joined(parts: Sequence[Sequence[Column]]) -> list[Column | None]:
    axis: list[Column | None] = []
    for part in parts:
        axis += [None, *part] if axis else part
    return axis


def _shares(runs: Sequence[Led], part: range, names: Sequence[str], columns: int) -> list[Column]:
    led = [sum(runs[no].mean_min for no in part if runs[no].order[0] == name) for name in names]
    broad = _dealt_out(columns, led, 0)
    leads = [name for name, count in zip(names, broad, strict=True) for _ in range(count)]
    return [Column(part[column * len(part) // columns], lead) for column, lead in enumerate(leads)]


def ruler(runs: Sequence[Led], axis: Axis, label: int) -> str:
    """Return the names of the passes above where they begin.

    Of a name as many whole words are shown as have room before the next begins, but at least one; the next begins
    behind it if that is still above its own runs, or is left out.
    """
    starts = [
        (no, column.run_no)
        for no, column in enumerate(axis)
        if column is not None and (no == 0 or axis[no - 1] is None)
    ]
    passes = {column.run_no: pass_words(runs[column.run_no].pass_name) for column in axis if column is not None}
    if len(starts) == 1 < len(set(passes.values())):  # one stretch for all passes
        return ""
    text, ends = "", [*(no - 1 for no, _ in starts[1:]), len(axis)]
    for (no, run_no), end in zip(starts, ends, strict=True):
        start = max(no, cells(text) + bool(text))
        whole, *more = passes[run_no].split()
        while more and cells(f"{whole} {more[0]}") <= end - start:
            whole = f"{whole} {more.pop(0)}"
        whole = whole.removesuffix(" and") if more else whole
        if start < end and start + cells(whole) <= len(axis):
            text += " " * (start - cells(text)) + whole
    return " " * (label + 1) + text


def strip_rows(axis: Axis, names: Sequence[str], label: int, signs: Mapping[int, str] = NO_SIGNS) -> list[str]:
    """Return a row a canvas, with a bar wherever it led; `signs` gives runs by their number another sign than `BAR`."""
    bars = [None if one is None else (one.lead, signs.get(one.run_no, BAR)) for one in axis]
    return [
        f"{padded(name, label)} "
        + "".join(bar[1] if bar is not None and bar[0] == name else " " for bar in bars).rstrip()
        for name in names
    ]


def lead_strip(
    runs: Sequence[Led], names: Sequence[str], columns: int, lines: int, signs: Mapping[int, str] = NO_SIGNS
) -> list[Line]:
    """Return who led each run, with the passes above and a blank line before; nothing where there is no room."""
    label = label_cells(names)
    axis = axis_of(runs, names, columns - label - 1)
    passes = ruler(runs, axis, label)
    heads = [Line(passes, Role.HEAD)] if passes else []
    rows = [Line(row, Role.DETAIL) for row in strip_rows(axis, names, label, signs)]
    ways = ([BLANK, *heads, *rows], [*heads, *rows], rows)
    return next((way for way in ways if len(way) <= lines), [])


def curve_rows(runs: Sequence[Led], axis: Axis, names: Sequence[str], label: int, rows: int) -> list[str]:
    """Return the minutes ahead along the axis: of two canvases which is ahead, of more how far they lie apart.

    Of two it is a line above and below a rule for "even"; of more there is a line for the canvas that led most for its
    share, and one for that which led least.

    Args:
        runs: The runs.
        axis: Their axis.
        names: The canvases.
        label: Cells of the labels.
        rows: Lines, 2 or more.
    """
    lines_min = _lines_min(runs, names)
    every = [minutes for line in lines_min for minutes in line]
    top, bottom = max(1.0, *every), min(-1.0, *every)
    halves = 2 * rows
    # Zero lies in the middle of a line, where a rule can be drawn.
    zero = 2 * min(rows - 1, max(0, round((-bottom / (top - bottom) * halves - 1) / 2))) + 1
    unit = max(top / (halves - zero), -bottom / zero)
    is_pair = len(names) == 2  # noqa: PLR2004
    low = _label(names[1], f"+{-bottom:.0f}", label) if is_pair else _label("least", f"-{-bottom:.0f}", label)
    high = _label(names[0] if is_pair else "most", f"+{top:.0f}", label)
    labels = {zero // 2: padded(_EVEN, label), 0: low, rows - 1: high}
    filled = _filled(axis, [[round(minutes / unit) for minutes in line] for line in lines_min])
    return [
        f"{labels.get(row, ' ' * label)} {_curve_row(filled, 2 * row - zero, row == zero // 2)}".rstrip()
        for row in range(rows - 1, -1, -1)
    ]


def _label(name: str, minutes: str, label: int) -> str:
    return padded(f"{cut(name, label - len(minutes) - 1)} {minutes}", label)


def _lines_min(runs: Sequence[Led], names: Sequence[str]) -> list[list[float]]:
    """Return the lines: of each the minutes above zero after every run."""
    over, least, most = dict.fromkeys(names, 0.0), [], []
    for run in runs:
        for name in run.order:
            over[name] += run.mean_min * ((name == run.order[0]) - 1 / len(run.order))
        least.append(min(over.values()))
        most.append(over[names[0]] - over[names[1]] if len(names) == 2 else max(over.values()))  # noqa: PLR2004
    return [most] if len(names) == 2 else [most, least]  # noqa: PLR2004


def _filled(axis: Axis, lines: Sequence[Sequence[int]]) -> list[set[int]]:
    """Return for each column the half rows that are filled, counted from zero: 1 is the first above, -1 below."""
    columns: list[set[int]] = [set() for _ in axis]
    for line in lines:
        before = 0
        for halves, column in zip(columns, axis, strict=True):
            now = before if column is None else line[column.run_no]
            halves.update(range(before + 1, now + 1) if now > before else range(now, max(before, now + 1)))
            before = now
    return columns


def _curve_row(filled: Sequence[set[int]], first: int, is_rule: bool) -> str:
    """Return one line of the curve, its lower half row so far from zero, the upper one above it."""
    lower, upper = (number if number < 0 else number + 1 for number in (first, first + 1))
    signs = {(True, True): "█", (True, False): "▄", (False, True): "▀", (False, False): _ZERO if is_rule else " "}
    return "".join(signs[lower in halves, upper in halves] for halves in filled)
