"""What was kept, from journals whose hours are known by hand."""

import datetime as dt
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st

from coach.journal.events import Event, Kind, Turn
from coach.journal.reading import Reading
from coach.limits.rule_table import Key
from coach.plan.commission import Limits
from coach.review.hours.report import DayHours, HoursReport, hours_report, walk_along
from coach.session import moves
from coach.session.journal_state import state_of
from tests.painter import Habits, Painter
from tests.sessions import Easel, woke

MIN = 60_000
BERLIN = ZoneInfo("Europe/Berlin")


def told_of(easel: Easel) -> HoursReport:
    return hours_report(state_of(easel.journal.after(0)))


def painted(session_min: float = 240) -> Easel:
    """Return a work painted in just the planned minutes: 23, 23, 10, 10, 6, 6, 12, 12, 8, 8."""
    easel = Easel()
    habits = Habits(follow_frac=1, learning_frac=1, noise=0, slip_frac=0, session_min=session_min)
    Painter(easel.session, easel.clock, habits).paint()
    return easel


def at_work(*, begin_min: int = 0) -> Easel:
    """Return an easel where work begins so many minutes after nine."""
    easel = Easel()
    easel.clock.go(minutes=begin_min)
    easel.session.make(moves.go_on)
    return easel


def span_of(day: DayHours) -> tuple[str, str]:
    return f"{day.begun:%m-%d %H:%M}", f"{day.ended:%m-%d %H:%M}"


def grades(day: DayHours) -> dict[Key, str]:
    return {passed.rule: passed.grade for passed in day.passed}


def test_a_day_painted_by_the_plan_has_its_two_rests_and_its_longest_block() -> None:
    """Rests are due after 23 + 23 + 10 = 56 and 10 + 6 + 6 + 12 + 12 + 8 = 54 min; each lasts 12."""
    (day,) = told_of(painted()).days

    assert span_of(day) == ("01-15 09:00", "01-15 11:22")
    assert (day.work_minutes, day.longest_block_minutes) == (118, 56)
    assert (day.rests, day.rest_minutes) == (2, 24)
    assert (day.night_minutes, day.awake_minutes) == (None, None)
    assert [passed.words for passed in day.passed] == ["block 56 min: notice from 50 min"]


def test_work_after_a_night_is_a_day_of_its_own() -> None:
    first, second = told_of(painted(session_min=60)).days

    assert (first.work_minutes, first.rests, first.rest_minutes) == (66, 1, 12)
    assert (second.work_minutes, second.longest_block_minutes, second.rests) == (52, 52, 0)
    assert second.night_minutes == 23 * 60


def test_a_day_that_runs_past_midnight_is_one_day_with_the_date_of_its_beginning() -> None:
    easel = at_work(begin_min=14 * 60)
    easel.pass_time(90)
    easel.session.make(moves.go_on)
    (day,) = told_of(easel).days

    assert span_of(day) == ("01-15 23:00", "01-16 00:30")
    assert day.work_minutes == 90


def test_five_hours_off_do_not_end_a_day_and_six_do() -> None:
    for off_min, works_min in ((359, [20]), (360, [10, 10])):
        easel = at_work()
        easel.pass_time(10)
        easel.session.make(moves.end_session)
        easel.clock.go(minutes=off_min)
        easel.session.make(moves.go_on)
        easel.pass_time(10)
        easel.session.make(moves.go_on)

        assert [day.work_minutes for day in told_of(easel).days] == works_min


def test_a_pause_shorter_than_a_rest_is_neither_work_nor_rest() -> None:
    easel = at_work()
    for minutes in (9, 10):
        easel.pass_time(20)
        easel.session.make(moves.pause)
        easel.pass_time(minutes)
        easel.session.make(moves.pause)
    easel.pass_time(5)
    easel.session.make(moves.go_on)
    (day,) = told_of(easel).days

    assert (day.work_minutes, day.longest_block_minutes, day.rests, day.rest_minutes) == (45, 40, 1, 10)


def test_a_lid_closed_is_time_off_unless_it_is_counted_as_work() -> None:
    works = []
    for counts in (False, True):
        easel = at_work()
        easel.pass_time(10)
        easel.clock.go(minutes=15)
        easel.session.tick()
        if counts:
            easel.session.make(moves.count_away_as_work)
        easel.pass_time(10)
        easel.session.make(moves.go_on)
        (day,) = told_of(easel).days
        works.append((day.work_minutes, day.rests, span_of(day)[1]))

    assert works == [(20, 1, "01-15 09:35"), (35, 0, "01-15 09:35")]


def test_a_day_ends_where_the_coach_was_last_seen_before_the_lid_was_closed_for_the_night() -> None:
    easel = at_work()
    easel.pass_time(10)
    easel.clock.go(minutes=12 * 60)
    easel.session.tick()
    easel.session.make(moves.go_on)
    easel.pass_time(5)
    easel.session.make(moves.go_on)
    first, second = told_of(easel).days

    assert span_of(first) == ("01-15 09:00", "01-15 09:10")
    assert (span_of(second), second.night_minutes) == (("01-15 21:10", "01-15 21:15"), 12 * 60)


def test_waking_is_told_where_it_was_asked_and_reckoned_to_the_end_of_the_work() -> None:
    easel = at_work()
    easel.session.make(woke("06:30"))
    easel.pass_time(40)
    easel.session.make(moves.go_on)
    easel.session.make(moves.rest)
    easel.pass_time(30)
    (day,) = told_of(easel).days

    assert day.awake_minutes == (150 + 40)


