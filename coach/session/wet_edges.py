"""Edges that must meet wet, and layers that must lie on dry paint: what of the turns ahead is in danger."""

import datetime as dt
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from coach.forecast.layers import Openness, dry_days, open_time
from coach.journal.events import Turn
from coach.journal.reading import Reading, local_time, passed_ms
from coach.plan.commission import Passage, Plan
from coach.session.dryness import passage_named
from coach.session.journal_state import SKIPPED, JournalState
from coach.session.work import Work, run_of


class WetEdge(NamedTuple):
    """A passage ahead whose paint below is not as it should be.

    Attributes:
        passage: Name of the passage ahead.
        canvas: Name of its canvas.
        below: Name of the passage it meets or lies over.
        openness: SETS_SOON or SET where it is to be met wet; None where it is to be dry and is not.
        dry_from: Days from which it may be, and is planned to be, dry to touch; None where it is to be met wet.
    """

    passage: str
    canvas: str
    below: str
    openness: Openness | None = None
    dry_from: tuple[dt.date, dt.date] | None = None


def wet_edges(work: Work, seen: JournalState, ahead: Iterable[Turn], now: Reading) -> tuple[WetEdge, ...]:
    """Return the edges in danger of the turns ahead, the turn in hand first."""
    turns = tuple(ahead)
    begun = _begun(work.plan, seen, turns[0], now) if turns else ()
    return (*begun, *(edge for turn in turns for edge in _edges_of(work, seen, turn, now)))


def _begun(plan: Plan, seen: JournalState, turn: Turn, now: Reading) -> tuple[WetEdge, ...]:
    """Return the edge of a run that was begun so long ago that its first passage sets before its last is met."""
    if seen.begun is None or not seen.turn_ms or len(turn.passages) == 1:
        return ()
    openness = open_time(passed_ms(seen.begun, now) / 1000, plan.forecast.medium)
    if openness is Openness.WET:
        return ()
    return (WetEdge(turn.passages[-1], turn.canvas, turn.passages[0], openness),)


def _edges_of(work: Work, seen: JournalState, turn: Turn, now: Reading) -> Iterator[WetEdge]:
    run = run_of(work, turn)
    for passage in run.passages if run else ():
        if passage.name not in turn.passages:
            continue
        met = passage.into or (None if passage.beside is None else (turn.pass_name, passage.beside))
        if met:
            yield from _to_meet(work.plan, seen, (turn, passage), met, now)
        if passage.over:
            yield from _to_cover(work.plan, seen, (turn, passage), passage.over, now)


def _to_meet(
    plan: Plan, seen: JournalState, ahead: tuple[Turn, Passage], met: tuple[str, str], now: Reading
) -> Iterator[WetEdge]:
    turn, passage = ahead
    record = seen.records.get((*met, turn.canvas))
    if record is None or record.is_skipped:
        return
    openness = open_time(passed_ms(record.ended, now) / 1000, plan.forecast.medium)
    if openness is not Openness.WET:
        yield WetEdge(passage=passage.name, canvas=turn.canvas, below=met[1], openness=openness)


def _to_cover(
    plan: Plan, seen: JournalState, ahead: tuple[Turn, Passage], below: tuple[str, str], now: Reading
) -> Iterator[WetEdge]:
    turn, passage = ahead
    shape = (*below, turn.canvas)
    record, covered = seen.records.get(shape), passage_named(plan, *below)
    if record is None or covered is None or shape in seen.found_dry or seen.places.get(shape) == SKIPPED:
        return
    days = dry_days(plan, covered, local_time(record.ended).date())
    if local_time(now).date() < days.planned:
        yield WetEdge(passage.name, turn.canvas, below[1], dry_from=(days.possible, days.planned))
