"""The strategies that look at no weights, the published designs behind them, and what each is said to be good for."""

from itertools import pairwise
from random import Random

import pytest

from coach.order.measures import measure
from coach.order.planning import plan_orders
from coach.order.remarks import on_older_name
from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder
from coach.order.strategies import PROMISES, block_rows, promise, shuffled, williams_rows
from coach.plan.strategy import OLDER_NAMES, ORDERS, Strategy, strategy_named
from tests.order.spreads import peak, place_and_follow_spread


def orders_of(strategy: Strategy, count: int, canvases: int = 2, seed: int = 0) -> tuple[Order, ...]:
    """Return the orders of so many equal runs."""
    runs = (RunToOrder(pass_no=0, weight=10),) * count
    return plan_orders(OrderRequest(canvas_count=canvases, runs=runs, strategy=strategy, seed=seed)).orders


def test_every_older_name_is_read() -> None:
    assert len(set(ORDERS)) == 16
    assert strategy_named(None) is strategy_named("balanced snake") is strategy_named("mirror") is Strategy.EVEN_TURNS
    assert {strategy_named(name) for name in OLDER_NAMES} == set(Strategy)
    assert on_older_name("nested mirror") == '"nested mirror" is painted as even turns now.'
    assert on_older_name("snake") == on_older_name(None) == ""


@pytest.mark.parametrize("canvases", [1, 2, 3, 12])
def test_every_strategy_says_in_plain_words_what_it_is_good_for(canvases: int) -> None:
    said = {promise(strategy, canvases) for strategy in Strategy}

    assert len(said) == (1 if canvases == 1 else 5)
    assert all(sentence.endswith(".") for sentence in said)
    assert set(PROMISES) == set(Strategy)


def test_only_two_canvases_lead_there_and_back_and_it_is_said() -> None:
    assert len({order[0] for order in orders_of(Strategy.THERE_AND_BACK, 9, 4)}) == 2
    assert promise(Strategy.THERE_AND_BACK, 4).endswith("Only two of the 4 canvases ever lead.")
    assert promise(Strategy.BY_LOT, 2, batch=3).endswith("runs of a batch, up to 3, count as one run here.")


@pytest.mark.parametrize(("word", "expected"), [(1, [0, -1, -1, -1, -1, -1]), (2, [0, 0, 4, 18, 64, 210])])
def test_there_and_back_is_the_counterbalanced_order(word: int, expected: list[int]) -> None:
    """ABBA cancels a steady change: sums over slots of sign x slot^p, p = 0 to 5 (facts/order.md part 2 A, computed).

    Prouhet 1851, Woodworth & Schlosberg 1954 (from memory).
    """
    slots = [canvas for order in orders_of(Strategy.THERE_AND_BACK, word) for canvas in order]

    assert [sum((1 if c == slots[0] else -1) * k**p for k, c in enumerate(slots)) for p in range(6)] == expected


def test_what_there_and_back_leaves_of_an_eighty_percent_learning_curve() -> None:
    """(A - B) / (A + B) of units 1, 2, 3, 4 on an 80 % unit curve: facts/order.md part 2 A (computed)."""
    first, second, third, fourth = (unit**-0.3219280949 for unit in (1, 2, 3, 4))
    assert orders_of(Strategy.THERE_AND_BACK, 2) in {((0, 1), (1, 0)), ((1, 0), (0, 1))}

    assert (first + fourth - second - third) / (first + second + third + fourth) == pytest.approx(0.043887, abs=5e-6)


def test_always_the_same_is_the_order_of_the_plan() -> None:
    assert set(orders_of(Strategy.ALWAYS_THE_SAME, 5, 3, seed=4)) == {(0, 1, 2)}


def rows(text: str) -> tuple[Order, ...]:
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
    """Rows: n for even n, 2n for odd n (Williams 1949, summary); closed under mirroring (computed)."""
    design = williams_rows(canvases)
    times, half = 1 if canvases % 2 == 0 else 2, len(design) // 2
    painted = [PaintedRun(pass_no=0, weight=7, order=row) for row in design]
    found = measure(canvases, painted)

    assert len(design) == times * canvases
    assert set(found.leads.counts) == {times}
    assert {design.count(row) for row in design} == {1}
    assert not any((found.imbalance, *place_and_follow_spread(canvases, painted)))
    assert all(design[r][::-1] == design[(r + half) % len(design)] for r in range(len(design)))


