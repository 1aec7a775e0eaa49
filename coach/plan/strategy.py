"""The ways to share the lead, by the names a painter writes under `order`, and the names they had before."""

import enum
from collections.abc import Mapping
from typing import Final


class Strategy(enum.Enum):
    """How it is settled which canvas leads a run."""

    EVEN_TURNS = "even turns"
    THERE_AND_BACK = "there and back"
    BY_ROTATION = "by rotation"
    BY_LOT = "by lot"
    ALWAYS_THE_SAME = "always the same"


OLDER_NAMES: Final[Mapping[str, Strategy]] = {
    "balanced snake": Strategy.EVEN_TURNS,
    "guarded snake": Strategy.EVEN_TURNS,
    "williams snake": Strategy.EVEN_TURNS,
    "lighter first": Strategy.EVEN_TURNS,
    "mirror": Strategy.EVEN_TURNS,
    "nested mirror": Strategy.EVEN_TURNS,
    "snake": Strategy.THERE_AND_BACK,
    "rotation": Strategy.BY_ROTATION,
    "williams": Strategy.BY_ROTATION,
    "shuffled blocks": Strategy.BY_LOT,
    "fixed": Strategy.ALWAYS_THE_SAME,
}
"""Names that plans written earlier may hold; they are read, and left in the file as they are."""

ORDERS: Final = (*(strategy.value for strategy in Strategy), *OLDER_NAMES)
"""Every name that a plan may hold under `order`."""


def strategy_named(name: str | None) -> Strategy:
    """Return the strategy of one of `ORDERS`; even turns where a plan names none."""
    if name is None:
        return Strategy.EVEN_TURNS
    return OLDER_NAMES[name] if name in OLDER_NAMES else Strategy(name)
