"""Times away, to the millisecond where something turns; skipped turns that come again; what ends a session."""

import pytest

from coach.journal.events import Kind
from coach.session import moves
from coach.session.records import Phase
from tests.sessions import TWO_CANVASES, Easel, woke

MIN = 60_000
MIXED = """
canvases: [Hall]
limits: {press: 0 s}
passes:
  - name: ground
    passages: [{name: wash, minutes: 20, mixture: dark}, {name: corner, minutes: 20, mixture: pale}, rim]
palette: [{name: umber, pigment: PBr7}]
mixtures: [{name: dark, parts: {umber: 1}}, {name: pale, parts: {umber: 1}}]
"""


def begun(text: str = TWO_CANVASES) -> Easel:
    easel = Easel(text)
    easel.session.make(moves.go_on)
    return easel


@pytest.mark.parametrize(("away_ms", "phase"), [(6 * 60 * MIN - 1, Phase.WORKING), (6 * 60 * MIN, Phase.NOT_BEGUN)])
def test_six_hours_away_end_a_session_and_a_millisecond_less_does_not(away_ms: int, phase: Phase) -> None:
    easel = begun()
    easel.pass_time(5)
    easel.clock.go(seconds=away_ms / 1000)
    easel.reopen()

    assert easel.session.situation().phase is phase
    absence = easel.session.state.absence
    assert absence is not None
    assert (absence.away_ms, absence.ended_session) == (away_ms, phase is Phase.NOT_BEGUN)


@pytest.mark.parametrize(("seconds", "is_asked"), [(0, True), (0.001, False)])
def test_the_question_stands_through_exactly_half_an_hour_of_work(seconds: float, *, is_asked: bool) -> None:
    easel = begun(MIXED)
    easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)
    easel.clock.go(minutes=24 * 60)
    easel.session.make(moves.go_on)
    easel.pass_time(30)
    easel.clock.go(seconds=seconds)

    assert easel.session.state.seen_at(easel.clock.read()).hours.day_ms == 30 * MIN + seconds * 1000
    assert (easel.session.situation().asked_dry is not None) is is_asked


def test_the_question_follows_every_answer_undo_and_day() -> None:
    easel = begun(MIXED)
    for _ in range(2):
        easel.clock.go(seconds=2)
        easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)
    asked = []
    for step in ("day", "wet", "undo", "dry", "undo", "wet", "wet", "day"):
        if step == "day":
            easel.clock.go(minutes=24 * 60)
        else:
            easel.session.make({"wet": moves.find_wet, "dry": moves.find_dry, "undo": moves.undo}[step])
        turn = easel.session.situation().asked_dry
        asked.append(turn.turn.passages[0] if turn else "")

    assert asked == ["wash", "corner", "wash", "corner", "wash", "corner", "", "wash"]


def test_word_that_was_left_later_than_now_is_not_believed() -> None:
    easel = begun()
    easel.pass_time(5)
    left = easel.word.reading
    assert left is not None
    easel.word.reading = left._replace(elapsed_ms=left.elapsed_ms + 3 * MIN, wall_ms=left.wall_ms + 3 * MIN)
    easel.clock.go(minutes=1)
    easel.reopen()

    assert easel.journal.events[-1].since == easel.journal.events[1].at
    assert easel.session.situation().turn_ms == 0


def test_a_session_ends_when_it_was_left_or_last_seen_and_not_when_the_coach_came_back() -> None:
    easel = begun()
    easel.pass_time(5)
    seen = easel.clock.read()
    easel.clock.go(minutes=9 * 60)
    easel.reopen()
    (night,) = easel.session.state.sessions
    assert (night.ended.elapsed_ms, night.worked_ms) == (seen.elapsed_ms, 5 * MIN)

    easel.session.make(moves.go_on)
    easel.pass_time(2)
    easel.clock.go(minutes=20)
    easel.reopen()
    easel.pass_time(3)
    easel.session.make(moves.end_session)
    left = easel.clock.read()
    easel.clock.go(minutes=30)
    easel.session.make(woke("07:30"))
    sessions = easel.session.state.sessions
    assert [(one.number, one.ended.elapsed_ms, one.worked_ms) for one in sessions] == [
        (1, seen.elapsed_ms, 5 * MIN),
        (2, left.elapsed_ms, 5 * MIN),
    ]


