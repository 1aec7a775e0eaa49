"""What the ordering engine is asked: the runs to come, what was painted, the strategy and the wishes."""

import enum
from typing import NamedTuple

from coach.errors import CoachError

Order = tuple[int, ...]
"""Canvas numbers (0-based, in the plan's order of canvases) in the order in which they are painted."""

MOST_CANVASES = 12
"""Largest number of canvases of a commission."""


class OrderError(CoachError):
    """The request cannot be ordered; the plan or the journal must be put right."""


class Strategy(enum.Enum):
    """The ways to share the lead, by the names a painter writes in the plan."""

    FIXED = "fixed"
    SNAKE = "snake"
    MIRROR = "mirror"
    NESTED_MIRROR = "nested mirror"
    ROTATION = "rotation"
    WILLIAMS = "williams"
    SHUFFLED_BLOCKS = "shuffled blocks"
    LIGHTER_FIRST = "lighter first"
    GUARDED_SNAKE = "guarded snake"
    BALANCED_SNAKE = "balanced snake"
    WILLIAMS_SNAKE = "williams snake"


def default_strategy(canvas_count: int) -> Strategy:
    """Return the strategy where the plan names none: balanced snake for two canvases, else Williams snake."""
    return Strategy.BALANCED_SNAKE if canvas_count <= 2 else Strategy.WILLIAMS_SNAKE  # noqa: PLR2004


class RunToOrder(NamedTuple):
    """A run still to come, or in hand.

    Attributes:
        pass_no: 0-based number of its pass; returns may have a number of their own.
        weight: Whole weighted minutes for one canvas, 0 or more; counted as at least 1.
        lead: Wish: this canvas leads. None: no wish.
        away: Canvases that cannot be painted in this run.
        begun: Canvases that took this run already, by first touch: the run in hand, or one that an absent
            canvas catches up. The order returned begins with them.
        label: What the painter knows it by, for the remarks; "" for its number from the next one on.
    """

    pass_no: int
    weight: int
    lead: int | None = None
    away: frozenset[int] = frozenset()
    begun: Order = ()
    label: str = ""


class PaintedRun(NamedTuple):
    """A run as it was painted, or as it is planned to be.

    Attributes:
        pass_no: 0-based number of its pass.
        weight: Whole weighted minutes for one canvas (the mean over the canvases), 0 or more; counted as at
            least 1.
        order: Canvases painted, by first touch; may lack canvases that were skipped or away.
        begins_batch: Whether it is known to share no batch with the run before it; else the two share one where they
            are of one pass and one order and the batch has room.
    """

    pass_no: int
    weight: int
    order: Order
    begins_batch: bool = False


class OrderRequest(NamedTuple):
    """Everything the order of what remains depends on.

    Attributes:
        canvas_count: Number of canvases, 1 to 12.
        runs: The runs still to come, in the order in which they will be painted.
        history: The runs painted, in the order in which they came to their end.
        strategy: How the lead is shared; None for the default of this number of canvases.
        seed: Decides which canvas opens, and the shuffles of shuffled blocks.
        earlier: Orders announced before for the first runs; () if none.
        batch: Up to so many neighbouring runs of a pass are painted on a canvas before changing over.
        batch_done_count: How many of the last runs painted belong to the batch in hand, which the first run to come
            goes on with; fewer than `batch`; 0 where that run begins a batch.
        names: Names of the canvases for the remarks; () for "canvas 1", "canvas 2" and so on.
    """

    canvas_count: int
    runs: tuple[RunToOrder, ...]
    history: tuple[PaintedRun, ...] = ()
    strategy: Strategy | None = None
    seed: int = 0
    earlier: tuple[Order, ...] = ()
    batch: int = 1
    batch_done_count: int = 0
    names: tuple[str, ...] = ()
