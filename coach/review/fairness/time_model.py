"""The one model of the review: what place, canvas and practice do to the minutes of a turn.

Two readings of one fit. Within a run: log minutes = run + place (second, third ...; begun on a later day) + canvas.
Between runs: level of the run - log planned minutes = level of the pass + practice x log2(number of the run). The level
of a run is what is left of its log minutes once place and canvas are taken off. A level for every pass is what keeps
estimates that share an error within a pass from passing for practice.

There is no preliminary test that chooses between two analyses (Freeman 1989, Stat. Med. 8:1421-1432: such a choice
raises the true error of a 5 % test to 7-9 %). What carries over from canvas to canvas is the place.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.review.fairness.figures import FEWEST_RUNS
from coach.review.fairness.robust_fit import Estimate, robust_fit
from coach.review.fairness.run_times import RunTimes

_FEWEST_FREE: Final = 3
"""Runs that leave fewer degrees of freedom than this are not judged (ours)."""

_WILD: Final = 0.05
"""A run that counts less than this in the fit holds a turn that went wrong."""

_Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeModel:
    """What the runs tell, on the scale of natural logarithms; None or empty where they tell nothing.

    Attributes:
        is_told_apart: Place and canvas were mixed enough to be told apart.
        raw_log: Typical log of the following turns over the leading one, the canvases not allowed for; None without
            a run on two canvases.
        follow: Following straight after against leading, over the places as often as they were painted.
        later: A turn begun on a later day than the lead against one straight after.
        canvases: For each canvas its time against the mean of all; of two canvases one entry, the second against the
            first.
        practice: Each doubling of the number of runs.
        practice_runs: Runs that practice is read from.
    """

    is_told_apart: bool
    raw_log: float | None
    follow: Estimate | None = None
    later: Estimate | None = None
    canvases: tuple[Estimate, ...] = ()
    practice: Estimate | None = None
    practice_runs: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class _Turns:
    """The turns of the runs, a row each.

    Attributes:
        run: Number of the run, from 0.
        logs: Natural logarithm of the minutes.
        columns: Place (second, third ...), canvas (second, third ...), begun on a later day; 1 where it is so.
        places: How many of the columns are places.
    """

    run: NDArray[np.intp]
    logs: _Floats
    columns: _Floats
    places: int


def fit_times(runs: Sequence[RunTimes], canvases: Sequence[str]) -> TimeModel:
    """Return what the runs tell.

    Args:
        runs: Runs in the order painted, at least one.
        canvases: The canvases that share a run with another.
    """
    turns = _turns(runs, canvases)
    model, effects, weights = _within(turns, runs)
    practice, practice_runs = _practice(runs, _levels(runs, turns, effects, weights))
    return replace(model, practice=practice, practice_runs=practice_runs)


def _turns(runs: Sequence[RunTimes], canvases: Sequence[str]) -> _Turns:
    places, number = max(len(run.order) for run in runs) - 1, {name: no for no, name in enumerate(canvases)}
    painted = [(no, place, name) for no, run in enumerate(runs) for place, name in enumerate(run.order)]
    columns = np.zeros((len(painted), places + max(1, len(canvases))))
    for row, (no, place, name) in enumerate(painted):
        if place:
            columns[row, place - 1] = 1
        if number.get(name):
            columns[row, places + number[name] - 1] = 1
        columns[row, -1] = name in runs[no].later
    return _Turns(
        run=np.array([no for no, _, _ in painted]),
        logs=np.log([minutes for run in runs for minutes in run.minutes]),
        columns=columns,
        places=places,
    )


def _within(turns: _Turns, runs: Sequence[RunTimes]) -> tuple[TimeModel, _Floats, _Floats]:
    """Return the reading within the runs, what each column does, and how much each run counted."""
    counts = np.bincount(turns.run).astype(float)
    means = np.stack([np.bincount(turns.run, column) / counts for column in turns.columns.T], axis=1)
    x = turns.columns - means[turns.run]
    y = turns.logs - (np.bincount(turns.run, turns.logs) / counts)[turns.run]
    last = x.shape[1] - 1
    used = list(range(last))
    is_told_apart = last > 0 and bool(np.linalg.matrix_rank(x[:, used]) == last)
    if not is_told_apart:
        used = list(range(turns.places))
    if np.linalg.matrix_rank(x[:, [*used, last]]) > len(used):
        used.append(last)
    differences = [np.mean(np.log(run.minutes[1:])) - np.log(run.minutes[0]) for run in runs if len(run.order) > 1]
    model = TimeModel(is_told_apart=is_told_apart, raw_log=float(np.median(differences)) if differences else None)
    effects, weights = np.zeros(last + 1), np.ones(len(runs))
    shared = np.flatnonzero(counts > 1)
    free = counts[shared] - 1
    if len(shared) < FEWEST_RUNS or free.sum() - len(used) < _FEWEST_FREE:
        effects[used] = np.linalg.lstsq(x[:, used], y, rcond=None)[0]
        return model, effects, weights
    rows = counts[turns.run] > 1
    fit = robust_fit(x[rows][:, used], y[rows], np.searchsorted(shared, turns.run[rows]), free)
    effects[used], weights[shared] = fit.coefficients, fit.weights
    share = turns.columns[:, : turns.places].sum(axis=0)
    follow = np.r_[share / share.sum(), np.zeros(last + 1 - turns.places)]
    contrasts = _canvas_contrasts(last - turns.places + 1, turns.places) if is_told_apart else []
    model = replace(
        model,
        follow=fit.estimate(follow[used]),
        later=fit.estimate(np.eye(len(used))[-1]) if last in used else None,
        canvases=tuple(fit.estimate(contrast[used]) for contrast in contrasts),
    )
    return model, effects, weights


def _canvas_contrasts(canvases: int, places: int) -> list[_Floats]:
    against_mean = np.zeros((canvases, places + canvases))
    against_mean[:, places : places + canvases - 1] = (np.eye(canvases) - 1 / canvases)[:, 1:]
    if canvases == 2:  # noqa: PLR2004
        return [against_mean[1] - against_mean[0]]
    return list(against_mean)


def _levels(runs: Sequence[RunTimes], turns: _Turns, effects: _Floats, weights: _Floats) -> _Floats:
    """Return each run's log minutes over its planned ones, place and canvas taken off.

    In a run with a turn that went wrong only the turn counts that lies nearest to what the other runs of the pass let
    expect.
    """
    rests = turns.logs - turns.columns @ effects
    planned = np.log([run.planned_min for run in runs])
    levels = np.bincount(turns.run, rests) / np.bincount(turns.run) - planned
    passes = np.array([run.pass_name for run in runs])
    is_wild = weights < _WILD
    for no in np.flatnonzero(is_wild):
        others = levels[~is_wild & (passes == passes[no])]
        usual = np.median(others if len(others) else levels[~is_wild])
        own = rests[turns.run == no] - planned[no]
        levels[no] = own[np.argmin(np.abs(own - usual))]
    return levels


def _practice(runs: Sequence[RunTimes], levels: _Floats) -> tuple[Estimate | None, int]:
    """Return what each doubling of the number of runs does, and from how many runs that is read.

    A pass of one run tells nothing of it: its level takes up all the run has to say.
    """
    _, number, counts = np.unique([run.pass_name for run in runs], return_inverse=True, return_counts=True)
    rows = counts[number] > 1
    used = int(rows.sum())
    passes = np.flatnonzero(counts > 1)
    if used < FEWEST_RUNS or used - len(passes) - 1 < _FEWEST_FREE:
        return None, used
    x = np.zeros((used, len(passes) + 1))
    x[np.arange(used), np.searchsorted(passes, number[rows])] = 1
    x[:, -1] = np.log2(np.arange(1, len(runs) + 1))[rows]
    fit = robust_fit(x, levels[rows], np.arange(used), np.ones(used))
    return fit.estimate(np.eye(len(passes) + 1)[-1]), used
