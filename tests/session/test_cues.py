"""What is heard: each moment once, and nothing for moments that were there before."""

from coach.session import moves
from coach.session.cues import Cue, Cues
from tests.sessions import TWO_CANVASES, Easel


def heard(easel: Easel, cues: Cues, *minutes: float) -> list[Cue | None]:
    found = []
    for some in minutes:
        easel.pass_time(some)
        found.append(cues.heard(easel.session.situation()))
    return found


def test_a_turn_is_heard_once_when_it_is_over_its_time() -> None:
    easel, cues = Easel(), Cues()
    easel.session.make(moves.go_on)
    assert heard(easel, cues, 0, 22, 2, 1) == [None, None, Cue.TURN_OVER, None]  # the run is planned for 23 min
    easel.session.make(moves.go_on)
    assert heard(easel, cues, 1) == [None]


def test_a_rest_is_heard_when_it_is_due_and_when_it_is_over() -> None:
    easel, cues = Easel(TWO_CANVASES.replace("press: 0 s", "press: 0 s, standing: 3 h")), Cues()
    easel.session.make(moves.go_on)
    assert heard(easel, cues, 49, 2, 1) == [None, Cue.REST_DUE, None]
    easel.session.make(moves.rest)
    assert heard(easel, cues, 1, 8, 2, 1) == [None, None, Cue.REST_OVER, None]


def test_a_pause_that_goes_on_is_not_heard() -> None:
    easel, cues = Easel(), Cues()
    easel.session.make(moves.go_on)
    easel.session.make(moves.pause)
    assert heard(easel, cues, 0, 30, 30) == [None] * 3
