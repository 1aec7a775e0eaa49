"""What snake, mirror and nested mirror cancel (facts/order.md part 2, A and B)."""

from collections.abc import Sequence
from itertools import pairwise

import pytest

from coach.order.planning import plan_orders
from coach.order.request import OrderRequest, RunToOrder, Strategy
from coach.order.thue_morse import digit_sum


def slots(strategy: Strategy, run_count: int, canvases: int = 2) -> list[int]:
    """Return the canvas of each turn in the order painted."""
    runs = (RunToOrder(pass_no=0, weight=10),) * run_count
    orders = plan_orders(OrderRequest(canvas_count=canvases, runs=runs, strategy=strategy)).orders
    return [canvas for order in orders for canvas in order]


def moments(word: Sequence[int], degrees: int) -> list[int]:
    """Return the sums over slots k of sign x k^p for p below `degrees`; the first canvas counts +1."""
    return [sum((1 if c == word[0] else -1) * k**p for k, c in enumerate(word)) for p in range(degrees)]


def test_the_leads_of_the_nested_mirror_are_the_thue_morse_sequence() -> None:
    """OEIS A010060, first 32 terms (from memory of the entry; computed in facts/order.md)."""
    printed = "01101001100101101001011001101001"

    assert "".join(str(digit_sum(k, 2)) for k in range(32)) == printed
    leads = slots(Strategy.NESTED_MIRROR, 32)[::2]
    assert [lead != leads[0] for lead in leads] == [digit == "1" for digit in printed]


def test_ones_and_streaks_of_the_thue_morse_sequence() -> None:
    """Ones in 2^16 terms: 32 768; no three equal in a row; every prefix level to within one (computed)."""
    word = [digit_sum(k, 2) for k in range(2**16)]
    level = 0
    for digit in word:
        level += 1 - 2 * digit
        assert abs(level) <= 1

    assert sum(word) == 32_768
    assert not any(a == b == c for a, b, c in zip(word, word[1:], word[2:], strict=False))


@pytest.mark.parametrize(
    ("count", "sums"),
    [
        (8, [14, 70]),
        (16, [60, 620, 7200]),
        (32, [248, 5208, 123_008, 3_098_760]),
    ],
)
def test_prouhet_sums(count: int, sums: list[int]) -> None:
    """Prouhet-Tarry-Escott: {0,3,5,6} and {1,2,4,7} and so on have equal power sums, then no longer."""
    classes = [[k for k in range(count) if digit_sum(k, 2) == digit] for digit in range(2)]

    for power, printed in enumerate(sums, start=1):
        assert [sum(k**power for k in numbers) for numbers in classes] == [printed, printed]
    next_sums = [sum(k ** (len(sums) + 1) for k in numbers) for numbers in classes]
    assert next_sums == {8: [368, 416], 16: [89_924, 88_388], 32: [81_246_848, 81_369_728]}[count]


@pytest.mark.parametrize(
    ("strategy", "run_count", "expected"),
    [
        (Strategy.FIXED, 1, [0, -1, -1, -1, -1, -1]),
        (Strategy.SNAKE, 2, [0, 0, 4, 18, 64, 210]),
        (Strategy.MIRROR, 4, [0, 0, 0, -48, -672, -6720]),
        (Strategy.NESTED_MIRROR, 4, [0, 0, 0, -48, -672, -6720]),
        (Strategy.NESTED_MIRROR, 8, [0, 0, 0, 0, 1536, 57_600]),
        (Strategy.NESTED_MIRROR, 16, [0, 0, 0, 0, 0, -122_880]),
    ],
)
def test_moments_of_the_turns(strategy: Strategy, run_count: int, expected: list[int]) -> None:
    """Computed for facts/order.md part 2 A; Prouhet 1851, Woodworth & Schlosberg 1954 (from memory)."""
    assert moments(slots(strategy, run_count), 6) == expected


@pytest.mark.parametrize("blocks", range(1, 6))
def test_snake_cancels_a_steady_change_and_mirror_a_squared_one(blocks: int) -> None:
    assert moments(slots(Strategy.SNAKE, 2 * blocks), 2) == [0, 0]
    assert moments(slots(Strategy.MIRROR, 4 * blocks), 3) == [0, 0, 0]


@pytest.mark.parametrize(
    ("strategy", "run_count", "printed"),
    [
        (Strategy.SNAKE, 2, 0.043887),
        (Strategy.NESTED_MIRROR, 4, 0.023650),
        (Strategy.NESTED_MIRROR, 8, 0.013955),
    ],
)
def test_what_remains_of_an_eighty_percent_learning_curve(strategy: Strategy, run_count: int, printed: float) -> None:
    """(A - B) / (A + B) of units 1, 2, 3 on an 80 % unit curve: facts/order.md part 2 A (computed)."""
    exponent = -0.3219280949
    word = slots(strategy, run_count)
    spent = [
        sum((k + 1) ** exponent for k, canvas in enumerate(word) if (canvas == word[0]) is first)
        for first in (True, False)
    ]

    assert (spent[0] - spent[1]) / sum(spent) == pytest.approx(printed, abs=5e-6)


@pytest.mark.parametrize(("canvases", "power"), [(3, 2), (3, 3), (4, 2), (5, 2)])
def test_nested_mirror_of_more_canvases_cancels_degrees_below_the_power(canvases: int, power: int) -> None:
    """Generalised Thue-Morse sequence: Bolker, Offner, Richman and Zara, arXiv 1304.6756."""
    word = slots(Strategy.NESTED_MIRROR, canvases**power, canvases)

    for place in range(canvases):
        taken = word[place::canvases]
        for degree in range(power):
            sums = {sum(k**degree for k, canvas in enumerate(taken) if canvas == one) for one in range(canvases)}
            assert len(sums) == 1


@pytest.mark.parametrize("canvases", range(3, 8))
def test_snake_and_mirror_of_more_canvases_let_two_of_them_lead(canvases: int) -> None:
    """Equal weights: a snake keeps the two within one run; a mirror cancels a steady change in every 4 runs."""
    snake = slots(Strategy.SNAKE, 16, canvases)[::canvases]
    mirror = slots(Strategy.MIRROR, 16, canvases)[::canvases]

    assert len(set(snake)) == len(set(mirror)) == 2
    assert all(before != after for before, after in pairwise(snake))
    assert moments(mirror, 2) == [0, 0]
    assert moments(mirror[4:12], 2) == [0, 0]
    assert not any(a == b == c for a, b, c in zip(mirror, mirror[1:], mirror[2:], strict=False))
