"""The rest of the work played through many times: on which day it is painted, dry, framed and delivered."""

import datetime as dt
from collections.abc import Sequence
from math import ceil
from typing import TYPE_CHECKING, Final, NamedTuple

from coach.forecast.adherence import LEAST_SHARE_FRAC, Adherence, Overhead, adherence_of, overhead_of
from coach.forecast.calendar import FARTHEST_DAYS, day_after, first_look_days, framed_and_delivered, promised_ahead_s
from coach.forecast.drying_table import DaysRange
from coach.forecast.outlook import Outlook, sorted_turns
from coach.forecast.pace import PLANNED_PACE, Pace, pace_of
from coach.forecast.steps import Step, laid_days, last_wet, steps_of
from coach.plan.commission import Plan

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


def kept_share(
    adherence: Adherence, needed_s: float, usable_s: "NDArray[np.float64]", draws: Draws
) -> "NDArray[np.float64]":
    """Return the share of usable time that is painted, one figure for each trial.

    Args:
        adherence: What the log says of it.
        needed_s: Seconds of work that are likely left; they tell over how many days the share is a mean.
        usable_s: Usable seconds of every day from today.
        draws: The shared draws.
    """
    import numpy as np  # noqa: PLC0415  painting never waits for a numeric library

    full_s = usable_s[usable_s > 0]
    days = int(np.searchsorted(np.cumsum(full_s), needed_s / adherence.mean_frac)) + 1
    share = adherence.mean_frac + adherence.mean_sd(days) * draws.kept_z
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


class Simulation(NamedTuple):
    """The work that is left, drawn once; hours and calendar may change without drawing again.

    Attributes:
        plan: The plan.
        outlook: What it was asked about.
        pace: The painter's pace.
        adherence: How far promises are kept.
        overhead: What a promised day loses.
        steps: The turns still to be painted.
        laid: What is laid: days since today and drying.
        marks: Numbers of the steps whose end is known.
        wet: Numbers of the steps that can be the last to dry.
        work_s: Seconds of work from now to the end of each mark; rows are marks, columns trials.
        draws: What the turns of a trial share.
    """

    plan: Plan
    outlook: Outlook
    pace: Pace
    adherence: Adherence
    overhead: Overhead
    steps: tuple[Step, ...]
    laid: tuple[tuple[int, DaysRange], ...]
    marks: tuple[int, ...]
    wet: tuple[int, ...]
    work_s: "NDArray[np.float64]"
    draws: Draws

    @property
    def needed_s(self) -> float:
        """Return the median of the work that is left, in seconds."""
        import numpy as np  # noqa: PLC0415  painting never waits for a numeric library

        return float(np.median(self.work_s[-1])) if self.steps else 0.0

    def usable_s(self, promised_s: tuple[float, ...]) -> tuple[float, ...]:
        """Return the seconds of turns that fit into each promised day from today; today only what is left of it."""
        usable = [self.overhead.usable_s(own) for own in promised_s]
        usable[0] = max(0.0, usable[0] - self.outlook.today_painted_s)
        return tuple(usable)


class Reached(NamedTuple):
    """Days since today for every trial, `NEVER` for what lies too far ahead."""

    last_stroke: "NDArray[np.int64]"
    touch_dry: "NDArray[np.int64]"
    framed: "NDArray[np.int64]"
    delivered: "NDArray[np.int64]"


def simulate(plan: Plan, outlook: Outlook) -> Simulation:
    """Return the work that is left, drawn by the plan's seed; a plan without spread is drawn once, at its means."""
    forecast = plan.forecast
    if forecast.is_spread:
        pace = pace_of(sorted_turns(outlook.turns).counted)
        overhead = overhead_of(plan.limits, setup_s=outlook.setup_s, cleanup_s=outlook.cleanup_s)
        kept, draws = adherence_of(outlook.days, overhead), draws_of(forecast.seed, outlook.trials)
    else:
        pace, overhead, kept, draws = PLANNED_PACE, Overhead(), Adherence(day_sd=0.0), plain_draws()
    steps = steps_of(plan, outlook, pace)
    wet = last_wet(steps)
    marks = marks_of(steps, wet) if steps else ()
    work_s = work_sums(steps, marks, draws, pace.noise_sd) if steps else draws.pace_z[None, :] * 0.0
    laid = laid_days(plan, outlook)
    return Simulation(plan, outlook, pace, kept, overhead, steps, laid, marks, wet, work_s, draws)


