"""What is done of a plan's runs, and the corrections that marks call for."""

from collections.abc import Collection, Mapping, Sequence
from itertools import islice, takewhile
from typing import NamedTuple

from coach.plan.commission import RETURN_TO, Plan, Run
from coach.session.records import SKIPPED, Shape

Places = Mapping[Shape, int]
"""Places by passage and canvas, in the order in which they were painted."""


class Done(NamedTuple):
    """What is done, run by run.

    Attributes:
        painted: For every run that was painted its canvases by first touch; the runs in the order of their last one.
        closed: For every run and canvas how many of its passages are done or skipped.
        spans: For every run that was painted when it was touched first and last, counted in touches of passages.
        parts: For every run that was painted its canvases; those that caught up alone, when the others had gone on with
            more runs than a batch holds, stand apart.
        checked: For every check that was made its canvases by first touch; it is no run that was painted.
    """

    painted: dict[int, list[int]]
    closed: dict[tuple[int, int], int]
    spans: dict[int, tuple[int, int]]
    parts: dict[int, list[list[int]]]
    checked: dict[int, list[int]]

    def is_closed(self, run: Run, run_no: int, canvas: int) -> bool:
        """Return whether nothing of a run is left to do on a canvas."""
        return self.closed.get((run_no, canvas), 0) == len(run.passages)

    def left(self, plan: Plan, run: Run, run_no: int, absent: frozenset[int]) -> tuple[int, ...]:
        """Return the canvases that are there and on which something of a run is left to do."""
        numbers = range(len(plan.canvases))
        return tuple(c for c in numbers if c not in absent and not self.is_closed(run, run_no, c))


def done_of(plan: Plan, runs: Sequence[Run], places: Places) -> Done:
    """Return what is done of these runs; what has vanished from the plan does not count.

    On a canvas that a run is not for, nothing of it is left to do.
    """
    canvas_numbers = {canvas.name: number for number, canvas in enumerate(plan.canvases)}
    run_numbers = {(run.pass_name, p.name): no for no, run in enumerate(runs) for p in run.passages}
    painted: dict[int, list[int]] = {}
    spans: dict[int, tuple[int, int]] = {}
    parts: dict[int, list[list[int]]] = {}
    checks = {no for no, run in enumerate(runs) if run.is_check}
    checked: dict[int, list[int]] = {}
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
        if run_no in checks:
            checked.setdefault(run_no, []).extend([canvas] if place != SKIPPED else [])
            continue
        behind = is_left_behind(plan, painted, run_no)
        touched = painted.pop(run_no, [])
        if place != SKIPPED and canvas not in touched:
            touched.append(canvas)
            own = parts.setdefault(run_no, [[]])
            if behind:
                own.append([])
            own[-1].append(canvas)
        if touched:
            painted[run_no] = touched
            spans[run_no] = spans.get(run_no, (when, when))[0], when
    return Done(painted, closed, spans, parts, checked)


def is_left_behind(plan: Plan, painted: dict[int, list[int]], no: int) -> bool:
    """Return whether a run was begun and then more others were painted than a batch holds, as while a canvas is away.

    Args:
        plan: The plan.
        painted: The runs that were painted, in the order in which they were touched last.
        no: The run.
    """
    if no not in painted:
        return False
    since = list(islice(takewhile(lambda other: other != no, reversed(painted)), plan.batch + 1))
    return len(since) > plan.batch


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
        is_of_batch &= len(done.parts[over]) == 1
        if last < since or not is_of_batch or engine_pass(runs[over]) != engine_pass(runs[no]):
            break
        count, since, batch_order = count + 1, first, order
    return count % plan.batch


def engine_pass(run: Run) -> str:
    """Return the pass of a run as the engine has it: all corrections are one."""
    return RETURN_TO if run.pass_name.startswith(RETURN_TO) else run.pass_name


def returns_of(plan: Plan, marks: Collection[Shape]) -> tuple[Run, ...]:
    """Return the runs of corrections, in the order they were first marked.

    A run that was marked on several canvases comes back as one run on these canvases, so that its lead is shared
    like any other. A return that is marked again comes back once more. What has vanished from the plan does not
    come back.
    """
    if not marks:
        return ()
    canvases = {canvas.name for canvas in plan.canvases}
    found = {(run.pass_name, passage.name): (run, passage) for run in plan.runs for passage in run.passages}
    returns: dict[tuple[str, int], Run] = {}
    for pass_name, name, canvas in marks:
        if (pass_name, name) not in found or canvas not in canvases:
            continue
        marked, passage = found[pass_name, name]
        key = (RETURN_TO + marked.pass_name, marked.number)
        run = returns.get(key, Run(pass_name=key[0], number=key[1], passages=()))
        if name not in run.passage_names:
            run = run._replace(passages=(*run.passages, passage._replace(lead=None)))
        if canvas not in run.canvases:
            run = run._replace(canvases=(*run.canvases, canvas))
        returns[key] = run
        found[key[0], name] = run, passage
    return tuple(returns.values())
