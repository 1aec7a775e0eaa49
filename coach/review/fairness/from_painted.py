"""From the turns of a journal to what the review of fairness looks at."""

from collections.abc import Iterable

from coach.order.measures import measure
from coach.order.measures_in_words import in_words
from coach.order.request import PaintedRun
from coach.review.fairness.run_times import RunTimes
from coach.review.painted import MS_PER_MIN
from coach.session.progress import TurnRecord


def runs_painted(turns: Iterable[TurnRecord]) -> tuple[RunTimes, ...]:
    """Return the runs of these turns by first touch; turns skipped or painted in no time at all count not."""
    minutes: dict[tuple[str, int], dict[str, float]] = {}
    planned_min: dict[tuple[str, int], float] = {}
    for record in turns:
        if record.is_skipped or not record.worked_ms:
            continue
        run = (record.turn.pass_name, record.turn.run)
        canvases = minutes.setdefault(run, {})
        canvases[record.turn.canvas] = canvases.get(record.turn.canvas, 0) + record.worked_ms / MS_PER_MIN
        planned_min.setdefault(run, record.turn.planned_s / 60)
    return tuple(
        RunTimes(
            pass_name=pass_name,
            run_no=number,
            order=tuple(canvases),
            minutes=tuple(canvases.values()),
            planned_min=planned_min[pass_name, number],
        )
        for (pass_name, number), canvases in minutes.items()
    )


def balance_sentences(runs: tuple[RunTimes, ...]) -> tuple[str, ...]:
    """Return how evenly the lead of these runs was really shared, a sentence a measure."""
    names = tuple(dict.fromkeys(name for run in runs for name in run.order))
    passes = tuple(dict.fromkeys(run.pass_name for run in runs))
    painted = [
        PaintedRun(
            pass_no=passes.index(run.pass_name),
            weight=max(1, round(run.planned_min)),
            order=tuple(names.index(name) for name in run.order),
        )
        for run in runs
    ]
    return in_words(measure(max(1, len(names)), painted), names, passes)
