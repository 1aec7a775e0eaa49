"""The Deadline's page of what is tried: does the day hold with it, what can be changed, what comes of it."""

import datetime as dt
from typing import Final, NamedTuple

from coach.forecast.answer import Brief
from coach.forecast.outlook import Outlook
from coach.forecast.sentences import FAR, HOLDS_FROM, chance_words, states_no_hours
from coach.forecast.what_if import Change, Row, changed_plan, rows_of
from coach.journal.events import STAGE_WORDS, Kind
from coach.plan.commission import Plan
from coach.screens.answer_head import answer_head
from coach.screens.deadline.answer_page import answer_word, needs_settings
from coach.screens.deadline.view import Foretold, handed_over_day
from coach.text import cells, counted, cut, padded, paragraphs

_CHOICE_CELLS: Final = 22
_LABEL_CELLS: Final = 24
_LEAST_LABEL_CELLS: Final = 6
_ABREAST_CELLS: Final = 60
_SENTENCE_CELLS: Final = 24
_ROOMY_LINES: Final = 20
"""From so many lines on there are gaps, and all rows stand below the word."""

_LOW_LINES: Final = 9
"""Lower pages show the word without its sentence."""


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


def what_if_page(foretold: Foretold, tried: Tried, columns: int, lines: int) -> tuple[str, ...]:
    """Return the page: the answer with what is tried, what can be changed, what comes of it, the lines it writes.

    Args:
        foretold: The forecast of the plan as it stands.
        tried: What is tried.
        columns: Cells of a line.
        lines: Lines of the window; the page may be longer.
    """
    plan, brief = foretold.plan, tried.brief
    word = answer_word(changed_plan(plan, tried.change), brief) if brief else answer_word(plan, foretold.answer)
    said = what_if_sentence(foretold, tried)
    if lines < _LOW_LINES:
        rows = [cut(word, columns)]
    else:
        head = answer_head("What if …", word, said, columns, lines, wanted=_ROOMY_LINES if lines >= _ROOMY_LINES else 1)
        rows = [line.text for line in head if line.text]
    gap = [""] if lines > _ROOMY_LINES else []
    rows += [*gap, *_choices(foretold, tried, columns), *gap, *_outcome(foretold, tried, columns)]
    rows += [*gap, *_canvas_rows(foretold, tried, columns)]
    return (*rows, "", "In the plan:", *paragraphs(tried.lines, columns)) if tried.lines else tuple(rows)


def what_if_sentence(foretold: Foretold, tried: Tried) -> str:
    """Return what comes of what is tried, or how to try, in at most 14 words."""
    plan = foretold.plan
    if tried.change == Change():
        return _untried(foretold, tried.row)
    if tried.brief is None:
        return "Being worked out …"
    changed = [row for row in rows_of(plan, tried.change) if row.after != row.before]
    what = _tried_words(changed[0]) if len(changed) == 1 else counted(len(changed), "change")
    before, after = foretold.answer.delivered.p80, tried.brief.delivered.p80
    if after is None:
        return f"{what}: still no day can be told."
    moved = "" if before is None else f", {_moved(before, after)}"
    return f"{what}: handed over {_day(after)}{moved}."


def _untried(foretold: Foretold, row: int) -> str:
    plan, chance = foretold.plan, foretold.answer.chance
    if handed_over_day(plan, foretold.stages) is not None:
        return "All is handed over; nothing needs to be changed."
    if needs_settings(plan):
        return "Set the hours and the due day: → changes a row."
    if helping(foretold):
        return "Nothing is tried yet: Enter tries what helps most."
    holds = chance is not None and chance >= HOLDS_FROM
    said = "Nothing needs to change" if holds else "Nothing is tried yet"
    return f"{said}: {'→ changes its row' if row else '→ tries more hours'}."


def _tried_words(row: Row) -> str:
    words = f"{row.after} a painting day" if row.label.startswith("hours") else f"{row.label} {row.after}"
    return cut(words[:1].upper() + words[1:], _SENTENCE_CELLS)


def _moved(before: dt.date, after: dt.date) -> str:
    days = (after - before).days
    return f"{counted(abs(days), 'day')} {'later' if days > 0 else 'earlier'}" if days else "as planned"


def helping(foretold: Foretold) -> Change | None:
    """Return the change that helps most; None where the day holds without, or nothing helps."""
    answer = foretold.answer
    return None if not answer.helps or (answer.chance or 0) >= HOLDS_FROM else answer.helps[0].edit


def _choices(foretold: Foretold, tried: Tried, columns: int) -> list[str]:
    """Return the rows that can be changed; where nothing is tried, what helps most stands beside its row."""
    best = helping(foretold) if tried.change == Change() else None
    helped = rows_of(foretold.plan, best or Change())
    rows = []
    for number, row in enumerate(rows_of(foretold.plan, tried.change)):
        mark = "> " if number == tried.row else "  "
        after = row.after if row.after != row.before else ""
        if helped[number].after != row.before and best is not None:
            after = f"helps most: {helped[number].after}" if columns >= _ABREAST_CELLS else "helps most"
        rows.append(_what_if_row(mark + row.label, row.before, after, columns, arrow="→ " if after else ""))
    return rows


def _outcome(foretold: Foretold, tried: Tried, columns: int) -> list[str]:
    """Return what comes of it, as planned and, where something is tried, with it."""
    answer, plan, brief = foretold.answer, foretold.plan, tried.brief
    is_tried = tried.change != Change()
    waiting = "…" if is_tried else ""
    rows = [_what_if_row("What comes of it", "before" if is_tried else "", "after" if is_tried else "", columns)]
    after = _chance(brief.chance, changed_plan(plan, tried.change)) if brief and is_tried else waiting
    rows.append(_what_if_row("  due day holds", _chance(answer.chance, plan), after, columns))
    steps = (
        ("last stroke", answer.last_stroke.p80, brief and brief.last_stroke.p80),
        ("dry", answer.touch_dry.p80, brief and brief.touch_dry.p80),
        ("handed over", answer.delivered.p80, brief and brief.delivered.p80),
    )
    for name, before, then in steps:
        said = _day(then or None) if brief and is_tried else waiting
        label = f"  {name}, likely by" if columns >= _ABREAST_CELLS else f"  {name}"
        rows.append(_what_if_row(label, _day(before), said, columns))
    return rows


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


def _what_if_row(label: str, before: str, after: str, columns: int, *, arrow: str = "") -> str:
    """Return a row, at most `columns` cells wide; in a narrow window the label gives way to what is tried."""
    if columns >= _ABREAST_CELLS:
        texts = (padded(label, _LABEL_CELLS), padded(before, max(_CHOICE_CELLS, cells(before))), arrow + after)
        return cut("  ".join(texts).rstrip(), columns)
    value = f"{before} → {after}" if after else before
    room = max(_LEAST_LABEL_CELLS, columns - cells(value) - 1)
    return cut(f"{padded(cut(label, room), room)} {value}", columns)


def _day(day: dt.date | None) -> str:
    return FAR if day is None else f"{day:%a} {day.day} {day:%b}"


def _chance(chance: float | None, plan: Plan) -> str:
    if chance is not None:
        return chance_words(chance)
    if plan.due is None:
        return "no due day"
    return "no hours yet" if states_no_hours(plan) else "all by the plan"
