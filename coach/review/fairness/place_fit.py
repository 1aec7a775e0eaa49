"""Canvas and place taken apart by least squares, for any number of canvases."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from coach.review.fairness.run_times import RunTimes


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceFit:
    """Additive effects on log minutes, against each run's mean; each kind adds up to 0.

    Attributes:
        canvas_logs: One a canvas, in the order asked for.
        place_logs: One a place in the run, first place first.
    """

    canvas_logs: tuple[float, ...]
    place_logs: tuple[float, ...]


def is_told_apart(runs: Sequence[RunTimes]) -> bool:
    """Return whether canvas and place were mixed enough to be told apart.

    They are when every canvas is linked to every place by a chain of "was painted in". A canvas that led
    every run is linked to nothing but the first place.

    Args:
        runs: Runs painted on every canvas; none gives False.
    """
    painted_in: dict[str | int, set[str | int]] = {}
    for run in runs:
        for place, canvas in enumerate(run.order):
            painted_in.setdefault(canvas, set()).add(place)
            painted_in.setdefault(place, set()).add(canvas)
    reached: set[str | int] = set()
    waiting: list[str | int] = [0] if painted_in else []
    while waiting:
        here = waiting.pop()
        if here not in reached:
            reached.add(here)
            waiting.extend(painted_in[here])
    return bool(painted_in) and len(reached) == len(painted_in)


def centred_logs(run: RunTimes) -> tuple[float, ...]:
    """Return the run's log minutes less their mean, in the order painted."""
    logs = run.logs()
    mean = fmean(logs)
    return tuple(value - mean for value in logs)


def place_fit(runs: Sequence[RunTimes], canvases: Sequence[str]) -> PlaceFit:
    """Return the least-squares effects of canvas and of place, each free of the other.

    Plain means would do if every canvas had been in every place equally often; after a deviation it has not.

    Args:
        runs: Runs painted on every canvas, at least one; `is_told_apart` must hold.
        canvases: All canvases.

    Source:
        Normal equations of the two-way additive model; runs drop out because each holds every canvas and
        every place once (own derivation).
    """
    # Imported here so that painting never waits for a numeric library.
    import numpy as np  # noqa: PLC0415

    size = len(canvases)
    share = np.zeros((size, size))
    canvas_mean, place_mean = np.zeros(size), np.zeros(size)
    row = {canvas: i for i, canvas in enumerate(canvases)}
    for run in runs:
        for place, (canvas, value) in enumerate(zip(run.order, centred_logs(run), strict=True)):
            share[row[canvas], place] += 1 / len(runs)
            canvas_mean[row[canvas]] += value / len(runs)
            place_mean[place] += value / len(runs)
    system = np.eye(size) - share @ share.T
    # The system leaves a common constant open; least squares takes the solution that adds up to 0.
    canvas_logs = np.linalg.lstsq(system, canvas_mean - share @ place_mean, rcond=1e-9)[0]
    place_logs = place_mean - share.T @ canvas_logs
    return PlaceFit(
        canvas_logs=tuple(map(float, canvas_logs)), place_logs=tuple(float(effect) for effect in place_logs)
    )
