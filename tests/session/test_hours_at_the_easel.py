"""The hours of the body at the easel: what is said at which minute, and what the painter's answers do."""

from coach.journal.events import Kind
from coach.limits.rule_table import Grade, Key
from coach.session import moves
from coach.session.records import Phase
from tests.sessions import TWO_CANVASES, Easel, woke

MIN = 60_000
ONE_LONG_TURN = """
canvases: [Hall, School]
limits: {standing: 20 h}
passes: [{name: ground, passages: [{name: wash, minutes: 800}]}]
"""


def begun(text: str = ONE_LONG_TURN) -> Easel:
    easel = Easel(text)
    easel.session.make(moves.go_on)
    return easel


def passed(easel: Easel) -> dict[Key, Grade]:
    return {one.key: one.grade for one in easel.session.situation().exceeded}


def test_a_day_of_twelve_hours_without_a_rest_says_every_grade_at_its_minute() -> None:
    easel = begun()
    said: dict[tuple[Key, Grade], int] = {}
    for minute in range(12 * 60 + 1):
        for key, grade in passed(easel).items():
            said.setdefault((key, grade), minute)
        easel.pass_time(1)

    assert said == {
        (Key.BLOCK, Grade.NOTICE): 50,
        (Key.LONG_REST, Grade.CAUTION): 6 * 60,
        (Key.DAY, Grade.NOTICE): 8 * 60,
        (Key.DAY, Grade.CAUTION): 10 * 60,
        (Key.DAY, Grade.STRONG): 12 * 60,
    }


def test_a_day_of_twelve_hours_with_every_rest_shows_each_rest_at_its_minute() -> None:
    easel = begun()
    rests: list[tuple[int, int]] = []
    worked = 0
    while worked < 12 * 60:
        easel.pass_time(1)
        worked += 1
        if Key.BLOCK in passed(easel) or easel.session.situation().next_rest.in_ms == 0:
            easel.session.make(moves.rest)
            left_ms = easel.session.situation().rest_left_ms
            rests.append((worked, left_ms // MIN))
            easel.pass_time(left_ms / MIN)
            assert easel.session.situation().rest_left_ms == 0
            easel.session.make(moves.go_on)

    assert [minute for minute, _ in rests] == [50 * no for no in range(1, 15)]
    assert [length for _, length in rests] == [10] * 5 + [20] + [10] * 5 + [20] + [10] * 2


def test_ten_more_minutes_put_the_rest_off_once_and_are_recorded() -> None:
    easel = begun()
    easel.pass_time(49)
    easel.session.make(moves.work_ten_more)
    assert easel.session.remark == "No rest is due yet."

    easel.pass_time(3)
    easel.session.make(moves.work_ten_more)
    assert Key.BLOCK not in passed(easel)
    easel.pass_time(9)
    assert Key.BLOCK not in passed(easel)
    easel.pass_time(1)
    assert passed(easel)[Key.BLOCK] is Grade.NOTICE
    assert [event.kind for event in easel.journal.events].count(Kind.GRANTED) == 1


def test_not_today_silences_a_grade_until_a_graver_one_or_the_next_day() -> None:
    easel = begun()
    easel.pass_time(8 * 60)
    easel.session.make(moves.silence_today)
    assert Key.DAY not in passed(easel)
    assert Key.LONG_REST not in passed(easel)
    easel.pass_time(2 * 60)
    assert passed(easel)[Key.DAY] is Grade.CAUTION

    easel.session.make(moves.undo)
    easel.session.make(moves.silence_today)
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=12 * 60)
    easel.session.make(moves.go_on)
    easel.pass_time(8 * 60)
    assert passed(easel)[Key.DAY] is Grade.NOTICE


def test_silence_needs_something_to_silence() -> None:
    easel = begun()
    easel.pass_time(51)
    easel.session.make(moves.silence_today)
    assert easel.session.remark == "There is nothing to silence; a rest is put off by ten more minutes."


def test_an_old_journal_s_hour_of_waking_still_counts() -> None:
    easel = begun()
    local_minute = (easel.clock.wall_ms // MIN + 60) % (24 * 60)
    easel.session.make(woke("06:30"))
    awake_min = (local_minute - 6 * 60 - 30) % (24 * 60)

    easel.pass_time(16 * 60 - awake_min - 1)
    assert Key.AWAKE not in passed(easel)
    easel.pass_time(2)
    assert passed(easel)[Key.AWAKE] is Grade.CAUTION
    easel.pass_time(60)
    assert passed(easel)[Key.AWAKE] is Grade.STRONG


def test_a_forgotten_key_is_offered_for_correction_and_the_hours_are_put_right() -> None:
    easel = begun(TWO_CANVASES)
    easel.pass_time(14 * 60)
    easel.session.make(moves.go_on)
    easel.pass_time(5)
    assert easel.session.situation().forgotten is not None
    easel.session.make(moves.retiming("900"))
    assert easel.session.remark == "The clock says 840 min for that turn; give fewer."
    easel.session.make(moves.retiming("many"))
    assert easel.session.remark == "“many” is no number of minutes; write one, such as 25."

    easel.session.make(moves.retiming("25"))
    now = easel.session.situation()
    assert (now.forgotten, now.day_ms, now.block_ms) == (None, 5 * MIN, 5 * MIN)
    assert now.before[0].worked_ms == 25 * MIN
    easel.session.make(moves.undo)
    assert easel.session.situation().forgotten is not None


def test_a_rest_that_is_over_waits_for_the_key_and_standing_starts_anew() -> None:
    easel = begun(TWO_CANVASES)
    easel.pass_time(61)
    assert Key.STANDING in passed(easel)
    easel.session.make(moves.rest)
    easel.pass_time(30)

    now = easel.session.situation()
    assert (now.phase, now.rest_left_ms) == (Phase.RESTING, 0)
    assert Key.STANDING not in passed(easel)
