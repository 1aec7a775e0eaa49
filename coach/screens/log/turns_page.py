"""The Log: how many turns, how long, who led when; below it the turns, the newest first. Pure."""

from dataclasses import dataclass
from typing import Final

from coach.journal.reading import local_time
from coach.plan.commission import pass_words
from coach.review.fairness.run_times import RunTimes
from coach.review.fairness.sentences import MOST_WORDS, spelt, spelt_time
from coach.review.log_table import RunKey, log_lines
from coach.review.painted import MS_PER_MIN
from coach.screens.answer_head import answer_head
from coach.screens.leads import lead_strip
from coach.screens.lines import BLANK, Line, Role
from coach.session.journal_state import JournalState
from coach.session.records import TurnRecord
from coach.text import counted

_MOST_CELLS: Final = 110
"""Broader lines are hard to follow from the canvas to its minutes."""

_LEAST_TURN_LINES: Final = 6
"""So many lines of turns are left below the picture, or it is left out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LogView:
    """What the Log shows.

    Attributes:
        painted: What the journal adds up to.
        turns: The turns chosen, in the order painted.
        runs: The runs painted on two canvases and more that belong to them.
        names: The canvases of these runs, in the order of the plan.
        alone: The runs that nobody led.
        pass_name: The pass chosen; None for all.
        canvas: The canvas chosen; None for all.
    """

    painted: JournalState
    turns: tuple[TurnRecord, ...]
    runs: tuple[RunTimes, ...]
    names: tuple[str, ...]
    alone: frozenset[RunKey]
    pass_name: str | None = None
    canvas: str | None = None


def turn_lines(view: LogView, columns: int) -> list[Line]:
    """Return the turns and what followed the last stroke, the newest first."""
    return [
        Line(line.text, Role.HEAD if line.is_head else Role.DETAIL)
        for line in log_lines(view.painted, view.turns, view.alone, min(_MOST_CELLS, columns))
    ]


def log_page(view: LogView, body: list[Line], first: int, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the page, at most `lines` lines of at most `columns` cells.

    Args:
        view: What it shows.
        body: Its `turn_lines` for as many columns.
        first: Number of the line of the body that stands on top; from the second on the body has the page to itself,
            with the day and the pass of that line above it.
        columns: Cells of a line.
        lines: Lines of the page.
    """
    if first:
        heads = [line for line in body[: first + 1] if line.role is Role.HEAD]
        return (*heads[-1:], *body[first + 1 : first + lines])
    word = counted(len(view.turns), "turn").upper() if view.turns else "NOT YET"
    asks = " · ".join(("what was done", *(name for name in (pass_words(view.pass_name or ""), view.canvas) if name)))
    wanted = _LEAST_TURN_LINES + len(view.names) + 2
    head = list(answer_head(asks, word, _sentence(view), columns, lines, wanted=wanted))
    if view.runs:
        head += lead_strip(view.runs, view.names, columns, lines - len(head) - _LEAST_TURN_LINES)
    return (*head, BLANK, *body)[:lines]


def _sentence(view: LogView) -> str:
    if not view.turns:
        return "Nothing is painted yet: the log begins with the first turn."
    days = len({local_time(record.begun).date() for record in view.turns})
    said = spelt_time(sum(record.worked_ms for record in view.turns) / MS_PER_MIN)
    said = f"{said[:1].upper()}{said[1:]} on {spelt(days, 'day')}"
    if not view.names:
        return f"{said}."
    leads = {name: sum(run.order[0] == name for run in view.runs) for name in view.names}
    (first, count), *others = leads.items()
    led = f"{said}; {first} led {counted(count, 'time')}{''.join(f', {name} {number}' for name, number in others)}."
    return led if len(led.split()) <= MOST_WORDS else f"{said}."
