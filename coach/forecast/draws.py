"""What chance decides, drawn from a seed: pace, hours kept, drying, and the time of every turn.

Trials come in slices that stay in the processor's cache. The first slice alone answers roughly.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from math import erfc, exp, log, sqrt
from statistics import NormalDist
from typing import TYPE_CHECKING, Final

from coach.forecast.adherence import Adherence
from coach.forecast.drying import RANGE_WIDTH_SD
from coach.forecast.pace import Pace
from coach.forecast.steps import Step

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FIRST_SLICE: Final = 1000
"""Trials of the first slice: enough to tell what is worth a full answer. Source: ours, as the next."""

SLICE: Final = 2250
"""Most trials of every later slice."""

MOST_NUMBERS: Final = 1_300_000
"""Most numbers of a slice: a long plan has fewer trials in each, so that its memory stays small."""

SLOW_Z: Final = RANGE_WIDTH_SD / 2
"""The slow end of a range, its 90 % point, in standard deviations; a forecast without spread plans on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Work:
    """What is drawn from.

    Attributes:
        steps: The turns still to be painted.
        marks: Numbers of steps, rising; the work up to each from the mark before it is one sum.
        pace: The painter's pace.
        adherence: How far promises are kept.
        seed: Decides the draws.
        trials: How many; 0 takes the means and the slow end of drying, once.
    """

    steps: tuple[Step, ...]
    marks: tuple[int, ...]
    pace: Pace
    adherence: Adherence
    seed: int
    trials: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Slice:
    """The draws of some trials, a column or figure a trial.

    Attributes:
        times_s: Seconds of work, a row for each sum of turns; none without steps.
        kept: Mean share of promised hours that is kept.
        kept_z: How far a day strays from it, in standard deviations.
        dry_z: Where in their ranges paints dry, in standard deviations.
    """

    times_s: "Floats"
    kept: "Floats"
    kept_z: "Floats"
    dry_z: "Floats"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rows:
    """Sums of turns of one pass and role between two marks: log-normal with the moments of the sum (trade facts K4).

    Attributes:
        firsts: For each mark the number of its first row.
        keys: Every pass and role.
        key_of: For each row the number of its pass and role.
        mean_s: Mean of each row, in seconds.
        sd: Spread of its logarithm.
    """

    firsts: tuple[int, ...]
    keys: tuple[tuple[str, bool], ...]
    key_of: "NDArray[np.intp]"
    mean_s: "Floats"
    sd: "Floats"


