"""The painter's own pace for the features, as journals tell it."""

import pytest

from coach.review.own_pace import own_pace
from coach.session import moves
from coach.session.journal_state import JournalState, state_of
from tests.sessions import Easel

PLAN = """
canvases: [Hall, School]
limits: {{press: 0 s}}
passes:
  - name: {name}
    passages: [{passages}]
"""


def painted(name: str, minutes: float, *, area: str = ", area: 16 cm2", count: int = 10) -> JournalState:
    """Return the journal of so many passages of 16 cm2, each painted in so many minutes on both canvases."""
    passages = ", ".join(f"{{name: p{number}{area}}}" for number in range(count))
    easel = Easel(PLAN.format(name=name, passages=passages))
    easel.session.make(moves.go_on)
    for _ in range(2 * count):
        easel.pass_time(minutes)
        easel.session.make(moves.go_on)
    return state_of(easel.journal.events)


def test_a_painter_who_takes_twice_the_guess_for_a_neck_is_known_by_it() -> None:
    """16 cm2: 1.5 x 16^0.6 = 7.9, an edge of 7 x 4 = 28 cm 7 more, 1.25 times that for a neck: 18.6 minutes."""
    found = own_pace([painted("neck", 2 * 18.6)])

    assert found["neck"] == pytest.approx(2, abs=0.1)
    assert 1.3 < found["eyes"] < 2  # a feature that was never painted lies between this painter and the usual one


def test_who_takes_less_is_known_by_that_too_and_several_journals_count_together() -> None:
    slow, quick = painted("neck", 2 * 18.6), painted("elder neck", 18.6)

    assert own_pace([quick])["neck"] < own_pace([slow, quick])["neck"] < own_pace([slow])["neck"]


@pytest.mark.parametrize(
    "state",
    [
        JournalState(),
        painted("neck", 37, count=2),
        painted("neck", 37, area=""),
        painted("block-in", 37),
        painted("waistcoat", 37),
    ],
)
def test_journals_that_tell_too_little_change_nothing(state: JournalState) -> None:
    assert own_pace([state]) == {}
