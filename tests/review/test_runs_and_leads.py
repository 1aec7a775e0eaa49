"""Runs from the turns of a journal, and how evenly their lead was shared."""

from dataclasses import replace
from itertools import product
from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.errors import CoachError
from coach.journal.events import Turn
from coach.journal.reading import Reading
from coach.review.fairness.lead_balance import lead_balance
from coach.review.fairness.report import report, report_painted
from coach.review.fairness.run_times import runs_painted
from coach.session import moves
from coach.session.journal_state import state_of
from coach.session.records import TurnRecord
from tests.sessions import Easel
from tests.simulated_runs import THREE, TWO, led, one_run


@pytest.mark.parametrize(
    ("minutes", "answer", "sentence"),
    [
        (
            {"Hall": [50, 51], "School": [49, 50]},
            "yes",
            "Hall led 2 times, School 2: two minutes apart in seven hours.",
        ),
        ({"Hall": [50, 50], "School": [50, 50]}, "yes", "Hall led 2 times, School 2: the same minutes."),
        (
            {"Hall": [52, 52, 1], "School": [48, 48, 1]}, "nearly",
            "Hall led eight minutes more than School in seven hours.",
        ),
        (
            {"Hall": [90, 30], "School": [10]}, "no",
            "Hall led 110 minutes more than School in four hours. The least these runs allow is 50 minutes.",
        ),
        (
            {"Hall": [30], "School": [20]}, "yes",
            "Hall led 1 time, School 1: ten minutes apart, the least possible.",
        ),
        ({"A": [30, 30], "B": [30, 30], "C": [30, 30]}, "yes", "A led 2 times, B 2, C 2: the same minutes."),
        ({"A": [30, 60], "B": [30], "C": [30, 30]}, "no", "A led 60 minutes more than B in nine hours."),
    ],
)  # fmt: skip
def test_fair_is_said_in_minutes_and_against_the_least_possible(
    minutes: dict[str, list[float]], answer: str, sentence: str
) -> None:
    found = report(led(minutes), to_come=None)

    assert found.balance is not None
    assert found.balance.fair == answer
    assert found.sentences[0].startswith(f"Fair: {answer}. {sentence}")


@settings(max_examples=40)
@given(st.lists(st.integers(1, 90), min_size=1, max_size=9), st.integers(0, 511))
def test_two_canvases_are_held_against_the_least_of_all_sharings(minutes: list[int], leads: int) -> None:
    runs = [one_run(TWO if leads >> no & 1 else TWO[::-1], (float(m), float(m))) for no, m in enumerate(minutes)]
    least = min(
        abs(sum(s * m for s, m in zip(signs, minutes, strict=True))) for signs in product((1, -1), repeat=len(runs))
    )

    found = lead_balance(runs)

    assert found is not None
    assert found.least_frac == pytest.approx(least / sum(minutes))
    assert (found.fair == "yes") == (found.apart_frac <= max(0.02, found.least_frac))


@settings(max_examples=15)
@given(st.lists(st.integers(1, 90), min_size=1, max_size=6))
def test_three_canvases_are_held_against_the_least_of_all_sharings(minutes: list[int]) -> None:
    runs = [one_run(THREE, (float(m),) * 3) for m in minutes]
    sums = (
        [sum(m for m, c in zip(minutes, own, strict=True) if c == k) for k in range(3)]
        for own in product(range(3), repeat=len(runs))
    )

    found = lead_balance(runs)

    assert found is not None
    assert found.least_frac * sum(minutes) == pytest.approx(min(max(led) - min(led) for led in sums))


def test_a_canvas_that_was_away_owes_no_leads() -> None:
    """Mill took part in three runs of nine and led one of them: its share."""
    together = [one_run(order, (30.0, 30.0, 30.0)) for order in (THREE, THREE[1:] + THREE[:1], THREE[2:] + THREE[:2])]
    apart = [one_run(order, (30.0, 30.0)) for order in (THREE[:2], THREE[1::-1]) * 3]

    found = lead_balance([*together, *apart])

    assert found is not None
    assert (found.fair, found.apart_minutes) == ("yes", 0)


def test_from_a_journal_with_what_is_to_come() -> None:
    easel = Easel()
    before, _ = report_painted(state_of(easel.journal.after(0)), None)
    easel.session.make(moves.go_on)
    for _ in range(2):
        easel.pass_time(6)
        easel.session.make(moves.mark)
        easel.session.make(moves.go_on)
    for minutes in (3, 4):
        easel.session.make(moves.end_session)
        easel.clock.go(minutes=24 * 60)
        easel.session.make(moves.go_on)
        easel.pass_time(minutes)
        easel.session.make(moves.go_on)
    painted = state_of(easel.journal.after(0))
    first, second = runs_painted(painted.turns)

    assert before.sentences == (
        "Nothing has been painted yet.",
        "5 runs will be too few to tell what going second is worth.",
    )
    assert (first.minutes, first.marked, first.later) == ((6.0, 6.0), frozenset(TWO), frozenset())
    assert second.later == frozenset(second.order[1:])
    assert report_painted(painted, None)[0].runs_to_come == 3
    assert report_painted(painted, "eyes")[0].runs_to_come == 1


def turn(number: int, canvas: str, place: int) -> TurnRecord:
    at = Reading(wall_ms=number * 3_600_000, offset_s=0, elapsed_ms=0, boot="b")
    run = Turn(pass_name="eyes", run=number, passages=(f"p{number}",), canvas=canvas, place=place, planned_s=600)
    return TurnRecord(turn=run, begun=at, ended=at, worked_ms=600_000, session=1)


def test_a_canvas_that_catches_up_alone_neither_led_nor_followed() -> None:
    """School is away for two runs and paints them after a third; in a batch of three it has only gone on."""
    both = [turn(3, "Hall", 1), turn(3, "School", 2)]
    away = [turn(1, "Hall", 1), turn(2, "Hall", 1), *both, turn(1, "School", 2), turn(2, "School", 2)]

    alone = [run.order for run in runs_painted(away)]

    assert alone == [("Hall",), ("Hall",), TWO, ("School",), ("School",)]
    assert [run.order for run in runs_painted(away, batch=3)] == [TWO, TWO, TWO]


@pytest.mark.parametrize("bad_min", [0.0, -1.0, nan, inf, -inf])
def test_what_cannot_have_been_painted_is_refused(bad_min: float) -> None:
    with pytest.raises(CoachError):
        one_run(minutes=(10.0, bad_min))
    with pytest.raises(CoachError):
        replace(one_run(), planned_min=bad_min)
    for order, minutes in ((("Hall", "Hall"), (1.0, 1.0)), ((), ()), (TWO, (1.0,))):
        with pytest.raises(CoachError):
            one_run(order, minutes)
