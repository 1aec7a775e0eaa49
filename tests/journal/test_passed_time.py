"""The time between two readings, and the local time shown for one."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.journal.reading import Reading, local_day, local_time, passed_ms

HOUR_MS = 3_600_000


def reading(moment: dt.datetime, *, elapsed_ms: int, boot: str = "one") -> Reading:
    """Return what the clocks say at a moment with a zone; the offset is the zone's by zoneinfo."""
    offset = moment.utcoffset()
    assert offset is not None
    return Reading(
        wall_ms=round(moment.timestamp() * 1000),
        offset_s=round(offset.total_seconds()),
        elapsed_ms=elapsed_ms,
        boot=boot,
    )


CHANGES = [
    # zone, last hour before the change (local), hours later, what a clock on the wall shows then
    ("Europe/Berlin", "2027-03-28T01:30", 1, "2027-03-28T03:30:00+02:00"),
    ("Europe/Berlin", "2027-10-31T02:30", 1, "2027-10-31T02:30:00+01:00"),
    ("Europe/Berlin", "2027-10-31T01:45", 3, "2027-10-31T03:45:00+01:00"),
    ("America/New_York", "2027-03-14T01:30", 1, "2027-03-14T03:30:00-04:00"),
    ("America/New_York", "2027-11-07T01:30", 1, "2027-11-07T01:30:00-05:00"),
    ("America/New_York", "2027-11-07T00:15", 4, "2027-11-07T03:15:00-05:00"),
]
"""Days of the change: EU directive 2000/84/EC (last Sundays of March and October, 01:00 UTC); 15 U.S.C. 260a
(second Sunday of March, first of November, 02:00 local). Titles from memory; the offsets are zoneinfo's."""


@pytest.mark.parametrize(("zone", "before", "hours", "shown"), CHANGES)
@pytest.mark.parametrize("boot", ["one", "two", ""])
def test_a_change_to_or_from_summer_time_bends_nothing(
    zone: str, before: str, hours: int, shown: str, boot: str
) -> None:
    begun = dt.datetime.fromisoformat(before).replace(tzinfo=ZoneInfo(zone))
    ended = (begun.astimezone(dt.UTC) + dt.timedelta(hours=hours)).astimezone(ZoneInfo(zone))
    earlier = reading(begun, elapsed_ms=0)
    later = reading(ended, elapsed_ms=hours * HOUR_MS, boot=boot)
    assert passed_ms(earlier, later) == hours * HOUR_MS
    assert local_time(earlier).isoformat() == begun.isoformat()
    assert local_time(later).isoformat() == shown


NOON = Reading(wall_ms=1_800_000_000_000, offset_s=0, elapsed_ms=50_000, boot="one")


@pytest.mark.parametrize(
    ("later", "passed"),
    [
        pytest.param(NOON._replace(elapsed_ms=51_500), 1500, id="wall clock stands still"),
        pytest.param(NOON._replace(elapsed_ms=51_500, wall_ms=1), 1500, id="wall clock set back"),
        pytest.param(NOON._replace(elapsed_ms=51_500, wall_ms=2 * NOON.wall_ms), 1500, id="wall clock set on"),
        pytest.param(NOON._replace(elapsed_ms=49_000), 0, id="elapsed clock ran backwards"),
        pytest.param(NOON._replace(boot="two", wall_ms=NOON.wall_ms + 9, elapsed_ms=1), 9, id="restarted"),
        pytest.param(NOON._replace(boot="two", wall_ms=NOON.wall_ms - 9), 0, id="restarted and set back"),
        pytest.param(NOON._replace(boot="", wall_ms=NOON.wall_ms + 9), 9, id="start not known"),
    ],
)
def test_time_is_counted_by_the_clock_that_can_be_trusted(later: Reading, passed: int) -> None:
    assert passed_ms(NOON, later) == passed


def test_two_unknown_starts_are_not_the_same_start() -> None:
    earlier, later = NOON._replace(boot=""), NOON._replace(boot="", elapsed_ms=0, wall_ms=NOON.wall_ms + 7)
    assert passed_ms(earlier, later) == 7


READINGS = st.builds(
    Reading,
    wall_ms=st.integers(0, 10**14),
    offset_s=st.integers(-86_399, 86_399),
    elapsed_ms=st.integers(0, 10**12),
    boot=st.sampled_from(["", "one", "two"]),
)


@given(READINGS, READINGS)
def test_time_never_runs_backwards(earlier: Reading, later: Reading) -> None:
    assert passed_ms(earlier, later) >= 0
    assert min(passed_ms(earlier, later), passed_ms(later, earlier)) == 0


@given(READINGS)
def test_a_shown_time_is_the_same_instant_to_the_second(at: Reading) -> None:
    assert local_time(at).timestamp() == at.wall_ms // 1000
    assert local_time(at).utcoffset() == dt.timedelta(seconds=at.offset_s)


@given(st.integers(0, 4_000_000_000_000), st.integers(-86_399, 86_399))
def test_the_local_day_is_that_of_the_local_time(wall_ms: int, offset_s: int) -> None:
    now = Reading(wall_ms=wall_ms, offset_s=offset_s, elapsed_ms=0, boot="")
    epoch = dt.date(1970, 1, 1).toordinal()

    assert epoch + local_day(now) == local_time(now).toordinal()
