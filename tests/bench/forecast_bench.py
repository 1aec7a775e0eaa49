"""The forecast against one draw of as many random numbers."""

import datetime as dt
import time
from collections.abc import Callable
from statistics import median
from typing import Final

import numpy as np

from coach.forecast.answer import forecast_of
from coach.forecast.outlook import TRIALS, Outlook, RemainingTurn
from coach.forecast.simulation import reached, simulate
from coach.plan.commission import After, Canvas, Forecast, Pass, Passage, Plan, runs_of

TURNS: Final = 400
"""Turns of the long plan that the bound is stated for."""

MOST_RATIO: Final = 20.0
"""The forecast may take at most so many times the draw."""

_REPEATS: Final = 5


def forecast_figures() -> list[str]:
    """Return the times of the long forecast and their ratios to one draw, a line each."""
    plan = long_plan()
    outlook = long_outlook(plan)
    forecast_of(plan, outlook)  # numpy and scipy are loaded once, not with every forecast
    draw_s = _median_s(lambda: np.random.default_rng(0).standard_normal((TRIALS, TURNS)))
    days_s = _median_s(lambda: reached(simulate(plan, outlook)))
    whole_s = _median_s(lambda: forecast_of(plan, outlook))
    return [
        f"one draw of {TRIALS} x {TURNS} normals: {draw_s * 1000:.0f} ms",
        f"forecast of the days: {days_s * 1000:.0f} ms, {days_s / draw_s:.1f} times the draw (at most {MOST_RATIO:g})",
        f"with hours needed and helps: {whole_s * 1000:.0f} ms, {whole_s / draw_s:.1f} times the draw",
    ]


def long_plan() -> Plan:
    """Return a plan of two canvases with `TURNS` turns, ten passages a pass."""
    passes = tuple(
        Pass(name, passages, runs_of(name, passages))
        for name in (f"pass {number}" for number in range(TURNS // 20))
        for passages in [tuple(Passage(f"passage {number}", 15 * 60) for number in range(10))]
    )
    return Plan(
        canvases=(Canvas("Hall"), Canvas("School")),
        passes=passes,
        due=dt.date(2027, 5, 1),
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
    return Outlook(dt.date(2027, 3, 8), turns)


def _median_s(work: Callable[[], object]) -> float:
    times = []
    for _ in range(_REPEATS):
        begun = time.perf_counter()
        work()
        times.append(time.perf_counter() - begun)
    return median(times)


if __name__ == "__main__":
    print("\n".join(forecast_figures()))
