"""What comparisons tell over days."""

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.compare.findings import Compared
from coach.journal.compared import KeptAllOver, KeptComparison, KeptPhoto, KeptShift
from coach.journal.events import in_force
from coach.journal.reading import Reading
from coach.plan.commission import Plan
from coach.review.comparison_history import (
    ALL_OVER,
    ComparisonHistory,
    DifferenceHistory,
    Standing,
    comparison_history,
    taken,
)
from coach.session import moves
from coach.session.comparing import mark_for_return, mean_it, mean_it_no_more, record_comparison
from coach.session.journal_state import JournalState, state_of
from coach.session.moves import Move
from coach.session.records import ComparisonRecord
from tests.comparisons import PAIR, compared, painted, photos, read_as
from tests.sessions import TWO_CANVASES, Easel


def told(easel: Easel) -> ComparisonHistory:
    """Return the history that a journal tells now."""
    return comparison_history(easel.plan, easel.session.state)


def named(easel: Easel, name: str = "iris") -> DifferenceHistory:
    """Return the history of a passage or feature."""
    (found,) = [one for one in told(easel).differences if one.passage == name]
    return found


def after(*sizes: float, moved_mm: Sequence[float] = ()) -> Easel:
    """Return a sitting whose iris was compared hour by hour with these differences."""
    easel = painted(6)
    for number, size in enumerate(sizes):
        easel.clock.go(minutes=24 * 60)
        shift = moved_mm[number] if moved_mm else 0.0
        assert easel.session.make(record_comparison(compared([read_as("iris", size)], shift), photos(24 * number)))
    return easel


@pytest.mark.parametrize(
    ("sizes", "standing", "growing", "words"),
    [
        ((0.5,), Standing.AGREES, False, "agrees"),
        ((3.1,), Standing.OUT, False, "Hall is lighter than School"),
        ((1.9, 2.4, 4.0), Standing.OUT, True, "Hall is lighter than School, more than on 15 Jan"),
        ((3.1, 0.5), Standing.MENDED, False, "out on 15 Jan, mended by 16 Jan"),
        ((0.2, 0.8, 1.7), Standing.DRIFTS, True, "drifts apart: less alike than on 15 Jan"),
        ((0.2, 1.5), Standing.AGREES, False, "agrees"),
    ],
)
def test_a_difference_is_out_or_mended_or_drifts(
    sizes: tuple[float, ...], standing: Standing, growing: bool, words: str
) -> None:
    found = named(after(*sizes))
    assert (found.standing, found.growing, found.words) == (standing, growing, words)
    assert [day.difference for day in found.days] == list(sizes)


def test_what_is_meant_so_is_silent_until_it_is_taken_back() -> None:
    easel = after(3.1)
    easel.session.make(mean_it("eyes", "iris", PAIR))
    assert named(easel).standing is Standing.MEANT
    assert told(easel).sentences == (
        "Canvases compared once, last on 15 Jan: nothing is out.",
        "Meant so: iris (eyes).",
    )

    easel.session.make(mean_it_no_more("eyes", "iris", PAIR))
    assert named(easel).standing is Standing.OUT


def test_a_passage_marked_for_return_comes_again_and_is_compared_once_more_when_it_is_painted() -> None:
    easel = after(3.1)
    easel.session.make(mark_for_return("eyes", "iris", "School"))
    assert (named(easel).standing, named(easel).words) == (Standing.MARKED, "comes again on School")
    assert told(easel).sentences == ("Canvases compared once, last on 15 Jan.", "To come again: iris (eyes).")
    while easel.session.situation().turn is not None:
        easel.clock.go(minutes=9)
        easel.session.make(moves.go_on)
    assert named(easel).standing is Standing.REPAINTED
    assert named(easel).words.startswith("painted again on 16 Jan: compare it again")

    easel.session.make(record_comparison(compared([read_as("iris", 0.6)], 0.0), photos(26)))
    assert named(easel).standing is Standing.MENDED


def test_a_feature_that_is_named_no_more_is_mended() -> None:
    easel = after(0.4, 0.4, 0.4, moved_mm=(5.0, 0.0, 0.0))
    assert named(easel, "left eye").standing is Standing.MENDED
    assert [day.difference for day in named(easel, "left eye").days] == [5.0, 0.0, 0.0]
    assert (
        named(after(0.4, 0.4, moved_mm=(3.0, 7.0)), "left eye").words == "left eye: further right, more than on 15 Jan"
    )


def test_landmarks_and_what_is_common_to_all_are_told_where_they_were_looked_at() -> None:
    state, at = JournalState(), Reading(1_800_000_000_000, 3600, 0, "one")
    far, near = KeptShift("chin", "Hall", 4.0, 0.0, "chin: lower"), KeptShift("chin", "Hall", 1.0, 0.0, "")
    dark = KeptAllOver(3.0, (-3.0, 0.0, 0.0), True, "Hall is darker all over")
    for number, (landmarks, all_over) in enumerate([((far,), dark), ((), None), ((near,), dark)]):
        found = KeptComparison(PAIR, photos(number), 0.8, (), all_over=all_over, landmarks=landmarks)
        state.comparisons.append(ComparisonRecord(at, found))
    history = {one.passage: one for one in comparison_history(None, state).differences}

    assert (history["chin"].standing, len(history["chin"].days)) == (Standing.MENDED, 2)
    assert (history[ALL_OVER].standing, history[ALL_OVER].growing) == (Standing.OUT, False)


