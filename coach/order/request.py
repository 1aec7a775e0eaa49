"""What the ordering engine is asked: the runs to come, what was painted, the strategy and the wishes."""

from collections.abc import Collection, Sequence
from typing import NamedTuple

from coach.errors import CoachError
from coach.plan.strategy import Strategy

Order = tuple[int, ...]
"""Canvas numbers (0-based, in the plan's order of canvases) in the order in which they are painted."""

MOST_CANVASES = 12
"""Largest number of canvases of a commission."""


class OrderError(CoachError):
    """The request cannot be ordered; the plan or the journal must be put right."""


class RunToOrder(NamedTuple):
    """A run still to come, or in hand.

    Attributes:
        pass_no: 0-based number of its pass; returns may have a number of their own.
        weight: Planned seconds on one canvas times difficulty, a whole number; counted as at least 1.
        lead: Wish: this canvas leads. None: no wish.
        away: Canvases that cannot be painted in this run.
        begun: Canvases that took this run already, by first touch. The order returned begins with them.
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
        weight: Seconds on one canvas (of what was painted the mean over its canvases) times difficulty, a whole
            number; counted as at least 1.
        order: Canvases painted, by first touch; may lack canvases that were skipped or away. With one canvas nobody
            led, as where a canvas that was away catches up alone.
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
        strategy: How the lead is shared.
        seed: Decides which canvas opens where all else is equal, and the draws by lot.
        earlier: Orders announced before for the first runs; () if none.
        batch: Up to so many neighbouring runs of a pass are painted on a canvas before changing over.
        batch_done_count: How many of the last runs painted belong to the batch in hand, which the first run to come
            goes on with; fewer than `batch`; 0 where that run begins a batch.
        names: Names of the canvases for the remarks; () for "canvas 1", "canvas 2" and so on.
    """

    canvas_count: int
    runs: tuple[RunToOrder, ...]
    history: tuple[PaintedRun, ...] = ()
    strategy: Strategy = Strategy.EVEN_TURNS
    seed: int = 0
    earlier: tuple[Order, ...] = ()
    batch: int = 1
    batch_done_count: int = 0
    names: tuple[str, ...] = ()

    def name_of(self, canvas: int) -> str:
        """Return the name of a canvas for a remark."""
        return self.names[canvas] if self.names else f"canvas {canvas + 1}"


def counted(weight: int) -> int:
    """Return the weight that is counted: a run without weight counts as 1."""
    return max(1, weight)


def check_request(request: OrderRequest) -> None:
    """Refuse what cannot be.

    Raises:
        OrderError: A figure is no whole number or too small; a canvas does not exist, is named twice, or is
            away from a run it took; there are more than 12 canvases; names, announced orders or the batch in
            hand do not fit.
    """
    count = request.canvas_count
    _check_whole(count, "canvas_count", least=1)
    _check_whole(request.batch, "batch", least=1)
    if isinstance(request.seed, bool) or not isinstance(request.seed, int):
        raise OrderError("the seed must be a whole number", where="seed")
    if count > MOST_CANVASES:
        raise OrderError(f"{count} canvases; at most {MOST_CANVASES}", where="canvas_count")
    if request.names and len(request.names) != count:
        raise OrderError("there must be one name for each canvas", where="names")
    if len(request.earlier) > len(request.runs):
        raise OrderError("more orders were announced than runs remain", where="earlier")
    for i, run in enumerate(request.runs):
        _check_run(run, count, f"runs[{i}]")
    check_painted(request.history, count, "history")
    _check_batch_in_hand(request)
    for i, order in enumerate(request.earlier):
        _check_canvases(order, count, f"earlier[{i}]")


def check_painted(runs: Sequence[PaintedRun], canvas_count: int, where: str) -> None:
    """Refuse painted runs that cannot be.

    Raises:
        OrderError: A figure is no whole number of at least 0; a canvas does not exist or is named twice.
    """
    for i, run in enumerate(runs):
        _check_whole(run.pass_no, f"{where}[{i}]")
        _check_whole(run.weight, f"{where}[{i}]")
        _check_canvases(run.order, canvas_count, f"{where}[{i}]")


def _check_run(run: RunToOrder, canvas_count: int, where: str) -> None:
    _check_whole(run.pass_no, where)
    _check_whole(run.weight, where)
    if run.lead is not None:
        _check_canvases((run.lead,), canvas_count, where)
    _check_canvases(run.away, canvas_count, where)
    _check_canvases(run.begun, canvas_count, where)
    if run.away.intersection(run.begun):
        raise OrderError("a canvas that was painted in this run cannot be away from it", where=where)


def _check_batch_in_hand(request: OrderRequest) -> None:
    count, where = request.batch_done_count, "batch_done_count"
    _check_whole(count, where)
    if count == 0:
        return
    if count >= request.batch or count > len(request.history) or not request.runs:
        what = "of the batch in hand no more runs are over than were painted, and at least one is to come"
        raise OrderError(what, where=where)
    first = request.runs[0]
    present = [c for c in range(request.canvas_count) if c not in first.away]
    for run in request.history[-count:]:
        fits = sorted(run.order) == present and run.order[: len(first.begun)] == first.begun
        if not fits or (run.pass_no, run.order) != (first.pass_no, request.history[-1].order):
            raise OrderError("the runs of the batch in hand are of one pass and one order", where=where)


def _check_canvases(canvases: Collection[int], canvas_count: int, where: str) -> None:
    for canvas in canvases:
        _check_whole(canvas, where)
        if canvas >= canvas_count:
            raise OrderError(f"there is no canvas number {canvas + 1} among {canvas_count}", where=where)
    if len(set(canvases)) != len(canvases):
        raise OrderError("a canvas is named twice", where=where)


def _check_whole(value: object, where: str, *, least: int = 0) -> None:
    if isinstance(value, bool) or not isinstance(value, int) or value < least:
        raise OrderError(f"{value!r} is not a whole number of at least {least}", where=where)
