"""The order held against its targets: how even it ends, how long it takes, and a general solver on the same objective.

Targets: issue 12 and facts/order.md part 0. `python -m tests.bench.order_bench` prints the lines alone.
"""

import time
from collections.abc import Callable, Sequence
from itertools import accumulate, groupby, pairwise
from math import inf
from random import Random
from statistics import mean, median
from typing import Final, NamedTuple

from coach.order.measures import leads_of, measure
from coach.order.planning import plan_orders
from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder
from tests.bench.order_painter import end_apart_frac

_FORM: Final = "{:<66} {:>10} {:>10} {:<6}"
_SOLVER_LIMIT_S: Final = 60.0
_WORKS: Final = 120


def order_figures() -> list[str]:
    """Return the lines of the table: balance, speed, the solver beside the engine, the simulated painter."""
    return [
        _FORM.format("order: figure", "measured", "bound", "").rstrip(),
        *_two_canvases(),
        *_more_canvases(),
        *_after_an_absence(),
        *_speed(),
        *(_against_solver(seed) for seed in range(3)),
        *_painter(),
    ]


def _line(name: str, value: float, most: float | None, unit: str = "") -> str:
    met = "" if most is None else "met" if value <= most else "missed"
    bound = "" if most is None else f"{most:g} {unit}"
    return _FORM.format(name, f"{value:.2f} {unit}", bound, met).rstrip()