def test_photos_compared_twice_count_as_they_were_compared_last() -> None:
    easel = after(3.1)
    easel.session.make(record_comparison(compared([read_as("iris", 1.0)], 0.0), photos()))
    assert (told(easel).comparisons, named(easel).standing) == (1, Standing.AGREES)


def test_a_comparison_is_of_the_day_its_photos_were_taken_and_never_of_one_to_come() -> None:
    at = Reading(wall_ms=1_800_000_000_000, offset_s=3600, elapsed_ms=0, boot="one")

    def day(*times: str) -> str:
        found = KeptComparison(PAIR, tuple(KeptPhoto("one.jpg", "0" * 64, time) for time in times), 0.8, ())
        return taken(ComparisonRecord(at, found)).isoformat()

    assert day("2027-01-10T10:00:00+01:00", "2027-01-10T10:04:00+01:00") == "2027-01-10T10:04:00+01:00"
    assert day("2031-01-10T10:00:00+01:00") == day("") == day() == "2027-01-15T09:00:00+01:00"


def test_the_sentences_name_what_is_out_first_and_are_none_before_the_first_comparison() -> None:
    assert told(painted(4)).sentences == ()
    easel = painted(4)
    first = compared([read_as("iris"), read_as("upper lid", 0.2), read_as("socket shadow")], 0.0)
    easel.session.make(record_comparison(first, photos()))
    easel.clock.go(minutes=3000)
    second = compared([read_as("iris"), read_as("upper lid", 1.7), read_as("socket shadow", 0.4)], 0.0)
    easel.session.make(record_comparison(second, photos(48)))
    assert told(easel).sentences == (
        "Canvases compared twice, last on 17 Jan: 1 difference is out.",
        "iris (eyes): Hall is lighter than School.",
        "upper lid (eyes): drifts apart: less alike than on 15 Jan.",
        "Mended: socket shadow (eyes).",
    )


def test_a_passage_that_is_gone_from_the_plan_is_out_no_more() -> None:
    easel = after(3.1)
    easel.source.text = TWO_CANVASES.replace("name: iris,", "name: pupil and iris,")
    easel.session.tick()
    assert easel.session.plan.passes[0].passages[2].name == "pupil and iris"
    assert (named(easel).standing, named(easel).words) == (Standing.GONE, "no longer in the plan")
    assert comparison_history(None, easel.session.state).differences[0].standing is Standing.OUT


NAMES = ("socket shadow", "upper lid", "iris", "lash line")
SHAPES = st.lists(
    st.builds(read_as, st.sampled_from(NAMES), st.floats(0, 9)), max_size=3, unique_by=lambda one: one.passage
)


def _comparison(shapes: list[Compared], number: int, mm: float) -> Move:
    return record_comparison(compared(shapes, mm), photos(number))


MOVES = st.one_of(
    st.builds(_comparison, SHAPES, st.integers(0, 6), st.sampled_from([0.0, 4.0])),
    st.builds(mean_it, st.just("eyes"), st.sampled_from(NAMES), st.just(PAIR)),
    st.builds(mean_it, st.just(""), st.just("left eye"), st.just(PAIR)),
    st.builds(mean_it_no_more, st.just("eyes"), st.sampled_from(NAMES), st.just(PAIR)),
    st.builds(mark_for_return, st.just("eyes"), st.sampled_from(NAMES), st.sampled_from(PAIR)),
    st.sampled_from([moves.go_on, moves.skip, moves.mark, moves.undo, moves.end_session]),
)
EDITS = st.sampled_from(["", "name: iris,", "name: lash line,"])


@given(st.lists(st.tuples(MOVES, EDITS, st.booleans()), max_size=25))
def test_undo_edits_and_kills_leave_what_the_events_say(steps: list[tuple[Move, str, bool]]) -> None:
    """After every step the service shows what the whole journal tells, and every mark that stands comes again."""
    easel = Easel()
    for move, edit, is_killed in steps:
        easel.clock.go(minutes=7)
        easel.source.text = TWO_CANVASES.replace(edit, "name: other,") if edit else TWO_CANVASES
        easel.session.press(move)
        if is_killed:
            easel.reopen()
        state = state_of(in_force(easel.journal.events), easel.plan.limits)
        assert (state.comparisons, state.meant, state.marks) == _kept(easel.session.state)
        _check(easel.plan, state)
        _check_marks(easel)


def _kept(state: JournalState) -> tuple[object, object, object]:
    return state.comparisons, state.meant, state.marks


def _check(plan: Plan, state: JournalState) -> None:
    known = {own.name for one in plan.passes for own in one.passages}
    for one in comparison_history(plan, state).differences:
        assert (one.standing is Standing.GONE) == (bool(one.pass_) and one.passage not in known)
        assert one.standing not in {Standing.OUT, Standing.MARKED, Standing.REPAINTED} or one.days[-1].called
        assert [day.when for day in one.days] == sorted(day.when for day in one.days)
        assert one.words


def _check_marks(easel: Easel) -> None:
    """Whatever is marked and in the plan stands among the runs, on its canvas."""
    work, state = easel.session.work, easel.session.state
    known = {(one.name, own.name) for one in easel.session.plan.passes for own in one.passages}
    for pass_name, passage, canvas in state.marks:
        if (pass_name.removeprefix("return to ").removeprefix("return to "), passage) in known:
            assert any(
                run.pass_name == f"return to {pass_name}" and passage in run.passage_names and canvas in run.canvases
                for run in work.runs
            )
