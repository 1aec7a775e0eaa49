"""The order of work of a plan, turn by turn, with its balance, as plain values and as sentences."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from itertools import groupby
from typing import Final

from coach.journal.events import Turn
from coach.order.measures import Measures, measure
from coach.order.request import PaintedRun
from coach.order.strategies import promise
from coach.plan.commission import Plan, Run
from coach.plan.strategy import OLDER_NAMES, Strategy, strategy_named
from coach.review.log_table import what_in
from coach.session.journal_state import JournalState
from coach.session.work import Work, turns_ahead, turns_to_come
from coach.text import counted, joined, span, wrapped

_Ordered = tuple[Run, tuple[int, ...]]

_RUN: Final = "   1   99 min  "
"""As wide as the figures of a run."""

COMPARED_COLUMNS: Final = ("order", "leads", "minutes apart", "% apart", "most on end", "changes of canvas")
"""Columns of the table that sets all strategies side by side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnLine:
    """A turn as it is printed.

    Attributes:
        place: 1 for the canvas that leads.
        painted: Whether it is over.
        check: How the canvas is looked at in a turn without paint, which nobody leads; else empty.
    """

    turn: int
    pass_: str
    run: int
    passages: tuple[str, ...]
    canvas: str
    place: int
    minutes: float
    painted: bool
    check: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Balance:
    """How evenly some runs share the lead: runs and planned minutes led by canvas, percentages of the weight."""

    leads: dict[str, int]
    lead_minutes: dict[str, float]
    longest_streak: int
    moves: int
    apart_percent: float
    trend_percent: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkBalance(Balance):
    """The balance of the whole work and, by its name, of each pass."""

    by_pass: dict[str, Balance]


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderReport:
    """The order of a plan; `older_name` is the name the plan holds where that is no longer the strategy's name."""

    canvases: tuple[str, ...]
    order: str
    older_name: str | None
    seed: int
    guarantee: str
    turns: tuple[TurnLine, ...]
    balance: WorkBalance
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparedOrder:
    """One strategy beside the others."""

    order: str
    leads: dict[str, int]
    apart: int
    apart_minutes: float
    apart_percent: float
    trend_percent: float
    streak: int
    moves: int


def order_report(work: Work, state: JournalState | None = None) -> OrderReport:
    """Return canvases, turns in order and balance of the whole work.

    Args:
        work: Where the work stands.
        state: What the journal adds up to, for the turns that are painted; None where nothing is.
    """
    painted = [one.turn for one in state.turns if not one.is_skipped] if state else []
    is_begun = state is not None and (state.session > 0 or state.in_hand is not None)
    ahead = turns_to_come(work.plan, state, work.absent) if state and is_begun else turns_ahead(work, {})
    turns = [*((turn, True) for turn in painted), *((turn, False) for turn in ahead)]
    plan = work.plan
    strategy = strategy_named(plan.order)
    whole = _balance(plan, _ordered(work))
    return OrderReport(
        canvases=tuple(canvas.name for canvas in plan.canvases),
        order=strategy.value,
        older_name=plan.order if plan.order in OLDER_NAMES else None,
        seed=plan.seed,
        guarantee=promise(strategy, len(plan.canvases), batch=plan.batch),
        turns=tuple(_turn_line(number, *one) for number, one in enumerate(turns, start=1)),
        balance=WorkBalance(
            **asdict(whole),
            by_pass={name: _balance(plan, own) for name, own in _by_pass(work).items()},
        ),
        remarks=(work.remark,) if work.remark else (),
    )


def order_lines(report: OrderReport, columns: int) -> list[str]:
    """Return the order as it is printed, in lines of at most `columns` cells: by pass, a run below the other.

    A run shows its canvases, the one that leads first; what is painted is ticked.
    """
    lines: list[str] = []
    numbered = groupby(report.turns, key=lambda one: (one.pass_, one.run))
    for name, of_pass in groupby([(key, list(turns)) for key, turns in numbered], key=lambda pair: pair[0][0]):
        lines += ["", *wrapped(name, columns)] if lines else wrapped(name, columns)
        for (_, number), turns in of_pass:
            lines += _run_lines(number, turns, columns)
    return lines


def _run_lines(number: int, turns: Sequence[TurnLine], columns: int) -> list[str]:
    order = ", ".join(one.canvas + (" ✓" if one.painted else "") for one in turns)
    first, *below = wrapped(f"{what_in(turns[0].passages, turns[0].check)}: {order}", columns - len(_RUN), indent="")
    figures = f"{number:4}  {turns[0].minutes:3.0f} min  "
    return [figures + first, *(" " * len(_RUN) + row for row in below)]


def balance_lines(report: OrderReport) -> list[str]:
    """Return the balance of the whole work and of each pass, a sentence each, and what the order guarantees."""
    whole = report.balance
    said = f"The whole work: {_balance_words(whole)}"
    if any(whole.leads.values()):
        said += f" No canvas leads more than {counted(whole.longest_streak, 'time')} on end;"
        said += f" the palette changes canvas {counted(whole.moves, 'time')}."
    lines = [said]
    lines += [f"{name}: {_balance_words(own)}" for name, own in whole.by_pass.items()]
    return [*lines, f"{report.order}: {report.guarantee}", *report.remarks]


