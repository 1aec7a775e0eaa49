"""Back from the due day and on from the last stroke, held against hand-worked calendars."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.forecast.calendar import BackPlan, after_last_stroke, back_plan, promised_days, varnish_day
from coach.plan.commission import Plan
from coach.plan.reading import read_plan

_HOUR_S = 3600
_AFTER = "after: {framing: 3 working days, transport: 2 working days}\n"
_DUE = dt.date(2026, 12, 18)


def _plan(lines: str) -> Plan:
    return read_plan(f"canvases: [Hall]\npasses: [{{name: eyes, passages: [iris]}}]\n{lines}\n", "plan.yaml")


def test_the_worked_calendar_is_planned_back_from_its_friday() -> None:
    """Source: trade checks 104, worked by hand; December 2026 begins on a Tuesday."""
    found = back_plan(_plan(_AFTER + "week: {mon-fri: 6 h}"), _DUE, drying_days=9, needed_s=60 * _HOUR_S)
    assert found == BackPlan(
        leave_studio=dt.date(2026, 12, 16),
        to_framer=dt.date(2026, 12, 11),
        last_stroke=dt.date(2026, 12, 2),
        last_painting_day=dt.date(2026, 12, 2),
        first_painting_day=dt.date(2026, 11, 19),
    )


def test_the_worked_calendar_holds_forward_as_well() -> None:
    """Source: trade checks 104, read from its first painting day on."""
    plan, first, last_stroke = _plan(_AFTER + "week: {mon-fri: 6 h}"), dt.date(2026, 11, 19), dt.date(2026, 12, 2)
    assert sum(promised_days(plan, first, last_stroke)) == 60 * _HOUR_S
    found = after_last_stroke(plan, last_stroke, drying_days=9)
    assert (found.touch_dry, found.framed, found.delivered) == (
        dt.date(2026, 12, 11),
        dt.date(2026, 12, 16),
        _DUE,
    )


def test_a_due_day_on_a_saturday_is_held_on_the_friday_before() -> None:
    """Worked by hand: carriers bring it on Friday 18 December 2026."""
    found = back_plan(_plan(_AFTER), dt.date(2026, 12, 19), drying_days=9, needed_s=0)
    assert (found.leave_studio, found.to_framer) == (dt.date(2026, 12, 16), dt.date(2026, 12, 11))


def test_one_second_more_needs_one_day_more() -> None:
    plan = _plan(_AFTER + "week: {mon-fri: 6 h}")
    needed_s = 60 * _HOUR_S + 1
    assert back_plan(plan, _DUE, drying_days=9, needed_s=needed_s).first_painting_day == dt.date(2026, 11, 18)


def test_a_last_stroke_on_a_day_without_hours_moves_to_the_last_painting_day() -> None:
    """Worked by hand: 2 December 2026 is off, the Tuesday before it is painted."""
    plan = _plan(_AFTER + "week: {mon-fri: 6 h}\noff: [2026-12-02]\nalso: {2026-11-29: 6 h}")
    found = back_plan(plan, _DUE, drying_days=9, needed_s=18 * _HOUR_S)
    assert found.last_stroke == dt.date(2026, 12, 2)
    assert found.last_painting_day == dt.date(2026, 12, 1)
    assert found.first_painting_day == dt.date(2026, 11, 29)


@pytest.mark.parametrize(
    "lines", ["", "week: {mon: 0 h}", "week: {mon-sun: 5 h}\noff: [{every: FREQ=DAILY, from: 1999-01-01}]"]
)
def test_without_hours_no_painting_day_is_named(lines: str) -> None:
    plan = _plan(lines)
    found = back_plan(plan, _DUE, drying_days=0, needed_s=_HOUR_S)
    assert (found.last_stroke, found.last_painting_day, found.first_painting_day) == (_DUE, None, None)


def test_more_than_ten_years_of_work_has_no_first_day() -> None:
    plan = _plan("week: {mon: 1 min}")
    found = back_plan(plan, _DUE, drying_days=0, needed_s=1000 * _HOUR_S)
    assert found.last_painting_day == dt.date(2026, 12, 14)
    assert found.first_painting_day is None


def test_six_months_after_a_day_are_clipped_to_the_end_of_the_month() -> None:
    """Trade checks 106 the other way round: calendar arithmetic."""
    assert varnish_day(dt.date(2026, 12, 2)) == dt.date(2027, 6, 2)
    assert varnish_day(dt.date(2026, 8, 31)) == dt.date(2027, 2, 28)


_WEEKS = st.lists(st.integers(0, 24 * _HOUR_S), min_size=7, max_size=7).filter(any).map(tuple)


@given(
    _WEEKS,
    st.dates(dt.date(2027, 1, 1), dt.date(2028, 12, 31)),
    st.integers(0, 60),
    st.integers(0, 200 * _HOUR_S),
)
@settings(deadline=None, max_examples=80)
def test_what_is_begun_on_the_first_painting_day_is_delivered_by_the_due_day(
    week_s: tuple[int, ...], due: dt.date, drying_days: int, needed_s: int
) -> None:
    plan = _plan(_AFTER)._replace(week_s=week_s)
    found = back_plan(plan, due, drying_days=drying_days, needed_s=needed_s)
    assert found.last_stroke <= found.to_framer <= found.leave_studio <= due
    assert after_last_stroke(plan, found.last_stroke, drying_days=drying_days).delivered <= due
    one_day_more = found.last_stroke + dt.timedelta(days=1)
    assert after_last_stroke(plan, one_day_more, drying_days=drying_days).delivered > due
    if found.first_painting_day is None:
        assert sum(promised_days(plan, dt.date(2017, 1, 1), found.last_stroke)) < needed_s or not needed_s
        return
    assert sum(promised_days(plan, found.first_painting_day, found.last_stroke)) >= needed_s
    assert found.last_painting_day is not None
    assert found.first_painting_day <= found.last_painting_day <= found.last_stroke
    too_late = promised_days(plan, found.first_painting_day + dt.timedelta(days=1), found.last_stroke)
    assert sum(too_late) < max(needed_s, 1)
