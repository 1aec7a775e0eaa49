"""A plan as plain lists and back: what a memo keeps, so that a plan that has not changed is not read anew."""

import datetime as dt
from typing import Any

from coach.plan.commission import (
    After,
    Canvas,
    CanvasSize,
    DayRange,
    Days,
    Forecast,
    Limits,
    MarkedBox,
    MarkedHead,
    Mixture,
    Paint,
    Pass,
    Passage,
    Plan,
    Repeat,
    runs_of,
)


def plain_plan(plan: Plan) -> list[Any]:
    """Return a plan as lists, texts and numbers, ready for JSON."""
    after = plan.after
    return [
        plan.commission,
        plan.due.isoformat() if plan.due else None,
        [plan.order, plan.seed, plan.batch, [[name, back.isoformat()] for name, back in plan.away]],
        plan.week_s,
        list(plan.limits),
        [after.drying_days, after.framing_working_days, after.transport_working_days],
        [[c.name, c.place, [c.size.width_mm, c.size.height_mm] if c.size else None] for c in plan.canvases],
        [list(paint) for paint in plan.palette],
        [list(mixture) for mixture in plan.mixtures],
        [
            [
                one.name,
                [list(passage) for passage in one.passages],
            ]
            for one in plan.passes
        ],
        [
            [_plain_days(days) for days in plan.off],
            [[_plain_days(days), seconds] for days, seconds in plan.also],
            list(plan.forecast),
            list(plan.learn_from),
        ],
        [plan.photo, [[name, list(box)] for name, box in plan.heads], [list(box) for box in plan.keeps]],
    ]


def plan_of(plain: list[Any]) -> Plan:
    """Return the plan that `plain_plan` made plain.

    Raises:
        ValueError, TypeError, KeyError: The lists are not what `plain_plan` makes.
    """
    commission, due, order, week_s, limits, after, canvases, palette, mixtures, passes, calendar, marked = plain
    off, also, forecast, learn_from = calendar
    photo, heads, keeps = marked
    return Plan(
        commission=commission,
        due=dt.date.fromisoformat(due) if due else None,
        order=order[0],
        seed=order[1],
        batch=order[2],
        away=tuple((name, dt.date.fromisoformat(back)) for name, back in order[3]),
        week_s=tuple(week_s) if week_s else None,
        limits=Limits._make(limits),
        after=_after(*after),
        canvases=tuple(_canvas(*canvas) for canvas in canvases),
        palette=tuple(Paint._make(paint) for paint in palette),
        mixtures=tuple(
            Mixture(name, tuple((paint, count) for paint, count in parts), *rest) for name, parts, *rest in mixtures
        ),
        passes=tuple(_pass(name, tuple(map(_passage, held))) for name, held in passes),
        off=tuple(_days(*days) for days in off),
        also=tuple((_days(*days), seconds) for days, seconds in also),
        forecast=Forecast._make(forecast),
        learn_from=tuple(learn_from),
        photo=photo,
        heads=tuple(MarkedHead(name, MarkedBox._make(box)) for name, box in heads),
        keeps=tuple(map(MarkedBox._make, keeps)),
    )


def _plain_days(days: Days) -> list[Any]:
    if isinstance(days, Repeat):
        return ["repeat", days.rule, days.start.isoformat()]
    return ["range", days.first.isoformat(), days.last.isoformat()]


def _days(kind: str, first: str, last: str) -> Days:
    if kind == "repeat":
        return Repeat(rule=first, start=dt.date.fromisoformat(last))
    return DayRange(first=dt.date.fromisoformat(first), last=dt.date.fromisoformat(last))


def _passage(plain: list[Any]) -> Passage:
    passage = Passage._make(plain)
    if passage.over is None and passage.into is None:
        return passage
    over, into = passage.over, passage.into
    return passage._replace(over=over and (over[0], over[1]), into=into and (into[0], into[1]))


def _after(drying: int | None, framing: int | None, transport: int | None) -> After:
    return After(drying_days=drying, framing_working_days=framing, transport_working_days=transport)


def _canvas(name: str, place: str | None, size: list[float] | None) -> Canvas:
    return Canvas(name=name, place=place, size=CanvasSize(width_mm=size[0], height_mm=size[1]) if size else None)


def _pass(name: str, passages: tuple[Passage, ...]) -> Pass:
    return Pass(name=name, passages=passages, runs=runs_of(name, passages))
