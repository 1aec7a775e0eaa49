"""Undo, absences and the hours of the body, all from events and clock readings."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.journal.events import Kind
from coach.limits.rule_table import Key
from coach.session import moves
from coach.session.records import Phase
from coach.session.situation import Situation
from tests.sessions import Easel

MIN = 60_000


def begun() -> Easel:
    easel = Easel()
    easel.session.make(moves.go_on)
    return easel


def limits(easel: Easel) -> list[Key]:
    """Return the limits that are passed, but for standing."""
    standing = (Key.STANDING, Key.STANDING_DAY)
    return [passed.key for passed in easel.session.situation().exceeded if passed.key not in standing]


def test_undo_makes_it_as_if_the_key_had_not_been_pressed() -> None:
    easel = begun()
    easel.pass_time(3)
    easel.session.make(moves.go_on)
    easel.pass_time(2)
    easel.session.make(moves.undo)

    situation = easel.session.situation()
    assert situation.turn is not None
    assert (situation.turn.canvas, situation.turn_ms) == ("Hall", 5 * MIN)
    assert easel.journal.events[-1].kind is Kind.UNDONE


def test_undo_takes_back_the_end_of_a_session_and_the_time_between_is_no_work() -> None:
    """Go on, skip, end, undo: the session goes on as if it had not been left, and once more the skip is gone too."""
    easel = begun()
    easel.pass_time(3)
    easel.session.make(moves.skip)
    easel.pass_time(1)
    easel.session.make(moves.end_session)
    easel.pass_time(20)
    easel.session.make(moves.undo)

    situation = easel.session.situation()
    assert easel.session.remark == "The session goes on: its end is taken back."
    assert (situation.phase, situation.turn_ms, situation.block_ms) == (Phase.WORKING, 1 * MIN, 0)
    easel.session.make(moves.undo)
    assert easel.session.remark == "Taken back: socket shadow + upper lid on Hall was skipped."
    assert easel.session.situation().turn_ms == 4 * MIN
    assert easel.opened(read_only="shown only").situation() == easel.session.situation()


def test_undo_reaches_across_one_end_of_a_session_and_not_across_the_end_before() -> None:
    easel = begun()
    for move in ("go_on", "end_session", "go_on", "mark", "go_on", "end_session", "go_on", "pause"):
        easel.pass_time(1)
        easel.session.make(getattr(moves, move))
    said = []
    for _ in range(6):
        easel.session.make(moves.undo)
        said.append(easel.session.remark)

    assert said == [
        "Taken back: the pause.",
        "Taken back: the beginning of the session.",
        "The session goes on: its end is taken back.",
        "Taken back: socket shadow + upper lid on School was painted.",
        "Taken back: the mark to look again.",
        "Nothing more can be taken back: the session before is over.",
    ]
    assert easel.session.situation().turn_no == 2
    assert easel.session.state.session == 2
    assert easel.opened(read_only="shown only").situation() == easel.session.situation()


def test_turns_of_one_burst_are_taken_back_together() -> None:
    easel = begun()
    easel.pass_time(3)
    easel.session.make(moves.go_on)
    easel.pass_time(2)
    for ms in (0, 999, 400, 0):
        easel.clock.go(seconds=ms / 1000)
        easel.session.make(moves.go_on)
    easel.session.make(moves.undo)

    assert easel.session.remark == "4 turns taken back: their keys came within a second of one another."
    assert easel.session.situation().turn_no == 2
    easel.session.make(moves.undo)
    assert easel.session.situation().turn_no == 1


def test_turns_a_second_apart_are_taken_back_one_by_one() -> None:
    easel = begun()
    for _ in range(2):
        easel.clock.go(seconds=1)
        easel.session.make(moves.go_on)
    easel.session.make(moves.undo)

    assert easel.session.situation().turn_no == 2


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from(["go_on", "go_other_way", "pause", "rest", "mark", "skip", "undo"]), max_size=25))
def test_what_was_shown_live_a_replay_shows_again(names: list[str]) -> None:
    easel = begun()
    for name in names:
        easel.session.make(getattr(moves, name))
        easel.pass_time(1)
    live = easel.session.situation()

    assert easel.opened(read_only="shown only").situation() == live


@settings(max_examples=40, deadline=None)
@given(st.lists(st.sampled_from(["go_on", "go_other_way", "pause", "rest", "mark", "skip"]), max_size=12))
def test_undoing_every_move_restores_the_beginning(names: list[str]) -> None:
    easel = begun()
    start = easel.session.situation()
    made = 0
    for name in names:
        easel.clock.go(seconds=1)
        made += easel.session.make(getattr(moves, name))
    for _ in range(made):
        easel.session.make(moves.undo)

    situation = easel.session.situation()
    kept = ("phase", "turn", "turn_no", "notes", "is_marked", "went_other_way", "before", "coming", "leads")
    assert [getattr(situation, name) for name in kept] == [getattr(start, name) for name in kept]
    assert situation.turn_ms == len(names) * 1000


def killed_after(minutes: float, *, away: float) -> tuple[Easel, Situation]:
    easel = begun()
    easel.pass_time(minutes)
    shown = easel.session.situation()
    easel.clock.go(minutes=away)
    easel.reopen()
    return easel, shown


def test_a_kill_costs_nothing_that_was_shown_and_time_away_is_not_work() -> None:
    easel, shown = killed_after(5, away=41)

    situation = easel.session.situation()
    assert situation.turn_ms == shown.turn_ms == 5 * MIN
    assert situation.phase is Phase.WORKING
    assert situation.absence is not None
    assert situation.absence.away_ms == 41 * MIN


def test_one_key_counts_the_time_away_as_work_and_undo_takes_that_back() -> None:
    easel, _ = killed_after(5, away=41)
    easel.session.make(moves.count_away_as_work)
    assert easel.session.situation().turn_ms == 46 * MIN
    assert easel.session.situation().absence is None

    easel.session.make(moves.undo)
    assert easel.session.situation().turn_ms == 5 * MIN


def test_without_time_away_there_is_nothing_to_count() -> None:
    easel = begun()
    easel.session.make(moves.count_away_as_work)

    assert easel.session.remark == "There is no time away to count."


def test_a_lid_that_was_closed_is_noticed_by_the_gap() -> None:
    easel = begun()
    easel.pass_time(5)
    easel.clock.go(minutes=20)
    easel.session.make(moves.go_on)

    (lead,) = easel.session.situation().before
    assert lead.worked_ms == 5 * MIN


def test_after_a_night_away_the_session_is_over_and_cannot_count_as_work() -> None:
    easel, _ = killed_after(5, away=9 * 60)

    assert easel.session.situation().phase is Phase.NOT_BEGUN
    easel.session.make(moves.count_away_as_work)
    assert "night" in easel.session.remark


def test_across_a_restart_only_the_wall_clock_is_left() -> None:
    easel = begun()
    easel.pass_time(5)
    easel.clock.go(minutes=10)
    easel.clock.boot, easel.clock.elapsed_ms = "second", 0
    easel.reopen()

    absence = easel.session.situation().absence
    assert absence is not None
    assert absence.away_ms == 10 * MIN


def test_a_clock_that_is_set_bends_nothing() -> None:
    easel = begun()
    easel.clock.wall_ms += 365 * 86_400_000
    easel.pass_time(2)
    easel.clock.wall_ms -= 700 * 86_400_000
    easel.pass_time(1)

    assert easel.session.situation().turn_ms == 3 * MIN


def test_a_block_is_over_at_its_minute_and_a_rest_long_enough_ends_it() -> None:
    easel = begun()
    easel.pass_time(49)
    assert limits(easel) == []
    easel.pass_time(1)
    assert limits(easel) == [Key.BLOCK]

    easel.session.make(moves.rest)
    easel.pass_time(9)
    assert limits(easel) == []  # who rests is not told to rest
    assert easel.session.situation().block_ms == 50 * 60_000
    easel.pass_time(1)
    assert limits(easel) == []
    easel.session.make(moves.go_on)
    easel.pass_time(1)
    assert easel.session.situation().block_ms == 1 * MIN


def test_a_pause_shorter_than_a_rest_does_not_end_a_block() -> None:
    easel = begun()
    easel.pass_time(30)
    easel.session.make(moves.pause)
    easel.pass_time(9)
    easel.session.make(moves.go_on)
    easel.pass_time(20)

    assert easel.session.situation().block_ms == 50 * MIN


def test_the_day_is_over_after_eight_hours_and_a_short_night_is_said() -> None:
    easel = begun()
    for _ in range(10):
        easel.pass_time(48)
        easel.session.make(moves.rest)
        easel.pass_time(10)
        easel.session.make(moves.go_on)
    assert limits(easel) == [Key.LONG_REST, Key.DAY]

    easel.session.make(moves.end_session)
    easel.clock.go(minutes=8 * 60)
    easel.session.make(moves.go_on)
    easel.pass_time(1)
    assert limits(easel) == [Key.BETWEEN_DAYS, Key.NIGHT]
    assert easel.session.situation().day_ms == 1 * MIN


@pytest.mark.parametrize(("seconds", "is_over"), [(6 * 3600 - 1, False), (6 * 3600, True)])
def test_who_was_away_for_just_six_hours_has_ended_the_session_and_the_day(seconds: int, is_over: bool) -> None:
    easel = begun()
    easel.pass_time(10)
    easel.clock.go(seconds=seconds)
    easel.session.tick()
    situation = easel.session.situation()

    assert (situation.phase is Phase.NOT_BEGUN) is is_over
    assert situation.day_ms == (0 if is_over else 10 * 60_000)
