"""Plans and outlooks made for the tests of the forecast."""

import datetime as dt
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Final

from coach.forecast.outlook import Outlook, RemainingTurn
from coach.plan.commission import Canvas, Mixture, Paint, Pass, Passage, Plan, runs_of
from coach.plan.reading import read_plan

FRIDAY: Final = dt.date(2026, 12, 18)
MONDAY: Final = dt.date(2026, 11, 2)
HOUR_S: Final = 3600

PALETTE: Final = (
    Paint("burnt umber", "PBr7"),
    Paint("titanium white", "PW6"),
    Paint("alizarin", "PR83"),
    Paint("house paint", "XX9"),
)
MIXTURES: Final = (
    Mixture("umber", (("burnt umber", 1),), "lean"),
    Mixture("white", (("titanium white", 1),), "middle"),
    Mixture("crimson", (("alizarin", 1),), "fat"),
    Mixture("odd", (("house paint", 1), ("burnt umber", 2))),
)


def plan_of(*passes: tuple[str, Sequence[Passage]], week_h: Sequence[float] = (6, 6, 6, 6, 6, 0, 0)) -> Plan:
    """Return a plan of two canvases with these passes; without any, one pass with one passage of an hour."""
    given = passes or (("eyes", (Passage("iris", HOUR_S),)),)
    return Plan(
        canvases=(Canvas("Hall"), Canvas("School")),
        passes=tuple(Pass(name, tuple(own), runs_of(name, tuple(own))) for name, own in given),
        week_s=tuple(int(hours * HOUR_S) for hours in week_h),
        palette=PALETTE,
        mixtures=MIXTURES,
    )


def turns_of(plan: Plan) -> tuple[RemainingTurn, ...]:
    """Return every turn of a plan, the first canvas always leading."""
    return tuple(
        RemainingTurn(canvas.name, run.pass_name, run.passage_names, number == 0, run.planned_s)
        for run in plan.runs
        for number, canvas in enumerate(plan.canvases)
    )


def hours_of_work(count: int, canvas: str = "Hall") -> tuple[RemainingTurn, ...]:
    """Return so many turns of an hour each."""
    return tuple(RemainingTurn(canvas, "eyes", ("iris",), True, HOUR_S) for _ in range(count))


@cache
def orchard() -> Plan:
    """Return the frozen plan of the orchard keeper."""
    path = Path(__file__).parents[1] / "cases" / "plans" / "orchard-keeper.yaml"
    return read_plan(path.read_text(encoding="utf-8"), path.name)


def orchard_at_40_percent(today: dt.date) -> Outlook:
    """Return the outlook of a painter who has done two fifths of the orchard keeper's turns."""
    turns = turns_of(orchard())
    return Outlook(today, turns[len(turns) * 2 // 5 :])
