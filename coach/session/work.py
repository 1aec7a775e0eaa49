"""The plan against what is done: the order of every run, and the turns still to come."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import islice
from typing import NamedTuple

from coach.journal.events import Turn
from coach.plan.commission import RETURN_TO, Plan, Run
from coach.session.journal_state import SKIPPED, Shape, TurnRecord
from coach.session.returns import returns_of

Places = dict[Shape, int]
"""Places by passage and canvas, in the order in which they were painted."""
Orders = tuple[tuple[int, ...], ...]


class Work(NamedTuple):
    """Where the work stands.

    Attributes:
        plan: The plan.
        runs: Every run, in the order of the plan, and after them the returns.
        orders: For every run the numbers of the canvases in order: as painted for what is done, as planned for
            the rest; a canvas that is away or was skipped stands in none.
        absent: Numbers of the canvases that are away.
        run_no: Number (0-based) of the first run with something left to do; len(runs) at the end.
        turn_count: How many turns the whole work has.
        turns_done: How many turns are done or skipped.
        done_s: Planned seconds of those turns.
        planned_s: Planned seconds of the whole work, on all canvases.
        leads: Runs led so far, a figure for each canvas of the plan.
        remark: What the painter should know about the order of the rest; may be empty.
    """

    plan: Plan
    runs: tuple[Run, ...]
    orders: Orders
    absent: frozenset[int]
    run_no: int
    turn_count: int
    turns_done: int
    done_s: int
    planned_s: int
    leads: tuple[int, ...]
    remark: str = ""


class Done(NamedTuple):
    """What is done, run by run.

    Attributes:
        painted: For every run that was painted its canvases by first touch; the runs in the order of their last one.
        closed: For every run and canvas how many of its passages are done or skipped.
        spans: For every run that was painted when it was touched first and last, counted in touches of passages.
    """

    painted: dict[int, list[int]]
    closed: dict[tuple[int, int], int]
    spans: dict[int, tuple[int, int]]

    def is_closed(self, run: Run, run_no: int, canvas: int) -> bool:
        """Return whether nothing of a run is left to do on a canvas."""
        return self.closed.get((run_no, canvas), 0) == len(run.passages)

    def left(self, plan: Plan, run: Run, run_no: int, absent: frozenset[int]) -> tuple[int, ...]:
        """Return the canvases that are there and on which something of a run is left to do."""
        numbers = range(len(plan.canvases))
        return tuple(c for c in numbers if c not in absent and not self.is_closed(run, run_no, c))


def done_of(plan: Plan, runs: tuple[Run, ...], places: Places) -> Done:
    """Return what is done of these runs; what has vanished from the plan does not count.

    On a canvas that a run is not for, nothing of it is left to do.
    """
    canvas_numbers = {canvas.name: number for number, canvas in enumerate(plan.canvases)}
    run_numbers = {(run.pass_name, p.name): no for no, run in enumerate(runs) for p in run.passages}
    painted: dict[int, list[int]] = {}
    spans: dict[int, tuple[int, int]] = {}
    closed = {
        (no, number): len(run.passages)
        for no, run in enumerate(runs)
        if run.canvases
        for name, number in canvas_numbers.items()
        if not run.is_for(name)
    }
    for when, ((pass_name, passage, name), place) in enumerate(places.items()):
        run_no, canvas = run_numbers.get((pass_name, passage)), canvas_numbers.get(name)
        if run_no is None or canvas is None:
            continue
        closed[run_no, canvas] = closed.get((run_no, canvas), 0) + 1
        touched = painted.pop(run_no, [])
        if place != SKIPPED and canvas not in touched:
            touched.append(canvas)
        if touched:
            painted[run_no] = touched
            spans[run_no] = spans.get(run_no, (when, when))[0], when
    return Done(painted, closed, spans)


def batch_done_count(plan: Plan, runs: Sequence[Run], done: Done, absent: frozenset[int], no: int) -> int:
    """Return how many runs of the batch in hand are over, where `no` is the first run to come.

    They are the runs that ended last, each after the one that follows it was begun and in the same order: only in a
    batch is a run begun before the one in front of it is over.
    """
    if plan.batch == 1 or no not in done.painted:
        return 0
    begun, since = done.painted[no], done.spans[no][0]
    canvases = {*begun, *done.left(plan, runs[no], no, absent)}
    batch_order: list[int] | None = None
    count = 0
    for over, order in reversed(done.painted.items()):
        if done.left(plan, runs[over], over, absent):
            continue
        first, last = done.spans[over]
        is_of_batch = order[: len(begun)] == begun and set(order) == canvases and batch_order in (None, order)
        if last < since or not is_of_batch or _engine_pass(runs[over]) != _engine_pass(runs[no]):
            break
        count, since, batch_order = count + 1, first, order
    return count % plan.batch


def work_of(
    plan: Plan,
    places: Places,
    *,
    marks: Collection[Shape] = (),
    absent: frozenset[int] = frozenset(),
    orders: Orders | None = None,
) -> Work:
    """Return where the work stands.

    Args:
        plan: The plan.
        places: What is done, from the events.
        marks: What was marked for return, from the events.
        absent: Numbers of the canvases that are away.
        orders: The orders of all runs where they are known already; None plans them from what was painted.
    """
    remark, runs = "", (*plan.runs, *returns_of(plan, marks))
    done = done_of(plan, runs, places)
    if orders is None:
        from coach.session.ordering import planned_orders  # noqa: PLC0415  the two know each other

        orders, remark = planned_orders(plan, runs, done, absent)
    ordered = _Ordered(runs, orders, remark)
    return _counted(plan, places, done, absent, ordered)


class _Ordered(NamedTuple):
    runs: tuple[Run, ...]
    orders: Orders
    remark: str


def _counted(plan: Plan, places: Places, done: Done, absent: frozenset[int], ordered: _Ordered) -> Work:
    runs = ordered.runs
    asked = [
        (no, number)
        for no, run in enumerate(runs)
        for number, canvas in enumerate(plan.canvases)
        if run.is_for(canvas.name)
    ]
    over = [no for no, canvas in asked if done.is_closed(runs[no], no, canvas)]
    planned_s = [run.planned_s for run in runs]
    leads = [0] * len(plan.canvases)
    for no, order in done.painted.items():
        leads[order[0]] += _is_led(runs[no])
    work = Work(
        plan=plan,
        runs=runs,
        orders=ordered.orders,
        absent=absent,
        run_no=0,
        turn_count=len(asked),
        turns_done=len(over),
        done_s=sum(planned_s[no] for no in over),
        planned_s=sum(planned_s[no] for no, _ in asked),
        leads=tuple(leads),
        remark=ordered.remark,
    )
    return work._replace(run_no=_next_open_run(work, places))


def _is_led(run: Run) -> bool:
    """Return whether somebody follows in a run, so that its lead counts."""
    return len(run.canvases) != 1


def after_turn(work: Work, record: TurnRecord, places: Places, marks: Collection[Shape]) -> Work:
    """Return where the work stands after one more turn.

    The order is planned anew only where it was left, or where a turn was marked for return.
    """
    run = _run_in_hand(work, record.turn, places)
    is_left = run is None or record.went_other_way or record.is_skipped or record.turn.passages != run.passage_names
    if run is None or is_left or record.is_marked:
        from coach.session.ordering import mended_orders  # noqa: PLC0415  loaded where the order was left

        runs = (*work.plan.runs, *returns_of(work.plan, marks))
        done = done_of(work.plan, runs, places)
        orders, remark = mended_orders(work, runs, done, record)
        return _counted(work.plan, places, done, work.absent, _Ordered(runs, orders, remark))
    return work._replace(
        run_no=_next_open_run(work, places),
        turns_done=work.turns_done + 1,
        done_s=work.done_s + run.planned_s,
        leads=_with_lead(work, run, record.turn.canvas, places) if _is_led(run) else work.leads,
        remark="",
    )


def turns_ahead(work: Work, places: Places, first: str | None = None) -> Iterator[Turn]:
    """Yield the turns still to come, the one in hand first.

    Args:
        work: Where the work stands.
        places: What is done, from the events.
        first: Name of the canvas that was taken out of turn; it comes before the others of the run in hand.
    """
    for group in groups_ahead(work, places):
        closed = {no: _closed_on(work, work.runs[no], places) for no in group}
        taken = {no: len(closed[no]) for no in group}
        for canvas in _canvases(work, group[0], first):
            for no in group:
                if canvas not in closed[no]:
                    taken[no] += 1
                    yield _turn(work.runs[no], canvas, taken[no], places)
        first = None


def open_canvases(work: Work, places: Places, turn: Turn) -> tuple[str, ...]:
    """Return the names of the canvases on which the run of a turn is still to be painted, in order."""
    run = _run_in_hand(work, turn, places)
    if run is None:
        return ()
    return tuple(name for name in _canvases(work, work.run_no) if not is_done(run, name, places))


def groups_ahead(work: Work, places: Places) -> Iterator[list[int]]:
    """Yield the numbers of the runs still to come, those together that are painted on a canvas before changing over.

    They are the batches by which the engine ordered them. Whatever cuts a batch short gives the next one another
    pass or another order, so the batches are read from the orders; only how far the batch in hand has come is read
    from what is done, which a replay sees as well.
    """
    present, room = _present(work), 0
    group: list[int] = []
    for no in range(work.run_no, len(work.runs)):
        if not _is_open(work.runs[no], present, places):
            continue
        if room > 0 and _share_batch(work, group[-1], no):
            group.append(no)
        else:
            room = work.plan.batch
            if group:
                yield group
            else:
                room -= _done_of_batch(work, no, places)
            group = [no]
        room -= 1
    if group:
        yield group


def _share_batch(work: Work, before: int, after: int) -> bool:
    is_one_pass = _engine_pass(work.runs[before]) == _engine_pass(work.runs[after])
    return is_one_pass and work.orders[before] == work.orders[after]


def _engine_pass(run: Run) -> str:
    """Return the pass of a run as the engine has it: all corrections are one."""
    return RETURN_TO if run.pass_name.startswith(RETURN_TO) else run.pass_name


def _done_of_batch(work: Work, no: int, places: Places) -> int:
    is_begun = any(places.get(shape, SKIPPED) != SKIPPED for shape in _shapes(work, work.runs[no]))
    if work.plan.batch == 1 or not is_begun:
        return 0
    return batch_done_count(work.plan, work.runs, done_of(work.plan, work.runs, places), work.absent, no)


def _shapes(work: Work, run: Run) -> Iterator[Shape]:
    return ((run.pass_name, passage.name, canvas.name) for passage in run.passages for canvas in work.plan.canvases)


def is_done(run: Run, canvas: str, places: Places) -> bool:
    """Return whether every passage of a run is done, or skipped, on a canvas."""
    return all((run.pass_name, passage.name, canvas) in places for passage in run.passages)


def _canvases(work: Work, run_no: int, first: str | None = None) -> list[str]:
    names = [work.plan.canvases[canvas].name for canvas in work.orders[run_no]]
    return sorted(names, key=lambda name: name != first)


def _closed_on(work: Work, run: Run, places: Places) -> set[str]:
    return {canvas.name for canvas in work.plan.canvases if is_done(run, canvas.name, places)}


def _turn(run: Run, canvas: str, place: int, places: Places) -> Turn:
    passages = tuple(p for p in run.passages if (run.pass_name, p.name, canvas) not in places)
    part = run if len(passages) == len(run.passages) else run._replace(passages=passages)
    return Turn(
        pass_name=run.pass_name,
        run=run.number,
        passages=part.passage_names,
        canvas=canvas,
        place=place,
        planned_s=part.planned_s,
    )


def _run_in_hand(work: Work, turn: Turn, places: Places) -> Run | None:
    """Return the run of a turn where it is among the first open ones, as many as a batch holds."""
    present, room = _present(work), work.plan.batch
    for run in islice(work.runs, work.run_no, None):
        if (run.pass_name, run.number) == (turn.pass_name, turn.run):
            return run
        room -= _is_open(run, present, places)
        if room == 0:
            break
    return None


def run_of(work: Work, turn: Turn) -> Run | None:
    """Return the run of a turn that is still to come, or None where there is none."""
    ahead = islice(work.runs, work.run_no, None)
    return next((run for run in ahead if (run.pass_name, run.number) == (turn.pass_name, turn.run)), None)


def _with_lead(work: Work, run: Run, canvas: str, places: Places) -> tuple[int, ...]:
    """Return the leads with one more for a canvas that just painted a run, unless another one painted it before."""
    follows = any(places.get(shape, SKIPPED) != SKIPPED for shape in _shapes(work, run) if shape[2] != canvas)
    led = None if follows else canvas
    return tuple(count + (one.name == led) for count, one in zip(work.leads, work.plan.canvases, strict=True))


def _next_open_run(work: Work, places: Places) -> int:
    present = _present(work)
    ahead = range(work.run_no, len(work.runs))
    return next((no for no in ahead if _is_open(work.runs[no], present, places)), len(work.runs))


def _present(work: Work) -> list[str]:
    return [canvas.name for number, canvas in enumerate(work.plan.canvases) if number not in work.absent]


def _is_open(run: Run, present: Iterable[str], places: Places) -> bool:
    """Return whether something of a run is left to do on a canvas that is there."""
    return any(run.is_for(name) and not is_done(run, name, places) for name in present)
