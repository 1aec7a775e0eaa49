"""Rules of RFC 5545: what they name, and what is refused with a sentence."""

import datetime as dt
import itertools

import pytest
from dateutil.rrule import rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.plan.delivery import Repeat
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan
from coach.plan.repeat_rule import days_of, has_days, rule_fault, rule_of

_START = dt.date(2027, 1, 8)

FAULTS = [
    ("FREQ=DAILY;COUNT=3;UNTIL=20270201", "COUNT and UNTIL never stand together", "keep one of them"),
    ("FREQ=HOURLY", '"FREQ=HOURLY" divides a day, and a plan names whole days', "write FREQ=WEEKLY;BYDAY=FR"),
    ("FREQ=DAILY;BYHOUR=3", '"BYHOUR=3" divides a day, and a plan names whole days', "write FREQ=WEEKLY;BYDAY=FR"),
    ("FREQ=DAILY;BYDAYS=FR", 'a rule has no part "BYDAYS"', 'did you mean "BYDAY"'),
    ("FREQ=WEKLY", 'there is no FREQ "WEKLY"', 'did you mean "WEEKLY"'),
    ("BYDAY=FR", "the rule has no FREQ", "write FREQ=WEEKLY;BYDAY=FR"),
    ("FREQ=DAILY;FREQ=DAILY", "the rule says FREQ twice", "keep one of them"),
    ("FREQ=DAILY;INTERVAL=0", 'INTERVAL cannot be "0"', "write a number from 1 to 9999"),
    ("FREQ=DAILY;COUNT=-1", 'COUNT cannot be "-1"', "write a number from 1 to 9999"),
    ("FREQ=DAILY;BYMONTH=13", 'BYMONTH cannot be "13"', "write a number from 1 to 12"),
    ("FREQ=MONTHLY;BYMONTHDAY=1,0", 'BYMONTHDAY cannot be "0"', "write a number from 1 to 31"),
    ("FREQ=WEEKLY;BYDAY=MO,FU", 'there is no day "FU" for BYDAY', "write one of: MO, TU, WE, TH, FR, SA, SU"),
    ("FREQ=WEEKLY;WKST=1MO", 'there is no day "1MO" for WKST', "write one of: MO, TU, WE, TH, FR, SA, SU"),
    (
        "FREQ=DAILY;UNTIL=20270230",
        'there is no day "20270230" for UNTIL',
        "write year, month and day in eight figures: 20270501",
    ),
    (
        "FREQ=DAILY;UNTIL=20270201T1Z",
        'there is no day "20270201T1Z" for UNTIL',
        "write year, month and day in eight figures: 20270501",
    ),
    (
        "FREQ=DAILY;UNTIL=2027-02-01",
        'there is no day "2027-02-01" for UNTIL',
        "write year, month and day in eight figures: 20270501",
    ),
    ("FREQ=WEEKLY;BYDAY=1FR", "days with a number, as in BYDAY=1FR, need a month or a year", "write FREQ=MONTHLY"),
    (
        "FREQ=WEEKLY;BYMONTHDAY=1",
        "BYMONTHDAY never stands with FREQ=WEEKLY",
        "delete BYMONTHDAY or write another FREQ",
    ),
    ("FREQ=YEARLY;BYWEEKNO=20", "BYWEEKNO does not say which day of the week", "add BYDAY=MO"),
    ("FREQ=MONTHLY;BYSETPOS=1", "BYSETPOS has no set to count in", "add BYDAY=MO,TU,WE,TH,FR"),
]
"""Source: what RFC 5545 section 3.3.10 forbids; whole days and the 9999 are ours."""


def _told(rule: str, start: str = "2027-01-08") -> tuple[str, str, str]:
    text = f"canvases: [Hall]\npasses: [{{name: eyes, passages: [iris]}}]\noff: [{{every: '{rule}', from: {start}}}]\n"
    with pytest.raises(PlanError) as caught:
        read_plan(text, "")
    (problem,) = caught.value.problems
    return problem.where, problem.what, problem.suggestion


@pytest.mark.parametrize(("rule", "what", "suggestion"), FAULTS)
def test_a_rule_that_rfc_5545_forbids_is_told_with_a_way_out(rule: str, what: str, suggestion: str) -> None:
    assert _told(rule) == ("off[1].every", what, suggestion)


@pytest.mark.parametrize("rule", ["FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30", "FREQ=DAILY;UNTIL=20270107"])
def test_a_rule_by_which_no_day_ever_comes_is_told(rule: str) -> None:
    what = f'no day ever comes by the rule "{rule}"'
    assert _told(rule) == ("off[1].every", what, "change the rule or the day under from")


