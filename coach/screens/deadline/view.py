"""What stands behind the answer of the Deadline: why the day holds or not, and what the painter tries."""

import datetime as dt
from collections.abc import Mapping
from typing import NamedTuple

from coach.forecast.answer import Brief, ForecastAnswer
from coach.forecast.outlook import Outlook, Stage
from coach.forecast.sentences import chance_in_ten, day_words, states_no_hours
from coach.forecast.what_if import Change, changed_plan, rows_of
from coach.journal.events import STAGE_WORDS, Kind
from coach.plan.commission import Plan
from coach.review.forecast_table import help_lines, why_lines
from coach.text import cells, cut, padded, paragraphs

_CHOICE_CELLS = 16
_LABEL_CELLS = 24
_LEAST_LABEL_CELLS = 6
_ABREAST_CELLS = 60


class Tried(NamedTuple):
    """What the painter tries.

    Attributes:
        change: The change; an empty one tries nothing.
        row: Number of the row in hand.
        brief: What comes of it; None while it is being reckoned.
        stage: What is to be recorded of the canvas in hand; None for nothing.
        lines: The lines of the plan as they would be written; empty where nothing is tried.
    """

    change: Change = Change()
    row: int = 0
    brief: Brief | None = None
    stage: Kind | None = None
    lines: tuple[str, ...] = ()


class Foretold(NamedTuple):
    """A forecast as it was made.

    Attributes:
        plan: The plan it was made for.
        answer: The forecast.
        painted_s: Seconds painted on each day gone by.
        stages: What followed the last stroke, canvas by canvas.
    """

    plan: Plan
    answer: ForecastAnswer
    painted_s: Mapping[dt.date, float]
    stages: tuple[Stage, ...] = ()


def facts_view(foretold: Foretold, columns: int) -> tuple[str, ...]:
    """Return the facts behind the answer, each at most `columns` cells wide."""
    answer = foretold.answer
    return (*paragraphs([answer.headline], columns), "", *_reasons(answer, columns))


def try_view(foretold: Foretold, tried: Tried, columns: int) -> tuple[str, ...]:
    """Return what can be tried and what comes of it, before and after, and the lines it would write."""
    rows = _choices(foretold, tried, columns)
    if not tried.lines:
        return tuple(rows)
    return (*rows, "", "In the plan:", *paragraphs(tried.lines, columns))


def _reasons(answer: ForecastAnswer, columns: int) -> list[str]:
    helps = help_lines(answer)
    said = paragraphs(why_lines(answer), columns)
    return [*said, "", "What would help most:", *paragraphs(helps, columns)] if helps else said


def _choices(foretold: Foretold, tried: Tried, columns: int) -> list[str]:
    """Return the rows that can be changed, and the days before and after side by side."""
    answer, plan = foretold.answer, foretold.plan
    rows = [_what_if_row("What if:", "in the plan", "tried", columns)]
    for number, row in enumerate(rows_of(plan, tried.change)):
        mark = "> " if number == tried.row else "  "
        rows.append(_what_if_row(mark + row.label, row.before, row.after if row.after != row.before else "", columns))
    brief = tried.brief
    is_tried = tried.change != Change()
    waiting = "…" if is_tried else ""
    rows.append(
        _what_if_row(
            "  due day holds",
            _chance(answer.chance, plan),
            _chance(brief.chance, changed_plan(plan, tried.change)) if brief else waiting,
            columns,
        )
    )
    steps = (
        ("  last stroke, 8 in 10", answer.last_stroke.p80, brief.last_stroke.p80 if brief else None),
        ("  dry to touch, 8 in 10", answer.touch_dry.p80, brief.touch_dry.p80 if brief else None),
        ("  handed over, 8 in 10", answer.delivered.p80, brief.delivered.p80 if brief else None),
    )
    rows += [
        _what_if_row(name, day_words(before), day_words(after) if brief else waiting, columns)
        for name, before, after in steps
    ]
    return [*rows, *_canvas_rows(foretold, tried, columns)]


def canvas_in_hand(plan: Plan, tried: Tried) -> str | None:
    """Return the canvas whose row is in hand; None where it is a row of the plan."""
    number = tried.row - len(rows_of(plan, tried.change))
    return plan.canvases[number].name if number >= 0 else None


def next_stage(outlook: Outlook, canvas: str, stage: Kind | None, step: int) -> Kind | None:
    """Return what is offered for a canvas after a stage, or before it where `step` is below 0; last comes nothing."""
    order = list(STAGE_WORDS)
    known = [order.index(own.kind) for own in outlook.stages if own.canvas == canvas]
    left = [kind for number, kind in enumerate(order) if number not in known and number > max(known, default=-1)]
    offered = [None, *left]
    return offered[(offered.index(stage) + step) % len(offered)] if stage in offered else None


def _canvas_rows(foretold: Foretold, tried: Tried, columns: int) -> list[str]:
    rows, in_hand = ["After the last stroke:"], canvas_in_hand(foretold.plan, tried)
    for canvas in foretold.plan.canvases:
        known = [
            f"{STAGE_WORDS[own.kind]} {own.day.day} {own.day:%b}"
            for own in foretold.stages
            if own.canvas == canvas.name
        ]
        is_chosen = in_hand == canvas.name and tried.stage is not None
        after = f"{STAGE_WORDS[tried.stage]}?" if is_chosen and tried.stage is not None else ""
        mark = "> " if in_hand == canvas.name else "  "
        rows.append(_what_if_row(mark + canvas.name, known[-1] if known else "in the studio", after, columns))
    return rows


def _what_if_row(label: str, before: str, after: str, columns: int) -> str:
    """Return a row, at most `columns` cells wide; in a narrow window the label gives way to what is tried."""
    if columns >= _ABREAST_CELLS:
        texts = (padded(label, _LABEL_CELLS), padded(before, max(_CHOICE_CELLS, cells(before))), after)
        return cut("  ".join(texts).rstrip(), columns)
    value = f"{before} → {after}" if after else before
    room = max(_LEAST_LABEL_CELLS, columns - cells(value) - 1)
    return cut(f"{padded(cut(label, room), room)} {value}", columns)


def _chance(chance: float | None, plan: Plan) -> str:
    if chance is not None:
        return chance_in_ten(chance)
    if plan.due is None:
        return "no due day"
    return "no hours yet" if states_no_hours(plan) else "all by the plan"


def age_words(seconds: int) -> str:
    """Return how old the forecast is; nothing of one that was just made."""
    minutes = seconds // 60
    return f"as of {minutes} min ago" if minutes else ""
