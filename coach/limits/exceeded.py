"""Which limits are exceeded, the gravest first; which rest comes next; and what the painter's answers do to them."""

import datetime as dt
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple

from coach.limits.hours import Hours
from coach.limits.rule_table import RULES, Grade, Key, Rule
from coach.plan.commission import STANDING, Limits

MORE_MS: Final = 10 * 60 * 1000
"""What the answer "ten more minutes" grants."""

SAID_MS: Final = 10 * 60 * 1000
"""What only a night or another day can mend is said for so long, and then not again in this grade. Source: ours."""

NIGHT_ENDS_MS: Final = 6 * 3600 * 1000
"""From 23:00 until then it is night. Source: Working Time Regulations 1998, night time (from memory)."""

BEFORE_MEAL_MS: Final = 30 * 60 * 1000
"""A long rest that ended at most so long before the meal was the meal. Source: ours."""

MEAL_LAPSES_MS: Final = 3 * 3600 * 1000
"""So long after its time a meal is no longer asked for. Source: ours."""

_DAY_MS: Final = 24 * 3600 * 1000
_ONLY_AT_WORK: Final = (Key.BETWEEN_DAYS, Key.FREE_STRETCH, Key.NIGHT, Key.MEAL)
"""Time off is not too short while it still lasts."""

_ENDED_BY_A_REST: Final = (Key.BLOCK, Key.LONG_REST, Key.STANDING, Key.MEAL)
_STANDING: Final = (Key.STANDING, Key.STANDING_DAY)


class ExceededLimit(NamedTuple):
    """A limit that is passed.

    Attributes:
        key: What it is about.
        grade: How gravely it speaks.
        so_far_ms: What it has come to, in milliseconds.
        limit_ms: Where the limit of this grade lies, in milliseconds.
    """

    key: Key
    grade: Grade
    so_far_ms: int
    limit_ms: int


class Deferrals(NamedTuple):
    """What the painter has answered; each answer lapses by itself.

    Attributes:
        granted_ms: How much later the end of the block is said, in milliseconds.
        block_no: The block it was granted in.
        silenced: What is not to be said again today, each with the grade up to which it is silent.
        day_no: The day it was silenced on.
    """

    granted_ms: int = 0
    block_no: int = 0
    silenced: frozenset[tuple[Key, Grade]] = frozenset()
    day_no: int = 0


NO_DEFERRALS: Final = Deferrals()


@dataclass(frozen=True, slots=True, kw_only=True)
class Easel:
    """What beside the hours says how work is done.

    Attributes:
        time_ms: Local time of day, in milliseconds; None leaves out what goes by the clock.
        is_standing: Whether it is painted standing.
    """

    time_ms: int | None = None
    is_standing: bool = True


STANDING_EASEL: Final = Easel()


def easel_at(now: dt.datetime, posture: str) -> Easel:
    """Return how work is done at a local time in a posture of the plan."""
    time_ms = ((now.hour * 60 + now.minute) * 60 + now.second) * 1000
    return Easel(time_ms=time_ms, is_standing=posture == STANDING)


def exceeded(limits: Limits, hours: Hours, easel: Easel = STANDING_EASEL) -> tuple[ExceededLimit, ...]:
    """Return the limits that are passed, each in its gravest grade, the gravest first.

    Args:
        limits: The plan's limits.
        hours: The account so far.
        easel: The time of day, and whether it is painted standing.
    """
    gravest: dict[Key, ExceededLimit] = {}
    for rule, at_ms in _rules_under(limits):
        so_far_ms = _so_far_ms(rule, limits, hours, easel)
        if so_far_ms is not None and (so_far_ms < at_ms if rule.is_least else so_far_ms >= at_ms):
            gravest[rule.key] = ExceededLimit(rule.key, rule.grade, so_far_ms, at_ms)
    return tuple(sorted(gravest.values(), key=lambda passed: -passed.grade))


