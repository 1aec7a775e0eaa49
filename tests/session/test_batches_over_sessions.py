"""Whatever was done in the sessions before, the rest is planned as it was shown when the last one ended."""

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from coach.order.batches import batches_to_order
from coach.order.request import OrderRequest
from coach.plan.strategy import ORDERS
from coach.session import moves
from coach.session.journal_state import JournalState
from coach.session.ordering import planned_orders, request_of
from coach.session.work import groups_ahead, runs_of_work
from tests.sessions import Easel

PLAN = """
canvases: [{canvases}]
order: {order}
batch: {batch}
passes:
  - {{name: eyes, passages: [{{name: lid, minutes: 12}}, iris, lash, brow, corner, glint]}}
  - {{name: nose, passages: [wing, tip, bridge]}}
"""
MOVES = {
    "go on": moves.go_on,
    "other way": moves.go_other_way,
    "skip": moves.skip,
    "mark": moves.mark,
    "undo": moves.undo,
    "end": moves.end_session,
}


def easel_with(order: str, batch: int, canvases: str = "Hall, School") -> Easel:
    """Return an easel with nine runs to paint."""
    return Easel(PLAN.format(order=order, batch=batch, canvases=canvases))


def asked(easel: Easel) -> OrderRequest:
    """Return what the engine would be asked now."""
    state = easel.session.state
    return request_of(runs_of_work(easel.plan, state, frozenset()), state, {})


def check_reopened(easel: Easel) -> None:
    """Check that a coach that reads the journal plans the rest as it was shown."""
    live = easel.session
    easel.reopen()
    again = easel.session

    assert again._work.orders == live._work.orders
    groups = [list(groups_ahead(session._work, session._state.places)) for session in (live, again)]
    assert groups[0] == groups[1]


def test_a_run_painted_before_the_batch_in_hand_takes_no_room_in_it() -> None:
    """Run 1 is closed out of turn, so that a batch of three begins at run 2, which is begun by the same canvas."""
    easel = easel_with("fixed", 3)
    for name in ("go on", "go on", "other way", "go on", "go on", "end", "go on"):
        easel.session.make(MOVES[name])
    work, places = easel.session._work, easel.session._state.places
    request = asked(easel)

    assert (request.history[-1].order, request.runs[0].begun, work.run_no) == ((0, 1), (0,), 1)
    assert request.batch_done_count == 0
    assert [batch.run_count for batch in batches_to_order(request)] == [3, 2, 3]
    assert list(groups_ahead(work, places)) == [[1, 2, 3], [4, 5], [6, 7, 8]]


def test_the_runs_of_the_batch_in_hand_that_are_over_are_told_to_the_engine() -> None:
    easel = easel_with("fixed", 3)
    counts = []
    for _ in range(8):
        easel.session.make(moves.go_on)
        counts.append(asked(easel).batch_done_count)

    assert counts == [0, 0, 0, 0, 1, 2, 0, 0]


def test_a_run_that_a_canvas_catches_up_later_ended_last() -> None:
    easel = easel_with("fixed", 1)
    turns = [("lid", "Hall"), ("iris", "Hall"), ("iris", "School"), ("lid", "School")]
    state = JournalState()
    state.places = {("eyes", name, canvas): 1 for name, canvas in turns}
    runs = runs_of_work(easel.plan, state, frozenset())
    request, done = request_of(runs, state, {}), runs.done

    assert done.painted == {1: [0, 1], 0: [0, 1]}
    assert list(done.painted) == [1, 0]
    assert done.spans == {0: (0, 3), 1: (1, 2)}
    assert [run.weight for run in request.history] == [easel.plan.runs[no].weighted_s for no in (1, 0)]


@pytest.mark.parametrize("canvases", ["Hall, School", "Hall, School, Mill", "Hall, School, Mill, Barn"])
@settings(max_examples=120, deadline=None)
@given(
    st.sampled_from([*ORDERS]),
    st.integers(1, 3),
    st.lists(st.sampled_from([*MOVES, "go on", "go on", "go on", "reopen"]), max_size=40),
)
@example("snake", 2, ["go on", "skip", "go on", "go on"])
@example("mirror", 2, ["go on", "go on", "go on", "go on"])
@example("mirror", 2, ["go on", "go on", "other way", "skip", "skip", "go on"])
@example("fixed", 3, ["go on", "go on", "go on", "other way", "go on", "go on", "go on"])
@example("williams", 4, [*["go on"] * 4, "other way", "go on", "other way", "go on", "mark", "go on", "go on"])
def test_over_sessions_live_and_replay_plan_the_same(canvases: str, order: str, batch: int, done: list[str]) -> None:
    easel = easel_with(order, batch, canvases)
    for name in done:
        easel.clock.go(seconds=20)
        if name == "reopen":
            check_reopened(easel)
        else:
            easel.session.make(MOVES[name])
    easel.session.make(moves.end_session)
    easel.session.make(moves.go_on)
    check_reopened(easel)


def test_runs_that_a_canvas_catches_up_alone_are_neither_led_nor_followed() -> None:
    """Hall paints three runs while School is away; School catches up: no run of them counts as led by Hall."""
    easel = easel_with("even turns", 1)
    names = [run.passages[0].name for run in easel.plan.runs[:4]]
    turns = [*((name, "Hall") for name in names[:3]), *((name, "School") for name in names[:2])]
    state = JournalState()
    pass_of = {run.passages[0].name: run.pass_name for run in easel.plan.runs}
    state.places = {(pass_of[name], name, canvas): 1 for name, canvas in turns}
    runs = runs_of_work(easel.plan, state, frozenset())
    request = request_of(runs, state, {})

    assert [run.order for run in request.history] == [(0,), (1,), (0,), (1,)]
    assert (request.runs[0].begun, request.runs[0].away) == ((), frozenset({0}))
    orders, _ = planned_orders(runs, state, {})
    assert orders[:3] == ((0, 1),) * 3