def made_runs(chance: Random, count: int, *, passes: tuple[int, int] = (3, 7), s: int = 60) -> tuple[RunToOrder, ...]:
    """Return runs of 4 to 60 minutes, in units of so many seconds, in passes of so many runs."""
    numbers: list[int] = []
    while len(numbers) < count:
        numbers += [len(set(numbers))] * chance.randint(*passes)
    return tuple(RunToOrder(no, s * chance.randint(240 // s, 3600 // s)) for no in numbers[:count])


def _painted(runs: Sequence[RunToOrder], orders: Sequence[Order]) -> list[PaintedRun]:
    return [PaintedRun(run.pass_no, run.weight, order) for run, order in zip(runs, orders, strict=True)]


def _two_canvases() -> list[str]:
    """300 plans of 15 to 26 runs; the changes of canvas were 5.08 with the order before, on these same plans."""
    ends, changes, inside, least = [], [], [], []
    for seed in range(300):
        chance = Random(seed)  # noqa: S311 - made figures, not secrecy
        runs = made_runs(chance, chance.randint(15, 26))
        painted = _painted(runs, plan_orders(OrderRequest(canvas_count=2, runs=runs, seed=seed)).orders)
        found = measure(2, painted)
        by_pass = [leads_of(2, list(own)) for _, own in groupby(painted, key=lambda run: run.pass_no)]
        ends.append(100 * float(found.imbalance_frac))
        changes.append(found.canvas_changes - found.least_canvas_changes)
        inside.append(100 * float(sum(leads.imbalance for leads in by_pass) / found.weight))
        least.append(_least_inside(runs))
    return [
        _line("2 canvases, 300 plans: ended more than 2 % apart", sum(end > 2 for end in ends), 0),
        _line("2 canvases, 300 plans: worst end", max(ends), 2, "%"),
        _line("2 canvases, 300 plans: changes of canvas between runs", mean(changes), 5.58),
        _line("2 canvases, 300 plans: apart inside passes", mean(inside), round(mean(least) + 2, 2), "%"),
    ]


def _least_inside(runs: Sequence[RunToOrder]) -> float:
    """Return the least sum of what the passes are apart inside, in percent of the work, if it ends within 2 %."""
    best = {0: 0}
    for _, own in groupby(runs, key=lambda run: run.pass_no):
        sums = {0}
        for run in own:
            sums = {apart + sign * run.weight for apart in sums for sign in (1, -1)}
        new: dict[int, int] = {}
        for before, cost in best.items():
            for apart in sums:
                new[before + apart] = min(new.get(before + apart, cost + abs(apart)), cost + abs(apart))
        best = new
    whole = sum(run.weight for run in runs)
    free = max(whole // 50, min(map(abs, best)))
    return 100 * min(cost for apart, cost in best.items() if abs(apart) <= free) / whole


def _more_canvases() -> list[str]:
    """60 plans of 40 runs; extra changes with the order before: 3.12, 4.25, 3.35, on these same plans."""
    lines = []
    for canvases, most in ((3, 5.12), (4, 6.25), (5, 5.35)):
        found = []
        for seed in range(60):
            runs = made_runs(Random(seed), 40)  # noqa: S311 - made figures, not secrecy
            orders = plan_orders(OrderRequest(canvas_count=canvases, runs=runs, seed=seed)).orders
            found.append(measure(canvases, _painted(runs, orders)))
        name = f"{canvases} canvases, 40 runs"
        lines.append(
            _line(f"{name}: apart at the end, median", 100 * median(float(m.imbalance_frac) for m in found), 2, "%")
        )
        extra = mean(one.canvas_changes - one.least_canvas_changes for one in found)
        lines.append(_line(f"{name}: extra changes of canvas", extra, most))
    return lines


def _after_an_absence() -> list[str]:
    lines = []
    for led, to_come in ((20, 20), (16, 24), (8, 8), (6, 6)):
        history = tuple(PaintedRun(i // 5, 1200, (0, 1)) for i in range(led))
        runs = tuple(RunToOrder((led + i) // 5, 1200) for i in range(to_come))
        orders = plan_orders(OrderRequest(canvas_count=2, runs=runs, history=history)).orders
        apart = 100 * float(measure(2, [*history, *_painted(runs, orders)]).imbalance_frac)
        lines.append(_line(f"{led} equal runs led by one canvas, {to_come} to come: apart at the end", apart, 0, "%"))
    return lines


def _ms(work: Callable[[], object]) -> float:
    taken = []
    for _ in range(5):
        begun_s = time.process_time()  # of the processor: a busy machine does not stretch it
        work()
        taken.append((time.process_time() - begun_s) * 1000)
    return median(taken)


def _speed() -> list[str]:
    cases = (
        ("1,000 runs planned afresh, 2 canvases", 1000, 2, False, 500),
        ("40 runs mended, 2 canvases", 40, 2, True, 16),
        ("40 runs mended, 3 canvases", 40, 3, True, None),
        ("1,000 runs planned afresh, 12 canvases", 1000, 12, False, 900),
    )
    lines = []
    for name, count, canvases, mends, most in cases:
        request = OrderRequest(canvas_count=canvases, runs=made_runs(Random(1), count, s=1))  # noqa: S311
        asked = _after_a_slip(request) if mends else request
        lines.append(_line(name, _ms(lambda asked=asked: plan_orders(asked)), most, "ms"))  # type: ignore[misc]
    return lines


def _after_a_slip(request: OrderRequest) -> OrderRequest:
    """Return the rest after one run that began on another canvas than was announced."""
    announced = plan_orders(request).orders
    slipped = (announced[0][1], announced[0][0], *announced[0][2:])
    history = (PaintedRun(request.runs[0].pass_no, request.runs[0].weight, slipped),)
    return request._replace(runs=request.runs[1:], history=history, earlier=announced[1:])


def _against_solver(seed: int) -> str:
    """Return one line: times and costs of engine and solver on 40 runs."""
    request = OrderRequest(canvas_count=2, runs=made_runs(Random(seed), 40), seed=seed)  # noqa: S311
    ours_ms = _ms(lambda: plan_orders(request))
    ours = cost_of(request, [order[0] for order in plan_orders(request).orders])
    begun_s = time.perf_counter()
    leads, is_proved = solved(request)
    theirs_s = time.perf_counter() - begun_s
    theirs = None if leads is None else cost_of(request, leads)
    said = "none found" if theirs is None else "same cost" if theirs == ours else f"engine {ours}, solver {theirs}"
    proved = "proved" if is_proved else "not proved"
    return f"HiGHS, 40 runs, seed {seed}: engine {ours_ms:.1f} ms, solver {theirs_s:.1f} s, {proved}, {said}"


def _tolerances(request: OrderRequest) -> dict[int, int]:
    """Return what is free at the end of each pass, by the number of its last run."""
    found, last = {}, -1
    for _, own in groupby(request.runs, key=lambda run: run.pass_no):
        weights = [run.weight for run in own]
        last += len(weights)
        found[last] = max(1, sum(weights) // 20)
    return found


def cost_of(request: OrderRequest, leads: list[int]) -> tuple[int, ...]:
    """Return excess at the end, excess at the pass ends, repeats, leads beyond three in a row, apart at the end."""
    weights = [run.weight for run in request.runs]
    apart = list(accumulate(weight if lead == 0 else -weight for weight, lead in zip(weights, leads, strict=True)))
    excess = sum(max(0, abs(apart[no]) - free) for no, free in _tolerances(request).items())
    repeats = sum(a == b for a, b in pairwise(leads))
    long = sum(len(set(leads[no - 3 : no + 1])) == 1 for no in range(3, len(leads)))
    return max(0, abs(apart[-1]) - max(1, sum(weights) // 50)), excess, repeats, long, abs(apart[-1])


class _Model(NamedTuple):
    """Rows (column -> factor, least, most) of a mixed-integer program, and the columns each aim adds up.

    Columns: for each run 1 if canvas 0 leads; for each junction 1 if the lead repeats; for each run 1 if it is led
    beyond three in a row; for each pass end the excess; the excess at the end; what is apart at the end.
    """

    columns: int
    rows: list[tuple[dict[int, float], float, float]]
    aims: list[range]


def _model(request: OrderRequest) -> _Model:
    """Return the engine's own model: the leads within the band on the way, absolute values in two rows."""
    weights, tolerances = [run.weight for run in request.runs], _tolerances(request)
    count, band, whole = len(weights), 2 * max(weights), sum(weights)
    ends = {no: 3 * count + k for k, no in enumerate(tolerances)}
    end = 3 * count + len(ends)
    rows: list[tuple[dict[int, float], float, float]] = []
    for no, total in enumerate(accumulate(weights)):
        signed = {j: 2.0 * weights[j] for j in range(no + 1)}
        rows.append((signed, total - band, total + band))
        absolutes = [(ends[no], tolerances[no])] if no in ends else []
        absolutes += [(end, max(1, whole // 50)), (end + 1, 0)] if no == count - 1 else []
        for column, free in absolutes:
            rows.append((signed | {column: -1.0}, -inf, total + free))
            rows.append((signed | {column: 1.0}, total - free, inf))
        if no > 0:
            pair = {no - 1: 1.0, no: 1.0}
            rows.append((pair | {count + no: -1.0}, -inf, 1))
            rows.append((pair | {count + no: 1.0}, 1, inf))
        if no > 2:
            four = dict.fromkeys(range(no - 3, no + 1), 1.0)
            rows.append((four | {2 * count + no: -1.0}, -inf, 3))
            rows.append((four | {2 * count + no: 1.0}, 1, inf))
    aims = [range(end, end + 1), range(3 * count, end), range(count, 2 * count), range(2 * count, 3 * count)]
    return _Model(end + 2, rows, [*aims, range(end + 1, end + 2)])


def solved(request: OrderRequest) -> tuple[list[int] | None, bool]:
    """Return the solver's leads, None if it found none, and whether it proved that none cost less.

    The solver is HiGHS, in scipy. It minimises one member of the cost after the other, each held at its least while
    the next is sought: packed into one figure they would be lost in its tolerances. With its default gap it would
    stop early.
    """
    import numpy as np  # noqa: PLC0415  not in what is measured
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415

    model, count = _model(request), len(request.runs)
    rows = list(model.rows)
    leads, is_proved = None, True
    for aim in model.aims:
        matrix = np.zeros((len(rows), model.columns))
        for no, (row, _, _) in enumerate(rows):
            matrix[no, list(row)] = list(row.values())
        prices = np.isin(np.arange(model.columns), aim).astype(float)
        found = milp(
            prices,
            integrality=[1] * count + [0] * (model.columns - count),
            bounds=Bounds(0, [1] * (3 * count) + [inf] * (model.columns - 3 * count)),
            constraints=LinearConstraint(matrix, [low for _, low, _ in rows], [high for _, _, high in rows]),
            options={"mip_rel_gap": 0.0, "time_limit": _SOLVER_LIMIT_S},
        )
        is_proved &= found.status == 0
        if found.x is None:
            return leads, False
        leads = [0 if value > 0.5 else 1 for value in found.x[:count]]
        rows.append((dict.fromkeys(aim, 1.0), -inf, round(found.fun) + 1e-6))
    return leads, is_proved


def _painter() -> list[str]:
    cases = (
        *((2, runs, 0.2, most) for runs, most in ((20, 1.5), (40, 1.0), (60, 1.0))),
        *((2, runs, 0.4, most) for runs, most in ((20, 3.0), (40, 2.0), (60, 2.0))),
        (3, 40, 0.2, 2.0),
    )
    return [
        _line(
            f"painter: {canvases} canvases, {runs} runs, estimates off by sd {sd}: apart, median",
            100 * median(end_apart_frac(canvases, runs, sd, seed) for seed in range(_WORKS)),
            most,
            "%",
        )
        for canvases, runs, sd, most in cases
    ]


if __name__ == "__main__":
    print(*order_figures(), sep="\n")
