"""The fairness report: were the canvases treated alike, and how far can that be told?"""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from math import ceil, exp, log
from typing import TYPE_CHECKING, Final

from coach.errors import CoachError
from coach.plan.reading import read_plan
from coach.review.fairness.figures import (
    FEWEST_RUNS,
    WITHIN_FRAC,
    CanvasDifference,
    CanvasShare,
    FairnessReport,
    Follow,
    PassRuns,
    Practice,
    Ratio,
)
from coach.review.fairness.lead_balance import lead_balance, return_marks
from coach.review.fairness.run_times import RunTimes, runs_painted, runs_to_come
from coach.review.fairness.sentences import sentences
from coach.review.painted import chosen
from coach.session.journal_state import JournalState

if TYPE_CHECKING:
    from coach.review.fairness.robust_fit import Estimate
    from coach.review.fairness.time_model import TimeModel

_CONFIDENCE_FRAC: Final = 0.95
"""Confidence of every interval of the report."""

_LARGEST_LOG: Final = 700.0
"""Beyond this e^x leaves the range of a float: the ends of a hopelessly wide interval."""


def report_painted(painted: JournalState, *, pass_name: str | None) -> FairnessReport:
    """Return the fairness report of a journal, or (not None) of one pass of it.

    What is to come is read from the plan that the journal read last; one that cannot be read any more tells nothing.
    """
    turns = chosen(painted.turns, pass_name=pass_name)
    to_come: int | None = None
    names: tuple[str, ...] = ()
    if painted.plan_text:
        with suppress(CoachError):
            plan = read_plan(painted.plan_text, "the plan in the journal")
            to_come, names = runs_to_come(plan, turns, pass_name), tuple(canvas.name for canvas in plan.canvases)
    return report(runs_painted(turns), to_come=to_come, canvases=names)


def report(runs: Sequence[RunTimes], *, to_come: int | None, canvases: Sequence[str] = ()) -> FairnessReport:
    """Return the fairness report of the runs painted so far.

    Args:
        runs: Runs in the order painted.
        to_come: Runs for two canvases or more that are not begun; None where that is not known.
        canvases: Canvases of the commission, in their order.
    """
    painted_on = dict.fromkeys(name for run in runs for name in run.order)
    names = (*(name for name in canvases if name in painted_on), *(name for name in painted_on if name not in canvases))
    shared = [run for run in runs if len(run.order) > 1]
    model = None
    if runs:
        from coach.review.fairness.time_model import fit_times  # noqa: PLC0415  numpy is loaded for it

        model = fit_times(runs, names)
    follow = None if model is None else _follow(model, len(shared))
    passes = {run.pass_name: [own for own in runs if own.pass_name == run.pass_name] for run in runs}
    balances = {name: balance for name, own in passes.items() if (balance := lead_balance(own)) is not None}
    figures = FairnessReport(
        runs=len(runs),
        compared_runs=len(shared),
        left_out_runs=len(runs) - len(shared) if len(names) > 1 else 0,
        runs_to_come=to_come,
        canvases=tuple(_share(name, runs, shared, model) for name in names),
        balance=lead_balance(runs),
        balance_by_pass=balances,
        place_and_canvas_told_apart=model is not None and model.is_told_apart,
        follow=follow,
        follow_with_canvases_allowed_for=None
        if model is None or not model.is_told_apart or model.follow is None
        else _ratio(model.follow, len(shared)),
        follow_a_day_later=None if model is None or model.later is None else _ratio(model.later, len(shared)),
        canvas_differences=() if model is None else _differences(model, names, len(shared)),
        practice=_practice(model),
        practice_by_pass=()
        if len(passes) < 2  # noqa: PLR2004
        else tuple(PassRuns(pass_=name, runs=len(own)) for name, own in passes.items()),
        return_marks=return_marks(runs, len(names)),
        sentences=(),
    )
    return replace(figures, sentences=sentences(figures, runs, len(canvases)))