def test_each_of_two_absences_on_one_turn_counts_as_work_once() -> None:
    easel = begun()
    for away_min in (41, 30):
        easel.pass_time(5)
        easel.clock.go(minutes=away_min)
        easel.reopen()
    counted: list[object] = []
    for _ in range(3):
        counted.append(easel.session.make(moves.count_away_as_work))
        counted.append(easel.session.situation().turn_ms // MIN)

    assert counted == [True, 40, True, 81, False, 81]
    assert easel.session.remark == "There is no time away to count."
    easel.session.make(moves.go_on)
    assert [record.worked_ms for record in easel.session.state.turns] == [81 * MIN]
    assert sum(piece.worked_ms for piece in easel.session.state.pieces) == 81 * MIN


def test_a_skipped_turn_comes_again_on_the_canvas_where_it_was_skipped() -> None:
    easel = begun()
    easel.session.make(moves.skip)
    easel.clock.go(seconds=2)
    for _ in range(2):
        easel.clock.go(seconds=2)
        easel.session.make(moves.go_on)
    in_hand = easel.session.situation().turn
    assert easel.session.make(moves.taking_up("eyes", ["socket shadow", "upper lid"]))

    assert easel.session.remark == "socket shadow + upper lid on Hall comes again."
    situation = easel.session.situation()
    assert situation.turn == in_hand  # it comes after what is in hand
    while situation.turn is not None and situation.turn.passages[0] != "socket shadow":
        easel.clock.go(seconds=2)
        easel.session.make(moves.go_on)
        situation = easel.session.situation()
    assert situation.turn is not None
    assert (situation.turn.canvas, situation.turn.passages) == ("Hall", ("socket shadow", "upper lid"))
    assert easel.opened(read_only="shown only").situation() == situation
    assert not easel.session.make(moves.taking_up("nose", ["wing"]))
    assert easel.session.remark == "Nothing of it was skipped."


def test_a_turn_that_was_taken_up_again_is_skipped_once_more_by_undo() -> None:
    easel = begun()
    easel.session.make(moves.skip)
    easel.clock.go(seconds=2)
    before = easel.session.situation()
    easel.session.make(moves.taking_up("eyes", ["socket shadow", "upper lid"]))
    easel.session.make(moves.undo)

    assert easel.session.remark == "Taken back: socket shadow + upper lid on Hall was to come again."
    assert easel.session.situation() == before
    assert [event.kind for event in easel.journal.events][-2:] == [Kind.TAKEN_UP, Kind.UNDONE]


def test_a_refused_note_is_answered_so_that_its_field_can_keep_it() -> None:
    easel = begun()
    easel.journal.is_full = True
    assert not easel.session.make(moves.noting("warmer"))
    assert "the disk is full" in easel.session.remark
    easel.journal.is_full = False
    assert easel.session.make(moves.noting("warmer"))


@pytest.mark.parametrize("boot", ["first", "another"])
@pytest.mark.parametrize("later_ms", [1, 3_600_000])
def test_a_last_word_that_is_later_than_now_is_not_believed(boot: str, later_ms: int) -> None:
    """The clock was set back, or the word comes from another machine: the time till the last event counts."""
    easel = begun()
    easel.pass_time(5)
    last = easel.journal.events[-1].at
    now = easel.clock.read()
    easel.word.reading = now._replace(wall_ms=now.wall_ms + later_ms, elapsed_ms=now.elapsed_ms + later_ms, boot=boot)
    easel.reopen()
    assert easel.journal.events[-1].kind is Kind.CAME_BACK
    assert easel.journal.events[-1].since == last
