"""The order of work of a plan, turn by turn, with its balance, as plain values and as sentences."""

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from typing import Final, NamedTuple

from coach.journal.events import Turn
from coach.order.guarantees import guarantee
from coach.order.measures import Measures, measure
from coach.order.request import PaintedRun, Strategy, default_strategy
from coach.plan.commission import Plan, Run
from coach.session.ordering import strategy_of, weight
from coach.session.work import Work, turns_ahead

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


class _Ordered(NamedTuple):
    """A run of the plan, and what the engine measures of it."""

    run: Run
    painted: PaintedRun


class _Balance(NamedTuple):
    """The measures of some runs, and the planned minutes that each canvas leads."""

    found: Measures
    lead_min: tuple[float, ...]


def plain_order(work: Work) -> dict[str, object]:
    """Return canvases, turns in order and balance of the whole work, ready for JSON."""
    plan = work.plan
    strategy = _strategy_in_force(plan)
    ordered = _ordered(work)
    by_pass = {name: _plain_balance(plan, own) for name, own in _balance_by_pass(plan, ordered).items()}
    return {
        "canvases": [canvas.name for canvas in plan.canvases],
        "order": strategy.value,
        "seed": plan.seed,
        "guarantee": guarantee(strategy, len(plan.canvases), batch=plan.batch),
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
        "balance": _plain_balance(plan, _balance(plan, ordered)) | {"by_pass": by_pass},
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
    strategy, ordered = _strategy_in_force(plan), _ordered(work)
    said = [
        _balance_line(plan, "whole work", _balance(plan, ordered)),
        *(_balance_line(plan, name, own) for name, own in _balance_by_pass(plan, ordered).items()),
        f"{strategy.value}: {guarantee(strategy, len(plan.canvases), batch=plan.batch)}",
    ]
    return [*said, work.remark] if work.remark else said


def waiting_line(plan: Plan, today: dt.date) -> str:
    """Return which canvases are away on a day, and that the order holds when they are back; empty where none is."""
    gone = ", ".join(f"{name} is away until {back.isoformat()}" for name, back in plan.away if today < back)
    return f"{gone}: its turns wait, and this is the order once everything is back." if gone else ""


def compared_rows(works: Iterable[tuple[Strategy, Work]]) -> list[tuple[str, ...]]:
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


def compared_line(plan: Plan, works: Iterable[tuple[Strategy, Work]]) -> str:
    """Return which order is in force, which is most even by weight, and which has the fewest moves."""
    found = {strategy: measures for strategy, _, measures in _compared(works)}
    own = _strategy_in_force(plan)
    most_even = min(found, key=lambda strategy: (found[strategy].imbalance, found[strategy].walks))
    calmest = min(found, key=lambda strategy: (found[strategy].walks, found[strategy].imbalance))
    return (
        f"In force is {_compared_words(own, found[own])}. Most even is {_compared_words(most_even, found[most_even])}; "
        f"the fewest moves has {_compared_words(calmest, found[calmest])}."
    )


def _compared_words(strategy: Strategy, found: Measures) -> str:
    return f"{strategy.value} ({100 * float(found.imbalance_frac):.1f} % apart, {found.walks} moves)"


def plain_compared(works: Iterable[tuple[Strategy, Work]]) -> list[dict[str, object]]:
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


def _compared(works: Iterable[tuple[Strategy, Work]]) -> Iterator[tuple[Strategy, Plan, Measures]]:
    return ((strategy, work.plan, _balance(work.plan, _ordered(work)).found) for strategy, work in works)


def _strategy_in_force(plan: Plan) -> Strategy:
    return strategy_of(plan) or default_strategy(len(plan.canvases))


def _turns(work: Work) -> Iterator[tuple[int, Turn]]:
    return enumerate(turns_ahead(work, {}), start=1)


def _ordered(work: Work) -> list[_Ordered]:
    pass_numbers = {one.name: number for number, one in enumerate(work.plan.passes)}
    return [
        _Ordered(run, PaintedRun(pass_numbers[run.pass_name], weight(run), order))
        for run, order in zip(work.runs, work.orders, strict=True)
    ]


def _balance(plan: Plan, ordered: Sequence[_Ordered]) -> _Balance:
    led_s = [0] * len(plan.canvases)
    for run, painted in ordered:
        if len(painted.order) > 1:
            led_s[painted.order[0]] += run.planned_s
    found = measure(len(plan.canvases), [painted for _, painted in ordered], batch=plan.batch)
    return _Balance(found, tuple(s / 60 for s in led_s))


def _balance_by_pass(plan: Plan, ordered: Sequence[_Ordered]) -> dict[str, _Balance]:
    passes: dict[str, list[_Ordered]] = {one.name: [] for one in plan.passes}
    for one in ordered:
        passes[one.run.pass_name].append(one)
    return {name: _balance(plan, own) for name, own in passes.items()}


def _plain_balance(plan: Plan, balance: _Balance) -> dict[str, object]:
    names, found = [canvas.name for canvas in plan.canvases], balance.found
    return {
        "leads": dict(zip(names, found.leads.counts, strict=True)),
        "lead_minutes": dict(zip(names, balance.lead_min, strict=True)),
        "longest_streak": found.streak,
        "moves": found.walks,
        "apart_percent": round(100 * float(found.imbalance_frac), 2),
        "trend_percent": round(100 * float(found.drift_frac), 2),
    }


def _balance_line(plan: Plan, what: str, balance: _Balance) -> str:
    found = balance.found
    moves = f"{found.walks} {'move' if found.walks == 1 else 'moves'} between canvases"
    if not found.run_count:
        return f"{what}: nobody leads; {moves}"
    leads = ", ".join(
        f"{canvas.name} leads {count} {'run' if count == 1 else 'runs'} ({lead_min:.0f} min)"
        for canvas, count, lead_min in zip(plan.canvases, found.leads.counts, balance.lead_min, strict=True)
    )
    apart = f"{100 * float(found.imbalance_frac):.1f} % apart by weight"
    return f"{what}: {leads}; {apart}, longest streak {found.streak}, {moves}"
