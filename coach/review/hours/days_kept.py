"""What was kept on every day that was painted."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from coach.journal.reading import Reading
from coach.limits.reached import Passed
from coach.limits.rule_table import RULES, Grade, rule_of
from coach.plan.commission import Limits
from coach.review.hours.walk import Worked
from coach.text import span

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
    passed: tuple[Passed, ...]


def days_kept(worked: Iterable[Worked], limits: Limits) -> tuple[DayHours, ...]:
    """Return every day that was painted, in order; the limits say what is a rest."""
    return tuple(_day(tuple(pieces), limits) for _, pieces in groupby(worked, key=lambda one: one.day_no))


def passed_words(passed: Passed) -> str:
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


def _gravest(passed: Iterable[Passed]) -> tuple[Passed, ...]:
    found = {}
    for one in sorted(passed, key=_gravity):
        found[one.key] = one
    return tuple(sorted(found.values(), key=lambda one: (-one.grade, _RULE_NO[one.key])))


def _gravity(passed: Passed) -> tuple[Grade, int]:
    is_least = rule_of(passed.key, passed.grade).is_least
    return passed.grade, -passed.so_far_ms if is_least else passed.so_far_ms
