"""On which day each step ends, and on which day everything is dry."""

from collections.abc import Sequence
from math import ceil
from typing import TYPE_CHECKING, Final, NamedTuple

from coach.forecast.draws import Draws
from coach.forecast.drying_table import DaysRange
from coach.forecast.kept_hours import LEAST_SHARE_FRAC, Kept
from coach.forecast.steps import Step

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

NEVER: Final = 10**6
"""Number of the day of what does not end within the days looked at."""

_TINY_S: Final = 1e-6
"""Sums of seconds that differ by less are the same."""


class Strokes(NamedTuple):
    """Days since today, for every trial, `NEVER` where the days looked at are too few.

    Attributes:
        last: Day of the last stroke.
        dry: Day on which everything still to be painted is dry to touch.
    """

    last: "NDArray[np.int64]"
    dry: "NDArray[np.int64]"


def marks_of(steps: Sequence[Step], wet: Sequence[int]) -> tuple[int, ...]:
    """Return the numbers of the steps whose end must be known, in order.

    Args:
        steps: One or more steps.
        wet: Those that can be the last to dry.
    """
    found = {len(steps) - 1, *wet}
    for number, step in enumerate(steps):
        if step.is_waiting:
            found.update((number, max(0, number - 1), *step.waits_for))
    return tuple(sorted(found))


def kept_share(kept: Kept, needed_s: float, usable_s: "NDArray[np.float64]", draws: Draws) -> "NDArray[np.float64]":
    """Return the share of usable time that is painted, one figure for each trial.

    Args:
        kept: What the log says of it.
        needed_s: Seconds of work that are likely left; they tell over how many days the share is a mean.
        usable_s: Usable seconds of every day from today.
        draws: The shared draws.
    """
    import numpy as np  # noqa: PLC0415  painting never waits for a numeric library

    full_s = usable_s[usable_s > 0]
    days = int(np.searchsorted(np.cumsum(full_s), needed_s / kept.mean_frac)) + 1
    share = kept.mean_frac + kept.mean_sd(days) * draws.kept_z
    return np.asarray(np.maximum(LEAST_SHARE_FRAC, share), dtype=np.float64)


def strokes_of(
    steps: Sequence[Step],
    marks: Sequence[int],
    wet: Sequence[int],
    *,
    work_s: "NDArray[np.float64]",
    share_frac: "NDArray[np.float64]",
    usable_s: "NDArray[np.float64]",
    dry_frac: "NDArray[np.float64]",
) -> Strokes:
    """Return the day of the last stroke and the day everything painted from now on is dry.

    The order of the turns is kept: what must wait for paint to dry holds up what comes after it.

    Args:
        steps: The steps.
        marks: Numbers of steps, as `marks_of` gives them.
        wet: Numbers of the steps that can be the last to dry.
        work_s: Seconds of work from now to the end of each mark; rows are marks, columns trials.
        share_frac: Share of usable time that is painted; one figure for each trial.
        usable_s: Usable seconds of every day from today.
        dry_frac: Where between the fast and the slow end paint dries; one figure for each trial.
    """
    import numpy as np  # noqa: PLC0415  as above

    used_s = np.concatenate([[0.0], np.cumsum(usable_s)])
    held_s, end_s = np.zeros(len(dry_frac)), np.zeros(len(dry_frac))
    dry_on: dict[int, NDArray[np.int64]] = {}
    awaited = set(wet).union(*(step.waits_for for step in steps))
    for number, mark_s in zip(marks, work_s, strict=True):
        step = steps[number]
        if step.is_waiting:
            ready = np.full(len(dry_frac), step.away_days, dtype=np.int64)
            for below in step.waits_for:
                np.maximum(ready, dry_on[below], out=ready)
            for day, dries in step.waits_for_laid:
                np.maximum(ready, day + dry_days(dries, dry_frac), out=ready)
            held_s += np.maximum(0.0, used_s[np.minimum(ready, len(usable_s))] - end_s)
        end_s = mark_s / share_frac + held_s
        if number in awaited:
            dry_on[number] = _days(used_s, end_s) + dry_days(step.drying, dry_frac)
    last, dry = _days(used_s, end_s), dry_on[wet[0]]
    for number in wet[1:]:
        dry = np.maximum(dry, dry_on[number])
    return Strokes(last, np.where(last >= NEVER, NEVER, dry))


def dry_days(dries: DaysRange, dry_frac: "NDArray[np.float64]") -> "NDArray[np.int64]":
    """Return whole days until paint is dry to touch, between its fast and its slow end, one for each trial."""
    import numpy as np  # noqa: PLC0415  as above

    if ceil(dries.low_days) == dries.high_days == dries.low_days:
        return np.full(len(dry_frac), int(dries.low_days), dtype=np.int64)
    days = dries.low_days + (dries.high_days - dries.low_days) * dry_frac
    return np.ceil(days - _TINY_S).astype(np.int64)


def _days(used_s: "NDArray[np.float64]", end_s: "NDArray[np.float64]") -> "NDArray[np.int64]":
    """Return the number of the first day by whose end so much was used; `NEVER` past the last."""
    import numpy as np  # noqa: PLC0415  as above

    days = np.searchsorted(used_s[1:], end_s - _TINY_S)
    return np.where(days >= len(used_s) - 1, NEVER, days).astype(np.int64)
