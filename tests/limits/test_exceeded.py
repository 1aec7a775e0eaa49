"""Which limits are passed, at which minute, how gravely, and what answers do to them."""

import pytest

from coach.limits.exceeded import (
    NO_DEFERRALS,
    SAID_MS,
    Deferrals,
    Easel,
    ExceededLimit,
    exceeded,
    next_rest,
    night_left_ms,
    not_today,
    notices,
    rest_left_ms,
    ten_more,
)
from coach.limits.hours import Hours
from coach.limits.rule_table import RULES, Grade, Key, rule_of
from coach.plan.commission import Limits

MIN = 60_000
H = 60 * MIN
LIMITS = Limits()


def account(*spans_min: int) -> Hours:
    """Return an account of work and time off in turn, in minutes, work first."""
    hours = Hours()
    for number, minutes in enumerate(spans_min):
        (hours.off if number % 2 else hours.work)(minutes * MIN)
    return hours


def keys(hours: Hours, limits: Limits = LIMITS, deferrals: Deferrals = NO_DEFERRALS) -> dict[Key, Grade]:
    if deferrals is NO_DEFERRALS:
        return {passed.key: passed.grade for passed in exceeded(limits, hours)}
    return {passed.key: passed.grade for passed in notices(limits, hours, deferrals)}


def find(key: Key, hours: Hours, limits: Limits = LIMITS) -> ExceededLimit | None:
    return next((passed for passed in exceeded(limits, hours) if passed.key is key), None)


def test_seven_and_a_half_hours_between_days_are_too_few_and_graver_than_ten() -> None:
    """Trade check 30: stopped 23:30, next start 07:00, 7 h 30 min, under 11 h (Directive 2003/88/EC art. 3)."""
    found = find(Key.BETWEEN_DAYS, account(120, 450, 1))

    assert found == (Key.BETWEEN_DAYS, Grade.STRONG, 450 * MIN, 9 * H)
    assert find(Key.BETWEEN_DAYS, account(120, 600, 1)) == (Key.BETWEEN_DAYS, Grade.CAUTION, 600 * MIN, 11 * H)
    assert find(Key.BETWEEN_DAYS, account(120, 540, 1)) == (Key.BETWEEN_DAYS, Grade.CAUTION, 540 * MIN, 11 * H)


def test_who_stops_at_nine_in_the_evening_may_begin_at_eight() -> None:
    """Trade check 31: stopped 21:00, the earliest start that leaves 11 h is 08:00 (Directive art. 3)."""
    hours = account(120)
    assert 21 * H + night_left_ms(LIMITS, hours) == (24 + 8) * H

    hours.off(11 * H - 1)
    assert night_left_ms(LIMITS, hours) == 1
    hours.off(1)
    hours.work(1)
    assert Key.BETWEEN_DAYS not in keys(hours)


def test_six_days_of_ten_hours_pass_the_week() -> None:
    """Trade check 32: 60 h, over 48 h (Directive art. 6)."""
    assert find(Key.WEEK, account(*[600, 840] * 6)) == (Key.WEEK, Grade.CAUTION, 60 * H, 48 * H)
    assert find(Key.WEEK, account(*[479, 961] * 6)) is None


def test_the_free_stretch_is_a_day_and_a_night() -> None:
    """Trade check 34: 24 h + 11 h = 35 h unbroken (Directive art. 5)."""
    week = [60, 23 * 60] * 6
    assert LIMITS.free_stretch_s == (24 + 11) * 3600
    assert find(Key.FREE_STRETCH, account(*week, 60, 35 * 60, 1)) is None

    found = find(Key.FREE_STRETCH, account(*week, 60, 35 * 60 - 1, 1))
    assert found == (Key.FREE_STRETCH, Grade.CAUTION, 35 * H - MIN, 35 * H)


