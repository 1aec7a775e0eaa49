"""What the Log tells of the hours, from the journal alone: days, limits exceeded, answers, shares and pace."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from coach.forecast.outlook import TurnTime, sorted_turns
from coach.journal.events import Event, Kind
from coach.journal.reading import Reading, local_time
from coach.limits.cautions import fact_of
from coach.limits.exceeded import ExceededLimit, exceeded
from coach.limits.hours import Hours
from coach.limits.rule_table import RULES, Grade, Key, rule_of
from coach.limits.tired_hours import Share, Stint, tired_hours
from coach.plan.commission import Limits
from coach.plan.reading import read_plan
from coach.review.hours.pace_by_hour import DayPace, day_pace_sentence, late_against_early, pace_by_hour
from coach.review.hours.timeline import Moment, Piece, Timeline, timeline_of
from coach.session.journal_state import TurnRecord, silenced_in
from coach.text import span


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
    passed: tuple[ExceededLimit, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Walk:
    """What is met along a timeline: the work, and the moments with the limits that were passed just then."""

    worked: tuple[Worked, ...]
    moments: tuple[tuple[Moment, tuple[ExceededLimit, ...]], ...]


def walk_along(line: Timeline, limits: Limits) -> Walk:
    """Return the hours along a timeline, reckoned anew under these limits."""
    hours = Hours(rest_ms=limits.rest_s * 1000, long_rest_ms=limits.long_rest_s * 1000)
    worked: list[Worked] = []
    met: list[tuple[Moment, tuple[ExceededLimit, ...]]] = []
    for step in _in_order(line):
        if isinstance(step, Moment):
            _go_to(hours, step.at_ms)
            if step.event.kind is Kind.WOKE:
                hours.woke(step.before_ms)
            met.append((step, exceeded(limits, hours)))
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
        passed=exceeded(limits, hours),
    )


GRADE_WORDS: Final = {Grade.NOTICE: "notice", Grade.CAUTION: "caution", Grade.STRONG: "strong caution"}
"""The grades in words."""

_RULE_NO: Final = {key: no for no, key in enumerate(dict.fromkeys(rule.key for rule in RULES))}


@dataclass(frozen=True, slots=True, kw_only=True)
class DayHours:
    """A day that was painted: from the first work after a night off to the last before the next one.

    Attributes:
        begun: The clocks at its first work; its date is that of the day.
        ended: The clocks at the end of its last work.
        work_ms: Work on turns, in milliseconds.
        longest_block_ms: The longest work without a rest.
        rests_ms: The rests, each in milliseconds; shorter time off is none.
        night_ms: Time off before it; None on the first day.
        awake_ms: Time since waking at its end; None where it is not known.
        passed: For each rule that was passed its gravest figure, the gravest first.
    """

    begun: Reading
    ended: Reading
    work_ms: int
    longest_block_ms: int
    rests_ms: tuple[int, ...]
    night_ms: int | None
    awake_ms: int | None
    passed: tuple[ExceededLimit, ...]


def days_kept(worked: Iterable[Worked], limits: Limits) -> tuple[DayHours, ...]:
    """Return every day that was painted, in order; the limits say what is a rest."""
    return tuple(_day(tuple(pieces), limits) for _, pieces in groupby(worked, key=lambda one: one.day_no))


def passed_words(passed: ExceededLimit) -> str:
    """Return a limit that was passed in words, such as "day 10 h 05 min: caution from 10 h"."""
    until = "below" if rule_of(passed.key, passed.grade).is_least else "from"
    return f"{passed.key} {span(passed.so_far_ms)}: {GRADE_WORDS[passed.grade]} {until} {span(passed.limit_ms)}"


def _day(worked: Sequence[Worked], limits: Limits) -> DayHours:
    first, last = worked[0], worked[-1]
    return DayHours(
        begun=first.piece.begun,
        ended=last.piece.ended,
        work_ms=last.day_ms + last.piece.worked_ms,
        longest_block_ms=max(one.block_ms + one.piece.worked_ms for one in worked),
        rests_ms=tuple(one.off_ms for one in worked[1:] if one.off_ms >= limits.rest_s * 1000),
        night_ms=first.night_ms,
        awake_ms=last.awake_ms,
        passed=_gravest(passed for one in worked for passed in one.passed),
    )


def _gravest(passed: Iterable[ExceededLimit]) -> tuple[ExceededLimit, ...]:
    found = {}
    for one in sorted(passed, key=_gravity):
        found[one.key] = one
    return tuple(sorted(found.values(), key=lambda one: (-one.grade, _RULE_NO[one.key])))


def _gravity(passed: ExceededLimit) -> tuple[Grade, int]:
    is_least = rule_of(passed.key, passed.grade).is_least
    return passed.grade, -passed.so_far_ms if is_least else passed.so_far_ms


_ENDED_BY_A_REST: Final = (Key.BLOCK, Key.LONG_REST, Key.STANDING)


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """An answer: the clocks when it was given, and its words."""

    at: Reading
    words: str

    @property
    def sentence(self) -> str:
        """The answer with its local time, such as "2027-03-27 14:05 ten more minutes"."""
        return f"{local_time(self.at):%Y-%m-%d %H:%M} {self.words}"


def painter_answers(moments: Sequence[tuple[Moment, tuple[ExceededLimit, ...]]]) -> tuple[Answer, ...]:
    """Return the answers in order; a rest is one where a limit was passed that a rest ends."""
    return tuple(
        Answer(at=moment.event.at, words=words) for moment, passed in moments for words in _words(moment, passed)
    )


def _words(moment: Moment, passed: Sequence[ExceededLimit]) -> Iterator[str]:
    event = moment.event
    match event.kind:
        case Kind.REST_BEGUN:
            yield from _rest_words(passed)
        case Kind.GRANTED:
            yield "ten more minutes"
        case Kind.NOT_TODAY:
            yield f"not today: {_silenced_words(event.text)}"
        case Kind.WOKE:
            yield f"woke at {event.text}"
        case Kind.RETIMED:
            yield from _corrected_words(event, moment.before_ms)


def _rest_words(passed: Sequence[ExceededLimit]) -> Iterator[str]:
    facts = [fact_of(one) for one in passed if one.key in _ENDED_BY_A_REST]
    if facts:
        yield f"rest begun after {facts[0]}"


def _silenced_words(text: str) -> str:
    silenced = sorted(silenced_in(text), key=lambda pair: (-pair[1], pair[0]))
    return ", ".join(f"{key} ({GRADE_WORDS[grade]})" for key, grade in silenced) or "a limit that is no longer kept"


def _corrected_words(event: Event, before_ms: int) -> Iterator[str]:
    if event.turn is not None and before_ms:
        what = f"{' + '.join(event.turn.passages)} on {event.turn.canvas}"
        yield f"time corrected: {what} took {span(int(event.text))}, not {span(before_ms)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursReport:
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


def hours_report(events: Sequence[Event], limits: Limits | None = None) -> HoursReport:
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
    return HoursReport(
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


def day_pace_of(line: Timeline, worked: Iterable[Worked]) -> DayPace:
    """Return the pace of the turns that were painted; those skipped count not."""
    on_duty_ms: dict[int, int] = {}
    for one in worked:
        on_duty_ms.setdefault(one.piece.turn_no, one.day_ms)
    turns = [
        _turn_time(record, on_duty_ms[no])
        for no, record in enumerate(line.turns)
        if no in on_duty_ms and not record.is_skipped
    ]
    counted, left_out = sorted_turns(turns)
    return DayPace(
        sentence=day_pace_sentence(counted),
        late=late_against_early(counted),
        by_hour=pace_by_hour(counted),
        left_out=left_out,
    )


def _turn_time(record: TurnRecord, on_duty_ms: int) -> TurnTime:
    turn = record.turn
    return TurnTime(
        pass_name=turn.pass_name,
        is_lead=turn.place == 1,
        planned_s=turn.planned_s,
        worked_s=record.worked_ms / 1000,
        on_duty_s=on_duty_ms / 1000,
        words=f"{' + '.join(turn.passages)} on {turn.canvas}, {local_time(record.begun):%Y-%m-%d %H:%M}",
    )