def notices(
    limits: Limits, hours: Hours, deferrals: Deferrals = NO_DEFERRALS, easel: Easel = STANDING_EASEL
) -> tuple[ExceededLimit, ...]:
    """Return the limits that are to be said now, the gravest first; nothing is said that only repeats.

    What a rest mends is said until one is begun or put off; what it cannot mend is said once, for `SAID_MS` of work.

    Args:
        limits: The plan's limits.
        hours: The account so far.
        deferrals: What the painter has answered; what is silenced or put off is left out.
        easel: The time of day, and whether it is painted standing.
    """
    return tuple(
        passed
        for passed in exceeded(limits, hours, easel)
        if _speaks(passed, hours, deferrals)
        and (not hours.is_off if passed.key in _ENDED_BY_A_REST else _is_new(passed, hours))
    )


def _so_far_ms(rule: Rule, limits: Limits, hours: Hours, easel: Easel) -> int | None:
    """Return what a rule measures; None where it does not speak."""
    if (hours.is_off and rule.key in _ONLY_AT_WORK) or (rule.key in _STANDING and not easel.is_standing):
        return None
    if rule.so_far:
        so_far_ms: int | None = getattr(hours, rule.so_far)
        return so_far_ms
    if easel.time_ms is None:
        return None
    if rule.key is Key.NIGHT:
        return easel.time_ms + (_DAY_MS if easel.time_ms < NIGHT_ENDS_MS else 0)
    return easel.time_ms if _is_meal_due(limits, hours, easel.time_ms) else None


def _is_meal_due(limits: Limits, hours: Hours, time_ms: int) -> bool:
    """Return whether it is time for the meal, and no long rest was had for it."""
    if limits.meal_s is None:
        return False
    at_ms = limits.meal_s * 1000
    since_ms = time_ms - hours.since_long_rest_ms
    return since_ms < at_ms - BEFORE_MEAL_MS and at_ms <= time_ms < at_ms + MEAL_LAPSES_MS


def _is_new(passed: ExceededLimit, hours: Hours) -> bool:
    """Return whether a limit was passed within the last `SAID_MS`, or with the work of a day that is just begun."""
    if hours.day_ms < SAID_MS:
        return True
    is_fixed = passed.key in (Key.BETWEEN_DAYS, Key.FREE_STRETCH)
    return not is_fixed and passed.so_far_ms - passed.limit_ms < SAID_MS


def ten_more(deferrals: Deferrals, limits: Limits, hours: Hours) -> Deferrals:
    """Return the answers with ten more minutes for the block, from its end or, where that is past, from now."""
    granted_ms = block_granted_ms(hours, deferrals)
    over_ms = hours.block_ms - limits.block_s * 1000
    return deferrals._replace(granted_ms=max(granted_ms, over_ms) + MORE_MS, block_no=hours.block_no)


def not_today(deferrals: Deferrals, passed: ExceededLimit, hours: Hours) -> Deferrals:
    """Return the answers with one limit silent for today up to the grade it has now."""
    before = deferrals.silenced if deferrals.day_no == hours.day_no else frozenset()
    return deferrals._replace(silenced=before | {(passed.key, passed.grade)}, day_no=hours.day_no)


def block_granted_ms(hours: Hours, deferrals: Deferrals) -> int:
    """Return how much later the end of this block is said, in milliseconds."""
    return deferrals.granted_ms if deferrals.block_no == hours.block_no else 0


def limit_ms(rule: Rule, limits: Limits) -> int:
    """Return where a rule's limit lies, in milliseconds."""
    figures_s: list[int] = [getattr(limits, field) for field in rule.fields]
    if rule.at_s is not None:
        figures_s.append(rule.at_s)
    return 1000 * (min(figures_s) if rule.is_least else max(figures_s))


def is_in_force(rule: Rule, limits: Limits) -> bool:
    """Return whether the plan, or the rule itself, says where its limit lies."""
    return all(getattr(limits, field) is not None for field in rule.fields)


