"""A day of twelve hours at the easel, minute by minute: every rest and every grade at its minute."""

from coach.limits.exceeded import MORE_MS, NO_DEFERRALS, Deferrals, next_rest, notices, rest_left_ms, ten_more
from coach.limits.hours import Hours
from coach.limits.rule_table import Grade, Key
from coach.plan.commission import Limits

MIN = 60_000
LIMITS = Limits()
Spoken = list[tuple[int, Key, Grade]]


def newly(spoken: Spoken, minute: int, hours: Hours, deferrals: Deferrals = NO_DEFERRALS) -> None:
    """Note what is said for the first time, or for the first time so gravely."""
    for passed in notices(LIMITS, hours, deferrals):
        if all((passed.key, passed.grade) != before[1:] for before in spoken):
            spoken.append((minute, passed.key, passed.grade))


def test_who_never_rests_hears_each_limit_at_its_minute() -> None:
    hours = Hours()
    hours.woke(300 * MIN)
    spoken: Spoken = []
    for minute in range(1, 721):
        hours.work(MIN)
        newly(spoken, minute, hours)

    assert spoken == [
        (50, Key.BLOCK, Grade.NOTICE),
        (60, Key.STANDING, Grade.NOTICE),
        (240, Key.STANDING_DAY, Grade.NOTICE),
        (360, Key.LONG_REST, Grade.CAUTION),
        (480, Key.DAY, Grade.NOTICE),
        (600, Key.DAY, Grade.CAUTION),
        (660, Key.AWAKE, Grade.CAUTION),
        (720, Key.DAY, Grade.STRONG),
        (720, Key.AWAKE, Grade.STRONG),
    ]


def test_who_rests_when_asked_has_every_rest_at_its_minute() -> None:
    """Blocks of 50 min; the sixth rest is the long one, for 350 + 10 + 50 min by the clock would pass 360.

    By hand: five times 50 + 10 min, then 50 + 20, and so again; begun at 8:00 the long rest holds 14:00. Twelve hours
    of work take 14 h 40 min. Six hours are hours by the clock: Directive 2003/88/EC art. 4 speaks of the working day
    (trade fact A1.2, secondary).
    """
    hours = Hours()
    minute, worked_min, rests = 0, 0, []
    spoken: Spoken = []
    while worked_min < 720:
        coming = next_rest(LIMITS, hours)
        assert coming.in_ms == 50 * MIN - hours.block_ms
        hours.work(MIN)
        minute, worked_min = minute + 1, worked_min + 1
        newly(spoken, minute, hours)
        if next_rest(LIMITS, hours).in_ms == 0:
            begun = minute
            while rest_left_ms(LIMITS, hours):
                hours.off(MIN)
                minute += 1
            rests.append((begun, minute - begun))

    lengths = [10, 10, 10, 10, 10, 20] * 2 + [10, 10]
    assert rests == [(50 * (no + 1) + sum(lengths[:no]), length) for no, length in enumerate(lengths)]
    assert minute == 14 * 60 + 40
    assert spoken == [
        (50, Key.BLOCK, Grade.NOTICE),
        (240 + 40, Key.STANDING_DAY, Grade.NOTICE),
        (480 + 100, Key.DAY, Grade.NOTICE),
        (600 + 120, Key.DAY, Grade.CAUTION),
        (720 + 160, Key.DAY, Grade.STRONG),
    ]


def test_who_asks_for_ten_more_minutes_again_and_again_is_told_every_ten_minutes() -> None:
    hours, deferrals, told = Hours(), NO_DEFERRALS, []
    for minute in range(1, 101):
        hours.work(MIN)
        if any(passed.key is Key.BLOCK for passed in notices(LIMITS, hours, deferrals)):
            told.append(minute)
            deferrals = ten_more(deferrals, LIMITS, hours)
            assert next_rest(LIMITS, hours, deferrals).in_ms == MORE_MS

    assert told == [50, 60, 70, 80, 90, 100]


def test_the_long_rest_is_due_at_six_hours_even_where_minutes_were_granted() -> None:
    hours = Hours()
    hours.work(355 * MIN)
    deferrals = ten_more(NO_DEFERRALS, LIMITS, hours)

    assert next_rest(LIMITS, hours, deferrals) == (Key.LONG_REST, 5 * MIN, 20 * MIN)


def test_a_rest_that_came_early_leaves_what_it_lacks() -> None:
    hours = Hours()
    hours.work(20 * MIN)
    assert (rest_left_ms(LIMITS, hours), next_rest(LIMITS, hours)) == (10 * MIN, (Key.BLOCK, 30 * MIN, 10 * MIN))

    hours.off(4 * MIN)
    assert rest_left_ms(LIMITS, hours) == 6 * MIN
    hours.off(600 * MIN)
    assert (rest_left_ms(LIMITS, hours), next_rest(LIMITS, hours)) == (0, (Key.BLOCK, 50 * MIN, 10 * MIN))


def test_a_rest_long_overdue_is_due_now_and_not_earlier_than_now() -> None:
    hours = Hours()
    hours.work(365 * 24 * 60 * MIN)

    assert next_rest(LIMITS, hours) == (Key.LONG_REST, 0, 20 * MIN)


def test_the_plans_own_figures_move_every_rest() -> None:
    own = Limits(block_s=25 * 60, rest_s=5 * 60, long_rest_s=30 * 60, long_rest_within_s=60 * 60)
    hours = Hours(rest_ms=own.rest_s * 1000, long_rest_ms=own.long_rest_s * 1000)
    found = []
    for _ in range(4):
        coming = next_rest(own, hours)
        found.append((coming.in_ms // MIN, coming.rest_ms // MIN))
        hours.work(coming.in_ms)
        hours.off(rest_left_ms(own, hours))

    assert found == [(25, 5), (25, 30), (25, 5), (25, 30)]