@pytest.mark.parametrize(("worked_min", "is_due"), [(359, False), (360, True), (361, True)])
def test_a_long_rest_is_due_before_six_hours_of_work(worked_min: int, is_due: bool) -> None:
    """Trade check 35: 6 h 01 min of unbroken work (Directive art. 4; Working Time Regulations 1998 reg. 12)."""
    assert (Key.LONG_REST in keys(account(worked_min - 115, 15, 100))) is is_due
    assert Key.LONG_REST not in keys(account(worked_min - 100, 20, 100))


def test_the_grades_of_the_day_show_the_larger_of_two_published_risks() -> None:
    """Trade check 38: +15 % and +38 % (Salminen 2016), +13 % and +27 % (Folkard & Tucker 2003); the larger is shown."""
    for grade, risks in ((Grade.CAUTION, (15, 13)), (Grade.STRONG, (38, 27))):
        assert f"{max(risks)} %" in rule_of(Key.DAY, grade).yardstick


@pytest.mark.parametrize(
    ("worked_h", "grade", "limit_h"),
    [(8, Grade.NOTICE, 8), (10, Grade.CAUTION, 10), (12, Grade.STRONG, 12), (24 * 365, Grade.STRONG, 12)],
)
def test_the_day_speaks_in_three_grades_from_its_minute_on(worked_h: int, grade: Grade, limit_h: int) -> None:
    at_limit, before = account(worked_h * 60), account(worked_h * 60 - 1)

    assert find(Key.DAY, at_limit) == (Key.DAY, grade, worked_h * H, limit_h * H)
    assert keys(before).get(Key.DAY, 0) < grade or worked_h > limit_h


@pytest.mark.parametrize(("awake_h", "grade"), [(15.9, None), (16, Grade.CAUTION), (17, Grade.STRONG)])
def test_time_awake_speaks_at_sixteen_and_at_seventeen_hours(awake_h: float, grade: Grade | None) -> None:
    """Van Dongen 2003: 15 h 50 min; Williamson & Feyer 2000: 17 to 19 h; rounded as in facts of the trade, H."""
    hours = account(10)
    hours.woke(round(awake_h * H))

    assert keys(hours).get(Key.AWAKE) is grade


def test_a_day_that_is_longer_than_anybody_stays_fresh_speaks_without_being_asked() -> None:
    """Whoever began so long ago is awake for as long, whatever rests there were in between."""
    assert Key.AWAKE not in keys(account(60, 5 * 60, 60, 5 * 60, 3 * 60 + 59))
    assert keys(account(60, 5 * 60, 60, 5 * 60, 4 * 60))[Key.AWAKE] is Grade.CAUTION
    assert Key.AWAKE not in keys(account(15 * 60, 6 * 60, 60))


def test_standing_speaks_after_an_hour_on_one_spot_and_after_four_in_a_day() -> None:
    """EU-OSHA, OSHwiki: more than 1 h without leaving the spot, more than 4 h a day."""
    assert Key.STANDING not in keys(account(59))
    assert find(Key.STANDING, account(60)) == (Key.STANDING, Grade.NOTICE, H, H)
    assert Key.STANDING_DAY not in keys(account(120, 10, 119))
    assert find(Key.STANDING_DAY, account(120, 10, 120)) == (Key.STANDING_DAY, Grade.NOTICE, 4 * H, 4 * H)


def test_a_night_or_a_free_stretch_is_not_too_short_while_it_lasts() -> None:
    hours = account(*[60, 23 * 60] * 7, 60, 400)
    assert not {Key.BETWEEN_DAYS, Key.FREE_STRETCH} & keys(hours).keys()

    hours.resume()
    assert keys(hours) == {Key.BETWEEN_DAYS: Grade.STRONG, Key.FREE_STRETCH: Grade.CAUTION}


def test_a_rest_ends_the_word_about_the_block() -> None:
    assert Key.BLOCK in keys(account(50, 9))
    assert Key.BLOCK not in keys(account(50, 10))


def test_the_gravest_comes_first() -> None:
    hours = account(12 * 60)
    hours.woke(16 * H)
    grades = [passed.grade for passed in exceeded(LIMITS, hours)]

    assert grades == sorted(grades, reverse=True)
    assert {passed.key for passed in exceeded(LIMITS, hours)[:1]} == {Key.DAY}
    assert set(grades) == set(Grade)


