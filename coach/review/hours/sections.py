"""The hours as the sections of a page: sentences and tables, the same for the screen and for the command line."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import fmean
from typing import Final

from coach.limits.cautions import BODY
from coach.limits.tired_hours import tired_table
from coach.review.hours.pace_by_hour import DayPace, HourPace, LeftOut
from coach.review.hours.report import DayHours, HoursReport, TiredHours, said_of, span_min

AVERAGED_WEEKS: Final = 17
"""Weeks over which the week is averaged. Source: Working Time Regulations 1998 (secondary)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A part of the page.

    Attributes:
        title: What it is about.
        sentences: What it says, before its table.
        table: Rows of texts, the first of them the head; empty where there is none.
        figures_from: Number of the first column, from 0, that holds figures to be set to the right.
    """

    title: str
    sentences: tuple[str, ...] = ()
    table: tuple[tuple[str, ...], ...] = ()
    figures_from: int = 1

    @property
    def rows_in_words(self) -> tuple[str, ...]:
        """A sentence a row, for where there is no room for the table; cells without text are left out."""
        if not self.table:
            return ()
        head, *rows = self.table
        return tuple(
            f"{row[0]}: {', '.join(f'{name} {cell}' for name, cell in zip(head[1:], row[1:], strict=True) if cell)}"
            for row in rows
        )


def hours_sections(report: HoursReport) -> tuple[Section, ...]:
    """Return the page, in the order in which it is read."""
    return (
        _kept(report),
        _passed(report.days),
        _tired(report.tired_hours),
        _pace(report.pace),
        _looser(report),
        _answers(report),
        _rules(report),
    )


def _kept(report: HoursReport) -> Section:
    title, days = "What was kept", report.days
    if not days:
        return Section(title=title, sentences=("Nothing is painted yet, so there are no hours to tell of.",))
    said = (
        "A day runs from one night to the next, a night being 6 h off or more, and has the date of its beginning. "
        f"A rest is {span_min(report.rest_limit_minutes)} off or more; block is the longest work without one. "
        "Night is the time off before the day; awake is the time since waking, where an old journal tells it."
    )
    head = ("day", "begin", "end", "work", "block", "rests", "night", "awake")
    return Section(title=title, sentences=(said + _week_words(report),), table=(head, *map(_day_row, days)))


def _week_words(report: HoursReport) -> str:
    """Return the work of an average week; empty while there is no more than one."""
    weeks: dict[dt.date, float] = {}
    for day in report.days:
        monday = day.day - dt.timedelta(days=day.day.weekday())
        weeks[monday] = weeks.get(monday, 0) + day.work_minutes
    if len(weeks) < 2:  # noqa: PLR2004  one week is no average
        return ""
    count = (max(weeks) - min(weeks)).days // 7 + 1
    average = week_average([weeks.get(min(weeks) + dt.timedelta(days=7 * number), 0) for number in range(count)])
    most = span_min(report.week_limit_minutes)
    return f" Over {min(count, AVERAGED_WEEKS)} weeks you worked {h_min(average)} a week; the limit is {most}."


def week_average(weeks: Sequence[float]) -> float:
    """Return the mean of the last 17 weeks, or of as many as there are; a week without work counts 0."""
    return fmean(weeks[-AVERAGED_WEEKS:])


def _day_row(day: DayHours) -> tuple[str, ...]:
    return (
        f"{day.day:%Y-%m-%d}",
        f"{day.begun:%H:%M}",
        f"{day.ended:%H:%M}" if day.ended.date() == day.day else f"{day.ended:%m-%d %H:%M}",
        h_min(day.work_minutes),
        h_min(day.longest_block_minutes),
        f"{day.rests} in {h_min(day.rest_minutes)}" if day.rests else "none",
        "" if day.night_minutes is None else h_min(day.night_minutes),
        "" if day.awake_minutes is None else h_min(day.awake_minutes),
    )


def h_min(minutes: float) -> str:
    """Return minutes as hours and minutes, "1:58"."""
    hours, rest = divmod(int(minutes), 60)
    return f"{hours}:{rest:02}"


def _passed(days: tuple[DayHours, ...]) -> Section:
    said = [f"{day.day:%Y-%m-%d}: {'; '.join(one.words for one in day.passed)}" for day in days if day.passed]
    if not said:
        said = ["No limit was passed."] if days else ["Nothing is painted yet, so no limit was passed."]
    return Section(title="Limits passed, each day at its gravest", sentences=(*said, f"All of this is {BODY}."))


def _tired(tired: TiredHours) -> Section:
    # A row an hour: a long day has more hours than a screen has columns.
    table = tuple(zip(*tired_table(tired.canvases), strict=True))
    if table:
        table = (("minutes in", *table[0][1:]), *table[1:])
    return Section(title="Tired hours", sentences=tired.sentences, table=table)


def _pace(pace: DayPace) -> Section:
    table: tuple[tuple[str, ...], ...] = ()
    if pace.by_hour:
        table = (("turns begun in", "turns", "of planned time", "it may be"), *map(_hour_row, pace.by_hour))
    return Section(title="Pace through the day", sentences=(pace.sentence, *_left_out(pace.left_out)), table=table)


def _hour_row(hour: HourPace) -> tuple[str, ...]:
    name, turns = f"hour {hour.hour} of work", str(hour.turns)
    if hour.pace is None:
        return (name, turns, "too few to tell", "")
    ends = f"{100 * hour.pace.low_frac:.0f} to {100 * hour.pace.high_frac:.0f} %"
    return (name, turns, f"{100 * hour.pace.ratio_frac:.0f} %", ends)


def _left_out(turns: tuple[LeftOut, ...]) -> Iterator[str]:
    for turn in turns:
        took, planned = span_min(turn.minutes), span_min(turn.planned_minutes)
        yield f"Left out until you correct its minutes: {turn.turn}, took {took}, planned {planned}."


def _looser(report: HoursReport) -> Section:
    said = report.loosened or ("None of the plan's limits is looser than the yardstick.",)
    return Section(title="Where the plan's limits are looser", sentences=said)


def _answers(report: HoursReport) -> Section:
    said = tuple(answer.sentence for answer in report.answers) or ("No limit was answered.",)
    return Section(title="What was answered", sentences=said)


def _rules(report: HoursReport) -> Section:
    rows = (
        (
            rule.rule,
            f"{rule.grade} {'below' if rule.is_least else 'from'} {said_of(rule.rule)(rule.limit_minutes)}",
            f"{rule.yardstick} Source: {rule.source}",
        )
        for rule in report.rules
    )
    head = ("rule", "limit in force", "yardstick and its source")
    return Section(title="The rules", table=(head, *rows), figures_from=len(head))
