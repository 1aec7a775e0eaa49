"""One reading of the clocks, and the time between two."""

import datetime as dt
from typing import Final, NamedTuple

_DAY_S: Final = 24 * 3600


class Reading(NamedTuple):
    """The clocks at one instant.

    Attributes:
        wall_ms: Milliseconds since 1970-01-01 UTC by the wall clock.
        offset_s: What local time is ahead of UTC, in seconds.
        elapsed_ms: Milliseconds by a clock that nobody can set and that counts while the lid is closed.
        boot: Names the start of the machine since when `elapsed_ms` counts; empty where it is not known.
    """

    wall_ms: int
    offset_s: int
    elapsed_ms: int
    boot: str


def passed_ms(earlier: Reading, later: Reading) -> int:
    """Return the milliseconds from one reading to the next, 0 or more.

    Within one start of the machine the elapsed clock counts, so a clock that was set or a change to summer
    time bends nothing. Across a restart only the wall clock is left; where that ran backwards the time is not
    known and counts as 0.
    """
    if earlier.boot and earlier.boot == later.boot:
        return max(0, later.elapsed_ms - earlier.elapsed_ms)
    return max(0, later.wall_ms - earlier.wall_ms)


def local_time(reading: Reading) -> dt.datetime:
    """Return the local time of a reading to the second, with the offset that held then."""
    zone = dt.timezone(dt.timedelta(seconds=reading.offset_s))
    return dt.datetime.fromtimestamp(reading.wall_ms // 1000, zone)


def local_day(reading: Reading) -> int:
    """Return the number of the local day of a reading, counted from 1970-01-01."""
    return (reading.wall_ms // 1000 + reading.offset_s) // _DAY_S