@lru_cache(maxsize=8)
def _rules_under(limits: Limits) -> tuple[tuple[Rule, int], ...]:
    return tuple((rule, limit_ms(rule, limits)) for rule in RULES if is_in_force(rule, limits))


def _speaks(passed: ExceededLimit, hours: Hours, deferrals: Deferrals) -> bool:
    if passed.key is Key.BLOCK and passed.so_far_ms < passed.limit_ms + block_granted_ms(hours, deferrals):
        return False
    return deferrals.day_no != hours.day_no or not any(
        passed.key is key and passed.grade <= grade for key, grade in deferrals.silenced
    )


class NextRest(NamedTuple):
    """The rest that comes next.

    Attributes:
        key: `Key.BLOCK` for a rest, `Key.LONG_REST` for a long one.
        in_ms: Work until it is due, in milliseconds; 0 where it is due now.
        rest_ms: How long it is to be, in milliseconds.
    """

    key: Key
    in_ms: int
    rest_ms: int


def next_rest(
    limits: Limits, hours: Hours, deferrals: Deferrals = NO_DEFERRALS, easel: Easel = STANDING_EASEL
) -> NextRest:
    """Return the rest that is due first: at the end of the block, at the meal, or before too long without a long rest.

    Where a long rest would fall due before the end of the block after, the coming rest is to be the long one already.

    Args:
        limits: The plan's limits.
        hours: The account so far.
        deferrals: What the painter has answered; minutes that were granted move the end of the block.
        easel: The time of day.
    """
    block_in_ms = limits.block_s * 1000 + block_granted_ms(hours, deferrals) - hours.block_ms
    long_in_ms = limits.long_rest_within_s * 1000 - hours.since_long_rest_ms
    meal_in_ms = _meal_in_ms(limits, hours, easel)
    in_ms = max(0, min(block_in_ms, long_in_ms, meal_in_ms))
    key = _kind(limits, hours.since_long_rest_ms + in_ms, meal_in_ms - in_ms)
    return NextRest(key=key, in_ms=in_ms, rest_ms=_length_ms(limits, key))


def rest_left_ms(limits: Limits, hours: Hours, easel: Easel = STANDING_EASEL) -> int:
    """Return how much of the rest begun now, or being had, is left, in milliseconds; 0 where it is over."""
    begun_ms = max(0, hours.since_long_rest_ms - hours.off_ms)
    key = _kind(limits, begun_ms, _meal_in_ms(limits, hours, easel) + hours.off_ms)
    return max(0, _length_ms(limits, key) - hours.off_ms)


def _meal_in_ms(limits: Limits, hours: Hours, easel: Easel) -> int:
    """Return how long until the meal; below 0 where it is due, and as good as never where none is to come."""
    if limits.meal_s is None or easel.time_ms is None:
        return _DAY_MS
    in_ms = limits.meal_s * 1000 - easel.time_ms
    if in_ms <= 0 and not _is_meal_due(limits, hours, easel.time_ms):
        return _DAY_MS
    return in_ms


def night_left_ms(limits: Limits, hours: Hours) -> int:
    """Return how much longer to stay off so that the time between two days is kept, in milliseconds; 0 where it is."""
    return max(0, limits.between_days_s * 1000 - hours.off_ms)


def _kind(limits: Limits, since_long_rest_ms: int, meal_in_ms: int) -> Key:
    after_next_block_ms = since_long_rest_ms + (limits.rest_s + limits.block_s) * 1000
    is_long = after_next_block_ms > limits.long_rest_within_s * 1000 or meal_in_ms <= limits.rest_s * 1000
    return Key.LONG_REST if is_long else Key.BLOCK


def _length_ms(limits: Limits, key: Key) -> int:
    return 1000 * (limits.long_rest_s if key is Key.LONG_REST else limits.rest_s)
