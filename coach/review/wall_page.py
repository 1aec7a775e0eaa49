"""The plan for the wall of the studio: every pass in order, with boxes to tick, as a page to print."""

from collections.abc import Iterable, Sequence
from html import escape
from itertools import groupby
from typing import Final

from coach.plan.commission import Passage, Plan
from coach.review.order_table import OrderReport, TurnLine
from coach.text import sanitized

_STYLE: Final = """
@page { margin: 12mm }
body { font: 11pt/1.3 sans-serif; color: #000; background: #fff; margin: 0 auto; max-width: 190mm }
h1 { font-size: 22pt; margin: 0 }
h2 { font-size: 15pt; margin: 8mm 0 1mm; border-bottom: 0.6mm solid #000; break-after: avoid }
p { margin: 0 0 2mm }
table { border-collapse: collapse; width: 100% }
tbody { break-inside: avoid; border-bottom: 0.2mm solid #999 }
td { padding: 0.8mm 3mm 0.8mm 0; vertical-align: top }
td.figure { text-align: right; white-space: nowrap }
td.turns { white-space: nowrap }
.done { color: #777; text-decoration: line-through }
"""


def wall_page(plan: Plan, report: OrderReport) -> str:
    """Return the page as HTML 5, whole in itself; every name of the plan is text in it, never markup."""
    title = _text(plan.commission or "Plan of work")
    due = f"<p>To be handed over on {plan.due:%A} {plan.due.day} {plan.due:%B %Y}.</p>" if plan.due else ""
    passes = "".join(_pass(plan, name, list(turns)) for name, turns in groupby(report.turns, lambda one: one.pass_))
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>{title}</title>'
        f"<style>{_STYLE}</style></head><body>\n<h1>{title}</h1>{due}\n"
        f"<p>The canvas that stands first begins.</p>\n{passes}</body></html>\n"
    )


def _pass(plan: Plan, name: str, turns: Sequence[TurnLine]) -> str:
    known = {passage.name: passage for one in plan.passes if one.name == name for passage in one.passages}
    runs: dict[tuple[int, tuple[str, ...]], list[TurnLine]] = {}
    for turn in turns:
        runs.setdefault((turn.run, turn.passages), []).append(turn)
    bodies = "".join(_run([known.get(one, Passage(one)) for one in names], own) for (_, names), own in runs.items())
    return f"<h2>{_text(name)}</h2><table>{bodies}</table>\n"


def _run(passages: Sequence[Passage], turns: Sequence[TurnLine]) -> str:
    boxes = "<br>".join(
        f'<span class="done">☑ {_text(turn.canvas)}</span>' if turn.painted else f"☐ {_text(turn.canvas)}"
        for turn in turns
    )
    rows = []
    for number, passage in enumerate(passages):
        own = f'<td class="turns" rowspan="{len(passages)}">{boxes}</td>' if number == 0 else ""
        value = "" if passage.value is None else f"value {passage.value:g}"
        rows.append(
            f'<tr><td>{_text(passage.name)}</td><td class="figure">{value}</td><td>{_text(passage.mixture or "")}</td>'
            f'{own}<td class="figure">{_minutes(turns) if number == 0 else ""}</td></tr>'
        )
    return f"<tbody>{''.join(rows)}</tbody>"


def _minutes(turns: Iterable[TurnLine]) -> str:
    return f"{max(turn.minutes for turn in turns):.0f} min each"


def _text(text: str) -> str:
    return escape(sanitized(text))
