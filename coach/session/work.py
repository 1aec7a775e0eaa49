"""The plan against what is done: the order of every run, and the turn in hand."""

from collections.abc import Mapping
from typing import NamedTuple

from coach.journal.events import Turn
from coach.order.planning import plan_orders
from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder
from coach.plan.commission import Plan, Run
from coach.session.progress import SKIPPED, Shape, TurnRecord

Places = Mapping[Shape, int]


class Work(NamedTuple):
    """Where the work stands.

    Attributes:
        plan: The plan.
        runs: Every run, in the order of the plan.
        orders: For every run the canvases in order: as painted for what is done, as planned for the rest.
        run_no: Number (0-based) of the first run that is not done on every canvas; len(runs) at the end.
        turns_done: How many turns are done or skipped.
        done_s: Planned seconds of those turns.
        planned_s: Planned seconds of the whole work, on all canvases.
        leads: Runs led so far, a figure for each canvas of the plan.
    """

    plan: Plan
    runs: tuple[Run, ...]
    orders: tuple[Order, ...]
    run_no: int
    done_s: int
    turns_done: int
    planned_s: int
    leads: tuple[int, ...]

    @property
    def turn_count(self) -> int:
        """How many turns the whole work has."""
        return len(self.runs) * len(self.plan.canvases)


def work_of(plan: Plan, places: Places) -> Work:
    """Return where the work stands, with the order of the rest planned anew from what was painted."""
    runs = plan.runs
    painted = {no: order for no, run in enumerate(runs) if (order := painted_order(plan, run, places))}
    orders = _orders(plan, runs, painted, places)
    over = [run for run in runs for canvas in plan.canvases if is_done(run, canvas.name, places)]
    leads = [0] * len(plan.canvases)
    for order in painted.values():
        leads[order[0]] += 1
    return Work(
        plan=plan,
        runs=runs,
        orders=orders,
        run_no=_next_open_run(plan, runs, 0, places),
        done_s=sum(run.planned_s for run in over),
        turns_done=len(over),
        planned_s=sum(run.planned_s for run in runs) * len(plan.canvases),
        leads=tuple(leads),
    )


def after_turn(work: Work, record: TurnRecord, places: Places) -> Work:
    """Return where the work stands after one more turn; the order is planned anew only where it was left."""
    run = work.runs[work.run_no] if work.run_no < len(work.runs) else None
    if run is None or record.went_other_way or record.is_skipped or not _is_whole(run, record):
        return work_of(work.plan, places)
    return work._replace(
        run_no=_next_open_run(work.plan, work.runs, work.run_no, places),
        done_s=work.done_s + run.planned_s,
        turns_done=work.turns_done + 1,
        leads=_with_lead(work, record),
    )


def turn_at(work: Work, places: Places, *, ahead: int = 0, first: str | None = None) -> Turn | None:
    """Return the turn in hand, or the one `ahead` turns later; None past the end.

    Args:
        work: Where the work stands.
        places: What is done, from the events.
        ahead: How many turns later.
        first: Name of the canvas that was taken out of turn; it comes before the others of the run in hand.
    """
    for no in range(work.run_no, len(work.runs)):
        run = work.runs[no]
        open_canvases = open_order(work, no, places)
        if first in open_canvases and no == work.run_no:
            open_canvases = (first, *(name for name in open_canvases if name != first))
        if ahead < len(open_canvases):
            canvas = open_canvases[ahead]
            done = len(work.plan.canvases) - len(open_canvases)
            return _turn(run, canvas, done + ahead + 1, places)
        ahead -= len(open_canvases)
    return None


def open_order(work: Work, run_no: int, places: Places) -> tuple[str, ...]:
    """Return the names of the canvases on which a run is still to be painted, in order."""
    names = (work.plan.canvases[canvas].name for canvas in work.orders[run_no])
    return tuple(name for name in names if not is_done(work.runs[run_no], name, places))


def is_done(run: Run, canvas: str, places: Places) -> bool:
    """Return whether every passage of a run is done (or skipped) on a canvas."""
    return all((run.pass_name, passage.name, canvas) in places for passage in run.passages)


def painted_order(plan: Plan, run: Run, places: Places) -> Order:
    """Return the canvases on which a run was painted, at least in part, by first touch; skipped ones count not."""
    touched: list[tuple[int, int]] = []
    for number, canvas in enumerate(plan.canvases):
        taken = [
            place
            for passage in run.passages
            if (place := places.get((run.pass_name, passage.name, canvas.name), SKIPPED)) != SKIPPED
        ]
        if taken:
            touched.append((min(taken), number))
    return tuple(number for _, number in sorted(touched))


def _turn(run: Run, canvas: str, place: int, places: Places) -> Turn:
    passages = [p for p in run.passages if (run.pass_name, p.name, canvas) not in places]
    part = run if len(passages) == len(run.passages) else run._replace(passages=tuple(passages))
    return Turn(
        pass_name=run.pass_name,
        run=run.number,
        passages=part.passage_names,
        canvas=canvas,
        place=place,
        planned_s=part.planned_s,
    )


def _with_lead(work: Work, record: TurnRecord) -> tuple[int, ...]:
    led = record.turn.canvas if record.turn.place == 1 else None
    return tuple(
        count + (canvas.name == led) for count, canvas in zip(work.leads, work.plan.canvases, strict=True)
    )


def _is_whole(run: Run, record: TurnRecord) -> bool:
    return record.turn.pass_name == run.pass_name and record.turn.passages == run.passage_names


def _is_run_done(plan: Plan, run: Run, places: Places) -> bool:
    return all(is_done(run, canvas.name, places) for canvas in plan.canvases)


def _next_open_run(plan: Plan, runs: tuple[Run, ...], start: int, places: Places) -> int:
    for no in range(start, len(runs)):
        if not _is_run_done(plan, runs[no], places):
            return no
    return len(runs)


def _orders(
    plan: Plan, runs: tuple[Run, ...], painted: Mapping[int, Order], places: Places
) -> tuple[Order, ...]:
    """Return painted orders as they were, none for runs skipped whole, planned ones for the rest."""
    pass_numbers = {one_pass.name: no for no, one_pass in enumerate(plan.passes)}
    asked = [
        RunToOrder(pass_no=pass_numbers[run.pass_name], weight=max(1, round(run.planned_s / 60)))
        for run in runs
    ]

    def planned(numbers: list[int], history: list[int]) -> dict[int, Order]:
        answer = plan_orders(
            OrderRequest(
                canvas_count=len(plan.canvases),
                strategy=plan.order,
                history=tuple(
                    PaintedRun(pass_no=asked[no].pass_no, weight=asked[no].weight, order=painted[no])
                    for no in history
                ),
                runs=tuple(asked[no] for no in numbers),
            )
        )
        return dict(zip(numbers, answer.orders, strict=True))

    open_runs = [no for no, run in enumerate(runs) if not _is_run_done(plan, run, places)]
    begun = [no for no in open_runs if no in painted]
    finished = [no for no in painted if no not in begun]
    orders = {no: painted[no] for no in finished}
    for no in begun:
        whole = planned([no], finished)[no]
        orders[no] = (*painted[no], *(canvas for canvas in whole if canvas not in painted[no]))
    orders |= planned([no for no in open_runs if no not in painted], list(painted))
    return tuple(orders.get(no, ()) for no in range(len(runs)))
