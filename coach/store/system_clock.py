"""The machine's clocks, read together in one place."""

import datetime as dt
import sys
import time
from pathlib import Path

from coach.journal.body import DAY_S
from coach.journal.reading import Reading, local_time

_BOOT_ID = Path("/proc/sys/kernel/random/boot_id")


def _elapsed_clock() -> int | None:
    """Return the number of the clock that goes on while the lid is closed; None for `time.monotonic`.

    Source:
        Linux: clock_gettime(2), CLOCK_BOOTTIME. macOS: CLOCK_MONOTONIC goes on, CPython issue 41303. Windows:
        QueryPerformanceCounter, which `time.monotonic` reads, counts sleep (Microsoft, secondary).
    """
    if sys.platform == "linux":
        return time.CLOCK_BOOTTIME
    if sys.platform == "darwin":
        return time.CLOCK_MONOTONIC
    return None


def _offset_s(wall_ms: int) -> int:
    """Return what local time is ahead of UTC; a zone that is set a day or more away counts as UTC.

    Source:
        POSIX, Base Definitions, 8.3 (TZ) allows offsets up to 24:59:59; `datetime` takes less than a day.
    """
    try:
        offset_s = time.localtime(wall_ms // 1000).tm_gmtoff
    except (OverflowError, OSError, ValueError):  # a year that the system's calendar does not know
        return 0
    return offset_s if abs(offset_s) < DAY_S else 0


class SystemClock:
    """Reads wall clock, offset of local time and elapsed time."""

    def __init__(self) -> None:
        """Find out which start of the machine the elapsed time counts from."""
        self._elapsed = _elapsed_clock()
        try:
            self._boot = _BOOT_ID.read_text(encoding="ascii").strip()
        except OSError:
            self._boot = ""

    def read(self) -> Reading:
        """Return all clocks, read together."""
        now_ms = time.time_ns() // 1_000_000
        elapsed_ns = time.monotonic_ns() if self._elapsed is None else time.clock_gettime_ns(self._elapsed)
        return Reading(
            wall_ms=now_ms,
            offset_s=_offset_s(now_ms),
            elapsed_ms=elapsed_ns // 1_000_000,
            boot=self._boot,
        )

    def today(self) -> dt.date:
        """Return the day it is here."""
        return local_time(self.read()).date()
