"""The order of the runs to come: as it was announced, or planned anew by the engine; and what to say of a change."""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from coach.forecast.outlook import SHORT_TURN_FRAC, is_forgotten
from coach.order.planning import plan_orders
from coach.order.remarks import on_older_name
from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder
from coach.plan.commission import Address, Plan, Run, pass_words
from coach.plan.strategy import strategy_named
from coach.session.done import Done, batch_done_count, is_left_behind
from coach.session.journal_state import JournalState
from coach.session.records import TurnRecord
from coach.text import counted

Orders = tuple[Order, ...]
Names = Mapping[Address, tuple[str, ...]]
"""Names of canvases, in order, by the first passage of a run."""

FREE_FRAC: Final = 0.02
"""So far apart the leads may be at the end of the work. Source: the engine's tolerance, ours."""

CHANGES_WORTH: Final = 2
"""So many changes of canvas saved are worth another order than was announced. Source: ours."""

LEADS_SAID: Final = 10
"""How many of the next leads a change is told of."""


class Runs(NamedTuple):
    """The runs of the work and what is done of them.

    Attributes:
        plan: The plan.
        every: Every run, in the order of the plan, and after them the returns.
        done: What is done of them.
        absent: Numbers of the canvases that are away.
        ahead: Numbers of the runs with something left to do, in the order in which they will come.
        held: Numbers of those among them that come first because they are in hand.
        held_canvas: The canvas that comes first in the first of them; empty where the order says.
    """

    plan: Plan
    every: tuple[Run, ...]
    done: Done
    absent: frozenset[int]
    ahead: tuple[int, ...]
    held: tuple[int, ...] = ()
    held_canvas: str = ""

    @property
    def to_paint(self) -> tuple[int, ...]:
        """Numbers of the runs ahead that lay paint: only they are ordered, and announced."""
        return tuple(no for no in self.ahead if not self.every[no].is_check)

    def left(self, no: int) -> tuple[int, ...]:
        """Return the canvases that are there and on which something of a run is left to do."""
        return self.done.left(self.plan, self.every[no], no, self.absent)

    def named(self, order: Order) -> tuple[str, ...]:
        """Return the names of canvases."""
        return tuple(self.plan.canvases[canvas].name for canvas in order)

    def numbers(self, names: Sequence[str]) -> Order:
        """Return the numbers of canvases that the plan still has."""
        known = {canvas.name: number for number, canvas in enumerate(self.plan.canvases)}
        return tuple(known[name] for name in names if name in known)


def address_of(run: Run) -> Address:
    """Return the first passage of a run, by which its order is announced."""
    return run.pass_name, run.passages[0].name


def announced_orders(runs: Runs, announced: Names) -> Orders | None:
    """Return the order of every run as it was painted or announced, or None where an order has to be planned."""
    orders = [tuple(runs.done.painted.get(no, ())) for no in range(len(runs.every))]
    for no in runs.to_paint:
        names, left = _announced_for(runs.every[no], announced), set(runs.left(no))
        order = [c for c in runs.numbers(names or ()) if c in left and c not in orders[no]]
        if left - {*order, *orders[no]}:
            return None
        orders[no] = (*orders[no], *order)
    return _with_checks(runs, orders)


def planned_orders(runs: Runs, state: JournalState, earlier: Names) -> tuple[Orders, str]:
    """Return an order for every run, planned anew near those announced earlier, and what is to be said of it."""
    request = request_of(runs, state, earlier)
    answer = plan_orders(request)
    planned = dict(zip(runs.to_paint, answer.orders, strict=True))
    painted = [tuple(runs.done.painted.get(no, ())) for no in range(len(runs.every))]
    orders = [begun + tuple(c for c in planned.get(no, ()) if c not in begun) for no, begun in enumerate(painted)]
    said = () if earlier else (on_older_name(runs.plan.order),)
    return _with_checks(runs, orders), " ".join(filter(None, (*said, *answer.remarks)))


