"""The order of work of a plan, turn by turn, with its balance, as plain values and as sentences."""

from collections.abc import Iterator
from typing import Final

from coach.journal.events import Turn
from coach.order.guarantees import guarantee
from coach.order.measures import Measures, measure
from coach.order.request import PaintedRun, Strategy, default_strategy
from coach.plan.commission import Plan, Run
from coach.session.ordering import strategy_of, weight
from coach.session.work import Work, turns_ahead

_Ordered = tuple[Run, tuple[int, ...]]

TURN_COLUMNS: Final = ("turn", "pass", "run", "passages", "canvas", "place", "minutes")
"""Columns of the table of turns."""

COMPARED_COLUMNS: Final = (
    "order",
    "leads",
    "apart",
    "apart_minutes",
    "apart_percent",
    "trend_percent",
    "streak",
    "moves",
)
"""Columns of the table that sets all strategies side by side."""


def plain_order(work: Work) -> dict[str, object]:
    """Return canvases, turns in order and balance of the whole work, ready for JSON."""
    plan = work.plan
    strategy = _strategy_in_force(plan)
    by_pass = {name: _plain_balance(plan, runs) for name, runs in _ordered_by_pass(work).items()}
    return {
        "canvases": [canvas.name for canvas in plan.canvases],
        "order": strategy.value,
        "seed": plan.seed,
        "guarantee": guarantee(strategy, len(plan.canvases)),
        "turns": [
            {
                "turn": number,
                "pass": turn.pass_name,
                "run": turn.run,
                "passages": list(turn.passages),
                "canvas": turn.canvas,
                "place": turn.place,
                "minutes": turn.planned_s / 60,
            }
            for number, turn in _turns(work)
        ],
        "balance": _plain_balance(plan, _ordered(work)) | {"by_pass": by_pass},
        "remarks": [work.remark] if work.remark else [],
    }


def turn_rows(work: Work) -> list[tuple[str, ...]]:
    """Return the turns in order as texts under `TURN_COLUMNS`."""
    return [
        (
            str(number),
            turn.pass_name,
            str(turn.run),
            " + ".join(turn.passages),
            turn.canvas,
            str(turn.place),
            f"{turn.planned_s / 60:.1f}",
        )
        for number, turn in _turns(work)
    ]


def balance_lines(work: Work) -> list[str]:
    """Return the balance of the whole work and of each pass, a sentence each, and what the order guarantees."""
    plan = work.plan
    strategy = _strategy_in_force(plan)
    said = [
        _balance_line(plan, "whole work", _ordered(work)),
        *(_balance_line(plan, name, runs) for name, runs in _ordered_by_pass(work).items()),
        f"{strategy.value}: {guarantee(strategy, len(plan.canvases))}",
    ]
    return [*said, work.remark] if work.remark else said


def compared_rows(works: Iterator[tuple[Strategy, Work]]) -> list[tuple[str, ...]]:
    """Return one row of texts under `COMPARED_COLUMNS` for each strategy."""
    return [
        (
            strategy.value,
            "/".join(map(str, found.leads.counts)),
            str(max(found.leads.counts) - min(found.leads.counts)),
            f"{float(found.imbalance):.0f}",
            f"{100 * float(found.imbalance_frac):.1f}",
            f"{100 * float(found.drift_frac):.1f}",
            str(found.streak),
            str(found.walks),
        )
        for strategy, _, found in _compared(works)
    ]


def plain_compared(works: Iterator[tuple[Strategy, Work]]) -> list[dict[str, object]]:
    """Return one plain mapping with the keys of `COMPARED_COLUMNS` for each strategy."""
    return [
        {
            "order": strategy.value,
            "leads": dict(zip((c.name for c in plan.canvases), found.leads.counts, strict=True)),
            "apart": max(found.leads.counts) - min(found.leads.counts),
            "apart_minutes": float(found.imbalance),
            "apart_percent": round(100 * float(found.imbalance_frac), 2),
            "trend_percent": round(100 * float(found.drift_frac), 2),
            "streak": found.streak,
            "moves": found.walks,
        }
        for strategy, plan, found in _compared(works)
    ]


def _compared(works: Iterator[tuple[Strategy, Work]]) -> Iterator[tuple[Strategy, Plan, Measures]]:
    return ((strategy, work.plan, _measures(work.plan, _ordered(work))) for strategy, work in works)


def _strategy_in_force(plan: Plan) -> Strategy:
    return strategy_of(plan) or default_strategy(len(plan.canvases))


def _turns(work: Work) -> Iterator[tuple[int, Turn]]:
    return enumerate(turns_ahead(work, {}), start=1)


def _ordered(work: Work) -> list[_Ordered]:
    return list(zip(work.runs, work.orders, strict=True))


def _ordered_by_pass(work: Work) -> dict[str, list[_Ordered]]:
    passes: dict[str, list[_Ordered]] = {one.name: [] for one in work.plan.passes}
    for run, order in _ordered(work):
        passes[run.pass_name].append((run, order))
    return passes


def _measures(plan: Plan, ordered: list[_Ordered]) -> Measures:
    pass_numbers = {one.name: number for number, one in enumerate(plan.passes)}
    runs = [PaintedRun(pass_no=pass_numbers[run.pass_name], weight=weight(run), order=order) for run, order in ordered]
    return measure(len(plan.canvases), runs, batch=plan.batch)


def _lead_minutes(plan: Plan, ordered: list[_Ordered]) -> dict[str, float]:
    led_s = [0] * len(plan.canvases)
    for run, order in ordered:
        if order:
            led_s[order[0]] += run.planned_s
    return {canvas.name: s / 60 for canvas, s in zip(plan.canvases, led_s, strict=True)}


def _leads(plan: Plan, ordered: list[_Ordered]) -> dict[str, int]:
    counts = [0] * len(plan.canvases)
    for _, order in ordered:
        if order:
            counts[order[0]] += 1
    return {canvas.name: count for canvas, count in zip(plan.canvases, counts, strict=True)}


def _plain_balance(plan: Plan, ordered: list[_Ordered]) -> dict[str, object]:
    found = _measures(plan, ordered)
    return {
        "leads": _leads(plan, ordered),
        "lead_minutes": _lead_minutes(plan, ordered),
        "longest_streak": found.streak,
        "moves": found.walks,
        "apart_percent": round(100 * float(found.imbalance_frac), 2),
        "trend_percent": round(100 * float(found.drift_frac), 2),
    }


def _balance_line(plan: Plan, what: str, ordered: list[_Ordered]) -> str:
    found, minutes = _measures(plan, ordered), _lead_minutes(plan, ordered)
    leads = ", ".join(
        f"{name} leads {count} runs ({minutes[name]:.0f} min)" for name, count in _leads(plan, ordered).items()
    )
    apart = f"{100 * float(found.imbalance_frac):.1f} % apart by weight"
    return f"{what}: {leads}; {apart}, longest streak {found.streak}, {found.walks} moves between canvases"
