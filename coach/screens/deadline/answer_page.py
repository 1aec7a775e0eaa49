"""The Deadline's first page: does the due day hold, in one word, one sentence and the calendar."""

import datetime as dt
from collections.abc import Sequence
from typing import Final

from coach.forecast.answer import Brief, ForecastAnswer
from coach.forecast.calendar import promised_days
from coach.forecast.outlook import Stage
from coach.forecast.sentences import HOLDS_FROM, LIKELY, PERHAPS_FROM, chance_in_ten, hours_words, states_no_hours
from coach.plan.commission import Plan
from coach.screens.deadline.view import Foretold, handed_over_day
from coach.screens.lines import BLANK, Line, Role, fitted
from coach.screens.widgets.block_letters import block_lines, width_cells
from coach.text import counted, cut, padded, wrapped

_CELL: Final = 6
_MONTH_CELLS: Final = 8
_DAYS: Final = ("Mo", "Tu", "We", "Th", "Fr", "Sa", "Su")
_LEAST_WEEKS: Final = 4

_SCALES: Final = ((2, 30), (1, 8))
"""Scales of the word, each with the lines from which on there is room for it."""


def answer_word(plan: Plan, answer: ForecastAnswer | Brief) -> str:
    """Return whether the due day holds, in a word or two that block letters can draw."""
    delivered = answer.delivered.p80
    if plan.due is None:
        return "NO DUE DAY"
    if states_no_hours(plan) and delivered is None:
        return "NO HOURS"
    if answer.chance is None:
        return "IN TIME" if delivered is not None and delivered <= plan.due else "LATE"
    if answer.chance >= HOLDS_FROM:
        return "IN TIME"
    return "PERHAPS" if answer.chance >= PERHAPS_FROM else "LATE"


def answer_sentence(plan: Plan, answer: ForecastAnswer, stages: Sequence[Stage] = ()) -> str:
    """Return the sentence below the word, of at most 14 words."""
    delivered, handed_over = answer.delivered.p80, handed_over_day(plan, stages)
    if handed_over is not None:
        due_was = "" if plan.due is None else f"; due {_day(plan.due)}"
        return f"Handed over on {_day(handed_over)}{due_was}."
    if delivered is None:
        left = f"{_opened(hours_words(answer.needed_hours))} of painting left"
        return f"{left}; say your hours first." if states_no_hours(plan) else f"{left}: your hours are too few."
    if plan.due is None:
        return f"All is handed over by {_day(delivered)} {delivered.year}, {LIKELY}."
    due = _day(plan.due)
    if plan.due < answer.today:
        return f"Due {due}; handed over by {_day(delivered)}."
    if answer.chance is None:
        return f"Due {due}; by the plan it is handed over {_day(delivered)}."
    return f"{chance_in_ten(answer.chance)} that all is handed over by {due}."


def needs_settings(plan: Plan) -> bool:
    """Return whether the plan lacks what an answer needs: the due day, or the hours."""
    return plan.due is None or states_no_hours(plan)


def answer_page(foretold: Foretold, columns: int, lines: int) -> tuple[Line, ...]:
    """Return the page: word, sentence, what helps most, and the weeks up to the hand-over."""
    plan, answer = foretold.plan, foretold.answer
    word = answer_word(plan, answer)
    scale = next((size for size, least in _SCALES if width_cells(word, size) <= columns and lines >= least), 0)
    letters = block_lines(word, scale) if scale else (word,)
    head = [fitted(Line(f"{plan.commission or 'Portraits'} · will it be ready?", Role.HEAD), columns)]
    rows = [*head, *(Line(row, Role.CANVAS) for row in letters)]
    rows += [
        Line(row, Role.CANVAS) for row in wrapped(answer_sentence(plan, answer, foretold.stages), columns, indent="")
    ]
    rows += [Line(row, Role.DETAIL) for row in _helps(answer, columns)]
    weeks = _weeks(foretold, lines - len(rows) - 1, columns)
    return (*rows, BLANK, *weeks)[: max(1, lines)]


def _helps(answer: ForecastAnswer, columns: int) -> list[str]:
    """Return the least change that makes the day hold, or the one that helps most; nothing where it holds."""
    if not answer.helps or answer.chance is None or answer.chance >= HOLDS_FROM:
        return []
    least = answer.helps[0]
    said = f"{least.change[:1].upper()}{least.change[1:]}: {chance_in_ten(least.chance).lower()}."
    return wrapped(said, columns, 2, indent="")