def reached(simulation: Simulation) -> Reached:
    """Return the days on which everything is reached under the hours that the plan promises."""
    days = first_look_days(simulation.plan, simulation.outlook.today)
    while True:
        found = strokes_under(simulation, promised_ahead_s(simulation.plan, simulation.outlook.today, days))
        if days >= FARTHEST_DAYS or not bool((found.last >= NEVER).any()):
            return _delivered(simulation, found)
        days = min(FARTHEST_DAYS, days * 2)


def reached_under(simulation: Simulation, promised_s: tuple[float, ...]) -> Reached:
    """Return the days under other hours; what does not end within those days counts as never."""
    return _delivered(simulation, strokes_under(simulation, promised_s))


def strokes_under(simulation: Simulation, promised_s: tuple[float, ...]) -> Strokes:
    """Return the days of the last stroke and of everything dry, under promised seconds of each day from today."""
    import numpy as np  # noqa: PLC0415  as above

    dry_frac, after = simulation.draws.dry_frac, simulation.plan.after
    laid_dry = np.full(
        len(dry_frac), min(0, *(day for day, _ in simulation.laid)) if simulation.laid else 0, dtype=np.int64
    )
    for day, dries in simulation.laid:
        np.maximum(laid_dry, day + dry_days(dries, dry_frac), out=laid_dry)
    if simulation.steps:
        usable_s = np.array(simulation.usable_s(promised_s))
        share = kept_share(simulation.adherence, simulation.needed_s, usable_s, simulation.draws)
        last, dry = strokes_of(
            simulation.steps,
            simulation.marks,
            simulation.wet,
            work_s=simulation.work_s,
            share_frac=share,
            usable_s=usable_s,
            dry_frac=dry_frac,
        )
        dry = np.maximum(dry, laid_dry)
    else:
        last = np.full(len(dry_frac), _last_laid_day(simulation.outlook), dtype=np.int64)
        dry = np.maximum(laid_dry, last)
    if after.drying_days is not None:
        dry = np.where(last >= NEVER, NEVER, last + after.drying_days)
    return Strokes(last, dry)


def chance_of(simulation: Simulation, days: Reached) -> float | None:
    """Return the share of trials delivered by the due day, 0 to 1; None without a due day."""
    due = simulation.plan.due
    if due is None:
        return None
    last = min((due - simulation.outlook.today).days, NEVER - 1)
    return float((days.delivered <= last).mean())


def day_quantile(today: dt.date, days: "NDArray[np.int64]", probability_frac: float) -> dt.date | None:
    """Return the first day by which so great a share of the trials is done; None where that is too far ahead."""
    import numpy as np  # noqa: PLC0415  as above

    number = int(np.quantile(days, probability_frac, method="inverted_cdf"))
    return None if number >= NEVER else day_after(today, number)


def _last_laid_day(outlook: Outlook) -> int:
    return max(((own.painted - outlook.today).days for own in outlook.laid), default=0)


def _delivered(simulation: Simulation, found: Strokes) -> Reached:
    """Return every stage: framer and carrier count in working days, worked out once for each day that occurs."""
    import numpy as np  # noqa: PLC0415  as above

    today = simulation.outlook.today
    dry_numbers, places = np.unique(found.dry, return_inverse=True)
    dates = {int(number): day_after(today, int(number)) for number in dry_numbers if number < NEVER}
    later = framed_and_delivered(simulation.plan, dates.values())
    ends = [
        (NEVER, NEVER)
        if int(number) not in dates
        else ((later[dates[int(number)]][0] - today).days, (later[dates[int(number)]][1] - today).days)
        for number in dry_numbers
    ]
    table = np.array(ends, dtype=np.int64)
    return Reached(found.last, found.dry, table[places, 0], table[places, 1])
