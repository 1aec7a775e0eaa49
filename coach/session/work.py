"""The plan against what is done: the order of every run, and the turns still to come."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import NamedTuple

from coach.journal.events import Turn
from coach.plan.commission import FRESH_EYE, Address, Passage, Plan, Run
from coach.session.done import Places, batch_done_count, done_of, engine_pass, returns_of
from coach.session.journal_state import JournalState
from coach.session.ordering import Orders, Runs, announced_orders, planned_orders
from coach.session.records import SKIPPED, Shape, TurnRecord


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
        held: Numbers of the runs that come before all others because they were in hand.
        held_canvas: Name of the canvas that comes first in them; empty where the order says.
        is_announced: Whether the orders are those that the journal holds; else they were planned just now.
        passages: The passages of the plan by pass and name.
        is_morning: Whether nothing was painted yet since the night.
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
    held: tuple[int, ...] = ()
    held_canvas: str = ""
    is_announced: bool = False
    passages: Mapping[Address, Passage] = {}
    is_morning: bool = True


def work_of(plan: Plan, places: Places, *, marks: Collection[Shape] = (), absent: frozenset[int] = frozenset()) -> Work:
    """Return where the work stands that no journal tells of, its order planned from what is painted.

    Args:
        plan: The plan.
        places: What is done.
        marks: What was marked for return.
        absent: Numbers of the canvases that are away.
    """
    state = JournalState()
    state.places, state.marks = dict(places), dict.fromkeys(marks)
    return work_of_journal(plan, state, absent=absent)


def work_of_journal(plan: Plan, state: JournalState, *, absent: frozenset[int]) -> Work:
    """Return where the work stands: its order as announced, or planned where the journal does not hold one."""
    runs = runs_of_work(plan, state, absent)
    orders, remark = announced_orders(runs, state.announced), state.remark
    is_announced = orders is not None
    if orders is None:
        orders, remark = planned_orders(runs, state, state.announced)
    return _counted(runs, orders)._replace(
        remark=remark,
        is_announced=is_announced,
        passages={(one.name, passage.name): passage for one in plan.passes for passage in one.passages},
        is_morning=state.is_morning,
    )


def runs_of_work(plan: Plan, state: JournalState, absent: frozenset[int]) -> Runs:
    """Return the runs of the work, those to come in the order in which they will be painted."""
    every = (*plan.runs, *returns_of(plan, state.marks))
    done = done_of(plan, every, state.places)
    opened = [no for no, run in enumerate(every) if done.left(plan, run, no, absent)]
    held = _held(every, opened, state.held)
    ahead = (*held, *_in_turn(every, (no for no in opened if no not in held), is_morning=state.is_morning))
    return Runs(plan, every, done, absent, ahead, held, state.held_canvas)


def _in_turn(every: Sequence[Run], opened: Iterable[int], *, is_morning: bool) -> Iterator[int]:
    """Yield the runs to come in order; a fresh eye that is due waits, behind all others, until the next morning."""
    waiting: list[int] = []
    is_due = not is_morning
    for no in opened:
        if is_due and every[no].check == FRESH_EYE:
            waiting.append(no)
        else:
            is_due = is_due and every[no].is_check
            yield no
    yield from waiting


def _held(every: Sequence[Run], opened: Collection[int], addresses: Collection[Address]) -> tuple[int, ...]:
    """Return the runs to come that hold these passages, in their order."""
    if not addresses:
        return ()
    runs = {(every[no].pass_name, passage.name): no for no in opened for passage in every[no].passages}
    return tuple(dict.fromkeys(runs[address] for address in addresses if address in runs))


def _counted(runs: Runs, orders: Orders) -> Work:
    plan, done = runs.plan, runs.done
    asked = [
        (no, number)
        for no, run in enumerate(runs.every)
        for number, canvas in enumerate(plan.canvases)
        if run.is_for(canvas.name)
    ]
    over = [no for no, canvas in asked if done.is_closed(runs.every[no], no, canvas)]
    planned_s = [run.planned_s for run in runs.every]
    leads = [0] * len(plan.canvases)
    for no, order in done.painted.items():
        leads[order[0]] += _is_led(runs.every[no])
    return Work(
        plan=plan,
        runs=runs.every,
        orders=orders,
        absent=runs.absent,
        run_no=min(runs.ahead, default=len(runs.every)),
        turn_count=len(asked),
        turns_done=len(over),
        done_s=sum(planned_s[no] for no in over),
        planned_s=sum(planned_s[no] for no, _ in asked),
        leads=tuple(leads),
        held=runs.held,
        held_canvas=runs.held_canvas,
    )


def _is_led(run: Run) -> bool:
    """Return whether paint is laid and somebody follows in a run, so that its lead counts."""
    return len(run.canvases) != 1 and not run.is_check


def keeps_to_order(work: Work, turn: Turn, places: Places) -> bool:
    """Return whether a turn is the whole of a run in hand, as it was to be painted."""
    run = _run_in_hand(work, turn, places)
    return run is not None and turn.passages == run.passage_names


def after_turn(work: Work, record: TurnRecord, state: JournalState) -> Work:
    """Return where the work stands after one more turn, which `state` holds already."""
    run = _run_in_hand(work, record.turn, state.places)
    is_left = record.went_other_way or record.is_skipped or record.is_marked
    is_held = bool(work.held or work.held_canvas)
    if run is None or is_left or is_held or not work.is_announced or record.turn.passages != run.passage_names:
        return work_of_journal(work.plan, state, absent=work.absent)
    return work._replace(
        run_no=_next_open_run(work, state.places),
        turns_done=work.turns_done + 1,
        done_s=work.done_s + run.planned_s,
        leads=_with_lead(work, run, record.turn.canvas, state.places) if _is_led(run) else work.leads,
        remark=state.remark,
        is_morning=state.is_morning,
    )


def turns_ahead(work: Work, places: Places, first: str | None = None) -> Iterator[Turn]:
    """Yield the turns still to come, the one in hand first.

    Args:
        work: Where the work stands.
        places: What is done, from the events.
        first: Name of the canvas that was taken out of turn; it comes before the others of the run in hand.
    """
    first = first or work.held_canvas
    for group in groups_ahead(work, places):
        closed = {no: _closed_on(work, work.runs[no], places) for no in group}
        taken = {no: len(closed[no]) for no in group}
        for canvas in _canvases(work, group[0], first):
            for no in group:
                if canvas not in closed[no]:
                    taken[no] += 1
                    yield _turn(work.runs[no], canvas, taken[no], places)
        first = ""


def turns_to_come(plan: Plan, state: JournalState, absent: frozenset[int]) -> list[Turn]:
    """Return every turn still to come as it was announced; what a canvas that is away needs comes after all others."""
    first = None if state.in_hand is None else state.in_hand.canvas
    turns = list(turns_ahead(work_of_journal(plan, state, absent=absent), state.places, first))
    if absent:
        away = {plan.canvases[number].name for number in absent}
        everywhere = turns_ahead(work_of_journal(plan, state, absent=frozenset()), state.places)
        turns += [turn for turn in everywhere if turn.canvas in away]
    return turns


def open_canvases(work: Work, places: Places, turn: Turn) -> tuple[str, ...]:
    """Return the names of the canvases on which the run of a turn is still to be painted, in order."""
    run = _run_in_hand(work, turn, places)
    if run is None:
        return ()
    return tuple(
        name for name in _canvases(work, work.runs.index(run), work.held_canvas) if not is_done(run, name, places)
    )


def groups_ahead(work: Work, places: Places) -> Iterator[list[int]]:
    """Yield the numbers of the runs still to come, those together that are painted on a canvas before changing over.

    They are the batches by which the engine ordered them. Whatever cuts a batch short gives the next one another
    pass or another order, so the batches are read from the orders; only how far the batch in hand has come is read
    from what is done, which a replay sees as well. A check is a group by itself, after the batch in which it stands.
    """
    room = 0
    group: list[int] = []
    checks: list[list[int]] = []
    for no in _open_numbers(work, places):
        if work.runs[no].is_check:
            checks.append([no])
            continue
        if room > 0 and _share_batch(work, group[-1], no):
            group.append(no)
        else:
            over = 0 if group else _done_of_batch(work, no, places)
            if group:
                yield group
            if not over:
                yield from checks
                checks = []
            room, group = work.plan.batch - over, [no]
        room -= 1
    if group:
        yield group
    yield from checks


def _open_numbers(work: Work, places: Places) -> Iterator[int]:
    """Yield the numbers of the runs to come in the order in which they will be painted."""
    present = _present(work)
    yield from (no for no in work.held if _is_open(work.runs[no], present, places))
    ahead = range(work.run_no, len(work.runs))
    opened = (no for no in ahead if no not in work.held and _is_open(work.runs[no], present, places))
    yield from _in_turn(work.runs, opened, is_morning=work.is_morning)


def _share_batch(work: Work, before: int, after: int) -> bool:
    is_one_pass = engine_pass(work.runs[before]) == engine_pass(work.runs[after])
    return is_one_pass and work.orders[before] == work.orders[after]


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


def _canvases(work: Work, run_no: int, first: str = "") -> list[str]:
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
        check=run.check or "",
    )


def _run_in_hand(work: Work, turn: Turn, places: Places) -> Run | None:
    """Return the run of a turn where it is among the first open ones, as many as a batch holds.

    The turn may be over already, and its run with it.
    """
    present, room = _present(work), work.plan.batch
    for no in (*work.held, *(no for no in range(work.run_no, len(work.runs)) if no not in work.held)):
        run = work.runs[no]
        if (run.pass_name, run.number) == (turn.pass_name, turn.run):
            return run
        room -= not run.is_check and _is_open(run, present, places)
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
