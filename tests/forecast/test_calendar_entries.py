"""What is put into the painter's own calendar, and on which days."""

import datetime as dt

import pytest

from coach.forecast.answer import ForecastAnswer, forecast_of
from coach.forecast.calendar import promised_days
from coach.forecast.calendar_entries import CalendarEntry, EntryKind, calendar_entries
from coach.forecast.outlook import Outlook
from coach.plan.commission import Plan
from coach.plan.delivery import After, DayRange, Forecast
from tests.forecast.made import HOUR_S, MONDAY, hours_of_work, orchard, orchard_at_40_percent, plan_of

PLAIN = Forecast(is_spread=False)
AFTER = After(drying_days=9, framing_working_days=3, transport_working_days=2)


def plain(plan: Plan, hours: int) -> tuple[Plan, ForecastAnswer]:
    """Return the plan reckoned without chance, and its forecast for so many hours of work from a Monday on."""
    plain_plan = plan._replace(forecast=PLAIN, after=AFTER)
    outlook = Outlook(MONDAY, hours_of_work(hours), setup_s=0, cleanup_s=0)
    return plain_plan, forecast_of(plain_plan, outlook)


def of(kind: EntryKind, entries: tuple[CalendarEntry, ...]) -> list[CalendarEntry]:
    """Return the entries of one kind."""
    return [entry for entry in entries if entry.kind is kind]


def test_a_plain_plan_stands_in_the_calendar_day_by_day() -> None:
    """Counted on a calendar by hand: Monday 2 November 2026, two days of work, nine to dry, three to frame."""
    plan, answer = plain(plan_of(week_h=(6, 4.5, 6, 6, 6, 0, 0))._replace(due=dt.date(2026, 12, 1)), 8)
    entries = calendar_entries(plan._replace(commission="Evening study"), answer, MONDAY)

    assert [(entry.title, entry.first_day.isoformat()) for entry in entries] == [
        ("Paint 6 h: Evening study", "2026-11-02"),
        ("Paint 4 h 30 min: Evening study", "2026-11-03"),
        ("Last stroke: Evening study", "2026-11-03"),
        ("Dry to touch: Evening study", "2026-11-12"),
        ("To the framer: Evening study", "2026-11-12"),
        ("Framed: Evening study", "2026-11-17"),
        ("Delivered: Evening study", "2026-11-19"),
        ("Due: Evening study", "2026-12-01"),
        ("Varnish from: Evening study", "2027-05-03"),
    ]
    assert all(entry.first_day == entry.last_day for entry in entries)
    assert of(EntryKind.FRAMED, entries)[0].note == "If all goes by the plan."
    for kind in (EntryKind.TO_FRAMER, EntryKind.DELIVERED):  # trade facts F9 and F10
        assert "no bubble film on the paint" in of(kind, entries)[0].note


def test_sessions_are_the_promised_days_up_to_the_last_stroke_and_no_day_off() -> None:
    today = dt.date(2027, 3, 1)
    plan = orchard()._replace(off=(DayRange(dt.date(2027, 3, 3), dt.date(2027, 3, 4)),))
    answer = forecast_of(plan, orchard_at_40_percent(today))
    sessions = of(EntryKind.SESSION, calendar_entries(plan, answer, today))
    last = answer.last_stroke.p80

    assert last is not None
    assert len(sessions) == sum(promised_s > 0 for promised_s in promised_days(plan, today, last)) > 2
    assert sessions[-1].first_day <= last
    assert dt.date(2027, 3, 3) not in {entry.first_day for entry in sessions}
    assert all(entry.first_day.weekday() != 6 for entry in sessions)


def test_where_the_last_stroke_is_too_far_ahead_sessions_go_to_the_due_day() -> None:
    due = MONDAY + dt.timedelta(days=6)
    plan, answer = plain(plan_of(week_h=(1, 0, 0, 0, 0, 0, 0))._replace(due=due), 6000)
    assert answer.last_stroke.p80 is None

    entries = calendar_entries(plan, answer, MONDAY)
    assert [entry.kind for entry in entries] == [EntryKind.SESSION, EntryKind.DUE]
    assert calendar_entries(plan._replace(due=None), answer, MONDAY) == ()


def test_when_nothing_is_left_to_paint_there_is_no_session_and_no_last_stroke() -> None:
    plan = plan_of()._replace(after=AFTER, forecast=PLAIN)
    entries = calendar_entries(plan, forecast_of(plan, Outlook(MONDAY)), MONDAY)

    assert not of(EntryKind.SESSION, entries)
    assert not of(EntryKind.LAST_STROKE, entries)
    assert of(EntryKind.DELIVERED, entries)


def test_what_dries_on_a_saturday_goes_to_the_framer_on_monday() -> None:
    plan, answer = plain(plan_of(), 6 * 4)
    entries = calendar_entries(plan, answer, MONDAY)

    assert of(EntryKind.TOUCH_DRY, entries)[0].first_day == dt.date(2026, 11, 14)
    assert of(EntryKind.TO_FRAMER, entries)[0].first_day == dt.date(2026, 11, 16)


def test_a_plan_without_a_framer_has_no_framer_in_its_calendar() -> None:
    plan, answer = plain(plan_of(), 6)
    plan = plan._replace(after=After(drying_days=9))

    kinds = {entry.kind for entry in calendar_entries(plan, answer, MONDAY)}
    assert not kinds & {EntryKind.TO_FRAMER, EntryKind.FRAMED}


def test_a_forecast_with_chance_says_that_its_days_are_not_certain() -> None:
    plan = plan_of()
    answer = forecast_of(plan, Outlook(MONDAY, hours_of_work(9), trials=100))
    stroke = of(EntryKind.LAST_STROKE, calendar_entries(plan, answer, MONDAY))[0]

    assert stroke.note == "8 times in 10 on this day or earlier."
    assert stroke.first_day == answer.last_stroke.p80


def test_an_entry_does_not_end_before_it_begins() -> None:
    with pytest.raises(ValueError, match="an entry from 2026-11-02 to 2026-11-01"):
        CalendarEntry(kind=EntryKind.DUE, title="Due", first_day=MONDAY, last_day=MONDAY - dt.timedelta(days=1))


def test_less_than_an_hour_is_said_in_minutes() -> None:
    plan, answer = plain(plan_of()._replace(also=((DayRange(MONDAY, MONDAY), HOUR_S // 2),)), 1)
    assert calendar_entries(plan, answer, MONDAY)[0].title == "Paint 30 min"
