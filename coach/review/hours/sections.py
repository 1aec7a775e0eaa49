"""The hours as the sections of a page: sentences and tables, the same for the screen and for the command line."""

import datetime as dt
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from coach.forecast.outlook import TurnTime
from coach.journal.reading import local_time
from coach.limits.cautions import BODY, relaxed_limits
from coach.limits.exceeded import limit_ms
from coach.limits.rule_table import RULES
from coach.limits.tired_hours import tired_sentences, tired_table
from coach.plan.commission import Limits
from coach.review.hours.pace_by_hour import DayPace, HourPace
from coach.review.hours.report import GRADE_WORDS, DayHours, HoursReport, passed_words
from coach.text import span

AVERAGED_WEEKS: Final = 17
"""Weeks over which the week is averaged. Source: Working Time Regulations 1998 (secondary)."""


def week_average_ms(weeks_ms: Sequence[int]) -> int:
    """Return the work of an average week, in whole milliseconds.

    Args:
        weeks_ms: Work of each week, the latest last; only the last 17 count, and a week without work counts 0.

    Returns:
        The average; 0 where no week is given.
    """
    latest_ms = weeks_ms[-AVERAGED_WEEKS:]
    return round(sum(latest_ms) / len(latest_ms)) if latest_ms else 0


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


def hours_sections(told: HoursReport) -> tuple[Section, ...]:
    """Return the page, in the order in which it is read."""
    return (
        _kept(told.days, told.limits),
        _passed(told.days),
        _tired(told),
        _pace(told.pace),
        _looser(told.limits),
        _answers(told),
        _rules(told.limits),
    )


def _kept(days: tuple[DayHours, ...], limits: Limits) -> Section:
    title = "What was kept"
    if not days:
        return Section(title=title, sentences=("Nothing is painted yet, so there are no hours to tell of.",))
    said = (
        "A day is the work between two nights, a night being 6 h off or more; its date is that of its beginning. "
        f"Hours and minutes, as elapsed time. A rest is {span(limits.rest_s * 1000)} off or more; block is the longest "
        "work without one. Night is the time off before the day; awake is the time since waking at its end, where told."
    )
    said += _week_words(days, limits)
    head = ("day", "begin", "end", "work", "block", "rests", "night", "awake")
    return Section(title=title, sentences=(said,), table=(head, *map(_day_row, days)))


def _week_words(days: tuple[DayHours, ...], limits: Limits) -> str:
    """Return the work of an average week; empty while there is no more than one."""
    weeks: dict[dt.date, int] = {}
    for day in days:
        date = local_time(day.begun).date()
        monday = date - dt.timedelta(days=date.weekday())
        weeks[monday] = weeks.get(monday, 0) + day.work_ms
    if len(weeks) < 2:  # noqa: PLR2004  one week is no average
        return ""
    count = (max(weeks) - min(weeks)).days // 7 + 1
    every = [weeks.get(min(weeks) + dt.timedelta(days=7 * number), 0) for number in range(count)]
    average = _h_min(week_average_ms(every))
    return f" Over {min(count, AVERAGED_WEEKS)} weeks {average} a week on average, of {span(limits.week_s * 1000)}."


def _day_row(day: DayHours) -> tuple[str, ...]:
    begun, ended = local_time(day.begun), local_time(day.ended)
    return (
        f"{begun:%Y-%m-%d}",
        f"{begun:%H:%M}",
        f"{ended:%H:%M}" if ended.date() == begun.date() else f"{ended:%m-%d %H:%M}",
        _h_min(day.work_ms),
        _h_min(day.longest_block_ms),
        f"{len(day.rests_ms)} in {_h_min(sum(day.rests_ms))}" if day.rests_ms else "none",
        "" if day.night_ms is None else _h_min(day.night_ms),
        "" if day.awake_ms is None else _h_min(day.awake_ms),
    )


def _h_min(ms: int) -> str:
    hours, minutes = divmod(ms // 60_000, 60)
    return f"{hours}:{minutes:02}"


def _passed(days: tuple[DayHours, ...]) -> Section:
    said = [
        f"{local_time(day.begun):%Y-%m-%d}: {'; '.join(map(passed_words, day.passed))}" for day in days if day.passed
    ]
    if not said:
        said = ["No limit was passed."] if days else ["Nothing is painted yet, so no limit was passed."]
    return Section(title="Limits passed, each day's gravest of each rule", sentences=(*said, f"All of this is {BODY}."))


def _tired(told: HoursReport) -> Section:
    # A row an hour: a long day has more hours than a screen has columns.
    table = tuple(zip(*tired_table(told.shares), strict=True))
    if table:
        table = (("minutes in", *table[0][1:]), *table[1:])
    return Section(title="Tired hours", sentences=tired_sentences(told.shares), table=table)


def _pace(pace: DayPace) -> Section:
    table: tuple[tuple[str, ...], ...] = ()
    if pace.by_hour:
        table = (("turns taken up in", "turns", "of planned time", "95 % interval"), *map(_hour_row, pace.by_hour))
    return Section(title="Pace through the day", sentences=(pace.sentence, *_left_out(pace.left_out)), table=table)


def _hour_row(hour: HourPace) -> tuple[str, ...]:
    name, turns = f"hour {hour.hour} of work", str(hour.turns)
    if hour.pace is None:
        return (name, turns, "too few to tell", "")
    ends = f"{100 * hour.pace.low_frac:.0f} to {100 * hour.pace.high_frac:.0f} %"
    return (name, turns, f"{100 * hour.pace.ratio_frac:.0f} %", ends)


def _left_out(turns: tuple[TurnTime, ...]) -> Iterator[str]:
    for turn in turns:
        took, planned = span(round(turn.worked_s * 1000)), span(round(turn.planned_s * 1000))
        yield f"Left out until its time is corrected: {turn.words}, took {took}, planned {planned}."


def _looser(limits: Limits) -> Section:
    said = relaxed_limits(limits) or ("No limit of the plan is looser than the yardstick.",)
    return Section(title="Where the plan's limits are looser", sentences=said)


def _answers(told: HoursReport) -> Section:
    said = tuple(answer.sentence for answer in told.answers) or ("No answer was given to a limit.",)
    return Section(title="What was answered", sentences=said)


def _rules(limits: Limits) -> Section:
    rows = (
        (
            rule.key,
            f"{GRADE_WORDS[rule.grade]} {'below' if rule.is_least else 'from'} {span(limit_ms(rule, limits))}",
            f"{rule.yardstick} Source: {rule.source}",
        )
        for rule in RULES
    )
    head = ("rule", "limit in force", "yardstick and its source")
    return Section(title="The rules", table=(head, *rows), figures_from=len(head))
