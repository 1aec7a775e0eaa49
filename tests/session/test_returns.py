"""Corrections: what was marked for return comes again at the end, and its lead is shared like any other."""

from coach.session import moves
from coach.session.work import turns_ahead, work_of
from tests.sessions import Easel

Seen = tuple[str, int, str, int]


def painted(easel: Easel, marked: set[Seen]) -> list[Seen]:
    """Paint until nothing is left, marking these turns, and return the turns in order."""
    easel.session.make(moves.go_on)
    seen: list[Seen] = []
    while (turn := easel.session.situation().turn) is not None:
        seen.append((turn.pass_name, turn.run, turn.canvas, turn.place))
        if seen[-1] in marked:
            easel.session.make(moves.mark)
        easel.session.make(moves.go_on)
        assert len(seen) < 100
    return seen


def test_a_marked_turn_comes_again_on_its_canvas_alone_after_everything_else() -> None:
    plain = painted(Easel(), set())
    second = plain[3]

    seen = painted(Easel(), {second})

    assert seen[: len(plain)] == plain
    assert seen[len(plain) :] == [(f"return to {second[0]}", second[1], second[2], 1)]


def test_a_run_marked_on_both_canvases_comes_again_as_one_run_with_a_lead() -> None:
    plain = painted(Easel(), set())
    seen = painted(Easel(), {plain[0], plain[1]})[len(plain) :]

    assert {canvas for _, _, canvas, _ in seen} == {"Hall", "School"}
    assert [place for *_, place in seen] == [1, 2]


def test_a_return_marked_again_comes_once_more() -> None:
    plain = painted(Easel(), set())
    pass_name, run, canvas, _ = plain[0]
    again = (f"return to {pass_name}", run, canvas, 1)

    seen = painted(Easel(), {plain[0], again})[len(plain) :]

    assert seen == [again, (f"return to return to {pass_name}", run, canvas, 1)]


def test_a_lone_return_is_no_lead_and_two_share_theirs() -> None:
    easel = Easel()
    plain = painted(easel, set())
    leads = easel.session.situation().leads

    lone = Easel()
    painted(lone, {plain[2]})
    assert lone.session.situation().leads == leads

    both = Easel()
    seen = painted(both, set(plain[:8]))[len(plain) :]
    led = [canvas for *_, canvas, place in seen if place == 1]
    assert sorted(led) == ["Hall", "Hall", "School", "School"]
    assert sum(both.session.situation().leads) == sum(leads) + 4


def test_the_count_of_turns_grows_by_the_return_and_shrinks_when_the_mark_is_undone() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    before = easel.session.situation().turn_count
    easel.session.make(moves.mark)
    easel.session.make(moves.go_on)
    assert easel.session.situation().turn_count == before + 1
    assert "comes again on" in easel.session.situation().of_order

    easel.session.make(moves.undo)
    easel.session.make(moves.undo)
    easel.session.make(moves.go_on)
    assert easel.session.situation().turn_count == before


def test_what_was_skipped_with_a_mark_comes_again() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.session.make(moves.mark)
    easel.session.make(moves.skip)
    work = work_of(easel.plan, easel.session._state.places, marks=easel.session._state.marks)

    assert list(turns_ahead(work, easel.session._state.places))[-1].pass_name == "return to eyes"


def test_returns_survive_a_kill_and_a_new_session() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    easel.session.make(moves.mark)
    easel.session.make(moves.go_on)
    easel.session.make(moves.end_session)
    easel.session.make(moves.go_on)
    count = easel.session.situation().turn_count

    easel.reopen()
    assert easel.session.situation().turn_count == count
    assert len(easel.session.state.marks) > 0


def test_a_mark_on_what_vanished_from_the_plan_brings_nothing_back() -> None:
    easel = Easel()
    easel.session.make(moves.go_on)
    turn = easel.session.situation().turn
    assert turn is not None
    marks = {("eyes", "gone", "Hall"): None, ("eyes", turn.passages[0], "Attic"): None}
    assert work_of(easel.plan, {}, marks=marks).runs == easel.plan.runs
