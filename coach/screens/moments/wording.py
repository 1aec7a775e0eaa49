"""Every sentence of the moments, to be read through in one go."""

from collections.abc import Sequence
from typing import Final

from coach.journal.events import Kind
from coach.plan.commission import Canvas, Plan
from coach.review.comparison_history import ComparisonHistory, Standing
from coach.screens.easel.layout import drawn_name
from coach.screens.easel.wording import place_line, short_place
from coach.text import cells, counted, cut, span

BEFORE, AFTER, LAST = "before the first stroke", "after the session", "after the last stroke"

NEXT_STAGE: Final = {
    Kind.PHOTOGRAPHED: "photographed",
    Kind.TO_FRAMER: "to the framer",
    Kind.FROM_FRAMER: "back, framed",
    Kind.SENT: "sent",
    Kind.HANDED_OVER: "handed over",
}
"""What Enter records, on its chip."""

_MOST_HEAD_CELLS: Final = 32
_MOST_HEAD_WORDS: Final = 6
_MOST_NAME_CELLS: Final = 14


def commission(plan: Plan) -> str:
    """Return the name of the commission as far as it is read at a glance."""
    words = cut(plan.commission, _MOST_HEAD_CELLS).split()
    return " ".join(words[:_MOST_HEAD_WORDS]) + ("…" if len(words) > _MOST_HEAD_WORDS else "")


def canvas_word(canvas: Canvas, number: int) -> str:
    """Return a canvas by its name, with an arrow or a number for its place; a long name gives way to the place."""
    name = canvas.name if cells(canvas.name) <= _MOST_NAME_CELLS and canvas.name.isascii() else ""
    match canvas.place:
        case "left":
            return f"← {name or 'left'}"
        case "right":
            return f"{name or 'right'} →"
        case _:
            return name or f"canvas {canvas.place or number}"


def canvas_plain(canvas: Canvas) -> str:
    """Return the whole name of a canvas with its place."""
    place = place_line(canvas)
    return f"{canvas.name}, {place}" if place else drawn_name(canvas, canvas.name)


def to_compare(history: ComparisonHistory, *, can_compare: bool) -> tuple[str, str]:
    """Return what is out, or what there is to compare, as the label of a bar and its words; empty for nothing."""
    if history.last is None:
        return ("compare", "the canvases: two photos") if can_compare else ("", "")
    out, again = (
        [short_place(one.passage) for one in history.standing(standing)]
        for standing in (Standing.OUT, Standing.REPAINTED)
    )
    if out:
        return "out", _listed(out)
    return ("compare", f"again: {_listed(again)}") if again else ("", "")


def _listed(names: Sequence[str]) -> str:
    """Return the gravest, and how many more there are: a glance takes in no more."""
    return names[0] + (f" and {len(names) - 1} more" if len(names) > 1 else "")


def hours(seconds: float) -> str:
    """Return hours and minutes: "4 h 50 min"."""
    return span(round(seconds / 60) * 60_000)


def fits(turns: int, hours_s: float, *, is_promised: bool) -> str:
    """Return which turns fit into the hours of today."""
    said = counted(turns, "turn")
    if not hours_s:
        return "The hours of today are painted; rest, and go on tomorrow."
    if not is_promised:
        return f"No hours are planned for today; {said} {'fits' if turns == 1 else 'fit'} into {hours(hours_s)}."
    return f"{said} {'fits' if turns == 1 else 'fit'} into today's {hours(hours_s)}."
