"""The forecast against one draw of as many random numbers, and its 80 % day against simulated painters."""

import datetime as dt
import time
import tracemalloc
from collections.abc import Callable, Iterator
from statistics import fmean, median
from typing import Final

import numpy as np

from coach.forecast.answer import brief_of, forecast_of
from coach.forecast.outlook import TRIALS, Outlook, RemainingTurn
from coach.plan.commission import Canvas, Pass, Passage, Plan, runs_of
from coach.plan.delivery import After, Forecast
from tests.bench.painters import DONE_FRACS, KINDS, Kind, asked_of_kind

TURNS: Final = 400
"""Turns of the long plan that the bound is stated for."""

MOST_RATIO: Final = 25
"""The forecast with hours needed and single helps may take at most so many times the draw."""

MOST_RATIO_OF_PAIRS: Final = 45
"""The same where pairs of helps are tried too."""

MOST_MIB: Final = 100
"""Memory that a forecast may take, in MiB, for four times as many turns too."""

PAINTERS: Final = 150
"""Simulated painters of each kind; of all together four times as many."""

BANDS: Final = ((0.77, 0.88), (0.77, 0.88), (0.77, 0.92))
"""Share of all painters that is to meet the 80 % day, after each of `DONE_FRACS`. Source: trade facts K2."""

MOST_APART: Final = 0.04
"""How far that share may lie from the chance that was stated for that very day. Source: trade facts K2."""

FLOORS: Final = {False: (0.60, 0.70, 0.80), True: (0.45, 0.65, 0.72)}
"""Least share of a kind of painter, by whether days are skipped on top. Source: trade facts K3."""

_TODAY: Final = dt.date(2027, 3, 8)
_REPEATS: Final = 5


def forecast_figures() -> Iterator[str]:
    """Yield times against one draw, memory, and the share of painters who meet the 80 % day, a line each."""
    draw_s = _median_s(lambda: np.random.default_rng(0).standard_normal((TRIALS, TURNS)))
    yield f"one draw of {TRIALS} x {TURNS} normals: {draw_s * 1000:.0f} ms of the processor"
    for words, due, most in (("single helps", dt.date(2027, 7, 1), MOST_RATIO), ("pairs", _TODAY, MOST_RATIO_OF_PAIRS)):
        for layers in ("plain", "layered"):
            plan = long_plan(TURNS, due, is_layered=layers == "layered")
            outlook = long_outlook(plan)
            days_s = _median_s(lambda plan=plan, outlook=outlook: brief_of(plan, outlook))  # type: ignore[misc]
            whole_s = _median_s(lambda plan=plan, outlook=outlook: forecast_of(plan, outlook))  # type: ignore[misc]
            yield (
                f"{layers}, {words}: days {days_s / draw_s:.1f} times the draw, with hours needed and helps "
                f"{whole_s / draw_s:.1f} times (at most {most})"
            )
    for turns in (TURNS, 4 * TURNS):
        plan = long_plan(turns, dt.date(2027, 7, 1), is_layered=True)
        tracemalloc.start()
        forecast_of(plan, long_outlook(plan))
        mib = tracemalloc.get_traced_memory()[1] / 2**20
        tracemalloc.stop()
        yield f"{turns} layered turns: {mib:.0f} MiB at most (bound {MOST_MIB})"
    yield from _coverage()


def _coverage() -> Iterator[str]:
    """Yield a row for all painters and for each of twelve kinds."""
    yield ""
    yield f"{'share who meet the 80 % day, in %':34}" + "".join(f"{own:>24.0%} done" for own in DONE_FRACS)
    for kind in (Kind(), *KINDS):
        count = PAINTERS if kind.skips is not None else 4 * PAINTERS
        told = asked_of_kind(kind, count, seed=7)
        cells = []
        for place in range(len(DONE_FRACS)):
            met, stated = (fmean(getattr(own[place], name) for own in told) for name in ("is_met", "stated"))
            if kind.skips is None:
                low, high = BANDS[place]
                goal = f"{100 * low:.0f}-{100 * high:.0f}, stated {100 * stated:.0f} +-{100 * MOST_APART:.0f}"
                is_met = low <= met <= high and abs(met - stated) <= MOST_APART
            else:
                least = FLOORS[kind.skips][place]
                goal, is_met = f"from {100 * least:.0f}", met >= least
            cells.append(f"{100 * met:.0f} ({goal}) {'met' if is_met else 'MISSED'}")
        yield f"{kind.words:34}" + "".join(f"{own:>29}" for own in cells)


def long_plan(turns: int, due: dt.date, *, is_layered: bool) -> Plan:
    """Return a plan of two canvases with so many turns, ten passages a pass; layered, its later half lies over it."""
    count = turns // 20
    passes = []
    for number in range(count):
        below = number - count // 2
        passages = tuple(
            Passage(
                f"passage {own}",
                15 * 60,
                over=(f"pass {below}", f"passage {own}") if is_layered and below >= 0 else None,
            )
            for own in range(10)
        )
        passes.append(Pass(f"pass {number}", passages, runs_of(f"pass {number}", passages)))
    return Plan(
        canvases=(Canvas("Hall"), Canvas("School")),
        passes=tuple(passes),
        due=due,
        week_s=(5 * 3600,) * 5 + (3 * 3600, 0),
        after=After(framing_working_days=3, transport_working_days=2),
        forecast=Forecast(seed=1),
    )


def long_outlook(plan: Plan) -> Outlook:
    """Return an outlook with every turn of the plan still to be painted."""
    turns = tuple(
        RemainingTurn(canvas.name, run.pass_name, run.passage_names, number == 0, run.planned_s)
        for run in plan.runs
        for number, canvas in enumerate(plan.canvases)
    )
    return Outlook(_TODAY, turns)


def _median_s(work: Callable[[], object]) -> float:
    """Return the processor's seconds: what else the machine does counts not."""
    times = []
    for _ in range(_REPEATS):
        begun = time.process_time()
        work()
        times.append(time.process_time() - begun)
    return median(times)


if __name__ == "__main__":
    for line in forecast_figures():
        print(line, flush=True)
