"""Which limit is reached: the end of a block, of a day, of a short night."""

import enum
from typing import Final, NamedTuple

from coach.plan.commission import Limits

NIGHT_MS: Final = 6 * 3600 * 1000
"""A break from work this long ends the day. Source: common practice, no source."""


class Limit(enum.Enum):
    """A limit of the hours of the body."""

    BLOCK = "block"
    DAY = "day"
    BETWEEN_DAYS = "between days"


class Reached(NamedTuple):
    """A limit that is reached: milliseconds so far, and milliseconds at which it lies."""

    limit: Limit
    so_far_ms: int
    limit_ms: int


def limits_reached(limits: Limits, *, block_ms: int, day_ms: int, night_ms: int | None) -> tuple[Reached, ...]:
    """Return the limits that are reached, the gravest first.

    Args:
        limits: The plan's limits.
        block_ms: Unbroken work so far, in milliseconds.
        day_ms: Work of the day so far, in milliseconds.
        night_ms: Time off before the day's first work, in milliseconds; None on the first day of a journal.
    """
    reached: list[Reached] = []
    if day_ms >= limits.day_s * 1000:
        reached.append(Reached(limit=Limit.DAY, so_far_ms=day_ms, limit_ms=limits.day_s * 1000))
    if block_ms >= limits.block_s * 1000:
        reached.append(Reached(limit=Limit.BLOCK, so_far_ms=block_ms, limit_ms=limits.block_s * 1000))
    if night_ms is not None and night_ms < limits.between_days_s * 1000:
        between_ms = limits.between_days_s * 1000
        reached.append(Reached(limit=Limit.BETWEEN_DAYS, so_far_ms=night_ms, limit_ms=between_ms))
    return tuple(reached)