def test_the_painters_own_limit_is_not_overtaken_by_a_graver_grade() -> None:
    own = Limits(day_s=11 * 3600, awake_s=18 * 3600, between_days_s=8 * 3600, standing_s=5 * 3600)
    early, late = account(120, 510, 10 * 60 + 30), account(120, 479, 11 * 60)
    early.woke(17 * H + H // 2)
    late.woke(18 * H)

    assert not {Key.DAY, Key.AWAKE, Key.BETWEEN_DAYS} & keys(early, own).keys()
    found = keys(late, own)
    assert (found[Key.DAY], found[Key.AWAKE], found[Key.BETWEEN_DAYS]) == (Grade.CAUTION, Grade.STRONG, Grade.STRONG)
    assert Key.STANDING_DAY not in keys(account(299), own)


def test_ten_more_minutes_are_ten_minutes_and_the_block_speaks_again() -> None:
    hours = account(50)
    deferrals = ten_more(NO_DEFERRALS, LIMITS, hours)
    hours.work(10 * MIN - 1)
    assert Key.BLOCK not in keys(hours, deferrals=deferrals)

    hours.work(1)
    assert Key.BLOCK in keys(hours, deferrals=deferrals)
    deferrals = ten_more(deferrals, LIMITS, hours)
    assert deferrals.granted_ms == 20 * MIN
    hours.work(10 * MIN)
    assert Key.BLOCK in keys(hours, deferrals=deferrals)


def test_ten_more_minutes_asked_for_late_are_counted_from_then() -> None:
    hours = account(64)
    deferrals = ten_more(NO_DEFERRALS, LIMITS, hours)
    hours.work(10 * MIN - 1)
    assert Key.BLOCK not in keys(hours, deferrals=deferrals)
    hours.work(1)
    assert Key.BLOCK in keys(hours, deferrals=deferrals)


def test_minutes_granted_in_one_block_do_not_lengthen_the_next() -> None:
    hours = account(50)
    deferrals = ten_more(NO_DEFERRALS, LIMITS, hours)
    hours.off(10 * MIN)
    hours.work(50 * MIN)

    assert Key.BLOCK in keys(hours, deferrals=deferrals)
    assert ten_more(deferrals, LIMITS, hours).granted_ms == 10 * MIN


def test_not_today_is_silence_for_that_grade_and_that_day_only() -> None:
    hours = account(8 * 60)
    notice = find(Key.DAY, hours)
    assert notice is not None
    deferrals = not_today(NO_DEFERRALS, notice, hours)
    assert Key.DAY not in keys(hours, deferrals=deferrals)

    hours.work(2 * H)
    caution = find(Key.DAY, hours)
    assert caution is not None
    assert keys(hours, deferrals=deferrals)[Key.DAY] is Grade.CAUTION
    deferrals = not_today(deferrals, caution, hours)
    assert Key.DAY not in keys(hours, deferrals=deferrals)
    assert Key.LONG_REST in keys(hours, deferrals=deferrals)

    hours.off(11 * H)
    hours.work(8 * H)
    assert keys(hours, deferrals=deferrals)[Key.DAY] is Grade.NOTICE
    assert not_today(deferrals, notice, hours).silenced == {(Key.DAY, Grade.NOTICE)}


def test_every_rule_has_one_sentence_one_source_and_a_limit_of_the_plan() -> None:
    for rule in RULES:
        assert rule.yardstick.endswith(".")
        assert "\n" not in rule.yardstick + rule.source
        assert rule.source
        assert set(rule.fields) <= set(Limits._fields)
    assert {rule.key for rule in RULES} == set(Key)
    grades = [rule.grade for rule in RULES if rule.key is Key.DAY]
    assert grades == sorted(Grade)


def said_at(limits: Limits, hours: Hours, time_h: float) -> list[Key]:
    return [passed.key for passed in notices(limits, hours, easel=Easel(time_ms=round(time_h * H)))]


def test_in_a_day_of_ten_hours_with_every_rest_a_notice_stands_for_less_than_an_hour() -> None:
    """Minute by minute from 8:00; it was 491 of 730 minutes."""
    hours, minute, stood, worked = Hours(), 0, 0, 0
    while worked < 600:
        easel = Easel(time_ms=8 * H + minute * MIN)
        hours.work(MIN)
        minute, worked = minute + 1, worked + 1
        stood += bool(notices(LIMITS, hours, easel=easel))
        if next_rest(LIMITS, hours, easel=easel).in_ms == 0:
            while rest_left_ms(LIMITS, hours, easel):
                hours.off(MIN)
                minute += 1
                stood += bool(notices(LIMITS, hours, easel=easel))
    assert 20 < stood < 60


def test_what_a_rest_cannot_mend_is_said_once_and_again_when_it_is_graver() -> None:
    limits = Limits(standing_s=24 * 3600)
    for minutes, is_said in ((8 * 60, True), (8 * 60 + 9, True), (8 * 60 + 10, False), (10 * 60, True)):
        assert (Key.DAY in {one.key for one in notices(limits, account(minutes))}) is is_said
    assert Key.BETWEEN_DAYS in {one.key for one in notices(limits, account(60, 400, 9))}
    assert Key.BETWEEN_DAYS not in {one.key for one in notices(limits, account(60, 400, SAID_MS // MIN))}
    assert Key.BETWEEN_DAYS in {one.key for one in exceeded(limits, account(60, 400, 300))}


def test_who_paints_seated_hears_nothing_of_standing() -> None:
    seated = {one.key for one in exceeded(LIMITS, account(300), Easel(is_standing=False))}
    assert seated == {Key.BLOCK}
    assert {one.key for one in exceeded(LIMITS, account(300))} == {Key.BLOCK, Key.STANDING, Key.STANDING_DAY}


@pytest.mark.parametrize(
    ("time_h", "is_night"), [(22.99, False), (23, True), (23.9, True), (0, True), (5.99, True), (6, False)]
)
def test_night_work_is_noticed_by_the_clock_without_being_asked(time_h: float, is_night: bool) -> None:
    """Trade fact A2.7 (secondary); night time from memory."""
    hours = account(5)
    assert (Key.NIGHT in said_at(LIMITS, hours, time_h)) is is_night
    hours.off(MIN)
    assert Key.NIGHT not in said_at(LIMITS, hours, time_h)


def test_a_meal_is_asked_for_at_its_time_until_a_long_rest_is_had_or_it_is_too_late() -> None:
    limits = Limits(meal_s=12 * 3600 + 1800)
    morning = account(40)
    assert Key.MEAL not in said_at(limits, morning, 12.49)
    assert Key.MEAL in said_at(limits, morning, 12.5)
    assert Key.MEAL in said_at(limits, account(200, 10, 50), 13)
    assert Key.MEAL not in said_at(limits, account(200, 20, 50), 13)  # the long rest ended at 12:10
    assert Key.MEAL in said_at(limits, account(200, 20, 61), 13)  # it ended at 11:59
    assert Key.MEAL not in said_at(limits, account(300), 15.5)
    assert Key.MEAL not in said_at(LIMITS, morning, 12.5)


def test_the_rest_at_the_time_of_the_meal_is_the_long_one() -> None:
    limits, hours = Limits(meal_s=12 * 3600 + 1800), account(30)
    at_noon, before = Easel(time_ms=12 * H), Easel(time_ms=12 * H + 10 * MIN)
    assert next_rest(limits, hours, easel=at_noon) == (Key.LONG_REST, 20 * MIN, 20 * MIN)
    assert next_rest(limits, account(20), easel=before) == (Key.LONG_REST, 20 * MIN, 20 * MIN)
    assert next_rest(limits, hours, easel=Easel(time_ms=9 * H)) == (Key.BLOCK, 20 * MIN, 10 * MIN)
    assert rest_left_ms(limits, account(50), Easel(time_ms=12 * H + 20 * MIN)) == 20 * MIN
