"""The order of work of a plan, turn by turn, with its balance, as plain values."""

from collections.abc import Iterator
from typing import Final

from coach.order.balance import OrderedRun, balance_of
from coach.plan.commission import Plan, Run
from coach.session.work import Work

TURN_COLUMNS: Final = ("turn", "pass", "run", "passages", "canvas", "place", "minutes")
"""Columns of the table of turns."""


def plain_order(work: Work) -> dict[str, object]:
    """Return canvases, turns in order and balance of the whole work, ready for JSON."""
    plan = work.plan
    names = [canvas.name for canvas in plan.canvases]
    return {
        "canvases": names,
        "turns": [
            {
                "turn": number,
                "pass": run.pass_name,
                "run": run.number,
                "passages": list(run.passage_names),
                "canvas": canvas,
                "place": place,
                "minutes": run.planned_s / 60,
            }
            for number, run, canvas, place in _turns(work)
        ],
        "balance": _plain_balance(plan, _ordered(work))
        | {"by_pass": {one.name: _plain_balance(plan, _ordered(work, one.name)) for one in plan.passes}},
    }


def turn_rows(work: Work) -> list[tuple[str, ...]]:
    """Return the turns in order as texts under `TURN_COLUMNS`."""
    return [
        (
            str(number),
            run.pass_name,
            str(run.number),
            " + ".join(run.passage_names),
            canvas,
            str(place),
            f"{run.planned_s / 60:.1f}",
        )
        for number, run, canvas, place in _turns(work)
    ]


def balance_lines(work: Work) -> list[str]:
    """Return the balance of the whole work and of each pass, a sentence each."""
    names = [canvas.name for canvas in work.plan.canvases]

    def sentence(what: str, runs: list[OrderedRun]) -> str:
        balance = balance_of(runs, len(names))
        leads = ", ".join(
            f"{name} leads {count} runs ({s / 60:.0f} min)"
            for name, count, s in zip(names, balance.leads, balance.lead_s, strict=True)
        )
        streak = f"longest streak {balance.longest_streak}, {balance.moves} moves between canvases"
        return f"{what}: {leads}; {streak}"

    return [
        sentence("whole work", _ordered(work)),
        *(sentence(one.name, _ordered(work, one.name)) for one in work.plan.passes),
    ]


def _turns(work: Work) -> Iterator[tuple[int, Run, str, int]]:
    """Yield number, run, name of the canvas and place of every turn in order."""
    number = 0
    for run, order in zip(work.runs, work.orders, strict=True):
        for place, canvas in enumerate(order, start=1):
            number += 1
            yield number, run, work.plan.canvases[canvas].name, place


def _ordered(work: Work, pass_name: str | None = None) -> list[OrderedRun]:
    return [
        OrderedRun(pass_name=run.pass_name, planned_s=run.planned_s, order=order)
        for run, order in zip(work.runs, work.orders, strict=True)
        if pass_name in (None, run.pass_name)
    ]


def _plain_balance(plan: Plan, runs: list[OrderedRun]) -> dict[str, object]:
    balance = balance_of(runs, len(plan.canvases))
    names = [canvas.name for canvas in plan.canvases]
    return {
        "leads": dict(zip(names, balance.leads, strict=True)),
        "lead_minutes": {name: s / 60 for name, s in zip(names, balance.lead_s, strict=True)},
        "longest_streak": balance.longest_streak,
        "moves": balance.moves,
    }