def slices_of(work: Work, rows: Rows, first: int = 0) -> Iterator[Slice]:
    """Yield the slices from one of them on; the same work gives the same."""
    sizes, most = (
        [min(FIRST_SLICE, max(1, work.trials))],
        min(SLICE, max(250, MOST_NUMBERS // max(1, len(rows.mean_s)))),
    )
    while sum(sizes) < work.trials:
        sizes.append(min(most, work.trials - sum(sizes)))
    for number, size in list(enumerate(sizes))[first:]:
        yield _slice_of(work, rows, number, size)


def rows_of(work: Work) -> Rows:
    """Return the sums that are drawn."""
    import numpy as np  # noqa: PLC0415  painting never waits for a numeric library

    groups: dict[tuple[int, str, bool, bool], list[float]] = {}
    for number, step in enumerate(work.steps):
        key = (bisect_left(work.marks, number), step.pass_name, step.is_lead, step.worked_s > 0)
        groups.setdefault(key, []).append(step.planned_s)
    keys = tuple(dict.fromkeys((name, is_lead) for _, name, is_lead, _ in groups))
    places = [place for place, *_ in groups]
    var = work.pace.noise_sd**2
    mean_s = np.array([sum(own) * exp(var / 2) for own in groups.values()])
    var_s2 = np.array([sum(one**2 for one in own) * exp(var) * (exp(var) - 1) for own in groups.values()])
    return Rows(
        firsts=tuple(places.index(place) for place in range(len(work.marks))),
        keys=keys,
        key_of=np.array([keys.index((name, is_lead)) for _, name, is_lead, _ in groups], dtype=np.intp),
        mean_s=mean_s,
        sd=np.sqrt(np.log1p(var_s2 / mean_s**2)),
    )


def sums_of(rows: Rows, times_s: "Floats", without_pass: str | None) -> "Floats":
    """Return the seconds from each mark to the next, without those of a pass that is left out."""
    import numpy as np  # noqa: PLC0415  as above

    is_gone = np.array([name == without_pass for name, _ in rows.keys])[rows.key_of]
    if len(rows.firsts) == len(times_s) and not is_gone.any():
        return times_s
    firsts = np.array(rows.firsts)
    place = np.searchsorted(firsts, np.arange(len(times_s)), side="right") - 1
    nth = np.arange(len(times_s)) - firsts[place]
    sums_s = np.zeros((len(firsts), times_s.shape[1]))
    for turn in range(int(nth.max()) + 1):
        taken = np.flatnonzero((nth == turn) & ~is_gone)
        sums_s[place[taken]] += times_s[taken]
    return sums_s


def _slice_of(work: Work, rows: Rows, number: int, size: int) -> Slice:
    """Return a slice, what its trials share spread evenly over its distribution (a Latin hypercube).

    Source:
        McKay, Beckman & Conover (1979), Technometrics 21:239-245 (from memory).
    """
    import numpy as np  # noqa: PLC0415  as above

    if not work.trials:
        times_s = rows.mean_s[:, None].copy()
        if work.steps and work.steps[0].worked_s:
            times_s[0] = max(0.0, work.steps[0].planned_s - work.steps[0].worked_s)
        return Slice(times_s=times_s, kept=np.ones(1), kept_z=np.zeros(1), dry_z=np.full(1, SLOW_Z))

    def evenly(*what: int) -> "Floats":
        return np.asarray(np.random.default_rng([work.seed, number, *what]).permutation(_even_normals(size)))

    effects = _effects(work.pace, rows, size, evenly)
    chance = np.random.default_rng([work.seed, number, 3])
    # Eight times as many, of which every eighth in order stands: as good as even.
    kept = np.sort(chance.beta(work.adherence.alpha, work.adherence.beta, 8 * size))[4::8]
    kept = chance.permutation(kept)
    hand_z = None
    if work.steps and work.steps[0].worked_s:
        effects, hand_z = _given_the_turn_in_hand(work, rows, effects, evenly(6))
    times_s = _times_s(rows, effects, np.random.default_rng([work.seed, number, 0]))
    if hand_z is not None:
        step = work.steps[0]
        whole_s = step.planned_s * np.exp(effects[rows.key_of[0]] + work.pace.noise_sd * hand_z)
        times_s[0] = np.maximum(0.0, whole_s - step.worked_s)
    return Slice(times_s=times_s, kept=kept, kept_z=evenly(4), dry_z=evenly(5))


def _effects(pace: Pace, rows: Rows, size: int, evenly: "Callable[..., Floats]") -> "Floats":
    """Return the logarithm of the painter's factor, a row for each pass and role."""
    import numpy as np  # noqa: PLC0415  as above

    drawn = pace.drawn(np.array([evenly(1, row) for row in range(len(pace.mean))]))
    passes = dict.fromkeys(name for name, _ in rows.keys)
    own = {
        # A pass is drawn by its name, so that it stays the same whatever else is left out.
        name: drawn[2 + pace.passes.index(name)]
        if name in pace.passes
        else pace.pass_sd * evenly(2, *name.encode(errors="replace"))
        for name in passes
    }
    effects = np.empty((len(rows.keys), size))
    for row, (name, is_lead) in enumerate(rows.keys):
        effects[row] = drawn[0] + (drawn[1] if is_lead else -drawn[1]) + own[name]
    return effects


def _given_the_turn_in_hand(work: Work, rows: Rows, effects: "Floats", z: "Floats") -> "tuple[Floats, Floats]":
    """Return effects, and noise of the turn in hand, given that it is not over after the work done on it.

    Painters who would have ended it by now are drawn again less often.
    """
    import numpy as np  # noqa: PLC0415  as above

    step = work.steps[0]
    least = (log(step.worked_s / step.planned_s) - effects[rows.key_of[0]]) / work.pace.noise_sd
    tails = log_tail(least)
    weights = np.cumsum(np.exp(tails.min() - tails))
    size = len(least)
    chosen = np.searchsorted(weights, (np.arange(size) + 0.5) / size * weights[-1])
    return effects[:, chosen], at_log_tail(tails[chosen] + log_tail(z))


def _times_s(rows: Rows, effects: "Floats", chance: "np.random.Generator") -> "Floats":
    import numpy as np  # noqa: PLC0415  as above

    # Single precision: the seventh figure of a turn's seconds tells nothing, and half the bytes are moved.
    logs = chance.standard_normal((len(rows.mean_s), effects.shape[1]), dtype=np.float32)
    logs *= rows.sd.astype(np.float32)[:, None]
    logs += (np.log(rows.mean_s) - rows.sd**2 / 2).astype(np.float32)[:, None]
    logs += effects.astype(np.float32)[rows.key_of]
    return np.exp(logs, out=logs)


@cache
def _even_normals(size: int) -> "Floats":
    """Return the standard normal distribution as so many equally likely numbers, rising."""
    import numpy as np  # noqa: PLC0415  as above

    unit = NormalDist()
    return np.array([unit.inv_cdf((number + 0.5) / size) for number in range(size)])


@cache
def _tail_table() -> tuple["Floats", "Floats"]:
    """Return numbers and minus the logarithm of the chance that a standard normal number is greater.

    A table and straight lines between: the numeric library that has the function takes longer to load than the whole
    forecast to make.
    """
    import numpy as np  # noqa: PLC0415  as above

    z = np.linspace(-8.0, 12.0, 4001)
    return z, np.array([-log(0.5 * erfc(own / sqrt(2))) for own in z])


def log_tail(z: "Floats") -> "Floats":
    """Return minus the logarithm of the chance that a standard normal number is greater."""
    import numpy as np  # noqa: PLC0415  as above

    numbers, tails = _tail_table()
    return np.interp(z, numbers, tails)


def at_log_tail(tail: "Floats") -> "Floats":
    """Return the number whose chance to be passed has minus this logarithm."""
    import numpy as np  # noqa: PLC0415  as above

    numbers, tails = _tail_table()
    return np.interp(tail, tails, numbers)
