"""Paint that must be wet or dry: edges and layers of the turns ahead in danger, and which passage to feel."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from typing import Final, NamedTuple

from coach.errors import CoachError
from coach.forecast.drying import paint_of
from coach.forecast.layers import Openness, dry_days, open_time
from coach.journal.events import LaidPaint, Turn
from coach.journal.reading import Reading, local_day, local_time, passed_ms
from coach.plan.commission import RETURN_TO, Address, Passage, Plan
from coach.plan.reading import read_plan
from coach.session.journal_state import JournalState
from coach.session.records import Shape, TurnRecord
from coach.session.work import Work, run_of, turns_ahead

ASK_WITHIN_MS: Final = 30 * 60 * 1000
"""The question stands before the first work of a day and through so much of it."""


def paint_of_turn(work: Work, turn: Turn) -> tuple[LaidPaint, ...]:
    """Return the paint of each passage of a turn that is painted now, in order; none of a check."""
    if turn.check:
        return ()
    name = feature(turn.pass_name)
    return tuple(paint_of(work.plan, work.passages.get((name, own), Passage(own))) for own in turn.passages)


def feature(pass_name: str) -> str:
    """Return the pass of the plan that a pass, or a return to it, is about."""
    while pass_name.startswith(RETURN_TO):
        pass_name = pass_name.removeprefix(RETURN_TO)
    return pass_name


def paint_laid(plan: Plan, record: TurnRecord, passage: str) -> LaidPaint:
    """Return the paint that a turn laid, as it was; where the journal does not tell, as the plan of that time had it.

    Args:
        plan: The plan now, for a journal that holds no plan that can be read.
        record: The turn.
        passage: One of its passages.
    """
    if record.as_painted:
        return record.as_painted[record.turn.passages.index(passage)]
    address = feature(record.turn.pass_name), passage
    then = _paints_then(record.plan_text) if record.plan_text else {}
    return then.get(address) or paint_of(plan, _passages(plan).get(address, Passage(passage)))


def paint_on_canvases(plan: Plan, state: JournalState) -> dict[Shape, LaidPaint]:
    """Return the paint of all that is laid, by pass of the plan, passage and canvas; the last layer, as it was."""
    return {
        (feature(record.turn.pass_name), passage, record.turn.canvas): paint_laid(plan, record, passage)
        for record in state.turns
        if record.is_painted
        for passage in record.turn.passages
    }


def _passages(plan: Plan) -> dict[Address, Passage]:
    return {(one.name, passage.name): passage for one in plan.passes for passage in one.passages}


@lru_cache(maxsize=32)
def _paints_then(plan_text: str) -> Mapping[Address, LaidPaint]:
    try:
        plan = read_plan(plan_text, "plan")
    except CoachError:
        return {}
    return {address: paint_of(plan, passage) for address, passage in _passages(plan).items()}


def asked_dry(work: Work, seen: JournalState, now: Reading) -> TurnRecord | None:
    """Return the oldest turn of an earlier day whose mixture nobody has felt dry yet; None asks nothing.

    One mixture is measured once, and what was still wet today is not asked about again before tomorrow; after the last
    stroke nothing is asked.
    """
    if seen.hours.day_ms > ASK_WITHIN_MS or work.turns_done >= work.turn_count:
        return None
    today = local_day(now)
    measured = {_mixture(work, record, shape) for shape in seen.found_dry if (record := seen.record_of(shape))}
    for record in seen.turns:
        if not record.is_painted or local_day(record.ended) >= today:
            continue
        shape = record.shapes[-1]
        mixture, felt = _mixture(work, record, shape), seen.found_wet.get(shape)
        if mixture[0] and mixture not in measured and (felt is None or local_day(felt) < today):
            return record
    return None


def _mixture(work: Work, record: TurnRecord, shape: Shape) -> tuple[str, str]:
    """Return mixture and medium as they were laid; the mixture is empty where none was named."""
    paint = paint_laid(work.plan, record, shape[1])
    return paint.mixture, paint.medium


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


def dry_run_ahead(work: Work, seen: JournalState, now: Reading) -> Turn | None:
    """Return the first turn of the first run ahead that can be painted on every canvas without waiting.

    None where the run in hand need not wait, or every other one lies over paint that is wet or still to be laid.
    """
    waiting: dict[tuple[str, int], bool] = {}
    first: dict[tuple[str, int], Turn] = {}
    for turn in turns_ahead(work, seen.places):
        if turn.check and first:
            continue
        key = turn.pass_name, turn.run
        first.setdefault(key, turn)
        waiting[key] = waiting.get(key, False) or not _can_be_painted(work, seen, turn, now)
    in_hand, *others = first or [("", 0)]
    if not waiting.get(in_hand, False):
        return None
    return next((first[key] for key in others if not waiting[key]), None)


def _can_be_painted(work: Work, seen: JournalState, turn: Turn, now: Reading) -> bool:
    """Return whether all that a turn lies over is dry, and all it is painted into is there."""
    passages = [work.passages.get((feature(turn.pass_name), name)) for name in turn.passages]
    met = [below for own in passages if own is not None and (below := own.over or own.into) is not None]
    is_there = all((*below, turn.canvas) in seen.places for below in met)
    return is_there and not any(edge.dry_from for edge in _edges_of(work, seen, turn, now))


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


def _last_laid(seen: JournalState, shape: Shape) -> TurnRecord | None:
    """Return the last turn that laid paint on a passage of a canvas, a return to it included; None without any."""
    last, (pass_name, *rest) = None, shape
    while (record := seen.record_of((pass_name, rest[0], rest[1]))) is not None:
        last, pass_name = last if record.is_skipped else record, RETURN_TO + pass_name
    return last


def _to_meet(
    plan: Plan, seen: JournalState, ahead: tuple[Turn, Passage], met: tuple[str, str], now: Reading
) -> Iterator[WetEdge]:
    turn, passage = ahead
    record = _last_laid(seen, (*met, turn.canvas))
    if record is None:
        return
    openness = open_time(passed_ms(record.ended, now) / 1000, paint_laid(plan, record, met[1]).medium)
    if openness is not Openness.WET:
        yield WetEdge(passage=passage.name, canvas=turn.canvas, below=met[1], openness=openness)


def _to_cover(
    work: Work, seen: JournalState, ahead: tuple[Turn, Passage], below: tuple[str, str], now: Reading
) -> Iterator[WetEdge]:
    turn, passage = ahead
    record = _last_laid(seen, (*below, turn.canvas))
    if record is None or (record.turn.pass_name, below[1], turn.canvas) in seen.found_dry:
        return
    days = dry_days(paint_laid(work.plan, record, below[1]), local_time(record.ended).date())
    if local_time(now).date() < days.planned:
        yield WetEdge(passage.name, turn.canvas, below[1], dry_from=(days.possible, days.planned))
