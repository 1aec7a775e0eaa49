"""A comparison of two canvases as a table and as sentences."""

from collections.abc import Iterable
from typing import TYPE_CHECKING, Final

from coach.text import counted, joined

if TYPE_CHECKING:
    from coach.compare.findings import Comparison

COLUMNS: Final = ("pass", "passage", "difference", "between", "what the eye sees")
"""Columns of the table of what is called."""


def comparison_rows(found: "Comparison") -> list[tuple[str, ...]]:
    """Return the passages that are out, the gravest first, as texts under `COLUMNS`."""
    return [
        (one.pass_, one.passage, f"{one.difference:.1f}", f"{one.interval[0]:.1f} to {one.interval[1]:.1f}", one.words)
        for one in found.shapes
        if one.called
    ]


def comparison_lines(found: "Comparison") -> list[str]:
    """Return what else there is to say, a sentence each."""
    lines = [f"{one.words}." for one in found.moved]
    lines += [f"{one.passage} ({one.pass_}): {one.words}." for one in found.off_values]
    lines += [f"{found.all_over.words}."] if found.all_over and found.all_over.called else []
    if found.exchanged:
        called = sum(one.called for one in found.shapes)
        out = f"{counted(called, 'passage')} out of {len(found.shapes)} differ" if called else "No passage differs"
        lines.append(f"{out} so far that it should be mended; the photos tell no finer than about 1 (CIEDE2000).")
    return [*lines, *_left_out(found), *found.remarks]


def _left_out(found: "Comparison") -> Iterable[str]:
    for why in dict.fromkeys(one.why for one in found.not_compared):
        yield f"Not compared, {why}: {joined([one.passage for one in found.not_compared if one.why == why])}."
