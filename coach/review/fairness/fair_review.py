"""The fairness review: were the canvases treated alike, and how far can that be told?"""

from collections.abc import Sequence
from dataclasses import replace

from coach.errors import CoachError
from coach.review.fairness.canvas_difference import place_allowed
from coach.review.fairness.fairness_figures import CanvasShare, Fairness
from coach.review.fairness.fairness_sentences import fairness_sentences
from coach.review.fairness.follow_effect import follow_effect
from coach.review.fairness.place_fit import is_told_apart
from coach.review.fairness.practice import Practice, practice
from coach.review.fairness.run_times import RunTimes


def review_fairness(runs: Sequence[RunTimes], *, canvases: tuple[str, ...] | None = None, seed: int = 1) -> Fairness:
    """Return the fairness review of the runs painted so far.

    Args:
        runs: Runs in the order painted, each finished on the canvases it names.
        canvases: All canvases of the commission, each once; None for those the runs name, by first touch.
        seed: Seed of the sign-flip test where more than 20 runs are compared.

    Raises:
        CoachError: A canvas is given twice, or a run names one that is not given.
    """
    names = tuple(dict.fromkeys(name for run in runs for name in run.order)) if canvases is None else canvases
    _check_canvases(runs, names)
    compared = [run for run in runs if len(run.order) == len(names) > 1]
    figures = Fairness(
        canvases=tuple(_share(name, runs, compared) for name in names),
        runs=len(runs),
        compared_runs=len(compared),
        left_out_runs=len(runs) - len(compared) if len(names) > 1 else 0,
        is_told_apart=is_told_apart(compared),
        follow=follow_effect(compared, seed=seed),
        allowed=place_allowed(compared, names),
        practice=practice(runs, canvases=len(names), pass_name=None),
        practice_by_pass=_by_pass(runs, len(names)),
        sentences=(),
    )
    return replace(figures, sentences=fairness_sentences(figures))


def _check_canvases(runs: Sequence[RunTimes], names: tuple[str, ...]) -> None:
    if len(set(names)) != len(names):
        raise CoachError("a canvas is named twice", where="canvases")
    for run in runs:
        for name in run.order:
            if name not in names:
                raise CoachError(f"no canvas is called {name!r}", where=f"run {run.run_no}")


def _share(name: str, runs: Sequence[RunTimes], compared: Sequence[RunTimes]) -> CanvasShare:
    minutes = [run.minutes[run.order.index(name)] for run in runs if name in run.order]
    leads = sum(run.order[0] == name for run in compared)
    return CanvasShare(
        canvas=name, turns=len(minutes), minutes=sum(minutes), leads=leads, follows=len(compared) - leads
    )


def _by_pass(runs: Sequence[RunTimes], canvases: int) -> tuple[Practice, ...]:
    passes: dict[str, list[RunTimes]] = {}
    for run in runs:
        passes.setdefault(run.pass_name, []).append(run)
    if len(passes) == 1:
        return ()
    return tuple(practice(own, canvases=canvases, pass_name=name) for name, own in passes.items())
