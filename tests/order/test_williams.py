"""Latin squares and Williams designs (facts/order.md part 2, C and D)."""

from itertools import pairwise

import pytest

from coach.order.measures import measure
from coach.order.planning import plan_orders
from coach.order.request import OrderRequest, PaintedRun, RunToOrder, Strategy
from coach.order.williams import rotation_rows, williams_rows


def rows(text: str) -> tuple[tuple[int, ...], ...]:
    return tuple(tuple("ABCDEFGHIJKL".index(letter) for letter in word) for word in text.split())


PRINTED = {
    # The manual of the R package crossdes prints these six rows in another sequence.
    3: "ABC BCA CAB CBA ACB BAC",
    # Computed from the rule for facts/order.md; Williams' own printed square was not seen.
    4: "ABDC BCAD CDBA DACB",
    5: "ABECD BCADE CDBEA DECAB EADBC DCEBA EDACB AEBDC BACED CBDAE",
    6: "ABFCED BCADFE CDBEAF DECFBA EFDACB FAEBDC",
    8: "ABHCGDFE BCADHEGF CDBEAFHG DECFBGAH EFDGCHBA FGEHDACB GHFAEBDC HAGBFCED",
}


@pytest.mark.parametrize("canvases", PRINTED)
def test_the_rows_are_the_published_ones(canvases: int) -> None:
    assert set(williams_rows(canvases)) == set(rows(PRINTED[canvases]))


@pytest.mark.parametrize("canvases", range(2, 13))
def test_each_place_and_each_pair_of_neighbours_comes_equally_often(canvases: int) -> None:
    """Rows: n for even n, 2n for odd n (Williams 1949, summary); once, or twice, in each place and pair."""
    design = williams_rows(canvases)
    times = 1 if canvases % 2 == 0 else 2
    measured = measure(canvases, [PaintedRun(pass_no=0, weight=7, order=row) for row in design])

    assert len(design) == times * canvases
    assert {count for row in measured.place_counts for count in row} == {times}
    pairs = {count for a, row in enumerate(measured.carry_over_counts) for b, count in enumerate(row) if a != b}
    assert pairs == {times}
    assert not any((measured.imbalance, measured.place_spread, measured.carry_over_spread))
    assert not any(measured.mean_place)


@pytest.mark.parametrize("canvases", range(2, 13))
def test_the_rows_are_closed_under_mirroring(canvases: int) -> None:
    """Even n: row r backwards is row r + n/2; odd n: the second half are the mirrors (computed)."""
    design = williams_rows(canvases)
    half = len(design) // 2

    assert all(design[r][::-1] == design[(r + half) % len(design)] for r in range(len(design)))


@pytest.mark.parametrize(
    ("canvases", "walks", "floor"), [(3, 14, 12), (4, 13, 12), (5, 44, 40), (8, 59, 56), (12, 137, 132)]
)
def test_row_then_mirror_through_the_whole_design_needs_few_walks(canvases: int, walks: int, floor: int) -> None:
    """Figures: facts/order.md part 2 D (computed there)."""
    left = list(williams_rows(canvases))
    sequence = [left.pop(0)]
    while left:
        back = sequence[-1][::-1]
        row = back if back in left else left[0]
        left.remove(row)
        sequence.append(row)
    measured = measure(canvases, [PaintedRun(pass_no=0, weight=1, order=row) for row in sequence])

    assert (measured.walks, measured.walks_floor) == (walks, floor)


def test_a_rotation_of_four_has_only_four_neighbourhoods() -> None:
    """For n = 4 the only ordered neighbours are 0-1, 1-2, 2-3, 3-0, three times each (computed)."""
    counts: dict[tuple[int, int], int] = {}
    for row in rotation_rows(4):
        for pair in pairwise(row):
            counts[pair] = counts.get(pair, 0) + 1

    assert counts == {(0, 1): 3, (1, 2): 3, (2, 3): 3, (3, 0): 3}


@pytest.mark.parametrize("canvases", range(2, 8))
@pytest.mark.parametrize("strategy", [Strategy.ROTATION, Strategy.WILLIAMS, Strategy.NESTED_MIRROR])
@pytest.mark.parametrize("seed", range(3))
def test_every_n_equal_runs_put_each_canvas_once_in_each_place(canvases: int, strategy: Strategy, seed: int) -> None:
    """In every n runs from the start; for Williams rows in every whole design, neighbours too."""
    block = len(williams_rows(canvases)) if strategy is Strategy.WILLIAMS else canvases
    runs = (RunToOrder(pass_no=0, weight=5),) * (3 * block)
    orders = plan_orders(OrderRequest(canvas_count=canvases, runs=runs, strategy=strategy, seed=seed)).orders

    for first in range(0, len(orders), block):
        part = [PaintedRun(pass_no=0, weight=5, order=order) for order in orders[first : first + block]]
        measured = measure(canvases, part)
        assert {count for row in measured.place_counts for count in row} == {block // canvases}
        if strategy is Strategy.WILLIAMS:
            assert measured.carry_over_spread == 0
