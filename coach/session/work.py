"""The plan against what is done: the order of every run, and the turns still to come."""

from collections.abc import Collection, Iterator, Mapping
from typing import NamedTuple

from coach.journal.events import Turn
from coach.plan.commission import Plan, Run
from coach.session.progress import SKIPPED, Shape, TurnRecord
from coach.session.returns import returns_of

Places = Mapping[Shape, int]
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
        painted: For every run that was painted its canvases by first touch; the runs in the order painted.
        closed: For every run and canvas how many of its passages are done or skipped.
    """

    painted: dict[int, list[int]]
    closed: dict[tuple[int, int], int]

    def is_closed(self, run: Run, run_no: int, canvas: int) -> bool:
        """Return whether nothing of a run is left to do on a canvas."""
        return self.closed.get((run_no, canvas), 0) == len(run.passages)


def done_of(plan: Plan, runs: tuple[Run, ...], places: Places) -> Done:
    """Return what is done of these runs; what has vanished from the plan does not count.

    On a canvas that a run is not for, nothing of it is left to do.
    """
    canvas_numbers = {canvas.name: number for number, canvas in enumerate(plan.canvases)}
    run_numbers = {(run.pass_name, p.name): no for no, run in enumerate(runs) for p in run.passages}
    painted: dict[int, list[int]] = {}
    closed = {
        (no, number): len(run.passages)
        for no, run in enumerate(runs)
        if run.canvases
        for name, number in canvas_numbers.items()
        if not run.is_for(name)
    }
    for (pass_name, passage, name), place in places.items():
        run_no, canvas = run_numbers.get((pass_name, passage)), canvas_numbers.get(name)
        if run_no is None or canvas is None:
            continue
        closed[run_no, canvas] = closed.get((run_no, canvas), 0) + 1
        if place != SKIPPED:
            touched = painted.setdefault(run_no, [])
            if canvas not in touched:
                touched.append(canvas)
    return Done(painted, closed)


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
        from coach.session.ordering import planned_orders  # noqa: PLC0415  loaded where no memo holds the orders

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
    run = _run_in_hand(work, record.turn)
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
        leads=_with_lead(work, record) if _is_led(run) else work.leads,
        remark="",
    )


def turns_ahead(work: Work, places: Places, first: str | None = None) -> Iterator[Turn]:
    """Yield the turns still to come, the one in hand first.

    Args:
        work: Where the work stands.
        places: What is done, from the events.
        first: Name of the canvas that was taken out of turn; it comes before the others of the run in hand.
    """
    no = work.run_no
    while no < len(work.runs):
        group = group_of(work, no)
        taken = dict.fromkeys(group, 0)
        for canvas in _canvases(work, no, first):
            for run_no in group:
                run = work.runs[run_no]
                if not is_done(run, canvas, places):
                    taken[run_no] += 1
                    yield _turn(run, canvas, _done_count(work, run, places) + taken[run_no], places)
        no, first = group.stop, None


def open_canvases(work: Work, places: Places, turn: Turn) -> tuple[str, ...]:
    """Return the names of the canvases on which the run of a turn is still to be painted, in order."""
    run = _run_in_hand(work, turn)
    if run is None:
        return ()
    return tuple(name for name in _canvases(work, work.run_no) if not is_done(run, name, places))


def group_of(work: Work, run_no: int) -> range:
    """Return the runs painted on a canvas before changing over: `run_no` and what follows it in its batch."""
    batch, run = work.plan.batch, work.runs[run_no]
    last = run_no + batch - (run.number - 1) % batch
    stop = run_no + 1
    while (
        stop < min(last, len(work.runs))
        and work.runs[stop].pass_name == run.pass_name
        and work.orders[stop] == work.orders[run_no]
    ):
        stop += 1
    return range(run_no, stop)


def is_done(run: Run, canvas: str, places: Places) -> bool:
    """Return whether every passage of a run is done, or skipped, on a canvas."""
    return all((run.pass_name, passage.name, canvas) in places for passage in run.passages)


def _canvases(work: Work, run_no: int, first: str | None = None) -> list[str]:
    names = [work.plan.canvases[canvas].name for canvas in work.orders[run_no]]
    return sorted(names, key=lambda name: name != first)


def _done_count(work: Work, run: Run, places: Places) -> int:
    return sum(is_done(run, canvas.name, places) for canvas in work.plan.canvases)


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


def _run_in_hand(work: Work, turn: Turn) -> Run | None:
    ahead = work.runs[work.run_no : work.run_no + work.plan.batch]
    return next((run for run in ahead if (run.pass_name, run.number) == (turn.pass_name, turn.run)), None)


def _with_lead(work: Work, record: TurnRecord) -> tuple[int, ...]:
    led = record.turn.canvas if record.turn.place == 1 else None
    return tuple(count + (canvas.name == led) for count, canvas in zip(work.leads, work.plan.canvases, strict=True))


def _next_open_run(work: Work, places: Places) -> int:
    present = [canvas.name for no, canvas in enumerate(work.plan.canvases) if no not in work.absent]
    for no in range(work.run_no, len(work.runs)):
        run = work.runs[no]
        if not all(is_done(run, name, places) for name in present if run.is_for(name)):
            return no
    return len(work.runs)
