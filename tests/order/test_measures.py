"""The measures on cases that can be checked by hand, and what is said of them."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.order.guarantees import guarantee
from coach.order.measures import measure
from coach.order.measures_in_words import in_words
from coach.order.request import Order, OrderError, PaintedRun, Strategy


def runs(*given_runs: tuple[int, int, Order]) -> list[PaintedRun]:
    return [PaintedRun(pass_no=p, weight=w, order=order) for p, w, order in given_runs]


def whole(*figures: int) -> list[Fraction]:
    return [Fraction(figure) for figure in figures]


BY_HAND = runs((0, 10, (0, 1)), (0, 20, (1, 0)), (1, 30, (1, 0)), (1, 40, (0, 1)))


def test_two_canvases_by_hand() -> None:
    """D = 10 - 20 - 30 + 40 = 0; peaks 10, 10, 40, 0; middles of the runs at 10, 40, 90, 160 of 200 minutes.

    Times from -1 to 1 are -0.9, -0.6, -0.1, 0.6, so the drift is |-9 + 12 + 3 + 24| = 30.
    """
    found = measure(2, BY_HAND)

    assert found.leads.counts == (2, 2)
    assert found.leads.weights == (50, 50)
    assert [found.imbalance, found.imbalance_frac, found.peak] == whole(0, 0, 40)
    assert [found.drift, 10 * found.drift_frac, *found.trend] == whole(30, 3, 15, -15)
    assert [no for no, _ in found.by_pass] == [0, 1]
    assert [leads.imbalance for _, leads in found.by_pass] == whole(10, 10)
    assert [leads.imbalance_frac for _, leads in found.by_pass] == [Fraction(1, 3), Fraction(1, 7)]
    assert (found.streak, found.streak_lead) == (2, 1)
    assert (found.walks, found.walks_floor) == (5, 4)
    assert found.carry_over_counts == ((0, 2), (2, 0))
    assert found.carry_over_weights == ((0, 50), (50, 0))
    assert found.place_weights == ((50, 50), (50, 50))
    assert list(found.mean_place) == whole(0, 0)


def test_three_canvases_by_hand() -> None:
    found = measure(3, runs((0, 10, (0, 1, 2)), (0, 6, (2, 1, 0)), (0, 4, (1, 0, 2))))

    assert found.place_weights == ((10, 4, 6), (4, 16, 0), (6, 0, 14))
    assert found.imbalance == 6
    assert found.place_spread == 16
    assert found.carry_over_weights == ((0, 10, 4), (10, 0, 10), (0, 6, 0))
    assert found.carry_over_spread == 10
    assert list(found.mean_place) == whole(-4, -4, 8)
    assert (found.walks, found.walks_floor) == (7, 6)


def test_a_canvas_that_was_away_has_neither_debt_nor_credit() -> None:
    found = measure(3, runs((0, 30, (0, 1)), (0, 30, (1, 0)), (1, 12, (2,)), (1, 9, ())))

    assert found.run_count == 2
    assert [found.imbalance, found.place_spread, found.carry_over_spread] == whole(0, 0, 0)
    assert found.walks == 3


def test_a_batch_needs_one_change_for_all_its_runs() -> None:
    batch = runs((0, 5, (0, 1)), (0, 6, (0, 1)), (0, 7, (0, 1)), (1, 5, (1, 0)))

    assert (measure(2, batch, batch=3).walks, measure(2, batch).walks) == (2, 6)


@given(data=st.data(), canvases=st.integers(2, 6))
@settings(max_examples=60, deadline=None)
def test_walks_are_the_floor_and_one_for_each_junction_that_changes(data: st.DataObject, canvases: int) -> None:
    orders = data.draw(st.lists(st.permutations(range(canvases)).map(tuple), min_size=1, max_size=20))
    found = measure(canvases, [PaintedRun(pass_no=0, weight=1, order=order) for order in orders])
    turns = [canvas for order in orders for canvas in order]

    assert found.walks_floor == len(orders) * (canvases - 1)
    assert found.walks == sum(a != b for a, b in pairwise(turns))


@given(data=st.data(), canvases=st.integers(2, 5))
@settings(max_examples=40, deadline=None)
def test_places_and_leads_add_up(data: st.DataObject, canvases: int) -> None:
    order = st.permutations(range(canvases)).map(tuple)
    drawn = data.draw(st.lists(st.tuples(st.integers(0, 3), st.integers(1, 50), order), max_size=20))
    found = measure(canvases, runs(*drawn))

    assert sum(found.leads.weights) == found.weight == sum(weight for _, weight, _ in drawn)
    assert all(sum(row) == found.weight for row in found.place_weights)
    assert sum(found.mean_place) == 0
    assert sum(found.trend) == 0


def test_a_canvas_beyond_the_count_is_refused() -> None:
    with pytest.raises(OrderError, match=r"runs\[0\]: there is no canvas number 3 among 2"):
        measure(2, runs((0, 5, (0, 2))))


def test_each_measure_is_said_with_its_figure() -> None:
    said = in_words(measure(2, BY_HAND), ("Hall", "School"), ("eyes", "mouth"))

    each = "led 2 times (50 weighted minutes)"
    assert said[0] == f"Over the whole work Hall {each}, School {each}: 0 apart, 0.0 %."
    assert said[1].startswith("In eyes Hall led 1 time (10 weighted minutes), School led 1 time (20 ")
    assert said[1].endswith(": 10 apart, 33.3 %.")
    assert said[2].startswith("In mouth Hall led 1 time (40 weighted minutes), School led 1 time (30 ")
    assert said[3:] == (
        "On the way the leads were never more than 40 weighted minutes apart (40.0 % of the work).",
        "School led rather early in the work and Hall rather late (drift 30.0 %).",
        "The longest row of leads is 2 runs, by School.",
        "The palette goes to another canvas 5 times; 4 cannot be avoided, 1 comes from the order.",
    )


def test_a_mirror_is_said_to_drift_nowhere() -> None:
    mirrored = runs(*((0, 10, order) for order in ((0, 1), (1, 0), (1, 0), (0, 1))))
    said = in_words(measure(2, mirrored), ("Hall", "School"))

    assert "No canvas led early rather than late (drift 0.0 %)." in said


def test_nothing_painted_is_said_too() -> None:
    assert in_words(measure(2, []), ("Hall", "School")) == (
        "No run was painted on two canvases yet, so nobody has led.",
    )


def test_with_more_canvases_places_and_neighbours_are_said() -> None:
    said = in_words(measure(3, runs((0, 10, (0, 1, 2)), (0, 6, (2, 1, 0)))), ("North", "Harbour", "Mill"))

    assert any("came straight after" in sentence for sentence in said)
    assert any("places later" in sentence for sentence in said)


@pytest.mark.parametrize("strategy", Strategy)
@pytest.mark.parametrize("canvases", range(1, 13))
def test_every_strategy_states_its_guarantee(strategy: Strategy, canvases: int) -> None:
    sentence = guarantee(strategy, canvases)

    assert sentence.endswith(".")
    assert "{" not in sentence


def test_the_bounds_are_in_the_sentences() -> None:
    assert "apart than 2 times the heaviest run" in guarantee(Strategy.BALANCED_SNAKE, 2)
    assert "apart than the heaviest run" in guarantee(Strategy.GUARDED_SNAKE, 4)
    assert "apart than 4 times the heaviest run" in guarantee(Strategy.WILLIAMS_SNAKE, 3)
    assert "once in each place" in guarantee(Strategy.WILLIAMS, 4)
    assert "twice in each place" in guarantee(Strategy.WILLIAMS, 5)
    assert guarantee(Strategy.GUARDED_SNAKE, 2, batch=3).endswith("runs of a batch, up to 3, count as one run here.")
