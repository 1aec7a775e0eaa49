"""What chance decides, drawn from a seed: pace, hours kept, drying, and the noise of every turn."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from coach.forecast.steps import Step

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_CHUNK: Final = 200_000
"""So many numbers are drawn at a time: they stay in the processor's cache, and memory stays small."""


class Draws(NamedTuple):
    """What all turns of a trial share; each array holds one figure for each trial.

    Attributes:
        pace_z: How far the painter's factor lies from its mean, in standard deviations.
        kept_z: The same for the share of promised hours that is kept.
        dry_frac: Where between the fast and the slow end paint dries, 0 to 1.
        seed: Decides the noise of the turns.
    """

    pace_z: "NDArray[np.float64]"
    kept_z: "NDArray[np.float64]"
    dry_frac: "NDArray[np.float64]"
    seed: int


def draws_of(seed: int, trials: int) -> Draws:
    """Return the shared draws; the same seed and number of trials give the same ones.

    Each of the three is spread evenly over its distribution (a Latin hypercube), so that the answer hardly moves
    from seed to seed.

    Source:
        McKay, Beckman & Conover (1979), Technometrics 21:239-245 (from memory).
    """
    # Numeric libraries are imported where they are used, so that painting never waits for them.
    import numpy as np  # noqa: PLC0415
    from scipy.special import ndtri  # noqa: PLC0415

    chance = np.random.Generator(np.random.PCG64(np.random.SeedSequence([seed, 0])))

    def evenly() -> "NDArray[np.float64]":
        return np.asarray((chance.permutation(trials) + chance.random(trials)) / trials, dtype=np.float64)

    return Draws(ndtri(evenly()), ndtri(evenly()), evenly(), seed)


def plain_draws() -> Draws:
    """Return a single trial without chance: pace and hours at their mean, drying at its slow end."""
    import numpy as np  # noqa: PLC0415  as above

    return Draws(np.zeros(1), np.zeros(1), np.ones(1), 0)


def work_sums(steps: Sequence[Step], marks: Sequence[int], draws: Draws, noise_sd: float) -> "NDArray[np.float64]":
    """Return the seconds of work from now to the end of some steps.

    Args:
        steps: One or more steps.
        marks: Numbers of steps, rising, each once; the last is the last step.
        draws: The shared draws.
        noise_sd: Spread of one turn, on the log scale.

    Returns:
        Seconds, one row for each mark, one column for each trial.
    """
    import numpy as np  # noqa: PLC0415  as above

    chance = np.random.Generator(np.random.PCG64(np.random.SeedSequence([draws.seed, 1])))
    log_means = np.array([step.log_mean for step in steps])
    log_sds = np.array([step.log_sd for step in steps])
    firsts = [0, *(mark + 1 for mark in marks[:-1])]
    trials = len(draws.pace_z)
    sums = np.empty((len(marks), trials))
    rows = max(1, _CHUNK // len(steps))
    for first in range(0, trials, rows):
        pace_z = draws.pace_z[first : first + rows]
        logs = chance.standard_normal((len(pace_z), len(steps)))
        logs *= noise_sd
        logs += np.multiply.outer(pace_z, log_sds)
        logs += log_means
        np.exp(logs, out=logs)
        sums[:, first : first + rows] = np.add.reduceat(logs, firsts, axis=1).T
    np.cumsum(sums, axis=0, out=sums)
    return sums
