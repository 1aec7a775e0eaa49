"""What the seed decides: which canvas or row opens, and the shuffles."""

from collections.abc import Sequence
from random import Random
from typing import TypeVar

Item = TypeVar("Item")


def opening_no(seed: int, choices: int) -> int:
    """Return which of so many choices opens the work, 0-based: one throw of the seed."""
    return int(Random(seed).random() * choices)  # noqa: S311 - fairness, not secrecy


def shuffled(items: Sequence[Item], chance: Random) -> tuple[Item, ...]:
    """Return the items in an order drawn evenly from all orders.

    Written out because only `random()` keeps its stream from one version of Python to the next.

    Source:
        Fisher and Yates, Statistical Tables (1938), in the form of Durstenfeld, CACM 7 (1964) 420 (from
        memory).
    """
    drawn = list(items)
    for last in range(len(drawn) - 1, 0, -1):
        other = int(chance.random() * (last + 1))
        drawn[last], drawn[other] = drawn[other], drawn[last]
    return tuple(drawn)
