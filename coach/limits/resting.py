"""Which rest comes next and when, and what is left of a rest or a night."""

from typing import NamedTuple

from coach.limits.hours import Hours
from coach.limits.reached import NO_ANSWERS, Answers, block_granted_ms
from coach.limits.rule_table import Key
from coach.plan.commission import Limits


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


def next_rest(limits: Limits, hours: Hours, answers: Answers = NO_ANSWERS) -> NextRest:
    """Return the rest that is due first: at the end of the block, or before too much work without a long rest.

    Where a long rest would fall due within the block after, the coming rest is to be the long one already.

    Args:
        limits: The plan's limits.
        hours: The account so far.
        answers: What the painter has answered; minutes that were granted move the end of the block.
    """
    block_in_ms = limits.block_s * 1000 + block_granted_ms(hours, answers) - hours.block_ms
    long_in_ms = limits.long_rest_within_s * 1000 - hours.since_long_rest_ms
    in_ms = max(0, min(block_in_ms, long_in_ms))
    key = _kind(limits, hours.since_long_rest_ms + in_ms)
    return NextRest(key=key, in_ms=in_ms, rest_ms=_length_ms(limits, key))


def rest_left_ms(limits: Limits, hours: Hours) -> int:
    """Return how much of the rest begun now, or being had, is left, in milliseconds; 0 where it is over."""
    key = _kind(limits, hours.since_long_rest_ms)
    return max(0, _length_ms(limits, key) - hours.off_ms)


def night_left_ms(limits: Limits, hours: Hours) -> int:
    """Return how much longer to stay off so that the time between two days is kept, in milliseconds; 0 where it is."""
    return max(0, limits.between_days_s * 1000 - hours.off_ms)


def _kind(limits: Limits, since_long_rest_ms: int) -> Key:
    after_next_block_ms = since_long_rest_ms + limits.block_s * 1000
    return Key.LONG_REST if after_next_block_ms > limits.long_rest_within_s * 1000 else Key.BLOCK


def _length_ms(limits: Limits, key: Key) -> int:
    return 1000 * (limits.long_rest_s if key is Key.LONG_REST else limits.rest_s)
