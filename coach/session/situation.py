"""The situation now: a pure answer from where the work stands, what happened, and the clocks."""

from collections.abc import Iterator
from copy import copy
from itertools import islice
from typing import NamedTuple

from coach.journal.events import Turn
from coach.journal.reading import Reading, passed_ms
from coach.limits.due import Reached, limits_reached
from coach.plan.commission import Canvas, Passage, Plan, Run
from coach.session.progress import Absence, Phase, Progress, TurnRecord
from coach.session.work import Work, turns_ahead

_COMING = 2


class Situation(NamedTuple):
    """Everything the easel shows. Times are milliseconds.

    Attributes:
        plan: The plan in force.
        phase: What the painter is doing.
        turn: The turn in hand; None when nothing is left to do.
        canvas: Its canvas, with place and size; None with `turn`.
        passages: Its passages as the plan describes them.
        turn_no: Number of the turn in the whole work, from 1.
        turn_count: How many turns there are.
        done_frac: Planned time of the turns done, as a share of the whole, 0 to 1.
        turn_ms: Work on the turn in hand.
        block_ms: Unbroken work.
        day_ms: Work of the day.
        off_ms: Time since work stopped; 0 while working.
        notes: Notes on the turn in hand.
        is_marked: Whether the turn in hand is marked for return.
        went_other_way: Whether its canvas was taken before its turn.
        before: The turns of the same run that other canvases had, the lead first.
        coming: The next turns, at most two.
        reached: Limits that are reached.
        absence: The last time away, while it can still be counted as work.
        leads: Runs led so far, a figure for each canvas of the plan.
        away: Canvases that are away and wait for their turns.
    """

    plan: Plan
    phase: Phase
    turn: Turn | None
    canvas: Canvas | None
    passages: tuple[Passage, ...]
    turn_no: int
    turn_count: int
    done_frac: float
    turn_ms: int
    block_ms: int
    day_ms: int
    off_ms: int
    notes: tuple[str, ...]
    is_marked: bool
    went_other_way: bool
    before: tuple[TurnRecord, ...]
    coming: tuple[Turn, ...]
    reached: tuple[Reached, ...]
    absence: Absence | None
    leads: tuple[int, ...]
    away: tuple[Canvas, ...] = ()


def turn_in_hand(work: Work, progress: Progress) -> Turn | None:
    """Return the turn that the painter is on, or None when nothing is left to do."""
    return next(_turns(work, progress), None)


def situation_of(work: Work, progress: Progress, now: Reading) -> Situation:
    """Return the situation at the reading `now`, which is not earlier than the last event."""
    seen = copy(progress)
    if seen.at is not None:
        seen.let_pass(passed_ms(seen.at, now))
    ahead = tuple(islice(_turns(work, seen), 1 + _COMING))
    turn, coming = (ahead[0], ahead[1:]) if ahead else (None, ())
    run = _run_of(work, turn)
    return Situation(
        plan=work.plan,
        phase=seen.phase,
        turn=turn,
        canvas=_canvas_of(work.plan, turn),
        passages=tuple(p for p in run.passages if turn and p.name in turn.passages) if run else (),
        turn_no=min(work.turns_done + 1, work.turn_count),
        turn_count=work.turn_count,
        done_frac=work.done_s / work.planned_s,
        turn_ms=seen.turn_ms,
        block_ms=seen.block_ms,
        day_ms=seen.day_ms,
        off_ms=seen.off_ms,
        notes=seen.notes,
        is_marked=seen.is_marked,
        went_other_way=seen.in_hand is not None,
        before=_before(work.plan, run, turn, seen),
        coming=coming,
        reached=_reached(work.plan, seen),
        absence=seen.absence,
        leads=work.leads,
        away=tuple(work.plan.canvases[number] for number in sorted(work.absent)),
    )


def _turns(work: Work, progress: Progress) -> Iterator[Turn]:
    return turns_ahead(work, progress.places, progress.in_hand.canvas if progress.in_hand else None)


def _reached(plan: Plan, seen: Progress) -> tuple[Reached, ...]:
    if seen.phase is Phase.NOT_BEGUN:
        return ()
    is_rested = seen.off_ms >= seen.rest_ms
    return limits_reached(
        plan.limits,
        block_ms=0 if is_rested else seen.block_ms,
        day_ms=seen.day_ms,
        night_ms=seen.night_ms,
    )


def _canvas_of(plan: Plan, turn: Turn | None) -> Canvas | None:
    return None if turn is None else next(c for c in plan.canvases if c.name == turn.canvas)


def _run_of(work: Work, turn: Turn | None) -> Run | None:
    if turn is None:
        return None
    return next(run for run in work.runs[work.run_no :] if (run.pass_name, run.number) == (turn.pass_name, turn.run))


def _before(plan: Plan, run: Run | None, turn: Turn | None, seen: Progress) -> tuple[TurnRecord, ...]:
    if run is None or turn is None:
        return ()
    found = {
        record.turn.canvas: record
        for canvas in plan.canvases
        for name in run.passage_names
        if (record := seen.records.get((run.pass_name, name, canvas.name))) and canvas.name != turn.canvas
    }
    return tuple(sorted(found.values(), key=lambda record: record.turn.place))