@pytest.mark.parametrize(
    ("canvases", "changes", "least"), [(3, 14, 12), (4, 13, 12), (5, 44, 40), (8, 59, 56), (12, 137, 132)]
)
def test_row_then_mirror_through_the_whole_design_needs_few_changes(canvases: int, changes: int, least: int) -> None:
    """Figures: facts/order.md part 2 D (computed there)."""
    left = list(williams_rows(canvases))
    sequence = [left.pop(0)]
    while left:
        back = sequence[-1][::-1]
        row = back if back in left else left[0]
        left.remove(row)
        sequence.append(row)
    found = measure(canvases, [PaintedRun(pass_no=0, weight=1, order=row) for row in sequence])

    assert (found.canvas_changes, found.least_canvas_changes) == (changes, least)


@pytest.mark.parametrize("canvases", range(2, 8))
@pytest.mark.parametrize("seed", range(3))
def test_a_rotation_lets_every_canvas_lead_once_in_every_round(canvases: int, seed: int) -> None:
    """In every n runs from the start; in every whole design places and neighbours are even too."""
    design = len(williams_rows(canvases))
    orders = orders_of(Strategy.BY_ROTATION, 2 * design, canvases, seed)

    for first in range(0, len(orders), canvases):
        assert {order[0] for order in orders[first : first + canvases]} == set(range(canvases))
    assert not any(place_and_follow_spread(canvases, [PaintedRun(0, 5, order) for order in orders]))


@pytest.mark.parametrize("canvases", [2, 3, 4, 5])
@pytest.mark.parametrize("seed", range(4))
def test_lots_are_level_at_block_ends_and_bounded_within(canvases: int, seed: int) -> None:
    """Blocks of 2k leads: |imbalance| <= k always, 0 at block ends (part 2 E); here k = 2."""
    block = len(block_rows(canvases))
    orders = orders_of(Strategy.BY_LOT, 3 * block, canvases, seed)
    painted = [PaintedRun(0, 5, order) for order in orders]

    assert not any(any(place_and_follow_spread(canvases, painted[: k * block])) for k in (1, 2, 3))
    assert peak(canvases, painted) <= 5 * (1 if canvases == 4 else 2)


def test_every_arrangement_of_a_block_is_drawn() -> None:
    """Two leads each way have 6 arrangements (part 2 E); each must come in about a sixth of the seeds."""
    seen: dict[tuple[int, ...], int] = {}
    for seed in range(600):
        word = tuple(order[0] for order in orders_of(Strategy.BY_LOT, 4, seed=seed))
        seen[word] = seen.get(word, 0) + 1

    assert len(seen) == 6
    assert all(60 <= count <= 140 for count in seen.values())


def test_the_shuffle_takes_its_chance_from_random_alone() -> None:
    """A stream of zeros makes every draw swap with the first item, so the result is known by hand."""

    class Zeros(Random):
        def random(self) -> float:
            return 0.0

    assert shuffled("abcd", Zeros()) == ("b", "c", "d", "a")


@pytest.mark.parametrize("strategy", [one for one in Strategy if one is not Strategy.EVEN_TURNS])
@pytest.mark.parametrize("canvases", [2, 5])
def test_planning_again_from_any_point_of_an_obeyed_plan_returns_its_rest(strategy: Strategy, canvases: int) -> None:
    orders = orders_of(strategy, 14, canvases, 3)
    for done in range(1, 14):
        request = OrderRequest(
            canvas_count=canvases,
            runs=(RunToOrder(pass_no=0, weight=10),) * (14 - done),
            history=tuple(PaintedRun(0, 10, order) for order in orders[:done]),
            strategy=strategy,
            seed=3,
        )
        assert plan_orders(request).orders == orders[done:]


def test_rows_meet_other_rows_at_their_ends() -> None:
    """Where a row ends another begins with the same canvas, so that none need cost a change of canvas."""
    assert all({row[-1] for row in williams_rows(n)} == {row[0] for row in williams_rows(n)} for n in range(2, 13))
    assert all(a != b for a, b in pairwise(williams_rows(5)))
