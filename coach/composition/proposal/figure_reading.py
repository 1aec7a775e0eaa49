"""Answers that are days, hours or sizes."""

import datetime as dt
import re
from typing import Final

from coach.composition.faults import CompositionUsageError
from coach.composition.life_size import LIFE_MM
from coach.composition.proposal.answers import Answers
from coach.composition.proposal.typed_text import AnswerFault, cleaned, read_typed, read_typed_pairs
from coach.composition.sizes import CanvasFormat, canvas_named
from coach.plan import units
from coach.plan.commission import CanvasSize
from coach.plan.problems import quoted
from coach.plan.value_reading import read_day, read_week_s

LEAST_HEAD_MM: Final = 10.0
"""Smallest head that can be stated."""

_MOST_YEARS: Final = 10
_WORKDAYS: Final = 5
_DAY_S: Final = 24 * 3600
_MOST_LINE: Final = 300
_AHEAD: Final = re.compile(r"(?:in\s+)?(\d{1,3})\s*(day|week)s?", re.IGNORECASE | re.ASCII)
_HEAD: Final = re.compile(r"(\d{1,4}(?:[.,]\d{1,3})?)\s*(mm|cm|in|%)(?: of life)?", re.IGNORECASE | re.ASCII)
_ENTRIES: Final = re.compile(r",(?!\d)|;")
_DAY_HOURS: Final = re.compile(r"([^:]+?)\s*(?::|\s(?=\d))\s*(.+)")
_DIRECTED: Final = re.compile(r"(.+?),?\s+(upright|lying)", re.IGNORECASE)


def read_due(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the day of delivery: a day, or so many days or weeks ahead."""
    today = answers.asked_on
    ahead = _AHEAD.fullmatch(text.strip())
    if ahead:
        due: dt.date | AnswerFault = today + dt.timedelta(days=int(ahead[1]) * (7 if ahead[2].lower() == "week" else 1))
    else:
        due = read_typed(read_day, text)
    if isinstance(due, AnswerFault):
        return due
    if due <= today:
        return AnswerFault(f"{due} is not ahead: today is {today}; write a later day, or such as 8 weeks")
    if due.year - today.year > _MOST_YEARS:
        return AnswerFault(f"{due} is more than {_MOST_YEARS} years ahead; write the day that was agreed")
    return answers._replace(due=due)


def read_week(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the hours of each day, or those of a week, which are spread evenly over Monday to Friday."""
    line = cleaned(text, most=_MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    hours = units.number(line)
    whole_s = units.duration_s(line) if hours is None else round(hours * 3600)
    if whole_s is None:
        week_s = _day_by_day_s(line)
    elif whole_s > _WORKDAYS * _DAY_S:
        return AnswerFault(f"{quoted(line)} is more than five whole days; write the hours that are painted")
    else:
        week_s = (whole_s // _WORKDAYS,) * _WORKDAYS + (0, 0)
    if isinstance(week_s, AnswerFault):
        return week_s
    return (
        answers._replace(week_s=week_s) if any(week_s) else AnswerFault("a week needs some hours; write such as 25 h")
    )


def read_size(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the size of every canvas: a stock canvas, upright or lying, or width x height.

    A head that was stated and is taller than the canvas is estimated anew.
    """
    line = cleaned(text, most=_MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    directed = _DIRECTED.fullmatch(line)
    name, direction = (directed[1], directed[2].lower()) if directed else (line, "")
    try:
        size = _turned(canvas_named(name), units.size_mm(name.lower()), direction)
    except CompositionUsageError as error:
        return AnswerFault(error.what)
    if answers.head_mm is not None and answers.head_mm > size.height_mm:
        answers = answers._replace(head_mm=None, said=answers.said - {"head"})
    return answers._replace(size=size)


def read_head(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the height of a head on the canvas: a length, per cent of life size, or `estimate`."""
    line = cleaned(text, most=_MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    if line.lower() == "estimate":
        return answers._replace(head_mm=None)
    found = _HEAD.fullmatch(line)
    if found is None:
        return AnswerFault(f"{quoted(line)} is not the height of a head; write such as 16 cm, 75 % or estimate")
    unit = found[2].lower()
    per_unit = LIFE_MM / 100 if unit == "%" else units.MM_PER_UNIT[unit]
    head_mm = round(float(found[1].replace(",", ".")) * per_unit, 1)
    if head_mm < LEAST_HEAD_MM:
        return AnswerFault(f"a head of {quoted(line)} is too small to paint; write at least {LEAST_HEAD_MM / 10:g} cm")
    if head_mm > answers.size.height_mm:
        height_cm = answers.size.height_mm / 10
        return AnswerFault(f"a head of {quoted(line)} is taller than the canvas of {height_cm:g} cm; write less")
    return answers._replace(head_mm=head_mm)


def _day_by_day_s(line: str) -> tuple[int, ...] | AnswerFault:
    """Read `mon-fri: 5 h, sat 2,5 h`: a comma before a digit is a decimal comma."""
    pairs: list[tuple[str, str]] = []
    for entry in filter(None, map(str.strip, _ENTRIES.split(line))):
        found = _DAY_HOURS.fullmatch(entry)
        if found is None:
            return AnswerFault(f"{quoted(entry)} names no day with its hours; write such as 25 h, or mon-fri: 5 h")
        pairs.append((found[1], found[2]))
    return read_typed_pairs(read_week_s, pairs)


def _turned(canvas: CanvasFormat, typed_mm: tuple[float, float] | None, direction: str) -> CanvasSize:
    """Return width and height as directed; else as typed; else upright."""
    if typed_mm is not None and not direction:
        width_mm, height_mm = typed_mm
    else:
        width_mm, height_mm = canvas.directions.get(direction, canvas.directions["upright"])
    return CanvasSize(width_mm=width_mm, height_mm=height_mm)
