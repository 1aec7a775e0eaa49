"""Were the hours kept? The answer in a word, one sentence, and each day's work by the clock. Pure."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from coach.journal.reading import local_time
from coach.limits.rule_table import Grade, Key
from coach.review.fairness.sentences import spelt, spelt_time
from coach.review.hours.report import GRADE_WORDS, DayHours, HoursReport
from coach.review.hours.sections import Section, h_min
from coach.screens.answer_head import answer_head
from coach.screens.lines import BLANK, Line, Role
from coach.session.records import Piece
from coach.text import cells, counted, cut, paragraphs, table, wrapped

_TOO_MUCH: Final = {
    Key.DAY: "long hours",
    Key.BLOCK: "too few rests",
    Key.LONG_REST: "no long rest",
    Key.BETWEEN_DAYS: "short nights",
    Key.AWAKE: "hours awake",
    Key.WEEK: "long weeks",
    Key.FREE_STRETCH: "no day off",
    Key.STANDING: "standing",
    Key.STANDING_DAY: "standing",
    Key.NIGHT: "night work",
    Key.MEAL: "no meal",
}
"""What a day was over a limit with."""

_DAY_CELLS: Final = 8
_WORK_CELLS: Final = 8
_MOST_DAYS: Final = 10
"""More days are not shown on a low page: they are not read at a glance."""

_LOW_PAGE_LINES: Final = 30
_WANTED: Final = 7
_HOUR_MIN: Final = 60
_RULER_HOURS: Final = 3
_LEAST_TEXT_CELLS: Final = 20


class Span(NamedTuple):
    """Unbroken work on a day, in minutes since its midnight."""

    begin_min: float
    end_min: float


def answer_word(report: HoursReport) -> str:
    """Return whether the limits of the plan were kept, in a word."""
    if not report.days:
        return "NOT YET"
    if any(map(_is_over, report.days)):
        return "OVER"
    noticed = sum(bool(day.passed) for day in _worked(report))
    if 2 * noticed > max(2, len(_worked(report))):
        return "SELDOM"
    return "NEARLY" if noticed else "KEPT"


def _is_over(day: DayHours) -> bool:
    """Return whether a limit was passed on a day by more than a notice says."""
    return any(one.grade != GRADE_WORDS[Grade.NOTICE] for one in day.passed)


def _marked(report: HoursReport) -> list[DayHours]:
    """Return the days that are spoken of: those over a limit, or else those with a notice."""
    return list(filter(_is_over, report.days)) or [day for day in report.days if day.passed]


def _worked(report: HoursReport) -> Sequence[DayHours]:
    """Return the days on which something was painted; all where nothing was. A session that was only begun is none."""
    return [day for day in report.days if day.work_minutes >= 1] or report.days


def answer_sentence(report: HoursReport) -> str:
    """Return the hours and the days over a limit, in a sentence of at most 14 words."""
    if not report.days:
        return "Nothing is painted yet, so there are no hours to tell of."
    days = spelt(len(_worked(report)), "day")
    said = f"{spelt_time(sum(day.work_minutes for day in report.days))} on {days}"
    said = f"{said[:1].upper()}{said[1:]}"
    marked = _marked(report)
    if not marked:
        return f"{said}; every limit was kept."
    (what, count), *_ = Counter(_TOO_MUCH[day.passed[0].rule] for day in marked).most_common()
    if len(report.days) == 1:
        return f"{said}, {'over a limit' if _is_over(marked[0]) else 'with a notice'} (!): {what}."
    mostly, number = "mostly " if count < len(marked) else "", spelt(len(marked), "day").split()[0]
    return f"{said}; {number} {'over a limit' if _is_over(marked[0]) else 'with a notice'} (!): {mostly}{what}."


def hours_page(report: HoursReport, pieces: Sequence[Piece], columns: int, lines: int) -> tuple[Line, ...]:
    """Return the page, at most `lines` lines of at most `columns` cells; the newest day comes first.

    Args:
        report: The hours.
        pieces: All work, in order.
        columns: Cells of a line.
        lines: Lines of the page.
    """
    wanted = min(_WANTED, len(report.days) + 2) if report.days else 0
    head = answer_head(
        "were hours and rests kept?", answer_word(report), answer_sentence(report), columns, lines, wanted=wanted
    )
    room = lines - len(head) - 2
    days = _worked(report)[::-1]
    spans = [_spans(day, pieces) for day in days]
    bounds = _bounds(spans)
    per_hour = (columns - _DAY_CELLS - _WORK_CELLS) // max(1, (bounds[1] - bounds[0]))
    if room < 1 or not days or per_hour < 1:
        return head
    most = min(room, _MOST_DAYS) if lines < _LOW_PAGE_LINES else room
    is_loose = 2 * len(days) <= room
    most -= len(days) > most
    rows = [BLANK, Line(_ruler(bounds, per_hour), Role.HEAD)]
    marked = {day.day for day in _marked(report)}
    for day, work in zip(days[:most], spans, strict=False):
        rows += [
            Line(_row(day, work, bounds, per_hour, "!" if day.day in marked else ""), Role.DETAIL),
            *[BLANK] * is_loose,
        ]
    if len(days) > most > 0:
        rows.append(Line(cut(f"and {counted(len(days) - most, 'day')} before", columns), Role.HEAD))
    return (*head, *rows)[:lines]


def _spans(day: DayHours, pieces: Iterable[Piece]) -> list[Span]:
    """Return the work of a day; what goes on beyond midnight counts on."""
    midnight = dt.datetime.combine(day.day, dt.time(), day.begun.tzinfo)
    found = []
    for piece in pieces:
        begun, ended = local_time(piece.begun), local_time(piece.ended)
        if begun >= day.begun and ended <= day.ended:
            found.append(Span(_minutes(begun - midnight), _minutes(ended - midnight)))
    return found


def _minutes(time: dt.timedelta) -> float:
    return time.total_seconds() / 60


def _bounds(spans: Iterable[Sequence[Span]]) -> tuple[int, int]:
    """Return the first and the last full hour between which all work lies."""
    every = [span for day in spans for span in day] or [Span(0, _HOUR_MIN)]
    first, last = min(span.begin_min for span in every), max(span.end_min for span in every)
    return int(first // _HOUR_MIN), int(-(-last // _HOUR_MIN))


def _ruler(bounds: tuple[int, int], per_hour: int) -> str:
    text = " " * _DAY_CELLS
    for hour in range(bounds[0], bounds[1]):
        at = _DAY_CELLS + (hour - bounds[0]) * per_hour
        if hour % _RULER_HOURS == 0 or hour == bounds[0]:
            text = text.ljust(at) + (f"{hour % 24}" if len(text) <= at else "")
    return text


def _row(day: DayHours, work: Sequence[Span], bounds: tuple[int, int], per_hour: int, mark: str) -> str:
    """Return a day: its date, a bar where half a cell's time or more was worked, the hours, the mark."""
    step = _HOUR_MIN / per_hour
    first = bounds[0] * _HOUR_MIN
    bar = ""
    for cell in range((bounds[1] - bounds[0]) * per_hour):
        begin, end = first + cell * step, first + (cell + 1) * step
        worked = sum(max(0.0, min(span.end_min, end) - max(span.begin_min, begin)) for span in work)
        bar += "█" if worked * 2 >= step else " "
    name = f"{day.day.day} {day.day:%b}"
    return f"{name:<{_DAY_CELLS}}{bar}  {h_min(day.work_minutes)}{mark}"


def section_lines(section: Section, columns: int) -> list[str]:
    """Return what a section says below its title, its table in words where there is no room for it."""
    lines = paragraphs(section.sentences, columns)
    if not _has_room(section, columns):
        return lines + paragraphs(section.rows_in_words, columns)
    head, *rows = section.table
    return lines + table(head, rows, right=head[section.figures_from :], width=columns)


def title_lines(section: Section, columns: int) -> list[str]:
    """Return the title of a section."""
    return wrapped(section.title, columns)


def _has_room(section: Section, columns: int) -> bool:
    """Return whether the columns of figures fit side by side; a last column of text may be broken."""
    if not section.table:
        return False
    widths = [max(map(cells, column)) for column in zip(*section.table, strict=True)]
    is_text_last = section.figures_from == len(widths)
    needed = sum(widths[:-1]) + (min(_LEAST_TEXT_CELLS, widths[-1]) if is_text_last else widths[-1])
    return needed + 2 * (len(widths) - 1) <= columns
