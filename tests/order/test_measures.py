"""The measures on cases that can be checked by hand."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.order.measures import leads_of, measure
from coach.order.request import Order, OrderError, PaintedRun
from tests.order.spreads import peak, place_and_follow_spread


def runs(*given_runs: tuple[int, int, Order]) -> list[PaintedRun]:
    return [PaintedRun(pass_no=p, weight=w, order=order) for p, w, order in given_runs]


def whole(*figures: int) -> list[Fraction]:
    return [Fraction(figure) for figure in figures]


BY_HAND = runs((0, 10, (0, 1)), (0, 20, (1, 0)), (1, 30, (1, 0)), (1, 40, (0, 1)))


def test_two_canvases_by_hand() -> None:
    """D = 10 - 20 - 30 + 40 = 0; peaks 10, 10, 40, 0; middles of the runs at 10, 40, 90, 160 of 200 minutes.

    Times from -1 to 1 are -0.9, -0.6, -0.1, 0.6, so the trend is |-9 + 12 + 3 + 24| = 30 of 100.
    """
    found = measure(2, BY_HAND)

    assert found.leads.counts == (2, 2)
    assert found.leads.weights == (50, 50)
    assert [found.imbalance, found.imbalance_frac, peak(2, BY_HAND), 10 * found.trend_frac] == whole(0, 0, 40, 3)
    by_pass = [leads_of(2, [run for run in BY_HAND if run.pass_no == no]) for no in range(2)]
    assert [leads.imbalance for leads in by_pass] == whole(10, 10)
    assert [leads.imbalance_frac for leads in by_pass] == [Fraction(1, 3), Fraction(1, 7)]
    assert found.streak == 2
    assert (found.canvas_changes, found.least_canvas_changes) == (5, 4)
    assert list(place_and_follow_spread(2, BY_HAND)) == whole(0, 0)


def test_three_canvases_by_hand() -> None:
    painted = runs((0, 10, (0, 1, 2)), (0, 6, (2, 1, 0)), (0, 4, (1, 0, 2)))
    found = measure(3, painted)

    assert found.imbalance == 6
    assert list(place_and_follow_spread(3, painted)) == whole(16, 10)
    assert (found.canvas_changes, found.least_canvas_changes) == (7, 6)


def test_a_canvas_that_was_away_has_neither_debt_nor_credit() -> None:
    painted = runs((0, 30, (0, 1)), (0, 30, (1, 0)), (1, 12, (2,)), (1, 9, ()))
    found = measure(3, painted)

    assert found.run_count == 2
    assert [found.imbalance, *place_and_follow_spread(3, painted[:2])] == whole(0, 0, 0)
    assert found.canvas_changes == 3


def test_a_batch_needs_one_change_for_all_its_runs() -> None:
    batch = runs((0, 5, (0, 1)), (0, 6, (0, 1)), (0, 7, (0, 1)), (1, 5, (1, 0)))

    assert (measure(2, batch, batch=3).canvas_changes, measure(2, batch).canvas_changes) == (2, 6)


@given(data=st.data(), canvases=st.integers(2, 6))
@settings(max_examples=60, deadline=None)
def test_changes_of_canvas_are_the_floor_and_one_for_each_junction_that_changes(
    data: st.DataObject, canvases: int
) -> None:
    orders = data.draw(st.lists(st.permutations(range(canvases)).map(tuple), min_size=1, max_size=20))
    found = measure(canvases, [PaintedRun(pass_no=0, weight=1, order=order) for order in orders])
    turns = [canvas for order in orders for canvas in order]

    assert found.least_canvas_changes == len(orders) * (canvases - 1)
    assert found.canvas_changes == sum(a != b for a, b in pairwise(turns))


@given(data=st.data(), canvases=st.integers(2, 5))
@settings(max_examples=40, deadline=None)
def test_places_and_leads_add_up(data: st.DataObject, canvases: int) -> None:
    order = st.permutations(range(canvases)).map(tuple)
    drawn = data.draw(st.lists(st.tuples(st.integers(0, 3), st.integers(1, 50), order), max_size=20))
    found = measure(canvases, runs(*drawn))

    assert sum(found.leads.weights) == found.weight == sum(weight for _, weight, _ in drawn)


def test_a_canvas_beyond_the_count_is_refused() -> None:
    with pytest.raises(OrderError, match=r"runs\[0\]: there is no canvas number 3 among 2"):
        measure(2, runs((0, 5, (0, 2))))


@given(weights=st.lists(st.integers(1, 240), min_size=1, max_size=40), data=st.data())
@settings(max_examples=40, deadline=None)
def test_running_imbalance_bounds_practice_and_trend(weights: list[int], data: st.DataObject) -> None:
    """Abel summation (part 2 O): gain that never rises <= P g_1; trend <= |D| + 2 P; whatever the leads."""
    leads = data.draw(st.lists(st.sampled_from([0, 1]), min_size=len(weights), max_size=len(weights)))
    gains = sorted(data.draw(st.lists(st.integers(0, 100), min_size=len(weights), max_size=len(weights))), reverse=True)
    painted = runs(*((0, weight, (lead, 1 - lead)) for weight, lead in zip(weights, leads, strict=True)))
    found, most = measure(2, painted), peak(2, painted)
    signed = [weight if lead == 0 else -weight for weight, lead in zip(weights, leads, strict=True)]

    assert abs(sum(one * gain for one, gain in zip(signed, gains, strict=True))) <= most * gains[0]
    assert found.trend_frac * found.weight <= found.imbalance + 2 * most
