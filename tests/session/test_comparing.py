"""What a comparison of canvases brings: it is kept, differences are meant so, passages come again on one canvas."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.compare.findings import Comparison
from coach.journal.compared import KeptShift, difference_between
from coach.journal.events import Kind
from coach.session import moves
from coach.session.comparing import mark_for_return, mean_it, mean_it_no_more, record_comparison
from tests.comparisons import PAIR, compared, painted, photos, read_as
from tests.sessions import TWO_CANVASES, Easel

PHOTOS = photos()
IRIS = read_as("iris")


def turns_left(easel: Easel) -> list[tuple[str, tuple[str, ...], str]]:
    """Paint what is left and return it."""
    seen = []
    while (turn := easel.session.situation().turn) is not None:
        seen.append((turn.pass_name, turn.passages, turn.canvas))
        easel.session.make(moves.go_on)
        assert len(seen) < 100
    return seen


def test_a_comparison_is_kept_with_its_photos_through_a_kill_and_taken_back_by_u() -> None:
    easel = painted(2)
    landmark = KeptShift("tip of the nose", "School", -3.2, 0.4, "tip of the nose: 3 mm further left")

    assert easel.session.make(record_comparison(compared([IRIS]), PHOTOS, (landmark,)))
    assert easel.session.remark == "Kept: Hall and School compared."
    easel.reopen()
    (record,) = easel.session.state.comparisons
    assert (record.found.photos, record.found.landmarks, record.found.light_ratio) == (PHOTOS, (landmark,), 0.82)
    assert record.found.passages[0].lab_difference == (3.0, 0.2, -0.1)
    assert [one.passage for one in record.found.left_out] == ["wing"]

    easel.session.make(moves.undo)
    assert easel.session.remark == "Taken back: the comparison."
    easel.reopen()
    assert easel.session.state.comparisons == []


def test_the_same_photos_are_kept_again_only_where_they_tell_something_else() -> None:
    easel = painted(2)
    assert easel.session.make(record_comparison(compared([IRIS]), PHOTOS))
    assert not easel.session.make(record_comparison(compared([IRIS]), PHOTOS[::-1]))
    assert easel.session.remark == "These photos are compared and kept already."
    assert easel.session.make(record_comparison(compared([read_as("iris", 2.9)]), PHOTOS))


@pytest.mark.parametrize(
    ("found", "said"),
    [
        (
            compared(exchanged=False),
            "Not kept: without two photos in which the canvases are exchanged there is no verdict.",
        ),
        (compared(canvases=("Hall", "Attic")), "The plan has no canvas Attic."),
        (compared([read_as("iris", float("nan"))]), "Not kept: the comparison holds a figure that is no number."),
    ],
)
def test_what_no_journal_can_hold_is_not_kept(found: Comparison, said: str) -> None:
    easel = painted(2)
    assert not easel.session.make(record_comparison(found, PHOTOS))
    assert easel.session.remark == said


def test_what_is_meant_so_stays_so_until_it_is_taken_back_whichever_canvas_is_named_first() -> None:
    easel = painted(2)
    assert easel.session.make(mean_it("eyes", "iris", PAIR))
    assert easel.session.remark == "iris is meant so: it is named no more."
    assert not easel.session.make(mean_it("eyes", "iris", PAIR[::-1]))
    easel.session.make(moves.end_session)
    easel.reopen()
    assert difference_between("eyes", "iris", PAIR) in easel.session.state.meant

    assert easel.session.make(mean_it_no_more("eyes", "iris", PAIR[::-1]))
    assert not easel.session.state.meant
    assert not easel.session.make(mean_it_no_more("eyes", "iris", PAIR))
    easel.session.make(moves.undo)
    assert difference_between("eyes", "iris", PAIR) in easel.session.state.meant


@pytest.mark.parametrize(
    ("pass_", "name", "canvases", "said"),
    [
        ("eyes", "brow", PAIR, "The plan has no passage brow in eyes."),
        ("eyes", "iris", ("Hall", "Attic"), "The plan has no canvas Attic."),
        ("eyes", "iris", ("Hall", "Hall"), "What is meant so differs between two canvases; name two."),
        ("", "left ear", PAIR, "left ear was not compared."),
    ],
)
def test_only_what_can_differ_is_meant_so(pass_: str, name: str, canvases: tuple[str, ...], said: str) -> None:
    easel = painted(2)
    easel.session.make(record_comparison(compared(), PHOTOS))
    assert easel.session.make(mean_it("", "left eye", PAIR))
    assert not easel.session.make(mean_it(pass_, name, canvases))
    assert easel.session.remark == said


def test_a_passage_comes_again_on_one_canvas_while_another_turn_is_in_hand_which_stays() -> None:
    easel = painted(4)
    turn = easel.session.situation().turn
    plain = turns_left(painted(4))

    assert easel.session.make(mark_for_return("eyes", "upper lid", "School"))
    assert easel.session.remark == "upper lid on School comes again."
    assert easel.session.situation().turn == turn
    easel.reopen()
    assert easel.session.situation().turn == turn
    assert not easel.session.make(mark_for_return("eyes", "upper lid", "School"))
    assert easel.session.remark == "upper lid comes again already on School."
    assert turns_left(easel) == [*plain, ("return to eyes", ("upper lid",), "School")]

    assert easel.session.make(mark_for_return("eyes", "upper lid", "School"))
    assert turns_left(easel) == [("return to return to eyes", ("upper lid",), "School")]


def test_a_mark_for_return_is_taken_back_by_u() -> None:
    easel = painted(4)
    before = easel.session.situation()
    easel.session.make(mark_for_return("eyes", "upper lid", "School"))
    assert easel.session.situation().turn_count == before.turn_count + 1

    easel.session.make(moves.undo)
    assert easel.session.remark == "Taken back: upper lid on School was to come again."
    assert easel.session.situation() == before


@pytest.mark.parametrize(
    ("pass_", "name", "canvas", "said"),
    [
        ("eyes", "lash line", "School", "lash line is not painted yet on School."),
        ("eyes", "brow", "School", "The plan has no passage brow in eyes."),
        ("eyes", "upper lid", "Attic", "The plan has no canvas Attic."),
    ],
)
def test_only_what_is_painted_is_marked_for_return(pass_: str, name: str, canvas: str, said: str) -> None:
    easel = painted(2)
    assert not easel.session.make(mark_for_return(pass_, name, canvas))
    assert easel.session.remark == said


def test_nothing_comes_again_on_a_canvas_that_is_handed_over() -> None:
    easel = Easel(TWO_CANVASES)
    easel.session.make(moves.go_on)
    turns_left(easel)
    easel.session.make(moves.following("Hall", Kind.HANDED_OVER))
    assert not easel.session.make(mark_for_return("eyes", "upper lid", "Hall"))
    assert easel.session.remark == "Hall has left the studio; nothing comes again on it."
    assert easel.session.make(mark_for_return("eyes", "upper lid", "School"))
    turn = easel.session.situation().turn
    assert turn is not None
    assert (turn.pass_name, turn.passages, turn.canvas) == ("return to eyes", ("upper lid",), "School")


STRATEGIES = ("even turns", "there and back", "by rotation", "by lot", "always the same")


@given(
    strategy=st.sampled_from(STRATEGIES),
    batch=st.integers(1, 3),
    canvases=st.sampled_from(["[Hall, School]", "[North, Harbour, Mill]"]),
    turns=st.integers(1, 14),
    which=st.integers(0, 20),
    is_over=st.booleans(),
)
def test_a_mark_for_return_leaves_the_turn_in_hand_and_u_leaves_all_as_it_was(  # noqa: PLR0917  what is drawn
    strategy: str, batch: int, canvases: str, turns: int, which: int, is_over: bool
) -> None:
    plan = TWO_CANVASES.replace("order: snake", f"order: {strategy}\nbatch: {batch}").replace(
        "[{name: Hall, place: left}, {name: School, place: right}]", canvases
    )
    easel = Easel(plan)
    for _ in range(turns + 1):
        easel.session.make(moves.go_on)
        easel.clock.go(minutes=7)
    if is_over:
        easel.session.make(moves.end_session)
    before, orders = easel.session.situation(), easel.session.work.orders
    done = [shape for shape in easel.session.state.places if not shape[0].startswith("return")]
    pass_name, passage, canvas = done[which % len(done)]

    assert easel.session.make(mark_for_return(pass_name, passage, canvas))
    after = easel.session.situation()
    assert (after.turn, after.turn_count) == (before.turn or after.turn, before.turn_count + 1)
    assert easel.session.work.orders[: len(orders)] == orders
    others = [shape for shape in done if shape[:2] == (pass_name, passage) and shape[2] != canvas]
    for _, _, other in others:
        easel.session.make(mark_for_return(pass_name, passage, other))
        assert easel.session.work.orders[: len(orders)] == orders
        assert easel.session.situation().turn == after.turn or before.turn is None
        easel.session.make(moves.undo)
    easel.reopen()
    assert easel.session.situation().turn == after.turn
    easel.session.make(moves.undo)
    easel.reopen()
    assert (easel.session.situation().turn, easel.session.work.orders) == (before.turn, orders)

    for _, _, own in [(pass_name, passage, canvas), *others]:
        easel.session.make(mark_for_return(pass_name, passage, own))
    again = {turn for turn in turns_left(easel) if turn[0] == f"return to {pass_name}"}
    assert again == {(f"return to {pass_name}", (passage,), own) for own in (canvas, *(name for _, _, name in others))}
