"""The account of hours: what counts, what ends what, and that it does not matter in how many parts time comes."""

import datetime as dt
from itertools import pairwise
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.journal.reading import Reading, passed_ms
from coach.limits.hours import Hours

MIN = 60_000
H = 60 * MIN
DAY = 24 * H
Spans = list[tuple[bool, int]]
SPANS = st.lists(
    st.tuples(
        st.booleans(),
        st.one_of(st.integers(0, 40), st.integers(200, 800), st.sampled_from([0, 5, 10, 20, 360, 3000, 20_000])),
    ),
    max_size=14,
)
"""Work (True) and time off (False), in minutes."""


def hours_of_spans(spans: Spans, *, unit_ms: int = MIN) -> Hours:
    hours = Hours()
    for is_work, length in spans:
        add(hours, is_work, length * unit_ms)
    return hours


def add(hours: Hours, is_work: bool, ms: int) -> None:
    (hours.work if is_work else hours.off)(ms)


def test_a_pause_shorter_than_a_rest_is_neither_work_nor_rest() -> None:
    hours = hours_of_spans([(True, 30), (False, 9), (True, 15)])

    assert (hours.block_ms, hours.day_ms, hours.off_ms) == (45 * MIN, 45 * MIN, 0)


def test_a_rest_ends_the_block_at_its_last_minute_and_not_before() -> None:
    hours = hours_of_spans([(True, 30), (False, 9)])
    assert (hours.block_ms, hours.block_no) == (30 * MIN, 0)

    hours.off(MIN)
    assert (hours.block_ms, hours.block_no, hours.day_ms) == (0, 1, 30 * MIN)


def test_each_rest_ends_one_block_and_each_night_one_day_however_long_they_last() -> None:
    hours = hours_of_spans([(True, 30), (False, 10), (False, 10), (True, 30), (False, 360), (False, 1)])

    assert (hours.block_no, hours.day_no) == (2, 1)


def test_six_hours_off_are_a_night() -> None:
    assert hours_of_spans([(True, 30), (False, 360)]).night_ms == 6 * H


def test_two_short_pauses_with_work_between_them_are_no_rest() -> None:
    assert hours_of_spans([(True, 30), (False, 9), (True, 1), (False, 9), (True, 1)]).block_ms == 32 * MIN


def test_a_long_rest_is_counted_by_the_clock_from_the_last_one_of_the_day() -> None:
    hours = hours_of_spans([(True, 100), (False, 19), (True, 50)])
    assert hours.since_long_rest_ms == 169 * MIN

    hours.off(20 * MIN)
    hours.work(40 * MIN)
    assert (hours.since_long_rest_ms, hours.day_ms) == (40 * MIN, 190 * MIN)


def test_a_night_begins_a_new_day_and_is_remembered() -> None:
    hours = hours_of_spans([(True, 400), (False, 359)])
    assert (hours.day_ms, hours.night_ms, hours.day_no) == (400 * MIN, None, 0)

    hours.off(91 * MIN)
    hours.work(MIN)
    assert (hours.day_ms, hours.standing_day_ms, hours.since_long_rest_ms) == (MIN, MIN, MIN)
    assert (hours.night_ms, hours.day_no) == (450 * MIN, 1)


def test_time_before_the_first_work_is_no_night_between_two_days() -> None:
    assert hours_of_spans([(False, 420), (True, 5)]).night_ms is None


def test_five_minutes_off_end_standing() -> None:
    hours = hours_of_spans([(True, 30), (False, 4), (True, 30)])
    assert (hours.standing_ms, hours.standing_day_ms) == (60 * MIN, 60 * MIN)

    hours.off(5 * MIN)
    assert (hours.standing_ms, hours.standing_day_ms) == (0, 60 * MIN)


def test_work_that_was_none_is_taken_back_and_was_time_off() -> None:
    hours = hours_of_spans([(True, 40), (True, 14 * 60), (True, 5)])
    hours.retime(13 * H + 30 * MIN, 5 * MIN)

    assert (hours.day_ms, hours.block_ms, hours.since_long_rest_ms) == (5 * MIN, 5 * MIN, 5 * MIN)
    assert hours.week_ms == 75 * MIN
    assert hours.night_ms == 13 * H + 30 * MIN


def test_a_few_minutes_taken_back_end_nothing() -> None:
    hours = hours_of_spans([(True, 40), (True, 5)])
    hours.retime(8 * MIN, 5 * MIN)

    assert (hours.day_ms, hours.block_ms, hours.week_ms) == (37 * MIN, 37 * MIN, 37 * MIN)


def test_time_awake_goes_on_through_work_and_time_off_until_a_night() -> None:
    hours = Hours()
    hours.off(11 * H)
    hours.woke(30 * MIN)
    hours.off(30 * MIN)
    hours.work(4 * H)
    hours.off(5 * H)
    hours.work(H)
    assert hours.awake_ms == 11 * H

    hours.off(6 * H)
    assert hours.awake_ms is None


def test_who_says_when_they_woke_within_a_long_time_off_is_still_awake_after_it() -> None:
    hours = hours_of_spans([(True, 60), (False, 300)])
    hours.woke(10 * H)
    hours.off(90 * MIN)

    assert hours.awake_ms == 11 * H + 30 * MIN


def test_six_days_of_ten_hours_are_a_week_of_sixty() -> None:
    """Trade check 32: 6 days x 10 h = 60 h (Directive 2003/88/EC art. 6)."""
    hours = hours_of_spans([(True, 600), (False, 840)] * 6)

    assert hours.week_ms == 60 * H


