"""The Deadline as lines of text: whether the day holds, why, the weeks ahead, and what the painter tries."""

import datetime as dt
from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

from coach.forecast.answer import Brief, ForecastAnswer
from coach.forecast.calendar import promised_days
from coach.forecast.outlook import Outlook, Stage
from coach.forecast.sentences import chance_percent, day_words
from coach.forecast.what_if import Change, rows_of
from coach.journal.events import STAGE_WORDS, Kind
from coach.plan.commission import Plan
from coach.review.forecast_table import help_lines, why_lines
from coach.text import cells, counted, cut, padded, paragraphs

_CELL: Final = 11
_WEEK: Final = dt.timedelta(days=7)
_WEEKDAYS: Final = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MOST_WEEKS: Final = 520

COLUMNS: Final = _CELL * len(_WEEKDAYS)
"""How wide the calendar is, in cells."""

LEGEND: Final = (
    "h hours promised, before today painted; last stroke, dry, framed, handed over (80 % days);"
    " ~ dries, = at the framer, > on its way"
)
"""What the signs mean."""


class Weeks(NamedTuple):
    """What the calendar shows.

    Attributes:
        plan: Its week, its exceptions and its due day.
        today: Stands in brackets.
        brief: The days foretold; each step stands at its 80 % day.
        painted_s: Seconds painted on each day that was painted on.
    """

    plan: Plan
    today: dt.date
    brief: Brief
    painted_s: Mapping[dt.date, float]


