"""The rest of the work played through many times: on which day it is painted, dry, framed and delivered."""

import datetime as dt
from typing import TYPE_CHECKING, NamedTuple

from coach.forecast.days_ahead import FARTHEST_DAYS, first_look_days, framed_and_delivered, promised_ahead_s
from coach.forecast.draws import Draws, draws_of, plain_draws, work_sums
from coach.forecast.drying_table import DaysRange
from coach.forecast.kept_hours import Kept, Overhead, kept_of, overhead_of
from coach.forecast.layers import day_after
from coach.forecast.outlook import Outlook
from coach.forecast.pace import PLANNED_PACE, Pace, pace_of
from coach.forecast.reaching import NEVER, Strokes, dry_days, kept_share, marks_of, strokes_of
from coach.forecast.steps import Step, laid_days, last_wet, steps_of
from coach.forecast.turn_times import sorted_turns
from coach.plan.commission import Plan

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray


class Played(NamedTuple):
    """The work that is left, drawn once; hours and calendar may change without drawing again.

    Attributes:
        plan: The plan.
        outlook: What it was asked about.
        pace: The painter's pace.
        kept: How far promises are kept.
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
    kept: Kept
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


def played(plan: Plan, outlook: Outlook) -> Played:
    """Return the work that is left, drawn by the plan's seed; a plan without spread is drawn once, at its means."""
    forecast = plan.forecast
    if forecast.is_spread:
        pace = pace_of(sorted_turns(outlook.turns).counted)
        overhead = overhead_of(plan.limits, setup_s=outlook.setup_s, cleanup_s=outlook.cleanup_s)
        kept, draws = kept_of(outlook.days, overhead), draws_of(forecast.seed, outlook.trials)
    else:
        pace, overhead, kept, draws = PLANNED_PACE, Overhead(), Kept(day_sd=0.0), plain_draws()
    steps = steps_of(plan, outlook, pace)
    wet = last_wet(steps)
    marks = marks_of(steps, wet) if steps else ()
    work_s = work_sums(steps, marks, draws, pace.noise_sd) if steps else draws.pace_z[None, :] * 0.0
    laid = laid_days(plan, outlook)
    return Played(plan, outlook, pace, kept, overhead, steps, laid, marks, wet, work_s, draws)


def reached(play: Played) -> Reached:
    """Return the days on which everything is reached under the hours that the plan promises."""
    days = first_look_days(play.plan, play.outlook.today)
    while True:
        found = strokes_under(play, promised_ahead_s(play.plan, play.outlook.today, days))
        if days >= FARTHEST_DAYS or not bool((found.last >= NEVER).any()):
            return _delivered(play, found)
        days = min(FARTHEST_DAYS, days * 2)


def reached_under(play: Played, promised_s: tuple[float, ...]) -> Reached:
    """Return the days under other hours; what does not end within those days counts as never."""
    return _delivered(play, strokes_under(play, promised_s))


def strokes_under(play: Played, promised_s: tuple[float, ...]) -> Strokes:
    """Return the days of the last stroke and of everything dry, under promised seconds of each day from today."""
    import numpy as np  # noqa: PLC0415  as above

    dry_frac, after = play.draws.dry_frac, play.plan.after
    laid_dry = np.full(len(dry_frac), min(0, *(day for day, _ in play.laid)) if play.laid else 0, dtype=np.int64)
    for day, dries in play.laid:
        np.maximum(laid_dry, day + dry_days(dries, dry_frac), out=laid_dry)
    if play.steps:
        usable_s = np.array(play.usable_s(promised_s))
        share = kept_share(play.kept, play.needed_s, usable_s, play.draws)
        last, dry = strokes_of(
            play.steps,
            play.marks,
            play.wet,
            work_s=play.work_s,
            share_frac=share,
            usable_s=usable_s,
            dry_frac=dry_frac,
        )
        dry = np.maximum(dry, laid_dry)
    else:
        last = np.full(len(dry_frac), _last_laid_day(play.outlook), dtype=np.int64)
        dry = np.maximum(laid_dry, last)
    if after.drying_days is not None:
        dry = np.where(last >= NEVER, NEVER, last + after.drying_days)
    return Strokes(last, dry)


def chance_of(play: Played, days: Reached) -> float | None:
    """Return the share of trials delivered by the due day, 0 to 1; None without a due day."""
    due = play.plan.due
    if due is None:
        return None
    last = min((due - play.outlook.today).days, NEVER - 1)
    return float((days.delivered <= last).mean())


def day_quantile(today: dt.date, days: "NDArray[np.int64]", probability_frac: float) -> dt.date | None:
    """Return the first day by which so great a share of the trials is done; None where that is too far ahead."""
    import numpy as np  # noqa: PLC0415  as above

    number = int(np.quantile(days, probability_frac, method="inverted_cdf"))
    return None if number >= NEVER else day_after(today, number)


def _last_laid_day(outlook: Outlook) -> int:
    return max(((own.painted - outlook.today).days for own in outlook.laid), default=0)


def _delivered(play: Played, found: Strokes) -> Reached:
    """Return every stage: framer and carrier count in working days, worked out once for each day that occurs."""
    import numpy as np  # noqa: PLC0415  as above

    today = play.outlook.today
    dry_numbers, places = np.unique(found.dry, return_inverse=True)
    dates = {int(number): day_after(today, int(number)) for number in dry_numbers if number < NEVER}
    later = framed_and_delivered(play.plan, dates.values())
    ends = [
        (NEVER, NEVER)
        if int(number) not in dates
        else ((later[dates[int(number)]][0] - today).days, (later[dates[int(number)]][1] - today).days)
        for number in dry_numbers
    ]
    table = np.array(ends, dtype=np.int64)
    return Reached(found.last, found.dry, table[places, 0], table[places, 1])
