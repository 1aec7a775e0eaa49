"""One press, one turn: a held key, a resting foot, a bouncing pedal."""

import pytest

from coach.journal.events import Kind
from coach.session import moves
from tests.sessions import TWO_CANVASES, Easel


def counted(easel: Easel, gaps_ms: list[int]) -> list[bool]:
    """Press a go-on key after each of the gaps and return which presses counted."""
    done = []
    for gap_ms in gaps_ms:
        easel.clock.go(seconds=gap_ms / 1000)
        done.append(easel.session.press(moves.go_on))
    return done


def guarded(press: str = "press: 0.7 s") -> Easel:
    return Easel(TWO_CANVASES.replace("press: 0 s", press))


@pytest.mark.parametrize(
    ("gaps_ms", "which"),
    [
        pytest.param([0, 700, 700], [True, True, True], id="presses that far apart all count"),
        pytest.param([0, 699, 700], [True, False, True], id="one that bounced does not, and the next does"),
        pytest.param([0, 500, 500, 500], [True, False, False, False], id="refused keys keep the next from counting"),
        pytest.param([0, 30, 30, 700, 1499, 1500], [True, False, False, False, False, True], id="after two, 1.5 s"),
        pytest.param([0, 30, 30, 1500, 700], [True, False, False, True, True], id="and then as at first"),
    ],
)
def test_a_go_on_counts_only_after_quiet(gaps_ms: list[int], which: list[bool]) -> None:
    assert counted(guarded(), gaps_ms) == which


def test_sixty_keys_in_two_seconds_are_one_press_and_the_screen_says_so() -> None:
    easel = guarded()
    easel.session.press(moves.go_on)
    easel.pass_time(5)

    assert counted(easel, [33] * 60) == [True, *[False] * 59]
    assert [event.kind for event in easel.journal.events].count(Kind.TURN_DONE) == 1
    assert easel.session.remarks[0] == "Held down: counted once."


def test_other_keys_are_not_held_back_and_do_not_break_the_quiet() -> None:
    easel = guarded()
    easel.session.press(moves.go_on)
    assert easel.session.press(moves.mark)
    assert easel.session.press(moves.pause)
    assert counted(easel, [700]) == [True]


@pytest.mark.parametrize(
    ("press", "gaps_ms", "which"),
    [
        ("press: 0 s", [0, 0, 0], [True, True, True]),
        ("press: 3 s", [0, 2999, 2999, 2999, 3000], [True, False, False, False, True]),
        ("press: 0.2 s", [0, 200, 10, 10, 1499, 1500], [True, True, False, False, False, True]),
    ],
)
def test_the_plan_says_how_long_the_quiet_is(press: str, gaps_ms: list[int], which: list[bool]) -> None:
    assert counted(guarded(press), gaps_ms) == which