def _with_checks(runs: Runs, orders: list[Order]) -> Orders:
    """Return the orders with those of the checks: each begins on the canvas on which the run before it ends."""
    before: Order = ()
    for no, run in enumerate(runs.every):
        if run.is_check:
            checked, back = tuple(runs.done.checked.get(no, ())), before[::-1]
            left = [c for c in runs.left(no) if c not in checked]
            orders[no] = (*checked, *sorted(left, key=lambda c: back.index(c) if c in back else len(back)))
        else:
            before = orders[no] or before
    return tuple(orders)


def painted_weight(run: Run, order: Sequence[str], state: JournalState) -> int:
    """Return what a run weighs that was painted: the mean of the seconds it took on its canvases, times difficulty.

    A turn whose time cannot be believed counts with the time planned, and so does one that the journal does not hold.
    """
    seconds = [_painted_s(run, canvas, state) for canvas in order]
    if not seconds:
        return run.weighted_s
    return max(1, round(sum(seconds) / len(seconds) * run.weighted_s / run.planned_s))


def _painted_s(run: Run, canvas: str, state: JournalState) -> float:
    """Return the seconds of a run on a canvas; of a turn that painted other passages too its share by number."""
    shapes = [(run.pass_name, passage.name, canvas) for passage in run.passages]
    found = [record for shape in shapes if (record := state.record_of(shape)) and not record.is_skipped]
    if not found or not all(map(_is_believed, found)):
        return run.planned_s
    return sum(record.worked_ms / 1000 / len(record.turn.passages) for record in found)


def _is_believed(record: TurnRecord) -> bool:
    planned_s, worked_s = record.turn.planned_s, record.worked_ms / 1000
    return worked_s >= SHORT_TURN_FRAC * planned_s and worked_s > 0 and not is_forgotten(planned_s, worked_s)


def request_of(runs: Runs, state: JournalState, earlier: Names) -> OrderRequest:
    """Return what the engine is asked about the runs ahead."""
    plan, done = runs.plan, runs.done
    pass_numbers = {one_pass.name: no for no, one_pass in enumerate(plan.passes)}
    of_returns = len(pass_numbers)
    ahead = runs.to_paint
    coming = set(ahead)
    over = [no for no in done.painted if no not in coming]
    history = tuple(
        PaintedRun(
            pass_no=pass_numbers.get(runs.every[no].pass_name, of_returns),
            weight=painted_weight(runs.every[no], runs.named(tuple(part)), state),
            order=tuple(part),
            begins_batch=before is not None and _is_apart(runs, before, no),
        )
        for before, no in zip([None, *over], over, strict=False)
        for part in done.parts[no]
    )
    to_order = tuple(_run_to_order(runs, no, pass_numbers.get(runs.every[no].pass_name, of_returns)) for no in ahead)
    return OrderRequest(
        canvas_count=len(plan.canvases),
        runs=to_order,
        history=history,
        strategy=strategy_named(plan.order),
        seed=plan.seed,
        earlier=tuple(runs.numbers(_announced_for(runs.every[no], earlier) or ()) for no in ahead),
        batch=plan.batch,
        batch_done_count=(batch_done_count(plan, runs.every, done, runs.absent, ahead[0]) if ahead else 0),
        names=tuple(canvas.name for canvas in plan.canvases),
    )


def _run_to_order(runs: Runs, no: int, pass_no: int) -> RunToOrder:
    run, left = runs.every[no], runs.left(no)
    begun = tuple(runs.done.painted.get(no, ()))
    lead = runs.numbers([run.lead] if run.lead else [])
    if runs.held_canvas and no == runs.ahead[0]:
        in_hand = tuple(c for c in runs.numbers([runs.held_canvas]) if c in left and c not in begun)
        begun, lead = ((*begun, *in_hand), lead) if begun else (begun, in_hand or lead)
    if is_left_behind(runs.plan, runs.done.painted, no):
        begun = tuple(c for c in begun if c in left)  # who took it before neither leads nor follows who catches up
    return RunToOrder(
        pass_no=pass_no,
        weight=run.weighted_s,
        lead=lead[0] if lead else None,
        away=frozenset(c for c in range(len(runs.plan.canvases)) if c not in begun and c not in left),
        begun=begun,
        label=f"{run.pass_name} run {run.number}",
    )


