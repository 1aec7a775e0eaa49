"""What the Log tells of the hours, from the journal alone: days, limits exceeded, answers, shares and pace."""

import datetime as dt
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, zip_longest
from typing import Final

from coach.forecast.outlook import TurnTime
from coach.journal.events import Kind
from coach.journal.reading import local_time
from coach.limits.cautions import relaxed_limits, time_of_day
from coach.limits.exceeded import ExceededLimit, easel_at, exceeded, is_in_force, limit_ms
from coach.limits.hours import Hours
from coach.limits.rule_table import RULES, Grade, Key, Rule
from coach.limits.tired_hours import Share, Stint, late_apart_frac, tired_hours, tired_sentences
from coach.plan.commission import STANDING, Limits, Plan
from coach.plan.reading import read_plan
from coach.review.hours.pace_by_hour import DayPace, day_pace
from coach.session.journal_state import JournalState, silenced_in
from coach.session.records import Moment, Piece, TurnRecord
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
        passed: The limits that are passed at its end, whatever the painter answered; none where the work goes on.
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
    """What is met along a journal: the work, and the moments with the limits that were passed just then."""

    worked: tuple[Worked, ...]
    moments: tuple[tuple[Moment, tuple[ExceededLimit, ...]], ...]


def walk_along(state: JournalState, limits: Limits, posture: str = STANDING) -> Walk:
    """Return the hours along a journal, reckoned anew under these limits and in this posture."""
    hours = Hours(rest_ms=limits.rest_s * 1000, long_rest_ms=limits.long_rest_s * 1000)
    worked: list[Worked] = []
    met: list[tuple[Moment, tuple[ExceededLimit, ...]]] = []
    steps = _in_order(state)
    for step, after in zip_longest(steps, steps[1:]):
        if isinstance(step, Moment):
            _go_to(hours, step.at_ms)
            if step.event.kind is Kind.WOKE:
                hours.woke(step.before_ms)
            met.append((step, exceeded(limits, hours, easel_at(local_time(step.event.at), posture))))
        else:
            _go_to(hours, step.begin_ms)
            goes_on = isinstance(after, Piece) and after.begin_ms == step.end_ms
            worked.append(_worked(step, hours, None if goes_on else limits, posture))
    return Walk(worked=tuple(worked), moments=tuple(met))


def _in_order(state: JournalState) -> Sequence[Piece | Moment]:
    """Return pieces and moments by time; at the same instant what is over comes before what begins."""
    steps: list[Piece | Moment] = [*state.moments, *state.pieces]
    return sorted(steps, key=lambda step: step.at_ms if isinstance(step, Moment) else step.begin_ms)


def _go_to(hours: Hours, at_ms: int) -> None:
    hours.off(at_ms - hours.now_ms)


def _worked(piece: Piece, hours: Hours, limits: Limits | None, posture: str) -> Worked:
    """Return a piece of work; without limits, where the work goes on, what is passed is told of a later piece."""
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
        passed=() if limits is None else exceeded(limits, hours, easel_at(local_time(piece.ended), posture)),
    )


GRADE_WORDS: Final = {Grade.NOTICE: "notice", Grade.CAUTION: "caution", Grade.STRONG: "strong caution"}
"""The grades in words."""

_RULE_NO: Final = {key: no for no, key in enumerate(dict.fromkeys(rule.key for rule in RULES))}
_AT_LEAST: Final = frozenset(rule.key for rule in RULES if rule.is_least)
_DUE_WORDS: Final = {
    Key.BLOCK: "after {} of unbroken work",
    Key.LONG_REST: "after {} without a long one",
    Key.STANDING: "after {} on one spot",
    Key.MEAL: "at {}, for the meal",
}
"""What a rest that was due came after."""

_MS_PER_MIN: Final = 60_000


