"""Which limits are exceeded, the gravest first; which rest comes next; and what the painter's answers do to them."""

from functools import lru_cache
from typing import Final, NamedTuple

from coach.limits.hours import Hours
from coach.limits.rule_table import RULES, Grade, Key, Rule
from coach.plan.commission import Limits

MORE_MS: Final = 10 * 60 * 1000
"""What the answer "ten more minutes" grants."""

_ONLY_AT_WORK: Final = (Key.BETWEEN_DAYS, Key.FREE_STRETCH)
"""Time off is not too short while it still lasts."""


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


def exceeded(limits: Limits, hours: Hours, deferrals: Deferrals = NO_DEFERRALS) -> tuple[ExceededLimit, ...]:
    """Return the limits that are passed, each in its gravest grade, the gravest first.

    Args:
        limits: The plan's limits.
        hours: The account so far.
        deferrals: What the painter has answered; what is silenced or put off is left out.
    """
    gravest: dict[Key, ExceededLimit] = {}
    for rule, at_ms in _rules_under(limits):
        so_far_ms: int | None = getattr(hours, rule.so_far)
        if so_far_ms is None or (hours.is_off and rule.key in _ONLY_AT_WORK):
            continue
        if so_far_ms < at_ms if rule.is_least else so_far_ms >= at_ms:
            passed = ExceededLimit(rule.key, rule.grade, so_far_ms, at_ms)
            if _speaks(passed, hours, deferrals):
                gravest[rule.key] = passed
    return tuple(sorted(gravest.values(), key=lambda passed: -passed.grade))


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


@lru_cache(maxsize=8)
def _rules_under(limits: Limits) -> tuple[tuple[Rule, int], ...]:
    return tuple((rule, limit_ms(rule, limits)) for rule in RULES)


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


def next_rest(limits: Limits, hours: Hours, deferrals: Deferrals = NO_DEFERRALS) -> NextRest:
    """Return the rest that is due first: at the end of the block, or before too much work without a long rest.

    Where a long rest would fall due before the end of the block after, the coming rest is to be the long one already.

    Args:
        limits: The plan's limits.
        hours: The account so far.
        deferrals: What the painter has answered; minutes that were granted move the end of the block.
    """
    block_in_ms = limits.block_s * 1000 + block_granted_ms(hours, deferrals) - hours.block_ms
    long_in_ms = limits.long_rest_within_s * 1000 - hours.since_long_rest_ms
    in_ms = max(0, min(block_in_ms, long_in_ms))
    key = _kind(limits, hours.since_long_rest_ms + in_ms)
    return NextRest(key=key, in_ms=in_ms, rest_ms=_length_ms(limits, key))


def rest_left_ms(limits: Limits, hours: Hours) -> int:
    """Return how much of the rest begun now, or being had, is left, in milliseconds; 0 where it is over."""
    key = _kind(limits, max(0, hours.since_long_rest_ms - hours.off_ms))
    return max(0, _length_ms(limits, key) - hours.off_ms)


def night_left_ms(limits: Limits, hours: Hours) -> int:
    """Return how much longer to stay off so that the time between two days is kept, in milliseconds; 0 where it is."""
    return max(0, limits.between_days_s * 1000 - hours.off_ms)


def _kind(limits: Limits, since_long_rest_ms: int) -> Key:
    after_next_block_ms = since_long_rest_ms + (limits.rest_s + limits.block_s) * 1000
    return Key.LONG_REST if after_next_block_ms > limits.long_rest_within_s * 1000 else Key.BLOCK


def _length_ms(limits: Limits, key: Key) -> int:
    return 1000 * (limits.long_rest_s if key is Key.LONG_REST else limits.rest_s)
