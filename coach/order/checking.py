"""What the ordering engine refuses to be asked: figures that are none, and canvases that are not there."""

from collections.abc import Collection, Sequence

from coach.order.request import MOST_CANVASES, Order, OrderError, OrderRequest, PaintedRun, RunToOrder


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


def _check_batch_in_hand(request: OrderRequest) -> None:
    count, where = request.batch_done_count, "batch_done_count"
    _check_whole(count, where)
    if count == 0:
        return
    if count >= request.batch or count > len(request.history) or not request.runs:
        what = "of the batch in hand no more runs are over than were painted, and at least one is to come"
        raise OrderError(what, where=where)
    first = request.runs[0]
    present = tuple(c for c in range(request.canvas_count) if c not in first.away)
    for run in request.history[-count:]:
        fits = sorted(run.order) == list(present) and run.order[: len(first.begun)] == first.begun
        if not fits or (run.pass_no, run.order) != (first.pass_no, request.history[-1].order):
            raise OrderError("the runs of the batch in hand are of one pass and one order", where=where)


def check_painted(runs: Sequence[PaintedRun], canvas_count: int, where: str) -> None:
    """Refuse painted runs that cannot be.

    Raises:
        OrderError: A figure is no whole number of at least 0; a canvas does not exist or is named twice.
    """
    sound: set[Order] = set()  # most runs share a few orders
    for i, run in enumerate(runs):
        _check_whole(run.pass_no, f"{where}[{i}]")
        _check_whole(run.weight, f"{where}[{i}]")
        if run.order not in sound:
            _check_canvases(run.order, canvas_count, f"{where}[{i}]")
            sound.add(run.order)


def _check_run(run: RunToOrder, canvas_count: int, where: str) -> None:
    _check_whole(run.pass_no, where)
    _check_whole(run.weight, where)
    if run.lead is not None:
        _check_canvases((run.lead,), canvas_count, where)
    _check_canvases(run.away, canvas_count, where)
    _check_canvases(run.begun, canvas_count, where)
    if run.away and run.away.intersection(run.begun):
        raise OrderError("a canvas that was painted in this run cannot be away from it", where=where)


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