def calendar_view(weeks: Weeks, most: int) -> tuple[str, ...]:
    """Return a line of weekdays and then a week a line, from a week ago to the hand-over.

    Args:
        weeks: What to show.
        most: How many lines there are for weeks; where they are too few, weeks without an event give way.
    """
    first = max(min([weeks.today, *weeks.painted_s]), weeks.today - _WEEK)
    monday = first - dt.timedelta(days=first.weekday())
    ends = [day for day in (weeks.plan.due, weeks.brief.delivered.p80) if day is not None]
    count = min(_MOST_WEEKS, (max([weeks.today, *ends]) - monday).days // 7 + 1)
    brief = weeks.brief
    steps = (brief.last_stroke, brief.touch_dry, brief.framed, brief.delivered)
    events = [weeks.today, weeks.plan.due, *(days.p80 for days in steps)]
    numbers = [(day - monday).days // 7 for day in events if day is not None and day >= monday]
    head = "".join(f"{name:<{_CELL}}" for name in _WEEKDAYS).rstrip()
    shown = shown_weeks(count, numbers, most)
    return (head, *(_row(weeks, monday + no * _WEEK) if skipped == 0 else _gap(skipped) for no, skipped in shown))


def _gap(weeks: int) -> str:
    return f"   … {counted(weeks, 'week')} …"


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


def _row(weeks: Weeks, monday: dt.date) -> str:
    promised = promised_days(weeks.plan, monday, monday + dt.timedelta(days=6))
    cells = [_cell(weeks, monday + dt.timedelta(days=no), promised_s) for no, promised_s in enumerate(promised)]
    return "".join(f"{cell:<{_CELL}}" for cell in cells).rstrip()


def _cell(weeks: Weeks, day: dt.date, promised_s: int) -> str:
    number = f"1 {day:%b}" if day.day == 1 else f"{day.day}"
    date = f"[{number}]" if day == weeks.today else number
    return f"{date} {_told(weeks, day, promised_s)}"[: _CELL - 1]


def _told(weeks: Weeks, day: dt.date, promised_s: int) -> str:
    if day == weeks.plan.due:
        return "DUE"
    if day < weeks.today:
        painted_s = weeks.painted_s.get(day, 0)
        return f"{painted_s / 3600:.1f}h" if painted_s else "·"
    brief = weeks.brief
    steps = (
        (brief.delivered, "handed"),
        (brief.framed, "framed"),
        (brief.touch_dry, "dry"),
        (brief.last_stroke, "last"),
    )
    named = next((name for days, name in steps if days.p80 == day), "")
    if named:
        return named
    if brief.last_stroke.p80 is None or day < brief.last_stroke.p80:
        return f"{promised_s / 3600:.2g}h" if promised_s else "·"
    ahead = ((brief.touch_dry, "~"), (brief.framed, "="), (brief.delivered, ">"))
    return next((sign for days, sign in ahead if days.p80 is None or day < days.p80), "")


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


def figures_view(foretold: Foretold, columns: int, lines: int) -> tuple[str, ...]:
    """Return the figures behind the answer, each at most `columns` cells wide; more than `lines` are scrolled."""
    answer = foretold.answer
    head = paragraphs([answer.headline], columns)
    if columns >= _SIDE_BY_SIDE_FROM:
        weeks = max(_LEAST_WEEKS, lines - len(head) - 5)
        left = [*_calendar(foretold, weeks), *paragraphs([LEGEND], COLUMNS)]
        return (*head, "", *_beside(left, _reasons(answer, columns - COLUMNS - 3)))
    calendar = [cut(row, columns) for row in _calendar(foretold, _LEAST_WEEKS)]
    return (*head, "", *_reasons(answer, columns), "", *calendar, *paragraphs([LEGEND], columns))


def try_view(foretold: Foretold, tried: Tried, columns: int) -> tuple[str, ...]:
    """Return what can be tried and what comes of it, before and after, and the lines it would write."""
    rows = _choices(foretold, tried, columns)
    if not tried.lines:
        return tuple(rows)
    return (*rows, "", "In the plan:", *paragraphs(tried.lines, columns))


def _calendar(foretold: Foretold, weeks: int) -> list[str]:
    answer = foretold.answer
    brief = Brief(
        chance=answer.chance,
        last_stroke=answer.last_stroke,
        touch_dry=answer.touch_dry,
        framed=answer.framed,
        delivered=answer.delivered,
    )
    return list(calendar_view(Weeks(foretold.plan, answer.today, brief, foretold.painted_s), weeks))


def _reasons(answer: ForecastAnswer, columns: int) -> list[str]:
    helps = help_lines(answer)
    said = paragraphs(why_lines(answer), columns)
    return [*said, "", "What would help most:", *paragraphs(helps, columns)] if helps else said


def _choices(foretold: Foretold, tried: Tried, columns: int) -> list[str]:
    """Return the rows that can be changed, and the days before and after side by side."""
    answer, plan = foretold.answer, foretold.plan
    rows = [_what_if_row("What if:", "in the plan", "tried")]
    for number, row in enumerate(rows_of(plan, tried.change)):
        mark = "> " if number == tried.row else "  "
        rows.append(_what_if_row(mark + row.label, row.before, row.after if row.after != row.before else ""))
    brief = tried.brief
    is_tried = tried.change != Change()
    waiting = "…" if is_tried else ""
    rows.append(_what_if_row("  chance", _chance(answer.chance), _chance(brief.chance) if brief else waiting))
    steps = (
        ("  last stroke, 80 %", answer.last_stroke.p80, brief.last_stroke.p80 if brief else None),
        ("  dry to touch, 80 %", answer.touch_dry.p80, brief.touch_dry.p80 if brief else None),
        ("  handed over, 80 %", answer.delivered.p80, brief.delivered.p80 if brief else None),
    )
    rows += [
        _what_if_row(name, day_words(before), day_words(after) if brief else waiting) for name, before, after in steps
    ]
    return [*(cut(row, columns) for row in rows), *_canvas_rows(foretold, tried, columns)]


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
        rows.append(_what_if_row(mark + canvas.name, known[-1] if known else "in the studio", after))
    return [cut(row, columns) for row in rows]


def _what_if_row(label: str, before: str, after: str) -> str:
    texts = (padded(label, _LABEL_CELLS), padded(before, max(_CHOICE_CELLS, cells(before))), after)
    return "  ".join(texts).rstrip()


def _chance(chance: float | None) -> str:
    return "not asked" if chance is None else chance_percent(chance)


def _beside(left: Sequence[str], right: Sequence[str]) -> list[str]:
    height = max(len(left), len(right))
    pairs = zip([*left, *[""] * (height - len(left))], [*right, *[""] * (height - len(right))], strict=True)
    return [f"{padded(one, COLUMNS)}   {other}".rstrip() for one, other in pairs]


def age_words(seconds: int) -> str:
    """Return how old the forecast is."""
    if seconds < 60:  # noqa: PLR2004  seconds of a minute
        return "forecast made just now"
    return f"forecast made {seconds // 60} min ago"
