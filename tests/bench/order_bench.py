"""Speed and memory of the ordering engine, and its leads held against a general solver on the same model.

Targets: facts of the order, part 1 section 6. Each figure of speed comes from a process of its own, so that the first
plan pays for what it loads. `python -m tests.bench.order_bench` prints the lines alone.
"""

import json
import subprocess
import sys
import time
from itertools import pairwise
from math import inf
from pathlib import Path
from random import Random
from typing import Final, NamedTuple

from coach.order.planning import plan_orders
from coach.order.request import Order, OrderRequest, PaintedRun, RunToOrder

_PASS_LEN: Final = 10
_FORM: Final = "{:<52} {:>10} {:>10} {:<6}"
_SOLVER_FORM: Final = "{:<22} {:>10} {:>11} {:>9} {:>16} {:>16}  {}"
_SOLVER_LIMIT_S: Final = 60.0
_LEAST_RATIO: Final = 100
_LONGEST_STREAK: Final = 3


class _Case(NamedTuple):
    """What a process of its own plans, and what it may take."""

    name: str
    runs: int
    canvases: int = 2
    mends: bool = False
    numpy: bool = True
    most_ms: float | None = None


_CASES: Final = {
    "numpy": _Case("10,000 runs on 2 canvases", 10_000, most_ms=1500),
    "bare": _Case("10,000 runs on 2 canvases, as without numpy", 10_000, numpy=False, most_ms=6000),
    "mend-300": _Case("300 runs planned anew, 2 canvases", 300, mends=True, most_ms=300),
    "mend-40": _Case("40 runs planned anew, 2 canvases", 40, mends=True),
    "next": _Case("next order after a slip, 12 canvases", 1, canvases=12, mends=True, most_ms=200),
    "many": _Case("10,000 runs on 12 canvases", 10_000, canvases=12, most_ms=500),
}

_MOST_MIB: Final = 120.0


def order_figures() -> list[str]:
    """Return the lines of the table: times and memory against their targets, then the solver beside the engine."""
    lines = [_FORM.format("order: figure", "measured", "bound", "").rstrip()]
    memory_mib = 0.0
    for key, case in _CASES.items():
        found = _measured(key)
        loads = ", numpy loaded on the way" if found["loads_numpy"] else ""
        lines.append(_line(f"{case.name}{loads}", found["ms"], case.most_ms, "ms"))
        memory_mib = max(memory_mib, found["peak_mib"])
    lines.append(_line("largest peak memory of these", memory_mib, _MOST_MIB, "MiB"))
    head = ("solver: instance", "engine ms", "solver ms", "ratio", "engine cost", "solver cost", "")
    lines.append(_SOLVER_FORM.format(*head).rstrip())
    lines += [_against_solver(runs, seed) for runs in (60, 120) for seed in (1, 2)]
    return lines


def _line(name: str, value: float, most: float | None, unit: str) -> str:
    met = "" if most is None else "met" if value < most else "missed"
    bound = "" if most is None else f"{most:.0f} {unit}"
    return _FORM.format(name, f"{value:.1f} {unit}", bound, met).rstrip()


def _measured(key: str) -> dict[str, float]:
    command = [sys.executable, "-m", "tests.bench.order_bench", key]
    return {**json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)}


def _measure_here(case: _Case) -> dict[str, float]:
    """Plan the case in this process and return the milliseconds and the most memory it held, in MiB."""
    if not case.numpy:
        sys.modules["numpy"] = None  # type: ignore[assignment]  # the import system takes this for "not installed"
    request = _after_a_slip(case) if case.mends else made_request(case.runs, case.canvases, seed=1)
    before = set(sys.modules)
    begun_s = time.perf_counter()
    plan_orders(request)
    ms = (time.perf_counter() - begun_s) * 1000
    return {"ms": ms, "peak_mib": _peak_mib(), "loads_numpy": "numpy" in set(sys.modules) - before}


def _peak_mib() -> float:
    """Return the most memory this process held: VmHWM of Linux, which a parent cannot raise (man 5 proc)."""
    lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmHWM:")) / 1024


