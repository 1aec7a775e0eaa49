"""Moves at the easel: what each records and what the situation is afterwards."""

import pytest

from coach.journal.events import Kind
from coach.session import moves
from coach.session.records import Phase
from tests.sessions import TWO_CANVASES, Easel

MIN = 60_000


def begun() -> Easel:
    easel = Easel()
    easel.session.make(moves.go_on)
    return easel


def on(easel: Easel) -> tuple[str, tuple[str, ...], int]:
    turn = easel.session.situation().turn
    assert turn is not None
    return turn.canvas, turn.passages, turn.place


def test_before_the_first_key_nothing_is_timed() -> None:
    easel = Easel()
    easel.pass_time(5)

    assert easel.session.situation().phase is Phase.NOT_BEGUN
    assert easel.session.situation().turn_ms == 0


def test_one_key_begins_and_then_ends_each_turn_the_lead_alternating() -> None:
    easel = begun()
    seen = []
    for _ in range(10):
        seen.append(on(easel)[0])
        easel.session.make(moves.go_on)

    assert seen == ["Hall", "School", "School", "Hall", "Hall", "School", "School", "Hall", "Hall", "School"]
    assert easel.session.situation().turn is None
    assert easel.session.situation().done_frac == 1


def test_a_passage_beside_another_is_painted_in_the_same_turn() -> None:
    assert on(begun()) == ("Hall", ("socket shadow", "upper lid"), 1)


def test_the_follow_canvas_is_told_the_minutes_and_notes_of_the_lead() -> None:
    easel = begun()
    easel.pass_time(4)
    easel.session.make(moves.noting("keep it warm"))
    easel.pass_time(2)
    easel.session.make(moves.go_on)

    (lead,) = easel.session.situation().before
    assert (lead.turn.canvas, lead.worked_ms, lead.notes) == ("Hall", 6 * MIN, ("keep it warm",))


def test_going_the_other_way_swaps_the_canvas_and_keeps_its_time() -> None:
    easel = begun()
    easel.pass_time(3)
    easel.session.make(moves.go_other_way)

    situation = easel.session.situation()
    assert on(easel)[0] == "School"
    assert situation.went_other_way
    assert situation.turn_ms == 3 * MIN


def test_going_the_other_way_twice_is_back_in_order() -> None:
    easel = begun()
    easel.session.make(moves.go_other_way)
    easel.session.make(moves.go_other_way)

    assert on(easel)[0] == "Hall"
    assert not easel.session.situation().went_other_way


def test_a_deviation_is_said_and_the_other_canvas_follows() -> None:
    easel = begun()
    easel.session.make(moves.go_other_way)
    easel.session.make(moves.go_on)

    assert on(easel) == ("Hall", ("socket shadow", "upper lid"), 2)
    assert "School was taken out of turn" in easel.session.situation().of_order


def test_the_last_canvas_of_a_run_cannot_go_the_other_way() -> None:
    easel = begun()
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_other_way)

    assert easel.session.remark == "Only School is left to paint here."
    easel.session.tick()
    assert easel.session.remark
    easel.clock.go(seconds=10)
    easel.session.tick()
    assert easel.session.remark == ""


@pytest.mark.parametrize(("move", "phase"), [(moves.pause, Phase.PAUSED), (moves.rest, Phase.RESTING)])
def test_pause_and_rest_stop_the_clock_and_go_on_ends_them(move: moves.Move, phase: Phase) -> None:
    easel = begun()
    easel.pass_time(2)
    easel.session.make(move)
    easel.pass_time(7)

    stopped = easel.session.situation()
    assert (stopped.phase, stopped.turn_ms, stopped.off_ms) == (phase, 2 * MIN, 7 * MIN)
    easel.session.make(moves.go_on)
    easel.pass_time(1)
    assert easel.session.situation().turn_ms == 3 * MIN


def test_pause_pressed_again_goes_on() -> None:
    easel = begun()
    easel.session.make(moves.pause)
    easel.session.make(moves.pause)

    assert easel.session.situation().phase is Phase.WORKING


def test_a_mark_is_kept_with_the_turn_and_taken_off_by_the_same_move() -> None:
    easel = begun()
    easel.session.make(moves.mark)
    easel.session.make(moves.mark)
    assert not easel.session.situation().is_marked
    assert easel.session.remark == "No longer marked to look at again."
    easel.session.make(moves.mark)
    easel.session.make(moves.go_on)

    (lead,) = easel.session.situation().before
    assert lead.is_marked


