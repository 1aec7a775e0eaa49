"""The fairness report: were the canvases treated alike, and how far can that be told?"""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import replace
from math import ceil, exp, log
from typing import TYPE_CHECKING, Final, TypedDict

from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.review.fairness.figures import (
    FEWEST_RUNS,
    WITHIN_FRAC,
    CanvasDifference,
    CanvasShare,
    FairnessReport,
    Follow,
    PassPractice,
    Practice,
    Ratio,
)
from coach.review.fairness.lead_balance import lead_balance, return_marks
from coach.review.fairness.out_by_place import OutByPlace, out_by_place
from coach.review.fairness.run_times import RunTimes, runs_painted, runs_to_come
from coach.review.fairness.sentences import sentences
from coach.session.journal_state import JournalState

if TYPE_CHECKING:
    from coach.review.fairness.robust_fit import Estimate
    from coach.review.fairness.time_model import TimeModel

_CONFIDENCE_FRAC: Final = 0.95
"""Confidence of every interval of the report."""

_LARGEST_LOG: Final = 700.0
"""Beyond this e^x leaves the range of a float: the ends of a hopelessly wide interval."""


def report_painted(
    painted: JournalState, pass_name: str | None, plan: Plan | None = None
) -> tuple[FairnessReport, tuple[RunTimes, ...]]:
    """Return the fairness report of a journal, and the runs it is made from.

    Args:
        painted: What the journal adds up to.
        pass_name: The pass to tell of; None for the whole work.
        plan: The plan whose runs are to come; None for the one that the journal read last. One that cannot be read
            any more tells nothing of them.
    """
    plan = plan or last_plan(painted)
    runs = tuple(run for run in all_runs(painted, plan) if pass_name in (None, run.pass_name))
    out = out_by_place(painted, runs)
    if plan is None:
        return report(runs, to_come=None, out=out), runs
    names = tuple(canvas.name for canvas in plan.canvases)
    return report(runs, to_come=runs_to_come(plan, painted.turns, pass_name), canvases=names, out=out), runs


def last_plan(painted: JournalState) -> Plan | None:
    """Return the plan that the journal read last; None where there is none that can be read."""
    if painted.plan_text:
        with suppress(CoachError):
            return read_plan(painted.plan_text, "the plan in the journal")
    return None


def all_runs(painted: JournalState, plan: Plan | None) -> tuple[RunTimes, ...]:
    """Return every run that was painted, under the plan it was painted by."""
    return runs_painted(painted.turns) if plan is None else runs_painted(painted.turns, batch=plan.batch)


def report(
    runs: Sequence[RunTimes], *, to_come: int | None, canvases: Sequence[str] = (), out: OutByPlace | None = None
) -> FairnessReport:
    """Return the fairness report of the runs painted so far.

    Args:
        runs: Runs in the order painted.
        to_come: Runs for two canvases or more that are not begun; None where that is not known.
        canvases: Canvases of the commission, in their order.
        out: Where what a comparison found out lay.
    """
    named = dict.fromkeys(name for run in runs for name in run.order)
    names = (*(name for name in canvases if name in named), *(name for name in named if name not in canvases))
    shared = [run for run in runs if len(run.order) > 1]
    passes = {run.pass_name: [own for own in runs if own.pass_name == run.pass_name] for run in runs}
    found = FairnessReport(
        runs=len(runs),
        compared_runs=len(shared),
        left_out_runs=len(runs) - len(shared) if len(names) > 1 else 0,
        runs_to_come=to_come,
        canvases=tuple(_share(name, runs, shared) for name in names),
        balance=lead_balance(runs),
        balance_by_pass={name: one for name, own in passes.items() if (one := lead_balance(own)) is not None},
        place_and_canvas_told_apart=False,
        follow=None,
        follow_with_canvases_allowed_for=None,
        follow_a_day_later=None,
        canvas_differences=(),
        practice=Practice(runs=0),
        practice_by_pass=tuple(
            PassPractice(pass_=name, runs=len(own), runs_needed=None) for name, own in passes.items() if len(passes) > 1
        ),
        return_marks=return_marks(runs, len(names)),
        out_by_place=out,
    )
    if runs:
        from coach.review.fairness.time_model import fit_times  # noqa: PLC0415  numpy is loaded for it

        together = tuple(name for name in names if any(name in run.order for run in shared))
        found = _with_times(found, fit_times(runs, together), shared, together)
    return replace(found, sentences=sentences(found, shared, len(canvases)))


