"""The average week, against which the law measures its 48 hours."""

from collections.abc import Sequence
from typing import Final

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
