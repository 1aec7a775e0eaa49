"""What the turns of a journal add up to: chosen ones, totals, who led each run."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from coach.session.records import TurnRecord

MS_PER_MIN = 60_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Total:
    """What turns add up to: how many were painted, and their work and planned time in milliseconds."""

    name: str
    turns: int
    worked_ms: int
    planned_ms: int


@dataclass(frozen=True, slots=True, kw_only=True)
class LedRun:
    """A run that was painted: its pass, its number in the pass, and the canvas that led it."""

    pass_name: str
    run: int
    lead: str


def chosen(
    turns: Iterable[TurnRecord], *, pass_name: str | None = None, canvas: str | None = None
) -> tuple[TurnRecord, ...]:
    """Return the turns of one pass, of one canvas, or both; None chooses all."""
    return tuple(
        record
        for record in turns
        if pass_name in (None, record.turn.pass_name) and canvas in (None, record.turn.canvas)
    )


def totals(turns: Iterable[TurnRecord], name_of: Callable[[TurnRecord], str]) -> tuple[Total, ...]:
    """Return a total for each name that `name_of` gives, in the order of their first turns; skipped turns count not."""
    sums: dict[str, Total] = {}
    for record in turns:
        if record.is_skipped:
            continue
        name = name_of(record)
        so_far = sums.get(name, Total(name=name, turns=0, worked_ms=0, planned_ms=0))
        sums[name] = Total(
            name=name,
            turns=so_far.turns + 1,
            worked_ms=so_far.worked_ms + record.worked_ms,
            planned_ms=so_far.planned_ms + record.turn.planned_s * 1000,
        )
    return tuple(sums.values())


def by_canvas(record: TurnRecord) -> str:
    """Return the canvas of a turn."""
    return record.turn.canvas


def by_pass(record: TurnRecord) -> str:
    """Return the pass of a turn."""
    return record.turn.pass_name


def by_session(record: TurnRecord) -> str:
    """Return the session of a turn."""
    return f"session {record.session}"


def led_runs(turns: Iterable[TurnRecord]) -> tuple[LedRun, ...]:
    """Return who led each run, in the order the runs were begun."""
    leads: dict[tuple[str, int], str] = {}
    for record in turns:
        if record.is_painted:
            leads.setdefault((record.turn.pass_name, record.turn.run), record.turn.canvas)
    return tuple(LedRun(pass_name=name, run=run, lead=lead) for (name, run), lead in leads.items())


def deviation(record: TurnRecord) -> str:
    """Return in words how a turn left the plan; empty where it did not."""
    if record.is_skipped:
        return "skipped"
    return "went the other way" if record.went_other_way else ""
