"""Whatever was done in the sessions before, the rest is planned as it was shown when the last one ended."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.session import moves
from coach.session.work import groups_ahead
from tests.sittings import Easel

PLAN = """
canvases: [{canvases}]
order: {order}
batch: {batch}
passes:
  - {{name: eyes, passages: [lid, iris, lash, brow, corner, glint]}}
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


def check_reopened(easel: Easel) -> None:
    """Check that a coach that reads the journal without a memo plans the rest as it was shown."""
    live = easel.sitting
    easel.reopen()
    again = easel.sitting

    assert again._work.orders == live._work.orders
    groups = [list(groups_ahead(sitting._work, sitting._progress.places)) for sitting in (live, again)]
    assert groups[0] == groups[1]


@pytest.mark.parametrize("canvases", ["Hall, School", "Hall, School, Mill"])
@settings(max_examples=60, deadline=None)
@given(
    st.sampled_from(["fixed", "snake", "mirror", "rotation"]),
    st.integers(1, 3),
    st.lists(st.sampled_from([*MOVES, "go on", "go on", "go on", "reopen"]), max_size=40),
)
def test_over_sessions_live_and_replay_plan_the_same(canvases: str, order: str, batch: int, done: list[str]) -> None:
    easel = easel_with(order, batch, canvases)
    for name in done:
        easel.clock.go(seconds=20)
        if name == "reopen":
            check_reopened(easel)
        else:
            easel.sitting.make(MOVES[name])
    easel.sitting.make(moves.end_session)
    easel.sitting.make(moves.go_on)
    check_reopened(easel)
