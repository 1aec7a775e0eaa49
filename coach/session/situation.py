"""The situation now: a pure answer from where the work stands, what happened, and the clocks."""

from collections.abc import Iterator
from itertools import islice
from typing import NamedTuple

from coach.forecast.outlook import is_forgotten
from coach.journal.events import Turn
from coach.journal.reading import Reading, local_time
from coach.limits.exceeded import ExceededLimit, NextRest, easel_at, next_rest, night_left_ms, notices, rest_left_ms
from coach.plan.commission import Canvas, Passage, Plan, Run
from coach.session.journal_state import JournalState
from coach.session.records import Absence, Phase, TurnRecord
from coach.session.wet_and_dry import DrynessQuestion, WetEdge, wet_edges
from coach.session.work import Work, open_canvases, run_of, turns_ahead

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
        exceeded: Limits that are passed and to be said, the gravest first.
        next_rest: The rest that comes next.
        rest_left_ms: What is left of the rest; 0 where it is over.
        night_left_ms: How much longer to stay off between two days; 0 where it is long enough.
        absence: The last time away, while it can still be counted as work.
        leads: Runs led so far, a figure for each canvas of the plan.
        open_canvases: Names of the canvases on which the passages in hand are still to be painted, in order.
        away: Canvases that are away and wait for their turns.
        edges: Edges of the turns ahead that must meet wet, or lie over what must be dry, and do not now.
        asked_dry: A turn of an earlier day of which the coach asks whether it is dry to touch; None asks nothing.
        forgotten: The last turn where its time cannot be believed; None where it can.
        of_order: What is to be said of the order of the work: a wish that cannot be kept, a lead that stays uneven.
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
    exceeded: tuple[ExceededLimit, ...]
    next_rest: NextRest
    rest_left_ms: int
    night_left_ms: int
    absence: Absence | None
    leads: tuple[int, ...]
    open_canvases: tuple[str, ...] = ()
    away: tuple[Canvas, ...] = ()
    edges: tuple[WetEdge, ...] = ()
    asked_dry: TurnRecord | None = None
    forgotten: TurnRecord | None = None
    of_order: str = ""


def turn_in_hand(work: Work, state: JournalState) -> Turn | None:
    """Return the turn that the painter is on, or None when nothing is left to do."""
    return next(_turns(work, state), None)


def situation_of(work: Work, state: JournalState, now: Reading, question: DrynessQuestion) -> Situation:
    """Return the situation at the reading `now`, which is not earlier than the last event."""
    seen = state.seen_at(now)
    hours, limits = seen.hours, work.plan.limits
    easel = easel_at(local_time(now), work.plan.posture)
    ahead = tuple(islice(_turns(work, seen), 1 + _COMING))
    turn, coming = (ahead[0], ahead[1:]) if ahead else (None, ())
    run = None if turn is None else run_of(work, turn)
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
        block_ms=hours.block_ms,
        day_ms=hours.day_ms,
        off_ms=hours.off_ms,
        notes=seen.notes,
        is_marked=seen.is_marked,
        went_other_way=seen.in_hand is not None,
        before=_before(work.plan, run, turn, seen),
        coming=coming,
        exceeded=() if seen.phase is Phase.NOT_BEGUN else notices(limits, hours, seen.deferrals, easel),
        next_rest=next_rest(limits, hours, seen.deferrals, easel),
        rest_left_ms=rest_left_ms(limits, hours, easel),
        night_left_ms=night_left_ms(limits, hours) if hours.day_ms or hours.night_ms else 0,
        absence=seen.absence,
        leads=work.leads,
        open_canvases=() if turn is None else open_canvases(work, seen.places, turn),
        away=tuple(work.plan.canvases[number] for number in sorted(work.absent)),
        edges=wet_edges(work, seen, ahead, now),
        asked_dry=question.asked(work, seen, now),
        forgotten=_forgotten(seen.last),
        of_order=work.remark,
    )


def _turns(work: Work, state: JournalState) -> Iterator[Turn]:
    return turns_ahead(work, state.places, state.in_hand.canvas if state.in_hand else None)


def _forgotten(last: TurnRecord | None) -> TurnRecord | None:
    """Return the last turn where its time is so long that the key must have been forgotten, else None."""
    if last is None or last.is_skipped or not is_forgotten(last.turn.planned_s, last.worked_ms / 1000):
        return None
    return last


def _canvas_of(plan: Plan, turn: Turn | None) -> Canvas | None:
    return None if turn is None else next(c for c in plan.canvases if c.name == turn.canvas)


def _before(plan: Plan, run: Run | None, turn: Turn | None, seen: JournalState) -> tuple[TurnRecord, ...]:
    if run is None or turn is None:
        return ()
    found = {
        record.turn.canvas: record
        for canvas in plan.canvases
        for name in run.passage_names
        if (record := seen.record_of((run.pass_name, name, canvas.name))) and canvas.name != turn.canvas
    }
    return tuple(sorted(found.values(), key=lambda record: record.turn.place))
