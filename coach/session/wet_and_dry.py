"""Paint that must be wet or dry: edges and layers of the turns ahead in danger, and which passage to feel."""

import datetime as dt
from collections.abc import Iterable, Iterator
from typing import Final, NamedTuple

from coach.forecast.layers import Openness, dry_days, open_time
from coach.journal.events import Turn
from coach.journal.reading import Reading, local_day, local_time, passed_ms
from coach.plan.commission import Passage, Plan
from coach.session.journal_state import JournalState
from coach.session.records import SKIPPED, Shape, TurnRecord
from coach.session.work import Work, run_of

ASK_WITHIN_MS: Final = 30 * 60 * 1000
"""The question stands before the first work of a day and through so much of it."""


def asked_dry(work: Work, seen: JournalState, now: Reading) -> TurnRecord | None:
    """Return the oldest turn of an earlier day whose mixture nobody has felt dry yet; None asks nothing.

    One mixture is measured once, and what was still wet today is not asked about again before tomorrow.
    """
    if seen.hours.day_ms > ASK_WITHIN_MS:
        return None
    today = local_day(now)
    measured = {_mixture(work, shape) for shape in seen.found_dry}
    for record in seen.turns:
        if record.is_skipped or local_day(record.ended) >= today:
            continue
        mixture, felt = _mixture(work, record.shapes[-1]), seen.found_wet.get(record.shapes[-1])
        if mixture is not None and mixture not in measured and (felt is None or local_day(felt) < today):
            return record
    return None


def _mixture(work: Work, shape: Shape) -> str | None:
    passage = work.passages.get(shape[:2])
    return passage.mixture if passage else None


class DrynessQuestion:
    """The question, looked for anew only where its answer may be another: not at every key and tick."""

    def __init__(self) -> None:
        """Nothing is known yet."""
        self._known: tuple[object, TurnRecord | None] | None = None

    def asked(self, work: Work, seen: JournalState, now: Reading) -> TurnRecord | None:
        """Return what `asked_dry` returns."""
        if seen.hours.day_ms > ASK_WITHIN_MS:
            return None
        since = (id(work.passages), local_day(now), len(seen.turns), seen.felt_seq)
        if self._known is None or self._known[0] != since:
            self._known = since, asked_dry(work, seen, now)
        return self._known[1]


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
            yield from _to_cover(work, seen, (turn, passage), passage.over, now)


def _to_meet(
    plan: Plan, seen: JournalState, ahead: tuple[Turn, Passage], met: tuple[str, str], now: Reading
) -> Iterator[WetEdge]:
    turn, passage = ahead
    record = seen.record_of((*met, turn.canvas))
    if record is None or record.is_skipped:
        return
    openness = open_time(passed_ms(record.ended, now) / 1000, plan.forecast.medium)
    if openness is not Openness.WET:
        yield WetEdge(passage=passage.name, canvas=turn.canvas, below=met[1], openness=openness)


def _to_cover(
    work: Work, seen: JournalState, ahead: tuple[Turn, Passage], below: tuple[str, str], now: Reading
) -> Iterator[WetEdge]:
    turn, passage = ahead
    shape = (*below, turn.canvas)
    record, covered = seen.record_of(shape), work.passages.get(below)
    if record is None or covered is None or shape in seen.found_dry or seen.places.get(shape) == SKIPPED:
        return
    days = dry_days(work.plan, covered, local_time(record.ended).date())
    if local_time(now).date() < days.planned:
        yield WetEdge(passage.name, turn.canvas, below[1], dry_from=(days.possible, days.planned))