def test_a_corrected_turn_ends_earlier_and_the_rest_of_it_was_a_night_off() -> None:
    """The key was forgotten at 9:20 and pressed at 23:00: 820 min of the turn were no work."""
    easel = at_work()
    easel.pass_time(840)
    easel.session.make(moves.go_on)
    assert Key.DAY in grades(told_of(easel).days[0])
    easel.session.make(moves.retiming("20"))
    easel.pass_time(15)
    easel.session.make(moves.go_on)
    told = told_of(easel)
    first, second = told.days

    assert span_of(first) == ("01-15 09:00", "01-15 09:20")
    assert (first.work_minutes, grades(first)) == (20, {})
    assert (second.work_minutes, second.night_minutes) == (15, 820)
    assert [share.minutes_by_hour for share in told.tired_hours.canvases] == [(20,), (15,)]


def test_a_correction_reaches_back_over_the_pauses_of_the_turn() -> None:
    easel = at_work()
    for _ in range(3):
        easel.pass_time(10)
        easel.session.make(moves.pause)
        easel.pass_time(2)
        easel.session.make(moves.pause)
    easel.session.make(moves.go_on)
    easel.session.make(moves.retiming("15"))
    (day,) = told_of(easel).days

    assert (day.work_minutes, span_of(day)[1]) == (15, "01-15 09:17")


def test_what_is_undone_was_not_done() -> None:
    easel = at_work()
    easel.pass_time(30)
    easel.session.make(moves.go_on)
    easel.session.make(moves.retiming("20"))
    easel.session.make(moves.undo)

    assert told_of(easel).days[0].work_minutes == 30


def two_hours_from(day: dt.datetime) -> HoursReport:
    """Return a journal of one turn of two hours by the elapsed clock, at wall times of Berlin (tz database)."""
    turn = Turn(pass_name="eyes", run=1, passages=("iris",), canvas="Hall", place=1, planned_s=600)
    events = []
    for seq, (kind, minutes) in enumerate(((Kind.SESSION_BEGUN, 0), (Kind.TURN_DONE, 120)), start=1):
        at = day + dt.timedelta(minutes=minutes)
        offset = at.astimezone(BERLIN).utcoffset()
        assert offset is not None
        wall_ms = round(at.timestamp() * 1000)
        reading = Reading(wall_ms=wall_ms, offset_s=offset.seconds, elapsed_ms=minutes * MIN, boot="first")
        events.append(Event(seq=seq, at=reading, kind=kind, turn=turn if kind is Kind.TURN_DONE else None))
    return hours_report(state_of(events))


def test_summer_time_begins_and_ends_without_a_minute_won_or_lost() -> None:
    """On 2027-03-28 2:00 becomes 3:00, on 2027-10-31 3:00 becomes 2:00, both at 1:00 UTC (tz database)."""
    (spring,) = two_hours_from(dt.datetime(2027, 3, 28, 0, 30, tzinfo=dt.UTC)).days
    (autumn,) = two_hours_from(dt.datetime(2027, 10, 31, 0, 30, tzinfo=dt.UTC)).days

    assert (span_of(spring), spring.work_minutes) == (("03-28 01:30", "03-28 04:30"), 120)
    assert (span_of(autumn), autumn.work_minutes) == (("10-31 02:30", "10-31 03:30"), 120)


def test_a_clock_set_back_by_a_year_changes_no_hours() -> None:
    easel = at_work()
    easel.pass_time(30)
    easel.session.make(moves.go_on)
    easel.clock.wall_ms -= 365 * 24 * 60 * MIN
    easel.pass_time(15)
    easel.session.make(moves.go_on)
    (day,) = told_of(easel).days

    assert (day.work_minutes, day.longest_block_minutes) == (45, 45)


def test_limits_are_those_of_the_plan_that_was_read_last() -> None:
    easel = at_work()
    easel.pass_time(20)
    easel.source.text = easel.source.text.replace("press: 0 s", "block: 15 min")
    easel.session.make(moves.go_on)
    told = told_of(easel)

    assert [rule.limit_minutes for rule in told.rules if rule.rule is Key.BLOCK] == [15]
    assert grades(told.days[0]) == {Key.BLOCK: "notice"}


def test_a_journal_without_work_has_no_days() -> None:
    assert told_of(Easel()).days == ()
    assert hours_report(state_of([])).days == ()


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.tuples(st.sampled_from(["go_on", "pause", "rest", "skip", "undo", "end_session"]), st.integers(0, 700)),
        max_size=12,
    )
)
def test_the_hours_on_the_log_are_those_the_easel_showed(steps: list[tuple[str, int]]) -> None:
    easel = at_work()
    for name, minutes in steps:
        easel.session.make(getattr(moves, name))
        easel.clock.go(minutes=minutes)
        easel.session.tick()
    hours = easel.session._state.hours
    worked = walk_along(state_of(easel.journal.after(0)), Limits()).worked

    assert sum(one.piece.worked_ms for one in worked if one.day_no == hours.day_no) == hours.day_ms
    if worked and hours.block_ms:
        assert worked[-1].block_ms + worked[-1].piece.worked_ms == hours.block_ms