def _is_apart(runs: Runs, before: int, no: int) -> bool:
    """Return whether a run that is over shared no batch with the one that ended before it.

    In a batch it was begun before that one ended; of runs on one canvas this says nothing, unless that is the only one
    left because the others were passed over, which ends a batch.
    """
    done, run = runs.done, runs.every[no]
    if done.spans[no][0] < done.spans[before][1]:
        return False
    order = done.painted[no]
    others = (c for c, canvas in enumerate(runs.plan.canvases) if c not in order and run.is_for(canvas.name))
    return len(order) > 1 or any(done.is_closed(run, no, c) for c in others)


def names_of(runs: Runs, orders: Orders) -> dict[Address, tuple[str, ...]]:
    """Return the orders of the runs ahead as they are announced."""
    return {address_of(runs.every[no]): runs.named(orders[no]) for no in runs.to_paint}


def change_in_words(why: str, runs: Runs, before: Names, after: Names) -> str:
    """Return in a sentence how many of the next leads change, and why."""
    coming = [runs.every[no] for no in runs.to_paint if no not in runs.done.painted]
    known = [run for run in coming if address_of(run) in before]
    changed = [run for run in known if before[address_of(run)][:1] != after[address_of(run)][:1]]
    if not changed:
        return f"{why}: the order ahead stays as it was."
    near = [run for run in known[:LEADS_SAID] if run in changed]
    first = changed[0]
    lead = after[address_of(first)][0]
    count = min(LEADS_SAID, len(known))
    said = f"{why}: {lead} now leads {pass_words(first.pass_name)}, run {first.number}"
    others = len(near) - (first in near)
    return f"{said}; {others} more of the next {counted(count, 'lead')} change." if others else f"{said}."


def is_worth_a_change(runs: Runs, state: JournalState, kept: Orders, new: Orders) -> str:
    """Return why the orders announced are given up at a session's end; empty where they stay."""
    before, after = _even(runs, state, kept), _even(runs, state, new)
    if before.apart_frac > FREE_FRAC and after.apart_frac < before.apart_frac:
        return (
            f"By the minutes painted, the leads would have ended {100 * before.apart_frac:.1f} % of the work apart, "
            f"and now end {100 * after.apart_frac:.1f} % apart"
        )
    saved = before.changes - after.changes
    if saved >= CHANGES_WORTH and after.apart_frac <= max(FREE_FRAC, before.apart_frac):
        return f"{counted(saved, 'change')} of canvas fewer"
    return ""


class _Evenness(NamedTuple):
    apart_frac: float
    changes: int


def _even(runs: Runs, state: JournalState, orders: Orders) -> _Evenness:
    """Return how far the leads end apart, and how often the canvas changes between two runs to come."""
    led = [0] * len(runs.plan.canvases)
    coming = set(runs.ahead)
    for no, order in enumerate(orders):
        if len(order) > 1 and not runs.every[no].is_check and len(runs.done.parts.get(no, ())) < 2:  # noqa: PLR2004  a catching up has no lead
            run = runs.every[no]
            led[order[0]] += run.weighted_s if no in coming else painted_weight(run, runs.named(order), state)
    ways = [orders[no] for no in runs.to_paint if orders[no]]
    is_alone = runs.plan.batch == 1  # in a batch neighbours of one order are painted together
    pairs = [(one, other) for one, other in pairwise(ways) if is_alone or one != other]
    changes = sum(one[-1] != other[0] for one, other in pairs)
    return _Evenness((max(led) - min(led)) / max(1, sum(led)), changes)


def _announced_for(run: Run, announced: Names) -> tuple[str, ...] | None:
    """Return the order announced for a run; one that an edit joined of several has that of the first."""
    found = (announced.get((run.pass_name, passage.name)) for passage in run.passages)
    return next((names for names in found if names), None)
