"""The hours of the body at every piece of work and every moment of a timeline."""

from collections.abc import Sequence
from dataclasses import dataclass

from coach.journal.events import Kind
from coach.limits.hours import Hours
from coach.limits.reached import Passed, reached
from coach.plan.commission import Limits
from coach.review.hours.timeline import Moment, Piece, Timeline


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """A piece of work and the hours around it, in milliseconds.

    Attributes:
        piece: The work.
        day_no: Tells the days apart.
        off_ms: Time off just before it.
        day_ms: Work of the day before it.
        block_ms: Unbroken work before it.
        night_ms: Time off before the day; None on the first day.
        awake_ms: Time since waking at its end; None where it is not known.
        passed: The limits that are passed at its end, whatever the painter answered.
    """

    piece: Piece
    day_no: int
    off_ms: int
    day_ms: int
    block_ms: int
    night_ms: int | None
    awake_ms: int | None
    passed: tuple[Passed, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """What is met along a timeline: the work, and the moments with the limits that were passed just then."""

    worked: tuple[Worked, ...]
    moments: tuple[tuple[Moment, tuple[Passed, ...]], ...]


def walk_along(line: Timeline, limits: Limits) -> Walk:
    """Return the hours along a timeline, reckoned anew under these limits."""
    hours = Hours(rest_ms=limits.rest_s * 1000, long_rest_ms=limits.long_rest_s * 1000)
    worked: list[Worked] = []
    met: list[tuple[Moment, tuple[Passed, ...]]] = []
    for step in _in_order(line):
        if isinstance(step, Moment):
            _go_to(hours, step.at_ms)
            if step.event.kind is Kind.WOKE:
                hours.woke(step.before_ms)
            met.append((step, reached(limits, hours)))
        else:
            _go_to(hours, step.begin_ms)
            worked.append(_worked(step, hours, limits))
    return Walk(worked=tuple(worked), moments=tuple(met))


def _in_order(line: Timeline) -> Sequence[Piece | Moment]:
    """Return pieces and moments by time; at the same instant what is over comes before what begins."""
    steps: list[Piece | Moment] = [*line.moments, *line.pieces]
    return sorted(steps, key=lambda step: step.at_ms if isinstance(step, Moment) else step.begin_ms)


def _go_to(hours: Hours, at_ms: int) -> None:
    hours.off(at_ms - hours.now_ms)


def _worked(piece: Piece, hours: Hours, limits: Limits) -> Worked:
    day_no, off_ms, day_ms, block_ms = hours.day_no, hours.off_ms, hours.day_ms, hours.block_ms
    hours.work(piece.worked_ms)
    return Worked(
        piece=piece,
        day_no=day_no,
        off_ms=off_ms,
        day_ms=day_ms,
        block_ms=block_ms,
        night_ms=hours.night_ms,
        awake_ms=hours.awake_ms,
        passed=reached(limits, hours),
    )
