"""The painted runs that a review looks at: who led, how long each canvas took, and what was marked for return."""

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import islice, takewhile
from math import isfinite
from operator import ne

from coach.errors import CoachError
from coach.journal.reading import local_time
from coach.plan.commission import Plan
from coach.review.painted import MS_PER_MIN
from coach.session.records import TurnRecord


@dataclass(frozen=True, slots=True, kw_only=True)
class RunTimes:
    """One run as it was painted.

    Attributes:
        pass_name: Name of the pass.
        run_no: Number of the run in the plan, from 1.
        order: Canvas names by first touch, each once; the first one led.
        minutes: Minutes of each turn, in the same order; above 0.
        planned_min: Minutes planned for the run on one canvas; above 0.
        later: Canvases begun on a later day than the one that led.
        marked: Canvases on which something of the run was marked for return.
    """

    pass_name: str
    run_no: int
    order: tuple[str, ...]
    minutes: tuple[float, ...]
    planned_min: float
    later: frozenset[str] = frozenset()
    marked: frozenset[str] = frozenset()

    def __post_init__(self) -> None:
        """Refuse a run that cannot have been painted.

        Raises:
            CoachError: No canvas, a canvas twice, a different number of minutes, or minutes that are not above 0
                or no finite number.
        """
        where = f"pass {self.pass_name}, run {self.run_no}"
        if not self.order or len(set(self.order)) != len(self.order) or len(self.minutes) != len(self.order):
            raise CoachError("a run names each of its canvases once, each with its minutes", where=where)
        for minutes in (*self.minutes, self.planned_min):
            if not (isfinite(minutes) and minutes > 0):
                raise CoachError(f"{minutes!r} minutes cannot be painted", where=where)

    @property
    def mean_min(self) -> float:
        """Mean of the minutes of its turns: what the run weighs, whoever led.

        One canvas alone would not do: the one that followed profits from what the first one taught.
        """
        return sum(self.minutes) / len(self.minutes)


def runs_painted(turns: Iterable[TurnRecord], *, batch: int = 1) -> tuple[RunTimes, ...]:
    """Return the runs of these turns by first touch; checks, and turns skipped or painted in no time, count not.

    A run is known by its passages: an edited plan numbers its runs anew. A canvas that catches up with a run alone,
    when the others have gone on with more runs than a batch holds, is a run of its own: it neither led nor followed.

    Args:
        turns: Turns of all passes, in the order painted.
        batch: Up to so many runs are painted on a canvas before changing over.
    """
    parts: list[list[TurnRecord]] = []
    latest: dict[tuple[str, tuple[str, ...]], list[TurnRecord]] = {}
    for record in turns:
        if not record.is_painted or not record.worked_ms:
            continue
        key = (record.turn.pass_name, record.turn.passages)
        since = list(islice(takewhile(partial(ne, key), reversed(latest)), batch + 1))
        part = latest.pop(key, [])
        is_first_touch = all(other.turn.canvas != record.turn.canvas for other in part)
        if not part or (is_first_touch and len(since) > batch):
            part = []
            parts.append(part)
        part.append(record)
        latest[key] = part
    return tuple(map(_run_of, parts))


def _run_of(records: Sequence[TurnRecord]) -> RunTimes:
    first, minutes, begun = records[0].turn, dict[str, float](), dict[str, dt.date]()
    for record in records:
        canvas = record.turn.canvas
        minutes[canvas] = minutes.get(canvas, 0) + record.worked_ms / MS_PER_MIN
        begun.setdefault(canvas, local_time(record.begun).date())
    return RunTimes(
        pass_name=first.pass_name,
        run_no=first.run,
        order=tuple(minutes),
        minutes=tuple(minutes.values()),
        planned_min=first.planned_s / 60,
        later=frozenset(canvas for canvas, day in begun.items() if day > begun[first.canvas]),
        marked=frozenset(record.turn.canvas for record in records if record.is_marked),
    )


def runs_to_come(plan: Plan, turns: Iterable[TurnRecord], pass_name: str | None) -> int:
    """Return how many runs of the plan, or of one pass, are for two canvases or more and not yet begun on any."""
    begun = {(record.turn.pass_name, passage) for record in turns for passage in record.turn.passages}
    return sum(
        pass_name in (None, run.pass_name)
        and not run.is_check
        and sum(run.is_for(canvas.name) for canvas in plan.canvases) > 1
        and not any((run.pass_name, passage.name) in begun for passage in run.passages)
        for run in plan.runs
    )
