"""From the turns of a journal to what the review of fairness looks at."""

from collections.abc import Iterable
from fractions import Fraction
from typing import Final

from coach.order.measures import Measures, measure
from coach.order.measures_in_words import in_words
from coach.order.request import PaintedRun
from coach.review.fairness.run_times import RunTimes
from coach.review.painted import MS_PER_MIN
from coach.session.journal_state import TurnRecord

EVEN_FRAC: Final = Fraction(5, 100)
"""Leads that are less than this part of the work apart are called even. Source: the tolerance of a pass in the
ordering engine, ours."""


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
    """Return how evenly the lead of these runs was really shared: the answer first, then a sentence a measure."""
    names = tuple(dict.fromkeys(name for run in runs for name in run.order))
    passes = tuple(dict.fromkeys(run.pass_name for run in runs))
    painted = [
        PaintedRun(
            pass_no=passes.index(run.pass_name),
            weight=max(1, round(run.mean_min)),
            order=tuple(names.index(name) for name in run.order),
        )
        for run in runs
    ]
    found = measure(max(1, len(names)), painted)
    return (*_answer(found, max((run.weight for run in painted), default=0), names), *in_words(found, names, passes))


def _answer(found: Measures, heaviest: int, names: tuple[str, ...]) -> tuple[str, ...]:
    if found.run_count < len(names) or len(names) < 2:  # noqa: PLR2004
        return ()
    # What the heaviest run weighs cannot be told from chance; among three and more the order guarantees twice that.
    allowed = max(found.weight * EVEN_FRAC, Fraction(heaviest * (1 if len(names) == 2 else 2)))  # noqa: PLR2004
    counts = ", ".join(f"{name} {count}" for name, count in zip(names, found.leads.counts, strict=True))
    apart = f"{float(100 * found.imbalance_frac):.1f} % of the work apart"
    if found.imbalance <= allowed:
        return (f"The lead was shared alike: runs led {counts}; {apart}.",)
    most = names[found.leads.weights.index(max(found.leads.weights))]
    return (f"The lead was not shared alike: {most} led too much; runs led {counts}; {apart}.",)