def test_the_week_lets_go_of_work_minute_by_minute() -> None:
    hours = hours_of_spans([(True, 120), (False, 7 * 24 * 60 - 120)])
    assert hours.week_ms == 2 * H

    hours.off(45 * MIN)
    assert hours.week_ms == 75 * MIN
    hours.off(10 * H)
    assert (hours.week_ms, hours.longest_free_ms) == (0, 7 * DAY)


@pytest.mark.parametrize(
    ("day", "elapsed_h"), [(dt.date(2026, 10, 25), 4), (dt.date(2026, 3, 29), 2), (dt.date(2026, 6, 1), 3)]
)
def test_a_session_over_the_change_of_summer_time_counts_what_went_by(day: dt.date, elapsed_h: int) -> None:
    """Trade check 41: 00:30 to 03:30 Europe/London, 4 h in October and 2 h in March (IANA time-zone data)."""
    begun, ended = (_london(day, hour) for hour in (0, 3))
    hours = Hours()
    hours.work(passed_ms(begun, ended))

    assert (hours.day_ms, hours.week_ms) == (elapsed_h * H, elapsed_h * H)


@pytest.mark.parametrize("set_by_ms", [365 * DAY, -365 * DAY, 3 * H])
def test_a_clock_that_was_set_and_a_lid_that_was_closed_bend_nothing(set_by_ms: int) -> None:
    """The elapsed clock goes on while the lid is closed; the wall clock is set in between."""
    at = [0, 40 * MIN, 100 * MIN, 110 * MIN]
    readings = [Reading(10**12 + ms + (set_by_ms if ms else 0), 0, 5 * H + ms, "one") for ms in at]
    worked_ms, lid_ms, after_ms = (passed_ms(*pair) for pair in pairwise(readings))
    hours = Hours()
    hours.work(worked_ms)
    hours.off(lid_ms)
    hours.work(after_ms)

    assert (hours.day_ms, hours.block_ms, hours.since_long_rest_ms) == (50 * MIN, 10 * MIN, 10 * MIN)
    assert list(hours.stints) == [(0, 40 * MIN), (100 * MIN, 110 * MIN)]


@given(spans=SPANS, data=st.data())
@settings(max_examples=150, deadline=None)
def test_the_same_time_in_other_parts_gives_the_same_account(spans: Spans, data: st.DataObject) -> None:
    parted = Hours()
    parted.woke(MIN)
    whole = Hours()
    whole.woke(MIN)
    for is_work, length in spans:
        add(whole, is_work, length * MIN)
        cut = data.draw(st.integers(0, length))
        for part in (0, cut, -3, length - cut, 0):
            add(parted, is_work, part * MIN)

    assert vars(parted) == vars(whole)


@given(spans=SPANS)
@settings(max_examples=100, deadline=None)
def test_week_and_free_stretch_are_those_of_a_count_minute_by_minute(spans: Spans) -> None:
    is_worked = [is_work for is_work, length in spans for _ in range(length)]
    week = ([False] * 10_080 + is_worked)[-10_080:]
    longest = run = 0
    for worked in week:
        run = 0 if worked else run + 1
        longest = max(longest, run)
    hours = hours_of_spans(spans)

    assert (hours.week_ms, hours.longest_free_ms) == (sum(week) * MIN, longest * MIN)


@given(spans=SPANS, unit_ms=st.sampled_from([-1, 0, 1, 365 * DAY]))
@settings(max_examples=100, deadline=None)
def test_no_figure_is_ever_below_nothing_or_beyond_the_time_that_went_by(spans: Spans, unit_ms: int) -> None:
    hours = hours_of_spans(spans, unit_ms=unit_ms)
    figures = [value for name, value in vars(hours).items() if name.endswith("_ms") and isinstance(value, int)]

    assert min(figures) >= 0
    assert hours.block_ms <= hours.day_ms <= hours.now_ms
    assert hours.since_long_rest_ms <= hours.now_ms
    assert 0 <= hours.week_ms <= 7 * DAY - hours.longest_free_ms
    assert all(begin < end for begin, end in hours.stints)
    assert all(earlier[1] < later[0] for earlier, later in pairwise(hours.stints))


def test_work_of_a_week_ago_is_not_remembered() -> None:
    hours = hours_of_spans([(True, 50), (False, 10)] * 1000)

    assert len(hours.stints) == 7 * 24
    assert hours.week_ms == 7 * 24 * 50 * MIN


@given(spans=SPANS, later=SPANS)
@settings(max_examples=50, deadline=None)
def test_a_copy_goes_on_by_itself(spans: Spans, later: Spans) -> None:
    hours = hours_of_spans(spans)
    twin = hours.copied()
    for is_work, length in later:
        add(twin, is_work, length * MIN)

    assert vars(hours) == vars(hours_of_spans(spans))
    assert vars(twin) == vars(hours_of_spans(spans + later))


def _london(day: dt.date, hour: int) -> Reading:
    moment = dt.datetime.combine(day, dt.time(hour, 30), ZoneInfo("Europe/London"))
    offset = moment.utcoffset()
    assert offset is not None
    wall_ms = round(moment.timestamp()) * 1000
    return Reading(wall_ms=wall_ms, offset_s=int(offset.total_seconds()), elapsed_ms=wall_ms - 10**12, boot="one")
