"""Hours promised day by day, and working days, held against printed dates and hand-worked calendars."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.forecast.calendar import after_last_stroke, back_plan, promised_days, working_days_after, working_days_before
from coach.plan.commission import Plan
from coach.plan.delivery import After, DayRange, Days, Framer, Repeat
from coach.plan.reading import read_plan

_HOUR_S = 3600
_DAY = dt.timedelta(days=1)


def _plan(lines: str) -> Plan:
    return read_plan(f"canvases: [Hall]\npasses: [{{name: eyes, passages: [iris]}}]\n{lines}\n", "plan.yaml")


def _days(plan: Plan, first: dt.date, last: dt.date) -> list[str]:
    """Return the days on which nothing is promised."""
    promised = promised_days(plan, first, last)
    return [str(first + number * _DAY) for number, seconds in enumerate(promised) if not seconds]


PRINTED = [
    (
        "FREQ=DAILY;COUNT=10",
        "1997-09-02",
        "1997-09-02 1997-09-03 1997-09-04 1997-09-05 1997-09-06 1997-09-07 1997-09-08 1997-09-09 1997-09-10 1997-09-11",
    ),
    (
        "FREQ=DAILY;INTERVAL=10;COUNT=5",
        "1997-09-02",
        "1997-09-02 1997-09-12 1997-09-22 1997-10-02 1997-10-12",
    ),
    (
        "FREQ=WEEKLY;COUNT=10",
        "1997-09-02",
        "1997-09-02 1997-09-09 1997-09-16 1997-09-23 1997-09-30 1997-10-07 1997-10-14 1997-10-21 1997-10-28 1997-11-04",
    ),
    (
        "FREQ=WEEKLY;COUNT=10;WKST=SU;BYDAY=TU,TH",
        "1997-09-02",
        "1997-09-02 1997-09-04 1997-09-09 1997-09-11 1997-09-16 1997-09-18 1997-09-23 1997-09-25 1997-09-30 1997-10-02",
    ),
    (
        "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
        "1997-09-02",
        "1997-09-02 1997-09-04 1997-09-16 1997-09-18 1997-09-30 1997-10-02 1997-10-14 1997-10-16",
    ),
    (
        "FREQ=MONTHLY;COUNT=10;BYDAY=1FR",
        "1997-09-05",
        "1997-09-05 1997-10-03 1997-11-07 1997-12-05 1998-01-02 1998-02-06 1998-03-06 1998-04-03 1998-05-01 1998-06-05",
    ),
    (
        "FREQ=MONTHLY;COUNT=6;BYDAY=-2MO",
        "1997-09-22",
        "1997-09-22 1997-10-20 1997-11-17 1997-12-22 1998-01-19 1998-02-16",
    ),
    (
        "FREQ=MONTHLY;BYMONTHDAY=-3",
        "1997-09-28",
        "1997-09-28 1997-10-29 1997-11-28 1997-12-29 1998-01-29 1998-02-26",
    ),
    (
        "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=2,15",
        "1997-09-02",
        "1997-09-02 1997-09-15 1997-10-02 1997-10-15 1997-11-02 1997-11-15 1997-12-02 1997-12-15 1998-01-02 1998-01-15",
    ),
    (
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",
        "1997-09-29",
        "1997-09-29 1997-10-30 1997-11-27 1997-12-30 1998-01-29 1998-02-26 1998-03-30",
    ),
    (
        "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO",
        "1997-08-05",
        "1997-08-05 1997-08-10 1997-08-19 1997-08-24",
    ),
]
"""Rules, starts and printed dates. Source: RFC 5545 section 3.8.5.3 (text read; trade checks 86 to 96)."""


@pytest.mark.parametrize(("rule", "start", "printed"), PRINTED)
def test_days_off_by_a_rule_are_those_that_rfc_5545_prints(rule: str, start: str, printed: str) -> None:
    plan = _plan(f"week: {{mon-sun: 5 h}}\noff: [{{every: '{rule}', from: {start}}}]")
    dates = printed.split()
    has_end = "COUNT" in rule
    last = dt.date(2000, 1, 1) if has_end else dt.date.fromisoformat(dates[-1])
    assert _days(plan, dt.date(1997, 1, 1), last) == dates


def test_bank_holidays_of_england_are_written_as_rules() -> None:
    """Source: Banking and Financial Dealings Act 1971, schedule 1 (read; trade checks 103): last Mondays."""
    rules = ", ".join(f"{{every: 'FREQ=YEARLY;BYMONTH={month};BYDAY=-1MO', from: 2026-01-01}}" for month in (5, 8))
    plan = _plan(f"week: {{mon-fri: 6 h, sat-sun: 1 h}}\noff: [{rules}]")
    assert _days(plan, dt.date(2026, 1, 1), dt.date(2026, 12, 31)) == ["2026-05-25", "2026-08-31"]


_EASTER = """
week: {mon-fri: 5 h, sat: 3 h}
off: [2027-03-26, 2027-04-10..2027-04-18, {every: FREQ=WEEKLY;BYDAY=FR, from: 2027-05-01}]
also: {2027-04-17: 8 h, 2027-04-25: 4 h, 2027-05-07..2027-05-08: 2 h}
"""


@pytest.mark.parametrize(
    ("day", "hours"),
    [
        ("2027-03-25", 5),
        ("2027-03-26", 0),
        ("2027-03-27", 3),
        ("2027-03-28", 0),
        ("2027-04-10", 0),
        ("2027-04-16", 0),
        ("2027-04-17", 8),
        ("2027-04-19", 5),
        ("2027-04-25", 4),
        ("2027-04-30", 5),
        ("2027-05-07", 2),
        ("2027-05-08", 2),
        ("2027-05-14", 0),
    ],
)
def test_a_day_of_its_own_goes_before_a_day_off_and_a_day_off_before_the_week(day: str, hours: int) -> None:
    given_day = dt.date.fromisoformat(day)
    assert promised_days(_plan(_EASTER), given_day, given_day) == (hours * _HOUR_S,)


def test_a_date_goes_before_a_rule_and_the_first_of_two_rules_before_the_second() -> None:
    rules = (
        "{every: FREQ=DAILY;INTERVAL=2, from: 2027-01-01, time: 2 h}, {every: FREQ=DAILY, from: 2027-01-01, time: 1 h}"
    )
    plan = _plan(f"also: [{rules}, {{day: 2027-01-02..2027-01-03, time: 5 h}}]")
    assert promised_days(plan, dt.date(2027, 1, 1), dt.date(2027, 1, 5)) == (7200, 18000, 18000, 3600, 7200)


def test_a_plan_without_a_week_promises_only_its_days_with_hours() -> None:
    plan = _plan("also: {2027-01-04: 5 h}")
    assert promised_days(plan, dt.date(2027, 1, 4), dt.date(2027, 1, 5)) == (5 * _HOUR_S, 0)
    assert promised_days(plan, dt.date(2027, 1, 5), dt.date(2027, 1, 4)) == ()


_EXCEPTIONS = st.lists(
    st.builds(
        lambda first, length: DayRange(first=first, last=first + length * _DAY),
        st.dates(dt.date(2026, 1, 1), dt.date(2028, 1, 1)),
        st.integers(0, 40),
    )
    | st.builds(
        Repeat,
        rule=st.sampled_from(["FREQ=WEEKLY", "FREQ=DAILY;INTERVAL=3", "FREQ=MONTHLY;BYDAY=-1FR", "FREQ=DAILY"]),
        start=st.dates(dt.date(2026, 1, 1), dt.date(2028, 1, 1)),
    ),
    max_size=4,
).map(tuple)
_FROM = st.dates(dt.date(2026, 1, 1), dt.date(2028, 1, 1))


@given(_EXCEPTIONS, st.lists(st.tuples(_EXCEPTIONS.filter(bool).map(lambda found: found[0]), st.just(60))), _FROM)
@settings(deadline=None, max_examples=30)
def test_many_days_are_the_single_days_one_after_the_other(
    off: tuple[Days, ...], also: list[tuple[Days, int]], first: dt.date
) -> None:
    plan = _plan("week: {mon-fri: 5 h}")._replace(off=off, also=tuple(also))
    days = [first + number * _DAY for number in range(20)]
    assert promised_days(plan, days[0], days[-1]) == tuple(promised_days(plan, day, day)[0] for day in days)


@given(_EXCEPTIONS, _FROM, st.integers(0, 300))
@settings(deadline=None, max_examples=100)
def test_working_days_counted_one_by_one_are_the_same(off: tuple[Days, ...], day: dt.date, count: int) -> None:
    plan = _plan("")._replace(off=off)
    after = before = day
    for _ in range(count):
        after = working_days_after(plan, after, 1)
        before = working_days_before(plan, before, 1)
    assert working_days_after(plan, day, count) == after
    assert working_days_before(plan, day, count) == before


@given(_EXCEPTIONS, _FROM, st.integers(0, 30), st.integers(-10, 60))
@settings(deadline=None, max_examples=200)
def test_what_begins_by_the_day_counted_back_is_over_in_time_and_nothing_later_is(
    off: tuple[Days, ...], due: dt.date, count: int, earlier: int
) -> None:
    plan = _plan("")._replace(off=off)
    begun = due - earlier * _DAY
    assert (working_days_after(plan, begun, count) <= due) == (begun <= working_days_before(plan, due, count))


@pytest.mark.parametrize(
    ("day", "count", "after"),
    [
        ("2026-11-27", 0, "2026-11-27"),
        ("2026-11-27", 1, "2026-11-30"),
        ("2026-11-28", 0, "2026-11-28"),
        ("2026-11-28", 1, "2026-12-01"),
        ("2026-11-29", 5, "2026-12-07"),
        ("2026-11-30", 5, "2026-12-07"),
    ],
)
def test_what_comes_on_a_weekend_is_taken_in_hand_on_monday(day: str, count: int, after: str) -> None:
    """Worked by hand: 27 November 2026 is a Friday."""
    assert str(working_days_after(_plan(""), dt.date.fromisoformat(day), count)) == after


@given(_FROM, st.integers(1, 600))
@settings(deadline=None)
def test_without_days_off_there_are_five_working_days_in_seven(day: dt.date, weeks: int) -> None:
    begun = day + (7 - day.weekday()) * _DAY
    assert working_days_after(_plan(""), begun, 5 * weeks) == begun + 7 * weeks * _DAY
    assert working_days_before(_plan(""), begun, 5 * weeks) == begun - 7 * weeks * _DAY


def test_days_off_are_no_working_days_and_hours_on_a_saturday_make_none() -> None:
    plan = _plan("off: [2026-12-24..2027-01-01]\nalso: {2026-12-19: 8 h}")
    assert working_days_after(plan, dt.date(2026, 12, 18), 1) == dt.date(2026, 12, 21)
    assert working_days_after(plan, dt.date(2026, 12, 23), 1) == dt.date(2027, 1, 4)
    assert working_days_before(plan, dt.date(2027, 1, 4), 2) == dt.date(2026, 12, 22)
    assert working_days_before(plan, dt.date(2027, 1, 2), 1) == dt.date(2026, 12, 22)
    assert working_days_before(plan, dt.date(2027, 1, 2), 0) == dt.date(2027, 1, 2)


def test_a_painter_who_is_off_for_good_does_not_stop_the_framer() -> None:
    plan = _plan("off: [{every: FREQ=DAILY, from: 2027-01-01}]")
    assert working_days_after(plan, dt.date(2026, 12, 31), 1) == dt.date(2027, 1, 1)
    assert working_days_before(plan, dt.date(2027, 1, 4), 1) == dt.date(2027, 1, 1)


def test_the_painters_fridays_off_do_not_stop_the_framer_and_christmas_does() -> None:
    """Worked by hand: 17 December 2026 is a Thursday."""
    plan = _plan("off: [{every: FREQ=WEEKLY;BYDAY=FR, from: 2026-01-02}, 2026-12-25]")
    assert working_days_after(plan, dt.date(2026, 12, 17), 1) == dt.date(2026, 12, 18)
    assert working_days_after(plan, dt.date(2026, 12, 24), 1) == dt.date(2026, 12, 28)
    assert promised_days(plan._replace(week_s=(3600,) * 7), dt.date(2026, 12, 18), dt.date(2026, 12, 18)) == (0,)


def test_working_days_end_where_the_calendar_does() -> None:
    plan = _plan("")
    assert working_days_after(plan, dt.date(9999, 12, 30), 9999) == dt.date.max
    assert working_days_before(plan, dt.date(1, 1, 2), 9999) == dt.date.min
    assert working_days_after(plan, dt.date.max, 0) == dt.date.max


def test_days_that_no_calendar_has_cost_nothing_and_change_nothing() -> None:
    """Source: RFC 5545 section 3.3.10, an invalid date such as February 30 is ignored."""
    rule = Repeat(rule="FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30", start=dt.date(2027, 1, 1))
    plan = _plan("week: {mon-sun: 5 h}")._replace(off=(rule,))
    assert promised_days(plan, dt.date(2027, 1, 1), dt.date(2036, 12, 31)) == (5 * _HOUR_S,) * 3653


def test_the_framer_takes_it_so_many_days_after_dry_to_touch_and_has_days_off_of_his_own() -> None:
    """Trade check 104: to the framer on Friday 11 December 2026, last stroke nine days before."""
    after = After(drying_days=9, framing_working_days=3, transport_working_days=2)
    plan = _plan("")._replace(after=after)
    due = dt.date(2026, 12, 18)
    closed = plan._replace(
        framer=Framer(after_touch_dry_days=5, off=(DayRange(dt.date(2026, 12, 14), dt.date(2026, 12, 14)),))
    )
    plain, found = (back_plan(one, due, drying_days=9, needed_s=0) for one in (plan, closed))

    assert (plain.to_framer, plain.last_stroke) == (dt.date(2026, 12, 11), dt.date(2026, 12, 2))
    assert (found.to_framer, found.last_stroke) == (dt.date(2026, 12, 10), dt.date(2026, 11, 26))
    assert found.leave_studio == plain.leave_studio
    assert after_last_stroke(closed, found.last_stroke, drying_days=9).delivered == due
