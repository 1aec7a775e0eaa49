"""The machine's clocks, against the clocks of the standard library."""

import datetime as dt
import os
import subprocess
import sys
import time
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from coach.journal.reading import Reading, local_time, passed_ms
from coach.store import system_clock
from coach.store.system_clock import SystemClock


def test_a_reading_lies_between_two_looks_at_the_same_clocks() -> None:
    clock = SystemClock()
    wall_ns, elapsed_ns = time.time_ns(), time.clock_gettime_ns(time.CLOCK_BOOTTIME)
    reading = clock.read()
    assert wall_ns // 1_000_000 <= reading.wall_ms <= time.time_ns() // 1_000_000 + 1
    assert elapsed_ns // 1_000_000 <= reading.elapsed_ms <= time.clock_gettime_ns(time.CLOCK_BOOTTIME) // 1_000_000


def test_two_readings_are_of_one_start_of_the_machine_and_in_order() -> None:
    earlier, later = SystemClock().read(), SystemClock().read()
    assert earlier.boot == later.boot == Path("/proc/sys/kernel/random/boot_id").read_text(encoding="ascii").strip()
    assert passed_ms(earlier, later) == later.elapsed_ms - earlier.elapsed_ms >= 0


@pytest.mark.parametrize("zone", ["UTC", "Europe/Berlin", "America/New_York", "Asia/Kathmandu"])
def test_the_offset_is_that_of_the_zone_now(zone: str) -> None:
    """The library's rules of local time (tzset) on one side, zoneinfo's on the other."""
    script = "from coach.store.system_clock import SystemClock; print(*SystemClock().read()[:2], SystemClock().today())"
    said = subprocess.run(
        [sys.executable, "-c", script],
        env={**os.environ, "TZ": zone},
        check=True,
        capture_output=True,
        text=True,
    ).stdout.split()
    there = dt.datetime.fromtimestamp(int(said[0]) / 1000, ZoneInfo(zone))
    offset = there.utcoffset()
    assert offset is not None
    assert int(said[1]) == offset.total_seconds()
    assert dt.date.fromisoformat(said[2]) - there.date() in {dt.timedelta(0), dt.timedelta(1)}  # midnight between


@pytest.mark.parametrize(("zone", "offset_s"), [("XXX+24:59:59", 0), ("XXX-23:59:59", 86_399), ("nonsense", 0)])
def test_a_zone_that_is_set_a_day_away_counts_as_utc(monkeypatch: pytest.MonkeyPatch, zone: str, offset_s: int) -> None:
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    reading = SystemClock().read()
    assert reading.offset_s == offset_s
    assert local_time(reading).utcoffset() == dt.timedelta(seconds=offset_s)
    monkeypatch.undo()
    time.tzset()


def test_today_is_the_day_of_a_reading() -> None:
    clock = SystemClock()
    days = {local_time(clock.read()).date(), clock.today(), local_time(clock.read()).date()}
    assert len(days) <= 2
    assert clock.today() >= min(days)


@pytest.mark.parametrize(
    ("platform", "clock"),
    [("linux", time.CLOCK_BOOTTIME), ("darwin", time.CLOCK_MONOTONIC), ("win32", None)],
)
def test_the_clock_is_the_one_that_goes_on_while_the_lid_is_closed(
    monkeypatch: pytest.MonkeyPatch, platform: str, clock: int | None
) -> None:
    """Linux: clock_gettime(2); macOS: CPython issue 41303; Windows: `time.monotonic` (PEP 418)."""
    monkeypatch.setattr(sys, "platform", platform)
    assert system_clock._elapsed_clock() == clock
    found = SystemClock().read()
    monkeypatch.undo()
    assert isinstance(found, Reading)
    assert found.elapsed_ms > 0


def test_where_the_start_of_the_machine_is_not_known_it_is_left_empty(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(system_clock, "_BOOT_ID", tmp_path / "none")
    assert not SystemClock().read().boot
