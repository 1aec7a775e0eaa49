"""The Deadline as lines of text: whether the day holds, why, what would help, and what the painter tries."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

from rich.cells import cell_len, set_cell_size

from coach.forecast.answer import Brief, ForecastAnswer
from coach.forecast.sentences import chance_percent
from coach.forecast.what_if import Change, rows_of
from coach.plan.commission import Plan
from coach.review.forecast_table import day_words, help_lines, why_lines
from coach.screens.deadline.calendar_view import COLUMNS, LEGEND, Weeks, calendar_view
from coach.text import paragraphs

_SIDE_BY_SIDE_FROM: Final = COLUMNS + 3 + 60
_LEAST_WEEKS: Final = 7
_CHOICE_CELLS: Final = 16
_LABEL_CELLS: Final = 22


class Tried(NamedTuple):
    """What the painter tries.

    Attributes:
        change: The change; an empty one tries nothing.
        row: Number of the row in hand.
        brief: What comes of it; None while it is being reckoned.
    """

    change: Change = Change()
    row: int = 0
    brief: Brief | None = None


class Foretold(NamedTuple):
    """A forecast as it was made.

    Attributes:
        plan: The plan it was made for.
        answer: The forecast.
        painted_s: Seconds painted on each day gone by.
    """

    plan: Plan
    answer: ForecastAnswer
    painted_s: Mapping[dt.date, float]


def deadline_view(foretold: Foretold, tried: Tried, columns: int, lines: int) -> tuple[str, ...]:
    """Return the lines of the screen, each at most `columns` cells wide; more than `lines` are scrolled."""
    answer = foretold.answer
    head = paragraphs([answer.headline], columns)
    choices = _choices(foretold, tried, columns)
    if columns >= _SIDE_BY_SIDE_FROM:
        weeks = max(_LEAST_WEEKS, lines - len(head) - 5)
        left = [*_calendar(foretold, weeks), *paragraphs([LEGEND], COLUMNS)]
        right = [*_reasons(answer, columns - COLUMNS - 3), "", *choices]
        return (*head, "", *_beside(left, right))
    reasons = _reasons(answer, columns)
    weeks = max(_LEAST_WEEKS, lines - len(head) - len(choices) - len(reasons) - 6)
    calendar = [set_cell_size(row, columns) for row in _calendar(foretold, weeks)]
    return (*head, *calendar, *paragraphs([LEGEND], columns), "", *reasons, "", *choices)


def _calendar(foretold: Foretold, weeks: int) -> list[str]:
    answer = foretold.answer
    brief = Brief(answer.chance, answer.last_stroke, answer.touch_dry, answer.framed, answer.delivered)
    return list(calendar_view(Weeks(foretold.plan, answer.today, brief, foretold.painted_s), weeks))


def _reasons(answer: ForecastAnswer, columns: int) -> list[str]:
    helps = help_lines(answer)
    said = paragraphs(why_lines(answer), columns)
    return [*said, "", "What would help most:", *paragraphs(helps, columns)] if helps else said


def _choices(foretold: Foretold, tried: Tried, columns: int) -> list[str]:
    """Return the rows that can be changed, and the days before and after side by side."""
    answer, plan = foretold.answer, foretold.plan
    rows = [_row("What if:", "in the plan", "tried")]
    for number, row in enumerate(rows_of(plan, tried.change)):
        mark = "> " if number == tried.row else "  "
        rows.append(_row(mark + row.label, row.before, row.after if row.after != row.before else ""))
    brief = tried.brief
    is_tried = tried.change != Change()
    waiting = "…" if is_tried else ""
    rows.append(_row("  chance", _chance(answer.chance), _chance(brief.chance) if brief else waiting))
    steps = (
        ("  last stroke, 80 %", answer.last_stroke.p80, brief.last_stroke.p80 if brief else None),
        ("  dry to touch, 80 %", answer.touch_dry.p80, brief.touch_dry.p80 if brief else None),
        ("  handed over, 80 %", answer.delivered.p80, brief.delivered.p80 if brief else None),
    )
    rows += [_row(name, day_words(before), day_words(after) if brief else waiting) for name, before, after in steps]
    return [set_cell_size(row, columns).rstrip() if cell_len(row) > columns else row for row in rows]


def _row(label: str, before: str, after: str) -> str:
    cells = (set_cell_size(label, _LABEL_CELLS), set_cell_size(before, max(_CHOICE_CELLS, cell_len(before))), after)
    return "  ".join(cells).rstrip()


def _chance(chance: float | None) -> str:
    return "not asked" if chance is None else chance_percent(chance)


def _beside(left: Sequence[str], right: Sequence[str]) -> list[str]:
    height = max(len(left), len(right))
    pairs = zip([*left, *[""] * (height - len(left))], [*right, *[""] * (height - len(right))], strict=True)
    return [f"{set_cell_size(one, COLUMNS)}   {other}".rstrip() for one, other in pairs]


def age_words(seconds: int) -> str:
    """Return how old the forecast is."""
    if seconds < 60:  # noqa: PLR2004  seconds of a minute
        return "forecast made just now"
    return f"forecast made {seconds // 60} min ago"