def _weeks(foretold: Foretold, most: int, columns: int) -> list[Line]:
    if most <= _LEAST_WEEKS or columns < _MONTH_CELLS + 7 * _CELL:
        return []
    today, answer = foretold.answer.today, foretold.answer
    monday = today - dt.timedelta(days=today.weekday())
    ends = [day for day in (foretold.plan.due, answer.delivered.p80, today) if day is not None]
    count = min(520, (max(ends) - monday).days // 7 + 1)
    steps = (answer.last_stroke, answer.touch_dry, answer.framed, answer.delivered)
    events = [today, foretold.plan.due, *(days.p80 for days in steps)]
    numbers = [(day - monday).days // 7 for day in events if day is not None and day >= monday]
    head = " " * _MONTH_CELLS + "".join(f"{name:<{_CELL}}" for name in _DAYS)
    rows = [head]
    for number, skipped in shown_weeks(count, numbers, most - 1):
        first = monday + number * dt.timedelta(days=7)
        rows.append(f"{'':{_MONTH_CELLS}}… {counted(skipped, 'week')} …" if skipped else _week(foretold, first))
    signs = _signs(foretold.answer)
    room = columns - len(head) - 2
    beside = [cut(sign, room) for sign in signs] if room >= max(map(len, signs), default=0) else []
    beside += [""] * (len(rows) - len(beside) - 1)
    return [
        Line(
            f"{padded(row, len(head))}  {sign}".rstrip() if sign else row.rstrip(),
            Role.HEAD if no == 0 else Role.DETAIL,
        )
        for no, (row, sign) in enumerate(zip(rows, ["", *beside], strict=False))
    ]


def _week(foretold: Foretold, monday: dt.date) -> str:
    promised = promised_days(foretold.plan, monday, monday + dt.timedelta(days=6))
    days = [monday + dt.timedelta(days=no) for no in range(7)]
    signs = "".join(f"{_sign(foretold, day, hours_s):<{_CELL}}" for day, hours_s in zip(days, promised, strict=True))
    return f"{f'{monday.day} {monday:%b}':<{_MONTH_CELLS}}{signs}"


def _sign(foretold: Foretold, day: dt.date, promised_s: int) -> str:
    answer = foretold.answer
    if day == foretold.plan.due:
        return "DUE"
    if day == answer.today:
        return "today"
    if day < answer.today:
        painted_s = foretold.painted_s.get(day, 0)
        return f"{painted_s / 3600:.2g}h" if painted_s else "·"
    if day == answer.last_stroke.p80:
        return "█"
    if answer.last_stroke.p80 is None or day < answer.last_stroke.p80:
        return f"{promised_s / 3600:.2g}h" if promised_s else "·"
    ahead = ((answer.touch_dry, "~"), (answer.framed, "="), (answer.delivered, ">"))
    return next((sign for days, sign in ahead if days.p80 is None or day <= days.p80), "")


def _signs(answer: ForecastAnswer) -> Sequence[str]:
    """Return what the signs stand for, with the days; each of them is kept 8 times in 10."""
    steps = (
        ("█ last stroke", answer.last_stroke.p80),
        ("~ dry", answer.touch_dry.p80),
        ("= framed", answer.framed.p80),
        ("> handed over", answer.delivered.p80),
    )
    return [f"{sign} {day.day} {day:%b}" for sign, day in steps if day is not None]


def _day(day: dt.date) -> str:
    return f"{day:%a} {day.day} {day:%B}"


def _opened(text: str) -> str:
    return text[:1].upper() + text[1:]


def shown_weeks(count: int, events: list[int], most: int) -> list[tuple[int, int]]:
    """Return the lines: the number of a week and 0, or how many weeks are left out there.

    Weeks with an event come first, then the earliest, as long as they and the gaps between them fit.
    """
    kept: set[int] = set()
    lines: list[tuple[int, int]] = []
    for number in [*dict.fromkeys(no for no in events if no < count), *range(count)]:
        tried = _lines(count, kept | {number})
        if len(tried) > max(most, 3) and lines:
            continue
        kept.add(number)
        lines = tried
    return lines


def _lines(count: int, kept: set[int]) -> list[tuple[int, int]]:
    lines, skipped = [], 0
    for number in range(count):
        if number not in kept:
            skipped += 1
            continue
        if skipped:
            lines.append((number, skipped))
        lines.append((number, 0))
        skipped = 0
    return lines