@dataclass(frozen=True, slots=True, kw_only=True)
class PassedRule:
    """A rule that was passed on a day: its gravest grade, what it came to, and the limit of that grade."""

    rule: Key
    grade: str
    minutes: float
    limit_minutes: float

    @property
    def words(self) -> str:
        """In words, such as "day 10 h 05 min: caution from 10 h"."""
        until, said = "below" if self.rule in _AT_LEAST else "from", said_of(self.rule)
        return f"{self.rule} {said(self.minutes)}: {self.grade} {until} {said(self.limit_minutes)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class DayHours:
    """A day that was painted: from the first work after a night off to the last before the next one.

    Attributes:
        day: The date of its first work.
        begun: Local time of its first work.
        ended: Local time of the end of its last work.
        work_minutes: Work on turns.
        longest_block_minutes: The longest work without a rest.
        rests: How many rests; shorter time off is none.
        rest_minutes: All of them together.
        night_minutes: Time off before it; None on the first day.
        awake_minutes: Time since waking at its end; None where it is not known.
        passed: Each rule that was passed, the gravest first.
    """

    day: dt.date
    begun: dt.datetime
    ended: dt.datetime
    work_minutes: float
    longest_block_minutes: float
    rests: int
    rest_minutes: float
    night_minutes: float | None
    awake_minutes: float | None
    passed: tuple[PassedRule, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What the painter answered to a limit: its local time, and its words."""

    when: dt.datetime
    answer: str

    @property
    def sentence(self) -> str:
        """The answer with its time, such as "2027-03-27 14:05 ten more minutes"."""
        return f"{self.when:%Y-%m-%d %H:%M} {self.answer}"


@dataclass(frozen=True, slots=True, kw_only=True)
class TiredHours:
    """How the tired hours were shared, with the same in sentences; `late_apart_frac` is 0 where they are even."""

    canvases: tuple[Share, ...]
    late_apart_frac: Fraction
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleInForce:
    """One grade of one rule, with the limit in force; `is_least` says that it must be kept at least."""

    rule: Key
    grade: str
    limit_minutes: float
    is_least: bool
    yardstick: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursReport:
    """What the Log tells of the hours; its fields are the keys of JSON.

    Attributes:
        days: What was kept, day by day.
        answers: What the painter answered, in order.
        tired_hours: What every canvas had of the hours; work on the turn in hand belongs to none yet.
        pace: The pace through the day.
        loosened: Where the plan's limits are looser than the yardstick, a sentence each.
        rules: Every grade of every rule.
        rest_limit_minutes: Time off that is a rest.
        week_limit_minutes: The plan's hours in seven days.
    """

    days: tuple[DayHours, ...]
    answers: tuple[Answer, ...]
    tired_hours: TiredHours
    pace: DayPace
    loosened: tuple[str, ...]
    rules: tuple[RuleInForce, ...]
    rest_limit_minutes: float
    week_limit_minutes: float


def hours_report(state: JournalState, limits: Limits | None = None) -> HoursReport:
    """Return what the Log tells of the hours. Elapsed time counts; the wall clock only names the times of day.

    Args:
        state: What the journal adds up to.
        limits: The plan's limits; None takes those of the plan that was read last.

    Raises:
        CoachError: The plan in the journal cannot be read any more.
    """
    plan = plan_in(state)
    limits = (Limits() if plan is None else plan.limits) if limits is None else limits
    walk = walk_along(state, limits, STANDING if plan is None else plan.posture)
    shares = tired_hours(_stints(state, walk), block_ms=limits.block_s * 1000)
    return HoursReport(
        days=tuple(_day(tuple(pieces), limits) for _, pieces in groupby(walk.worked, key=lambda one: one.day_no)),
        answers=tuple(
            Answer(when=local_time(moment.event.at), answer=words)
            for moment, passed in walk.moments
            for words in _answer_words(moment, passed)
        ),
        tired_hours=TiredHours(
            canvases=shares, late_apart_frac=late_apart_frac(shares), sentences=tired_sentences(shares)
        ),
        pace=day_pace(_turn_times(state, walk)),
        loosened=relaxed_limits(limits),
        rules=tuple(_in_force(rule, limits) for rule in RULES if is_in_force(rule, limits)),
        rest_limit_minutes=_minutes(limits.rest_s * 1000),
        week_limit_minutes=_minutes(limits.week_s * 1000),
    )


def plan_in(state: JournalState) -> Plan | None:
    """Return the plan that was read last; None where none was.

    Raises:
        CoachError: It cannot be read any more.
    """
    return read_plan(state.plan_text, "the plan in the journal") if state.plan_text else None


def span_min(minutes: float) -> str:
    """Return minutes in words such as "3 h 05 min"."""
    return span(round(minutes * _MS_PER_MIN))


def said_of(rule: Key) -> Callable[[float], str]:
    """Return how the minutes of a rule are said: as a time of day where it goes by the clock."""
    if rule in (Key.NIGHT, Key.MEAL):
        return lambda minutes: time_of_day(round(minutes * _MS_PER_MIN))
    return span_min


def _minutes(ms: int) -> float:
    return round(ms / _MS_PER_MIN, 2)


def _in_force(rule: Rule, limits: Limits) -> RuleInForce:
    return RuleInForce(
        rule=rule.key,
        grade=GRADE_WORDS[rule.grade],
        limit_minutes=_minutes(limit_ms(rule, limits)),
        is_least=rule.is_least,
        yardstick=rule.yardstick,
        source=rule.source,
    )


def _day(worked: Sequence[Worked], limits: Limits) -> DayHours:
    first, last = worked[0], worked[-1]
    rests_ms = [one.off_ms for one in worked[1:] if one.off_ms >= limits.rest_s * 1000]
    begun = local_time(first.piece.begun)
    return DayHours(
        day=begun.date(),
        begun=begun,
        ended=local_time(last.piece.ended),
        work_minutes=_minutes(last.day_ms + last.piece.worked_ms),
        longest_block_minutes=_minutes(max(one.block_ms + one.piece.worked_ms for one in worked)),
        rests=len(rests_ms),
        rest_minutes=_minutes(sum(rests_ms)),
        night_minutes=None if first.night_ms is None else _minutes(first.night_ms),
        awake_minutes=None if last.awake_ms is None else _minutes(last.awake_ms),
        passed=_gravest(passed for one in worked for passed in one.passed),
    )


def _gravest(passed: Iterable[ExceededLimit]) -> tuple[PassedRule, ...]:
    found: dict[Key, ExceededLimit] = {}
    for one in passed:
        if one.key not in found or _gravity(one) >= _gravity(found[one.key]):
            found[one.key] = one
    return tuple(
        PassedRule(
            rule=one.key,
            grade=GRADE_WORDS[one.grade],
            minutes=_minutes(one.so_far_ms),
            limit_minutes=_minutes(one.limit_ms),
        )
        for one in sorted(found.values(), key=lambda one: (-one.grade, _RULE_NO[one.key]))
    )


def _gravity(passed: ExceededLimit) -> tuple[Grade, int]:
    return passed.grade, -passed.so_far_ms if passed.key in _AT_LEAST else passed.so_far_ms


def _answer_words(moment: Moment, passed: Sequence[ExceededLimit]) -> Iterator[str]:
    event = moment.event
    match event.kind:
        case Kind.REST_BEGUN:
            due = [one for one in passed if one.key in _DUE_WORDS]
            if due:
                yield f"rest, {_DUE_WORDS[due[0].key].format(said_of(due[0].key)(_minutes(due[0].so_far_ms)))}"
        case Kind.GRANTED:
            yield "ten more minutes"
        case Kind.NOT_TODAY:
            yield f"not today: {_silenced_words(event.text)}"
        case Kind.WOKE:
            yield f"woke at {event.text}"
        case Kind.RETIMED if event.turn is not None and moment.before_ms:
            what = f"{' + '.join(event.turn.passages)} on {event.turn.canvas}"
            yield f"time corrected: {what} took {span(int(event.text))}, not {span(moment.before_ms)}"


def _silenced_words(text: str) -> str:
    silenced = sorted(silenced_in(text), key=lambda pair: (-pair[1], pair[0]))
    return ", ".join(f"{key} ({GRADE_WORDS[grade]})" for key, grade in silenced) or "a limit that is no longer kept"


def _stints(state: JournalState, walk: Walk) -> list[Stint]:
    return [
        Stint(
            canvas=state.turns[one.piece.turn_no].turn.canvas,
            day_ms=one.day_ms,
            block_ms=one.block_ms,
            worked_ms=one.piece.worked_ms,
        )
        for one in walk.worked
        if one.piece.turn_no < len(state.turns) and not state.turns[one.piece.turn_no].turn.check
    ]


def _turn_times(state: JournalState, walk: Walk) -> list[TurnTime]:
    """Return the times of the turns that were painted; those skipped and checks count not."""
    on_duty_ms: dict[int, int] = {}
    for one in walk.worked:
        on_duty_ms.setdefault(one.piece.turn_no, one.day_ms)
    return [
        _turn_time(record, on_duty_ms[no])
        for no, record in enumerate(state.turns)
        if no in on_duty_ms and record.is_painted
    ]


def _turn_time(record: TurnRecord, on_duty_ms: int) -> TurnTime:
    turn = record.turn
    return TurnTime(
        pass_name=turn.pass_name,
        is_lead=turn.is_lead,
        planned_s=turn.planned_s,
        worked_s=record.worked_ms / 1000,
        on_duty_s=on_duty_ms / 1000,
        words=f"{' + '.join(turn.passages)} on {turn.canvas}, {local_time(record.begun):%Y-%m-%d %H:%M}",
    )
