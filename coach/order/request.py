"""What the ordering engine is asked: the runs to come, what was painted, the strategy and the wishes."""

import enum
from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True, kw_only=True)
class RunToOrder:
    """A run still to come, or in hand.

    Attributes:
        pass_no: 0-based number of its pass; returns may have a number of their own.
        weight: Whole weighted minutes for one canvas, 0 or more; counted as at least 1.
        lead: Wish: this canvas leads. None: no wish.
        away: Canvases that cannot be painted in this run.
        begun: Canvases that took this run already, by first touch: the run in hand, or one that an absent
            canvas catches up. The order returned begins with them.
    """

    pass_no: int
    weight: int
    lead: int | None = None
    away: frozenset[int] = frozenset()
    begun: Order = ()

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        _require_whole(self.pass_no, "pass_no")
        _require_whole(self.weight, "weight")
        if self.lead is not None:
            _require_canvases((self.lead,), "lead")
        _require_canvases(tuple(self.away), "away")
        _require_canvases(self.begun, "begun")
        if self.away.intersection(self.begun):
            raise OrderError("a canvas that was painted in this run cannot be away from it", where="begun")


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintedRun:
    """A run as it was painted, or as it is planned to be.

    Attributes:
        pass_no: 0-based number of its pass.
        weight: Whole weighted minutes for one canvas (the mean over the canvases), 0 or more; counted as at
            least 1.
        order: Canvases painted, by first touch; may lack canvases that were skipped or away.
    """

    pass_no: int
    weight: int
    order: Order

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        _require_whole(self.pass_no, "pass_no")
        _require_whole(self.weight, "weight")
        _require_canvases(self.order, "order")


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderRequest:
    """Everything the order of what remains depends on.

    Attributes:
        canvas_count: Number of canvases, 1 to 12.
        runs: The runs still to come, in the order in which they will be painted.
        history: The runs painted, in the order in which they were painted.
        strategy: How the lead is shared; None for the default of this number of canvases.
        seed: Decides which canvas opens, and the shuffles of shuffled blocks.
        earlier: Orders announced before for the first runs; () if none.
        batch: Up to so many neighbouring runs of a pass are painted on a canvas before changing over.
        names: Names of the canvases for the remarks; () for "canvas 1", "canvas 2" and so on.
    """

    canvas_count: int
    runs: tuple[RunToOrder, ...]
    history: tuple[PaintedRun, ...] = ()
    strategy: Strategy | None = None
    seed: int = 0
    earlier: tuple[Order, ...] = ()
    batch: int = 1
    names: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        _require_whole(self.canvas_count, "canvas_count", least=1)
        _require_whole(self.batch, "batch", least=1)
        if isinstance(self.seed, bool) or not isinstance(self.seed, int):
            raise OrderError("the seed must be a whole number", where="seed")
        if self.canvas_count > MOST_CANVASES:
            raise OrderError(f"{self.canvas_count} canvases; at most {MOST_CANVASES}", where="canvas_count")
        if self.names and len(self.names) != self.canvas_count:
            raise OrderError("there must be one name for each canvas", where="names")
        if len(self.earlier) > len(self.runs):
            raise OrderError("more orders were announced than runs remain", where="earlier")
        for i, run in enumerate(self.runs):
            named = {*run.away, *run.begun} | (set() if run.lead is None else {run.lead})
            _require_known(named, self.canvas_count, f"runs[{i}]")
        for i, painted in enumerate(self.history):
            _require_known(set(painted.order), self.canvas_count, f"history[{i}]")
        for i, order in enumerate(self.earlier):
            _require_canvases(order, f"earlier[{i}]")
            _require_known(set(order), self.canvas_count, f"earlier[{i}]")


def _require_whole(value: object, where: str, *, least: int = 0) -> None:
    if isinstance(value, bool) or not isinstance(value, int) or value < least:
        raise OrderError(f"{value!r} is not a whole number of at least {least}", where=where)


def _require_canvases(order: Order, where: str) -> None:
    for canvas in order:
        _require_whole(canvas, where)
    if len(set(order)) != len(order):
        raise OrderError("a canvas is named twice", where=where)


def _require_known(canvases: set[int], canvas_count: int, where: str) -> None:
    unknown = sorted(canvas for canvas in canvases if canvas >= canvas_count)
    if unknown:
        raise OrderError(f"there is no canvas number {unknown[0] + 1} among {canvas_count}", where=where)
