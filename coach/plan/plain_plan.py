"""A plan as plain lists and back: what a memo keeps, so that a plan that has not changed is not read anew."""

import datetime as dt
from typing import Any

from coach.plan.commission import (
    After,
    Canvas,
    CanvasSize,
    Limits,
    Mixture,
    Paint,
    Pass,
    Passage,
    Plan,
    runs_of,
)


def plain_plan(plan: Plan) -> list[Any]:
    """Return a plan as lists, texts and numbers, ready for JSON."""
    limits, after = plan.limits, plan.after
    return [
        plan.commission,
        plan.due.isoformat() if plan.due else None,
        [plan.order, plan.seed, plan.batch, [[name, back.isoformat()] for name, back in plan.away]],
        plan.week_s,
        [limits.block_s, limits.rest_s, limits.day_s, limits.between_days_s],
        [after.drying_days, after.framing_working_days, after.transport_working_days],
        [[c.name, c.place, [c.size.width_mm, c.size.height_mm] if c.size else None] for c in plan.canvases],
        [[paint.name, paint.pigment] for paint in plan.palette],
        [[mixture.name, mixture.parts] for mixture in plan.mixtures],
        [
            [
                one.name,
                [list(passage) for passage in one.passages],
            ]
            for one in plan.passes
        ],
    ]


def plan_of(plain: list[Any]) -> Plan:
    """Return the plan that `plain_plan` made plain.

    Raises:
        ValueError, TypeError, KeyError: The lists are not what `plain_plan` makes.
    """
    commission, due, order, week_s, limits, after, canvases, palette, mixtures, passes = plain
    return Plan(
        commission=commission,
        due=dt.date.fromisoformat(due) if due else None,
        order=order[0],
        seed=order[1],
        batch=order[2],
        away=tuple((name, dt.date.fromisoformat(back)) for name, back in order[3]),
        week_s=tuple(week_s) if week_s else None,
        limits=_limits(*limits),
        after=_after(*after),
        canvases=tuple(_canvas(*canvas) for canvas in canvases),
        palette=tuple(Paint(name=name, pigment=pigment) for name, pigment in palette),
        mixtures=tuple(
            Mixture(name=name, parts=tuple((paint, count) for paint, count in parts)) for name, parts in mixtures
        ),
        passes=tuple(_pass(name, tuple(Passage._make(passage) for passage in held)) for name, held in passes),
    )


def _limits(block_s: int, rest_s: int, day_s: int, between_days_s: int) -> Limits:
    return Limits(block_s=block_s, rest_s=rest_s, day_s=day_s, between_days_s=between_days_s)


def _after(drying: int | None, framing: int | None, transport: int | None) -> After:
    return After(drying_days=drying, framing_working_days=framing, transport_working_days=transport)


def _canvas(name: str, place: str | None, size: list[float] | None) -> Canvas:
    return Canvas(name=name, place=place, size=CanvasSize(width_mm=size[0], height_mm=size[1]) if size else None)


def _pass(name: str, passages: tuple[Passage, ...]) -> Pass:
    return Pass(name=name, passages=passages, runs=runs_of(name, passages))
