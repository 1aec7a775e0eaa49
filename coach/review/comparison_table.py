"""A comparison of two canvases as a table and as sentences."""

from collections.abc import Container, Iterable
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from coach.journal.compared import Difference, difference_between
from coach.text import counted, joined

if TYPE_CHECKING:
    from coach.compare.findings import Comparison

COLUMNS: Final = ("pass", "passage", "difference", "between", "what the eye sees")
"""Columns of the table of what is called."""


def without_meant(found: "Comparison", meant: Container[Difference]) -> "Comparison":
    """Return a comparison without what is meant so, which a remark names."""

    def is_meant(pass_: str, name: str) -> bool:
        return difference_between(pass_, name, found.canvases) in meant

    silent = [f"{one.passage} ({one.pass_})" for one in found.shapes if one.called and is_meant(one.pass_, one.passage)]
    silent += [one.feature for one in found.moved if is_meant("", one.feature)]
    return replace(
        found,
        shapes=tuple(one for one in found.shapes if not is_meant(one.pass_, one.passage)),
        moved=tuple(one for one in found.moved if not is_meant("", one.feature)),
        off_values=tuple(one for one in found.off_values if not is_meant(one.pass_, one.passage)),
        remarks=(*found.remarks, *([f"Meant so: {joined(silent)}."] if silent else [])),
    )


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
    named = {(one.pass_, one.passage) for one in found.shapes if one.called}
    off = [one for one in found.off_values if (one.pass_, one.passage) not in named]
    lines += [f"{one.passage} ({one.pass_}): {one.words}." for one in off]
    lines += [f"{found.all_over.words}."] if found.all_over and found.all_over.called else []
    if found.exchanged:
        called = sum(one.called for one in found.shapes)
        out = f"{counted(called, 'passage')} out of {len(found.shapes)} differ" if called else "No passage differs"
        lines.append(f"{out} so far that it should be mended; the photos tell no finer than about 1 (CIEDE2000).")
    return [*lines, *_left_out(found), *found.remarks]


def _left_out(found: "Comparison") -> Iterable[str]:
    for why in dict.fromkeys(one.why for one in found.not_compared):
        yield f"Not compared, {why}: {joined([one.passage for one in found.not_compared if one.why == why])}."