def made_request(runs: int, canvases: int, seed: int) -> OrderRequest:
    """Return runs of log-normal minutes, about 20, times a difficulty of 1 to 2, in passes of ten."""
    chance = Random(seed)  # noqa: S311 - made figures, not secrecy
    weights = [max(1, round(min(120.0, chance.lognormvariate(3.0, 0.6)) * (1 + chance.random()))) for _ in range(runs)]
    return OrderRequest(
        canvas_count=canvases,
        runs=tuple(RunToOrder(pass_no=no // _PASS_LEN, weight=weight) for no, weight in enumerate(weights)),
    )


def _after_a_slip(case: _Case) -> OrderRequest:
    """Return the rest after ten runs, of which the last began on another canvas than was announced."""
    whole = made_request(case.runs + 10, case.canvases, seed=1)
    announced = plan_orders(whole).orders
    slipped: Order = (announced[9][1], announced[9][0], *announced[9][2:])
    return whole._replace(
        runs=whole.runs[10:],
        history=tuple(
            PaintedRun(run.pass_no, run.weight, order)
            for run, order in zip(whole.runs, (*announced[:9], slipped), strict=False)
        ),
        earlier=announced[10:],
    )


def _against_solver(runs: int, seed: int) -> str:
    """Return one line: times, ratio and cost (excess, repeats, imbalance at the end) of engine and solver."""
    request = made_request(runs, 2, seed)
    taken_ms = []
    for _ in range(5):
        begun_s = time.perf_counter()
        orders = plan_orders(request).orders
        taken_ms.append((time.perf_counter() - begun_s) * 1000)
    ours_ms, ours = sorted(taken_ms)[2], _cost(request, [order[0] for order in orders])
    begun_s = time.perf_counter()
    leads, is_proved = _solved(request)
    theirs_ms = (time.perf_counter() - begun_s) * 1000
    theirs = None if leads is None else _cost(request, leads)
    said = "proved" if is_proved else "not proved"
    if theirs is not None:
        said += ", same cost" if theirs == ours else ", engine costs less" if ours < theirs else ", SOLVER COSTS LESS"
    ratio = theirs_ms / ours_ms
    said += f", {_LEAST_RATIO} times faster {'met' if ratio >= _LEAST_RATIO else 'missed'}"
    costs = (str(ours), "none" if theirs is None else str(theirs))
    return _SOLVER_FORM.format(
        f"{runs} runs, seed {seed}", f"{ours_ms:.1f}", f"{theirs_ms:.0f}", f"{ratio:.0f}", *costs, said
    )


def _tolerances(request: OrderRequest) -> dict[int, int]:
    """Return the tolerance at the end of each pass, by the number of its last run: 5 %, 2 % of all at the end."""
    last = len(request.runs) - 1
    found = {}
    for first in range(0, last + 1, _PASS_LEN):
        weight = sum(run.weight for run in request.runs[first : first + _PASS_LEN])
        found[min(first + _PASS_LEN - 1, last)] = max(1, weight // 20)
    found[last] = min(found[last], max(1, sum(run.weight for run in request.runs) // 50))
    return found


def _cost(request: OrderRequest, leads: list[int]) -> tuple[int, int, int]:
    """Return total excess over the tolerances, repeats of a lead and imbalance at the end."""
    tolerances = _tolerances(request)
    excess = imbalance = 0
    for no, (run, lead) in enumerate(zip(request.runs, leads, strict=True)):
        imbalance += run.weight if lead == 0 else -run.weight
        excess += max(0, abs(imbalance) - tolerances.get(no, abs(imbalance)))
    repeats = sum(a == b for a, b in pairwise(leads))
    return excess, repeats, abs(imbalance)


class _Model(NamedTuple):
    """Prices and rows (column -> factor, least, most) of a mixed-integer program; the first columns are whole.

    Columns: for each run 1 if canvas 0 leads; for each junction 1 if the lead repeats; for each pass end the
    excess; the imbalance at the end.
    """

    prices: list[float]
    rows: list[tuple[dict[int, float], float, float]]


def _model(request: OrderRequest) -> _Model:
    """Return the engine's own model: D_k within the band, no streak past the longest, absolute values in two rows."""
    weights, tolerances = [run.weight for run in request.runs], _tolerances(request)
    count, band = len(weights), 2 * max(weights)
    ends = {no: 2 * count - 1 + k for k, no in enumerate(tolerances)}
    final = 2 * count - 1 + len(ends)
    rows: list[tuple[dict[int, float], float, float]] = []
    for no in range(count):
        signed = {j: 2.0 * weights[j] for j in range(no + 1)}
        total = sum(weights[: no + 1])
        rows.append((signed, total - band, total + band))
        absolutes = [(ends[no], tolerances[no])] if no in ends else []
        absolutes += [(final, 0)] if no == count - 1 else []
        for column, free in absolutes:
            rows.append((signed | {column: -1.0}, -inf, total + free))
            rows.append((signed | {column: 1.0}, total - free, inf))
        if no > 0:
            pair = {no - 1: 1.0, no: 1.0}
            rows.append((pair | {count + no - 1: -1.0}, -inf, 1))
            rows.append((pair | {count + no - 1: 1.0}, 1, inf))
        if no >= _LONGEST_STREAK:
            rows.append((dict.fromkeys(range(no - _LONGEST_STREAK, no + 1), 1.0), 1, _LONGEST_STREAK))
    prices = [0.0] * count + [band + 1.0] * (count - 1) + [(band + 1.0) * count] * len(ends) + [1.0]
    return _Model(prices, rows)


def _solved(request: OrderRequest) -> tuple[list[int] | None, bool]:
    """Return the solver's leads, None if it found none, and whether it proved that none cost less.

    The solver is HiGHS, in scipy; with its default gap it would stop early.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp  # noqa: PLC0415  not in what is measured
    from scipy.sparse import csr_array  # noqa: PLC0415

    prices, rows = _model(request)
    count, columns = len(request.runs), len(prices)
    places = [(no, column, factor) for no, (row, _, _) in enumerate(rows) for column, factor in row.items()]
    at_row, at_column, factors = zip(*places, strict=True)
    matrix = csr_array((factors, (at_row, at_column)), shape=(len(rows), columns))
    found = milp(
        prices,
        integrality=[1] * count + [0] * (columns - count),
        bounds=Bounds(0, [1] * (2 * count - 1) + [inf] * (columns - 2 * count + 1)),
        constraints=LinearConstraint(matrix, [low for _, low, _ in rows], [high for _, _, high in rows]),
        options={"mip_rel_gap": 0.0, "time_limit": _SOLVER_LIMIT_S},
    )
    leads = None if found.x is None else [0 if value > 0.5 else 1 for value in found.x[:count]]
    return leads, found.status == 0


if __name__ == "__main__":
    if len(sys.argv) > 1:
        sys.stdout.write(json.dumps(_measure_here(_CASES[sys.argv[1]])))
    else:
        print(*order_figures(), sep="\n")