def _balance_words(balance: Balance) -> str:
    if not any(balance.leads.values()):
        return "nobody leads."
    leads = [
        f"{name} leads {counted(count, 'time')} ({span(round(balance.lead_minutes[name] * 60_000))})"
        for name, count in balance.leads.items()
    ]
    apart = max(balance.lead_minutes.values()) - min(balance.lead_minutes.values())
    return f"{joined(leads)}, {span(round(apart * 60_000))} apart." if round(apart) else f"{joined(leads)}, even."


def waiting_line(plan: Plan, today: dt.date) -> str:
    """Return which canvases are away on a day, and that the order holds when they are back; empty where none is."""
    gone = ", ".join(f"{name} is away until {back.isoformat()}" for name, back in plan.away if today < back)
    return f"{gone}: its turns wait, and this is the order once everything is back." if gone else ""


def compared(works: Iterable[tuple[Strategy, Work]]) -> list[ComparedOrder]:
    """Return the figures of each strategy."""
    return [_compared(strategy, work, _measured(work.plan, _ordered(work))) for strategy, work in works]


def compared_rows(found: Iterable[ComparedOrder]) -> list[tuple[str, ...]]:
    """Return one row of texts under `COMPARED_COLUMNS` for each strategy."""
    return [
        (
            one.order,
            "/".join(map(str, one.leads.values())),
            f"{one.apart_minutes:.0f}",
            f"{one.apart_percent:.1f}",
            str(one.streak),
            str(one.moves),
        )
        for one in found
    ]


def compared_lines(plan: Plan, found: Sequence[ComparedOrder]) -> list[str]:
    """Return which order is in force, which is most even, which changes canvas least, and what each is good for."""
    own = next(one for one in found if one.order == strategy_named(plan.order).value)
    most_even = min(found, key=lambda one: (one.apart_minutes, one.moves))
    calmest = min(found, key=lambda one: (one.moves, one.apart_minutes))
    return [
        (
            f"The plan is painted by {_in_words(own)}. Most even: {_in_words(most_even)}. "
            f"Fewest changes: {_in_words(calmest)}."
        ),
        *(f"{strategy.value}: {promise(strategy, len(plan.canvases), batch=plan.batch)}" for strategy in Strategy),
    ]


def _in_words(one: ComparedOrder) -> str:
    apart = f"{counted(round(one.apart_minutes), 'minute')} apart" if round(one.apart_minutes) else "even"
    return f"{one.order} ({apart}, {counted(one.moves, 'change')} of canvas)"


def _turn_line(number: int, turn: Turn, is_painted: bool) -> TurnLine:
    return TurnLine(
        turn=number,
        pass_=turn.pass_name,
        run=turn.run,
        passages=turn.passages,
        canvas=turn.canvas,
        place=turn.place,
        minutes=turn.planned_s / 60,
        painted=is_painted,
        check=turn.check,
    )


def _compared(strategy: Strategy, work: Work, found: Measures) -> ComparedOrder:
    counts = found.leads.counts
    return ComparedOrder(
        order=strategy.value,
        leads=dict(zip((canvas.name for canvas in work.plan.canvases), counts, strict=True)),
        apart=max(counts) - min(counts),
        apart_minutes=float(found.imbalance / 60),
        apart_percent=round(100 * float(found.imbalance_frac), 2),
        trend_percent=round(100 * float(found.trend_frac), 2),
        streak=found.streak,
        moves=found.canvas_changes,
    )


def _by_pass(work: Work) -> dict[str, list[_Ordered]]:
    passes: dict[str, list[_Ordered]] = {}
    for run, order in _ordered(work):
        passes.setdefault(run.pass_name, []).append((run, order))
    return passes


def _ordered(work: Work) -> list[_Ordered]:
    return [one for one in zip(work.runs, work.orders, strict=True) if not one[0].is_check]


def _measured(plan: Plan, ordered: Iterable[_Ordered]) -> Measures:
    numbers: dict[str, int] = {}
    runs = [
        PaintedRun(numbers.setdefault(run.pass_name, len(numbers)), run.weighted_s, order) for run, order in ordered
    ]
    return measure(len(plan.canvases), runs, batch=plan.batch)


def _balance(plan: Plan, ordered: Sequence[_Ordered]) -> Balance:
    found = _measured(plan, ordered)
    led_s = [0] * len(plan.canvases)
    for run, order in ordered:
        if len(order) > 1:
            led_s[order[0]] += run.planned_s
    names = [canvas.name for canvas in plan.canvases]
    return Balance(
        leads=dict(zip(names, found.leads.counts, strict=True)),
        lead_minutes=dict(zip(names, (led / 60 for led in led_s), strict=True)),
        longest_streak=found.streak,
        moves=found.canvas_changes,
        apart_percent=round(100 * float(found.imbalance_frac), 2),
        trend_percent=round(100 * float(found.trend_frac), 2),
    )
