"""Everything the Log tells of the hours, from the journal alone."""

from collections.abc import Sequence
from dataclasses import dataclass

from coach.journal.events import Event, Kind
from coach.limits.tired_hours import Share, Stint, tired_hours
from coach.plan.commission import Limits
from coach.plan.reading import read_plan
from coach.review.hours.day_pace import DayPace, day_pace_of
from coach.review.hours.days_kept import DayHours, days_kept
from coach.review.hours.painter_answers import Answer, painter_answers
from coach.review.hours.timeline import Timeline, timeline_of
from coach.review.hours.walk import Walk, walk_along


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursTold:
    """What the Log tells of the hours.

    Attributes:
        limits: The limits that all of it was held against.
        days: What was kept, day by day.
        answers: What the painter answered, in order.
        shares: What every canvas had of the hours; work on the turn in hand belongs to none yet.
        pace: The pace through the day.
    """

    limits: Limits
    days: tuple[DayHours, ...]
    answers: tuple[Answer, ...]
    shares: tuple[Share, ...]
    pace: DayPace


def hours_told(events: Sequence[Event], limits: Limits | None = None) -> HoursTold:
    """Return what the Log tells of the hours. Elapsed time counts; the wall clock only names the times of day.

    Args:
        events: Events in force, in order.
        limits: The plan's limits; None takes those of the plan that the events read last.

    Raises:
        CoachError: The plan in the events cannot be read any more.
    """
    limits = limits_in(events) if limits is None else limits
    line = timeline_of(events)
    walk = walk_along(line, limits)
    return HoursTold(
        limits=limits,
        days=days_kept(walk.worked, limits),
        answers=painter_answers(walk.moments),
        shares=tired_hours(_stints(line, walk), block_ms=limits.block_s * 1000),
        pace=day_pace_of(line, walk.worked),
    )


def limits_in(events: Sequence[Event]) -> Limits:
    """Return the limits of the plan that was read last; the usual ones where none was.

    Raises:
        CoachError: That plan cannot be read any more.
    """
    text = next((event.text for event in reversed(events) if event.kind is Kind.PLAN_READ), None)
    return Limits() if text is None else read_plan(text, "the plan in the journal").limits


def _stints(line: Timeline, walk: Walk) -> list[Stint]:
    return [
        Stint(
            canvas=line.turns[one.piece.turn_no].turn.canvas,
            day_ms=one.day_ms,
            block_ms=one.block_ms,
            worked_ms=one.piece.worked_ms,
        )
        for one in walk.worked
        if one.piece.turn_no < len(line.turns)
    ]