def _share(name: str, runs: Sequence[RunTimes], shared: Sequence[RunTimes], model: "TimeModel | None") -> CanvasShare:
    minutes = [run.minutes[run.order.index(name)] for run in runs if name in run.order]
    led = [run for run in shared if run.order[0] == name]
    followed = [run for run in shared if name in run.order[1:]]
    return CanvasShare(
        canvas=name,
        turns=len(minutes),
        minutes=sum(minutes),
        leads=len(led),
        follows=len(followed),
        minutes_led=sum(run.mean_min for run in led),
        minutes_spared=_spared(followed, model),
    )


def _spared(followed: Sequence[RunTimes], model: "TimeModel | None") -> float | None:
    """Return the minutes saved by following, from the same weights as the balance: the two never disagree."""
    if model is None or not model.is_told_apart or model.follow is None or model.follow.p >= 1 - _CONFIDENCE_FRAC:
        return None
    ratio = _exp(model.follow.value)
    sizes = ((run.mean_min, len(run.order)) for run in followed)
    return sum(mean * size / (1 + (size - 1) * ratio) * (1 - ratio) for mean, size in sizes)


def _follow(model: "TimeModel", runs: int) -> Follow | None:
    if model.raw_log is None:
        return None
    if model.follow is None:
        return Follow(
            runs=runs,
            ratio_frac=_exp(model.raw_log),
            low_frac=None,
            high_frac=None,
            confidence_frac=0.0,
            p=None,
            runs_needed=FEWEST_RUNS,
        )
    found = _ratio(model.follow, runs)
    return Follow(
        runs=runs,
        ratio_frac=found.ratio_frac,
        low_frac=found.low_frac,
        high_frac=found.high_frac,
        confidence_frac=_CONFIDENCE_FRAC,
        p=model.follow.p,
        runs_needed=found.runs_needed,
    )


def _differences(model: "TimeModel", names: Sequence[str], runs: int) -> tuple[CanvasDifference, ...]:
    from coach.review.fairness.robust_fit import holm  # noqa: PLC0415  numpy is loaded for it

    plain = [estimate.p for estimate in model.canvases]
    own_names = names[1:] if len(plain) == 1 else names
    found = []
    for name, estimate, p, adjusted in zip(own_names, model.canvases, plain, holm(plain), strict=False):
        times = adjusted / p if p else len(plain)
        ratio = _ratio(estimate, runs, 1 - (1 - _CONFIDENCE_FRAC) / times)
        found.append(
            CanvasDifference(
                canvas=name,
                against=names[0] if len(plain) == 1 else None,
                ratio_frac=ratio.ratio_frac,
                low_frac=ratio.low_frac,
                high_frac=ratio.high_frac,
                p=adjusted,
                runs_needed=ratio.runs_needed,
            )
        )
    return tuple(found)


def _practice(model: "TimeModel | None") -> Practice:
    runs = 0 if model is None else model.practice_runs
    if model is None or model.practice is None:
        return Practice(
            runs=runs, rate_frac=None, low_frac=None, high_frac=None, runs_needed=max(FEWEST_RUNS, runs + 1)
        )
    found = _ratio(model.practice, runs)
    return Practice(
        runs=runs,
        rate_frac=found.ratio_frac,
        low_frac=found.low_frac,
        high_frac=found.high_frac,
        runs_needed=found.runs_needed,
    )


def _ratio(estimate: "Estimate", runs: int, confidence_frac: float = _CONFIDENCE_FRAC) -> Ratio:
    low, high = estimate.ends(confidence_frac)
    usual_low, usual_high = estimate.ends(_CONFIDENCE_FRAC)
    # Half an interval's width shrinks with the square root of the runs.
    reach = min((usual_high - usual_low) / 2, _LARGEST_LOG)
    return Ratio(
        ratio_frac=_exp(estimate.value),
        low_frac=_exp(low),
        high_frac=_exp(high),
        runs_needed=max(FEWEST_RUNS, ceil(runs * (reach / log(1 + WITHIN_FRAC)) ** 2)),
    )


def _exp(value: float) -> float:
    return exp(max(-_LARGEST_LOG, min(_LARGEST_LOG, value)))