def test_a_skipped_turn_leaves_the_list_and_is_told_to_the_follow_canvas() -> None:
    easel = begun()
    easel.session.make(moves.skip)

    assert on(easel) == ("School", ("socket shadow", "upper lid"), 2)
    assert easel.session.situation().before[0].is_skipped
    assert easel.session.situation().turn_no == 2


@pytest.mark.parametrize("text", ["", "   ", "\n\t"])
def test_an_empty_note_is_not_kept(text: str) -> None:
    easel = begun()
    easel.session.make(moves.noting(text))

    assert easel.session.remark == "An empty note is not kept."
    assert easel.session.situation().notes == ()


def test_a_note_is_kept_harmless_and_a_long_one_is_refused() -> None:
    easel = begun()
    easel.session.make(moves.noting("warm\x1b[31m [red]edge[/]\nlost"))
    easel.session.make(moves.noting("x" * 501))

    assert easel.session.situation().notes == ("warm\ufffd[31m [red]edge[/] lost",)
    assert "501" in easel.session.remark


@pytest.mark.parametrize("move", [moves.pause, moves.rest, moves.skip, moves.end_session])
def test_moves_of_a_session_are_refused_before_it_begins(move: moves.Move) -> None:
    easel = Easel()
    assert not easel.session.make(move)

    assert easel.session.remark == "No session has begun; Space begins one."
    assert [event.kind for event in easel.journal.events] == [Kind.PLAN_READ]


def test_when_all_is_painted_moves_on_a_turn_are_refused_and_the_session_can_end() -> None:
    easel = begun()
    for _ in range(10):
        easel.session.make(moves.go_on)
    for move in (moves.go_on, moves.skip, moves.mark, moves.go_other_way, moves.noting("late")):
        assert not easel.session.make(move)
        assert easel.session.remark == "The work is finished: nothing is left to paint."
    assert easel.session.make(moves.end_session)
    assert not easel.session.make(moves.go_on)

    assert easel.session.situation().phase is Phase.NOT_BEGUN
    assert easel.session.remark == "The work is finished: nothing is left to paint."


def test_a_turn_left_at_the_end_of_a_session_goes_on_in_the_next() -> None:
    easel = begun()
    easel.pass_time(4)
    easel.session.make(moves.end_session)
    easel.pass_time(30)
    easel.session.make(moves.go_on)
    easel.pass_time(1)

    assert easel.session.situation().turn_ms == 5 * MIN


def test_three_canvases_take_every_place_in_turn() -> None:
    text = TWO_CANVASES.replace("{name: School, place: right}", "School, Mill").replace("snake", "rotation")
    easel = Easel(text)
    easel.session.make(moves.go_on)
    seen = []
    for _ in range(9):
        seen.append(on(easel)[0])
        easel.session.make(moves.go_on)

    assert seen == ["Hall", "School", "Mill", "School", "Mill", "Hall", "Mill", "Hall", "School"]


def test_with_one_canvas_every_turn_leads() -> None:
    easel = Easel(TWO_CANVASES.replace(", {name: School, place: right}", ""))
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_on)

    assert on(easel) == ("Hall", ("iris",), 1)


def test_in_a_batch_a_canvas_takes_several_runs_before_the_change() -> None:
    easel = Easel(TWO_CANVASES + "batch: 2\n")
    easel.session.make(moves.go_on)
    seen = []
    for _ in range(6):
        seen.append((on(easel)[0], on(easel)[1][0]))
        easel.session.make(moves.go_on)

    canvases = [canvas for canvas, _ in seen[:4]]
    assert [passage for _, passage in seen[:4]] == ["socket shadow", "iris", "socket shadow", "iris"]
    assert canvases[0] == canvases[1] != canvases[2] == canvases[3]


def test_a_canvas_that_is_away_waits_and_catches_up_when_it_is_back() -> None:
    easel = Easel(TWO_CANVASES + "away: School until 2027-01-20\n")
    easel.session.make(moves.go_on)
    assert on(easel)[0] == "Hall"
    easel.session.make(moves.go_on)
    assert on(easel) == ("Hall", ("iris",), 1)

    easel.source.text = TWO_CANVASES
    easel.session.make(moves.mark)
    assert on(easel) == ("Hall", ("iris",), 1)  # what is in hand stays in hand
    easel.session.make(moves.go_on)
    easel.session.make(moves.go_on)
    assert on(easel) == ("School", ("socket shadow", "upper lid"), 2)


def test_where_only_a_canvas_that_is_away_has_turns_left_go_on_says_so() -> None:
    easel = Easel(TWO_CANVASES + "away: School until 2027-01-20\n")
    for _ in range(6):
        assert easel.session.make(moves.go_on)

    assert not easel.session.make(moves.go_on)
    assert easel.session.remark == "Nothing is left to paint until School is back."