def test_a_rule_counted_from_a_day_long_past_is_told() -> None:
    what = '"1899-12-31" lies before 1900'
    assert _told("FREQ=DAILY", "1899-12-31") == ("off[1].from", what, "write the first day that is meant")


def test_more_rules_than_can_be_meant_are_told_and_not_worked_out() -> None:
    rules = ", ".join(["{every: FREQ=DAILY, from: 2027-01-08}"] * 14)
    with pytest.raises(PlanError) as caught:
        read_plan(f"canvases: [Hall]\npasses: [{{name: eyes, passages: [iris]}}]\noff: [{rules}]\n", "")
    assert [problem.what for problem in caught.value.problems] == ["there are more than 12 rules"] * 2


def test_a_rule_is_read_with_or_without_capitals_spaces_and_its_name() -> None:
    assert rule_of(" rrule:freq=weekly; byday=fr;") == "FREQ=WEEKLY;BYDAY=FR"


@pytest.mark.parametrize("until", ["20270110", "20270110T000000Z", "20270110T235959"])
def test_the_day_of_until_is_included(until: str) -> None:
    """Source: RFC 5545 section 3.3.10, UNTIL bounds the rule in an inclusive manner."""
    days = days_of(Repeat(rule=f"FREQ=DAILY;UNTIL={until}", start=_START), dt.date.min, dt.date.max)
    assert days == (dt.date(2027, 1, 8), dt.date(2027, 1, 9), dt.date(2027, 1, 10))


def test_a_day_that_no_calendar_has_is_left_out() -> None:
    """Source: RFC 5545 section 3.3.10, an invalid date such as February 30 is ignored and not counted."""
    rule = Repeat(rule="FREQ=MONTHLY;BYMONTHDAY=31;COUNT=3", start=dt.date(2027, 1, 31))
    assert days_of(rule, rule.start, dt.date(2028, 1, 1)) == (
        dt.date(2027, 1, 31),
        dt.date(2027, 3, 31),
        dt.date(2027, 5, 31),
    )


def test_a_rule_has_no_days_before_its_start_and_reaches_the_end_of_the_calendar() -> None:
    late = Repeat(rule="FREQ=DAILY", start=dt.date(9999, 12, 30))
    assert days_of(late, dt.date(2027, 1, 1), dt.date(2027, 12, 31)) == ()
    assert days_of(late, dt.date(2027, 1, 1), dt.date.max) == (dt.date(9999, 12, 30), dt.date(9999, 12, 31))
    assert has_days(late)


_PARTS = st.sampled_from(
    [
        "FREQ=DAILY;INTERVAL=3",
        "FREQ=DAILY;BYMONTH=2,3;BYDAY=MO,SU",
        "FREQ=WEEKLY;INTERVAL=2;WKST=SU;BYDAY=TU,SU",
        "FREQ=WEEKLY",
        "FREQ=MONTHLY;BYDAY=-1FR",
        "FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13",
        "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-1",
        "FREQ=YEARLY;BYWEEKNO=1,53;BYDAY=MO",
        "FREQ=YEARLY;BYYEARDAY=1,100,366",
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29",
        "FREQ=YEARLY;INTERVAL=2;BYMONTH=1;BYDAY=2SU",
    ]
)


@given(_PARTS, st.sampled_from(["", ";COUNT=7"]), st.dates(dt.date(1900, 1, 1), dt.date(2400, 1, 1)))
@settings(deadline=None)
def test_days_sought_in_the_last_turn_of_the_calendar_are_those_of_this_turn(
    rule: str, count: str, start: dt.date
) -> None:
    """The library itself, asked for the years that are meant, is the yardstick."""
    repeat = Repeat(rule=rule + count, start=start)
    assert rule_fault(repeat.rule) is None
    moments = rrulestr(repeat.rule, dtstart=dt.datetime(start.year, start.month, start.day))  # noqa: DTZ001
    first, last = start + dt.timedelta(days=30), start + dt.timedelta(days=3000)
    expected = itertools.takewhile(lambda day: day <= last, (moment.date() for moment in moments))
    assert days_of(repeat, first, last) == tuple(day for day in expected if day >= first)


@given(st.text("FREQ=DAILYWKMONTHBSP;,0123456789-+:UN TZ") | st.lists(_PARTS | st.text(), max_size=3).map(";".join))
@settings(deadline=None)
def test_what_no_fault_is_found_in_can_be_expanded(text: str) -> None:
    rule = rule_of(text)
    if rule_fault(rule) is None:
        repeat = Repeat(rule=rule, start=_START)
        days = days_of(repeat, _START, dt.date(2030, 1, 1))
        assert list(days) == sorted(set(days))
        assert has_days(repeat) or not days