def _share(name: str, runs: Sequence[RunTimes], shared: Sequence[RunTimes]) -> CanvasShare:
    minutes = [run.minutes[run.order.index(name)] for run in runs if name in run.order]
    led = [run for run in shared if run.order[0] == name]
    return CanvasShare(
        canvas=name,
        turns=len(minutes),
        minutes=sum(minutes),
        leads=len(led),
        follows=sum(name in run.order[1:] for run in shared),
        minutes_led=sum(run.mean_min for run in led),
        minutes_spared=None,
    )


def _with_times(
    found: FairnessReport, model: "TimeModel", shared: Sequence[RunTimes], canvases: Sequence[str]
) -> FairnessReport:
    """Return the report with what the model of the minutes tells."""
    follow, count = None, len(shared)
    if model.raw_log is not None:
        follow = Follow(runs=count, ratio_frac=_exp(model.raw_log))
    if follow is not None and model.follow is not None:
        p, ends = model.follow.p, _ends(model.follow, count)
        follow = Follow(runs=count, p=p, confidence_frac=_CONFIDENCE_FRAC, **ends)
    allowed = Ratio(**_ends(model.follow, count)) if model.follow and model.is_told_apart else None
    shares = found.canvases
    if allowed is not None and not allowed.low_frac <= 1 <= allowed.high_frac:
        shares = tuple(replace(share, minutes_spared=_spared(share.canvas, shared, allowed)) for share in shares)
    practised = _ends(model.practice, model.practice_runs).values() if model.practice else ()
    return replace(
        found,
        canvases=shares,
        place_and_canvas_told_apart=model.is_told_apart,
        follow=follow,
        follow_with_canvases_allowed_for=allowed,
        follow_a_day_later=Ratio(**_ends(model.later, count)) if model.later else None,
        canvas_differences=_differences(model, canvases, count),
        practice=Practice(model.practice_runs, *practised),
    )


def _spared(canvas: str, shared: Sequence[RunTimes], follow: Ratio) -> float:
    """Return the minutes saved by following, from the weights of the balance: so the two never disagree."""
    ratio = follow.ratio_frac
    sizes = ((run.mean_min, len(run.order)) for run in shared if canvas in run.order[1:])
    return sum(mean * size / (1 + (size - 1) * ratio) * (1 - ratio) for mean, size in sizes)


def _differences(model: "TimeModel", names: Sequence[str], runs: int) -> tuple[CanvasDifference, ...]:
    from coach.review.fairness.robust_fit import holm  # noqa: PLC0415  numpy is loaded for it

    plain = [estimate.p for estimate in model.canvases]
    against = names[0] if len(plain) == 1 else None
    found = zip(names[-len(plain) :], model.canvases, plain, holm(plain), strict=False)
    return tuple(
        CanvasDifference(
            canvas=name,
            against=against,
            p=adjusted,
            **_ends(estimate, runs, 1 - (1 - _CONFIDENCE_FRAC) / (adjusted / p if p else len(plain))),
        )
        for name, estimate, p, adjusted in found
    )


class _Ends(TypedDict):
    ratio_frac: float
    low_frac: float
    high_frac: float
    runs_needed: int


def _ends(estimate: "Estimate", runs: int, confidence_frac: float = _CONFIDENCE_FRAC) -> _Ends:
    low, high = estimate.ends(confidence_frac)
    # Half an interval's width shrinks with the square root of the runs.
    reach = min(estimate.ends(_CONFIDENCE_FRAC)[1] - estimate.value, _LARGEST_LOG)
    return _Ends(
        ratio_frac=_exp(estimate.value),
        low_frac=_exp(low),
        high_frac=_exp(high),
        runs_needed=max(FEWEST_RUNS, ceil(runs * (reach / log(1 + WITHIN_FRAC)) ** 2)),
    )


def _exp(value: float) -> float:
    return exp(max(-_LARGEST_LOG, min(_LARGEST_LOG, value)))
