"""A replay of the journal shows what was shown live, whatever was done at the easel."""

from hypothesis import given, settings
from hypothesis import strategies as st

from coach.session import moves
from tests.sessions import TWO_CANVASES, Easel

MOVES = {
    "go on": moves.go_on,
    "other way": moves.go_other_way,
    "skip": moves.skip,
    "mark": moves.mark,
    "undo": moves.undo,
    "pause": moves.pause,
    "end": moves.end_session,
}
FINER = TWO_CANVASES.replace(", minutes: 10}", ", minutes: 11}")


@settings(max_examples=60, deadline=None)
@given(st.lists(st.sampled_from([*MOVES, "edit"]), max_size=40))
def test_live_and_replay_are_the_same(done: list[str]) -> None:
    easel = Easel()
    for name in done:
        easel.clock.go(seconds=20)
        if name == "edit":
            easel.source.text = FINER if easel.source.text == TWO_CANVASES else TWO_CANVASES
        else:
            easel.session.make(MOVES[name])
    easel.session.make(moves.pause)
    replayed = easel.opened(read_only="only looking")

    live = easel.session.situation()
    assert replayed.situation() == live
    assert replayed._work.orders == easel.session._work.orders
