"""The rest of the work played through many times: on which day the last stroke falls and everything is dry to touch.

The numbers of a slice of trials are drawn once and every scenario is played with them, so that only what was changed
makes a difference.
"""

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import islice
from math import log
from typing import TYPE_CHECKING, Final

from coach.forecast.adherence import ALL_KEPT, LEAST_SHARE_FRAC, Adherence, Overhead, adherence_of, overhead_of
from coach.forecast.draws import Rows, Slice, Work, at_log_tail, log_tail, rows_of, slices_of, sums_of
from coach.forecast.drying import log_days
from coach.forecast.drying_table import DaysRange
from coach.forecast.outlook import Outlook, sorted_turns
from coach.forecast.pace import PLANNED_PACE, Pace, pace_of
from coach.forecast.steps import Drying, Step, laid_paint, last_wet, steps_of
from coach.plan.commission import Plan

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Numbers = NDArray[np.integer]

NEVER: Final = 10**6
"""Number of the day of what does not end within the days looked at."""

MOST_KEPT_BYTES: Final = 20_000_000
"""Draws up to this size are kept; larger ones are drawn again when they are needed again. Source: ours."""

_TABLE: Final = 65_536
"""Places of a calendar's table: two minutes each in a year of full weeks. Source: ours."""

_TINY: Final = 1e-6
"""Sums of seconds, and days, that differ by less are the same."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scenario:
    """What is played: the work that is drawn, under these steps, hours and days.

    Attributes:
        steps: The steps, as many as were drawn.
        wet: Numbers of those that can be the last to dry.
        laid: What is laid and may be wet.
        promised_s: Seconds promised on each day from today; what is not done within them counts as never.
        drying_days: Days of drying that the plan states; None where its paints decide.
        without_pass: Name of a pass that is left out, or None.
    """

    steps: tuple[Step, ...]
    wet: tuple[int, ...]
    laid: tuple[Drying, ...]
    promised_s: tuple[float, ...]
    drying_days: int | None = None
    without_pass: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Days:
    """Days since today for every trial, `NEVER` for what lies too far ahead.

    Attributes:
        last_stroke: Day of the last stroke.
        touch_dry: Day on which everything is dry to touch.
    """

    last_stroke: "Numbers"
    touch_dry: "Numbers"


@dataclass(frozen=True, kw_only=True)
class Simulation:
    """The work that is left, ready to be played.

    Attributes:
        plan: The plan.
        outlook: What it was asked about.
        pace: The painter's pace.
        adherence: How far promises are kept.
        overhead: What a promised day loses.
        steps: The turns still to be painted.
        laid: What is laid and may be wet.
        work: What is drawn from.
        rows: The sums that are drawn.
    """

    plan: Plan
    outlook: Outlook
    pace: Pace
    adherence: Adherence
    overhead: Overhead
    steps: tuple[Step, ...]
    laid: tuple[Drying, ...]
    work: Work
    rows: Rows
    _kept: list[Slice] = field(default_factory=list)

    def slices(self) -> Iterator[Slice]:
        """Yield the draws, those that are small enough to be kept only drawn once."""
        yield from self._kept
        for number, part in enumerate(slices_of(self.work, self.rows, len(self._kept)), len(self._kept)):
            if number == len(self._kept) and sum(own.times_s.nbytes for own in (*self._kept, part)) <= MOST_KEPT_BYTES:
                self._kept.append(part)
            yield part

    def usable_s(self, promised_s: Sequence[float]) -> tuple[float, ...]:
        """Return the seconds of turns that fit into each promised day from today; today only what is left of it."""
        usable = [self.overhead.usable_s(own) for own in promised_s]
        usable[0] = max(0.0, usable[0] - self.outlook.today_painted_s)
        return tuple(usable)


def simulate(plan: Plan, outlook: Outlook, variants: Iterable[Sequence[Step]] = ()) -> Simulation:
    """Return the work that is left, ready to be played by the plan's seed.

    Args:
        plan: The plan; without spread it is played once, at its means and at the slow end of drying.
        outlook: What it is asked about.
        variants: Other steps, as many, that it is to be played with too.
    """
    if plan.forecast.is_spread:
        pace = pace_of(sorted_turns(outlook.turns).counted)
        overhead = overhead_of(plan.limits, setup_s=outlook.setup_s, cleanup_s=outlook.cleanup_s)
        adherence = adherence_of(outlook.days, overhead)
    else:
        pace, overhead, adherence = PLANNED_PACE, Overhead(), ALL_KEPT
    steps = steps_of(plan, outlook)
    marks = tuple(sorted({number for own in (steps, *variants) for number in _marks(own)}))
    forecast = plan.forecast
    work = Work(
        steps=steps,
        marks=marks,
        pace=pace,
        adherence=adherence,
        seed=forecast.seed,
        trials=outlook.trials if forecast.is_spread else 0,
    )
    return Simulation(
        plan=plan,
        outlook=outlook,
        pace=pace,
        adherence=adherence,
        overhead=overhead,
        steps=steps,
        laid=laid_paint(plan, outlook),
        work=work,
        rows=rows_of(work),
    )


def _marks(steps: Sequence[Step]) -> set[int]:
    """Return the numbers of the steps whose end must be known: the last, those awaited, and those before a wait."""
    found = {len(steps) - 1, *last_wet(steps)} if steps else set()
    for number, step in enumerate(steps):
        if step.is_waiting:
            shown = {own for own, _ in step.waits_for_client}
            found |= {*step.waits_for, *shown, *({number - 1} if number else ())}
    return found


def days_under(simulation: Simulation, scenarios: Sequence[Scenario], *, roughly: bool = False) -> list[Days]:
    """Return the days of each scenario, all played with the same draws.

    Args:
        simulation: The work that is left.
        scenarios: What is played.
        roughly: Whether the first slice is enough.
    """
    import numpy as np  # noqa: PLC0415  painting never waits for a numeric library

    found: list[list[tuple[Numbers, Numbers]]] = [[] for _ in scenarios]
    calendars = [_Calendar(simulation, one.promised_s) for one in scenarios]
    for part in islice(simulation.slices(), 1 if roughly else None):
        sums: dict[str | None, Floats] = {}
        for number, scenario in enumerate(scenarios):
            gone = scenario.without_pass
            if simulation.steps and gone not in sums:
                sums[gone] = sums_of(simulation.rows, part.times_s, gone)
            found[number].append(_play(simulation, scenario, calendars[number], sums.get(gone), part))
    joined = [(np.concatenate([last for last, _ in own]), np.concatenate([dry for _, dry in own])) for own in found]
    return [Days(last_stroke=last, touch_dry=dry) for last, dry in joined]


def needed_s(simulation: Simulation) -> float:
    """Return the median of the work that is left, in seconds."""
    import numpy as np  # noqa: PLC0415  as above

    if not simulation.steps:
        return 0.0
    part = next(simulation.slices())
    sums_s = np.sort(part.times_s.sum(axis=0, dtype=np.float64))
    return float(sums_s[len(sums_s) // 2])


class _Calendar:
    """Looks up the day by whose end so much of the usable time is used."""

    def __init__(self, simulation: Simulation, promised_s: Sequence[float]) -> None:
        """Make the tables: of many trials each is looked up to a minute or two, a single one exactly."""
        import numpy as np  # noqa: PLC0415  as above

        usable_s = np.array(simulation.usable_s(promised_s))
        self.used_s = np.concatenate([[0.0], np.cumsum(usable_s)])
        self.most = len(usable_s)
        working = np.flatnonzero(usable_s > 0)
        self._ends_s = self.used_s[1:][working]
        total_s = float(self.used_s[-1])
        self._places_a_s = _TABLE / max(total_s, 1.0) if simulation.work.trials else 0.0
        middles_s = (np.arange(_TABLE + 1) + 0.5) * max(total_s, 1.0) / _TABLE
        self._numbers = np.searchsorted(self._ends_s, middles_s).astype(np.int32)
        self._working = np.append(working, NEVER).astype(np.int32)
        self._days = self._working[self._numbers]

    def number(self, used_s: "Floats") -> "Numbers":
        """Return how many working days are over before the one by whose end so much is used."""
        return self._looked_up(used_s, self._numbers)

    def day(self, used_s: "Floats") -> "Numbers":
        """Return the number of that day, `NEVER` past the last."""
        if self._places_a_s:
            return self._looked_up(used_s, self._days)
        return self._working.take(self._looked_up(used_s, self._numbers))

    def _looked_up(self, used_s: "Floats", table: "Numbers") -> "Numbers":
        import numpy as np  # noqa: PLC0415  as above

        if not self._places_a_s:
            return np.searchsorted(self._ends_s, used_s - _TINY)
        return table.take(np.minimum(used_s * self._places_a_s, _TABLE).astype(np.int32))


def _play(
    simulation: Simulation, scenario: Scenario, calendar: _Calendar, sums_s: "Floats | None", part: Slice
) -> tuple["Numbers", "Numbers"]:
    """Return the day of the last stroke and the day everything is dry; what waits holds up what comes after it."""
    import numpy as np  # noqa: PLC0415  as above

    dried = _Dried(part.dry_z)
    last: Numbers = np.full(len(part.kept), last_laid_day(simulation.outlook))
    dry: Numbers = np.zeros(len(part.kept), dtype=np.int64)
    if sums_s is not None:
        spans_s = sums_s / _share(simulation, calendar, sums_s, part)
        last, dry = _painted(simulation, scenario, calendar, spans_s, dried)
    if scenario.drying_days is not None:
        dry = last + scenario.drying_days
    last_pass = simulation.plan.passes[-1].name
    for stop in simulation.plan.approval:
        if stop.after == last_pass and (sums_s is not None or last_pass in simulation.outlook.passes_painted):
            dry = np.maximum(dry, last + stop.wait_days)
    for own in scenario.laid:
        if scenario.drying_days is None or own.wet_days:  # what is found wet is wet, whatever the plan states
            dry = np.maximum(dry, dried.on(own))
    # No forecast lies in the past.
    return last, np.where(last >= NEVER, NEVER, np.maximum(dry, 0))


def last_laid_day(outlook: Outlook) -> int:
    """Return the day of the last stroke so far, in days since today; 0 without any."""
    painted = [*(own.painted for own in outlook.laid), *outlook.passes_painted.values()]
    return max(((day - outlook.today).days for day in painted), default=0)


def _share(simulation: Simulation, calendar: _Calendar, sums_s: "Floats", part: Slice) -> "Floats":
    """Return the share of usable time that is painted; its mean over few days strays farther than over many."""
    import numpy as np  # noqa: PLC0415  as above

    if not simulation.adherence.day_sd:
        return part.kept
    days = calendar.number(sums_s.sum(axis=0) / np.maximum(LEAST_SHARE_FRAC, part.kept)) + 1
    share = part.kept + simulation.adherence.day_sd / np.sqrt(days) * part.kept_z
    return np.asarray(np.maximum(LEAST_SHARE_FRAC, share))


def _painted(
    simulation: Simulation, scenario: Scenario, calendar: _Calendar, spans_s: "Floats", dried: "_Dried"
) -> tuple["Numbers", "Numbers"]:
    import numpy as np  # noqa: PLC0415  as above

    steps, wet = scenario.steps, scenario.wet
    awaited = set(wet).union(*(step.waits_for for step in steps))
    shown = {own for step in steps for own, _ in step.waits_for_client}
    dry_on: dict[int, Numbers] = {}
    shown_on: dict[int, Numbers] = {}
    used_s = np.zeros(len(dried.z))
    first = 0
    for mark, span_s in zip(simulation.work.marks, spans_s, strict=True):
        step, drying = steps[first], steps[mark].drying
        if step.is_waiting:
            ready = [dry_on[below] for below in step.waits_for]
            ready += [np.maximum(dried.on(own), 0) for own in step.waits_for_laid]
            ready += [shown_on[own] + days for own, days in step.waits_for_client]
            for day in ready:
                np.maximum(used_s, calendar.used_s.take(np.minimum(day, calendar.most)), out=used_s)
            if step.away_days:
                np.maximum(used_s, calendar.used_s[min(step.away_days, calendar.most)], out=used_s)
        used_s += span_s
        if mark in awaited and drying is not None:
            dry_on[mark] = calendar.day(used_s) + dried.new(drying)
        if mark in shown:
            shown_on[mark] = calendar.day(used_s)
        first = mark + 1
    last, dry = calendar.day(used_s), np.zeros(len(dried.z), dtype=np.int32)
    for number in wet:
        np.maximum(dry, dry_on[number], out=dry)
    return last, dry


class _Dried:
    """Days until paint is dry to touch, one for each trial; all paint of a trial is as fast or as slow."""

    def __init__(self, z: "Floats") -> None:
        """Take where every trial lies in the range, in standard deviations."""
        self.z = z
        self._known: dict[Drying, Numbers] = {}
        self._new: dict[DaysRange, Numbers] = {}

    def new(self, dries: DaysRange) -> "Numbers":
        """Return the days of paint that is still to be laid."""
        if dries not in self._new:
            self._new[dries] = self.days(Drying(0, dries))
        return self._new[dries]

    def on(self, laid: Drying) -> "Numbers":
        """Return the day on which it is dry, in days since today."""
        return laid.day + self.days(laid)

    def days(self, laid: Drying) -> "Numbers":
        """Return whole days from its last stroke.

        Source:
            Trade facts K7: the distribution above the day on which it was found still wet.
        """
        import numpy as np  # noqa: PLC0415  as above

        key = Drying(0, laid.dries, laid.wet_days)
        if key not in self._known:
            low, high = laid.dries.low_days, laid.dries.high_days
            if 0 < low < high:
                mean, spread = log_days(laid.dries)
                z = self.z
                if laid.wet_days > 0:
                    least = np.array([(log(laid.wet_days) - mean) / spread])
                    z = at_log_tail(log_tail(least) + log_tail(z))
                days = np.ceil(np.exp(mean + spread * z) - _TINY)
            else:
                days = np.ceil(np.full(len(self.z), high) - _TINY)
            least_days = int(laid.wet_days) + 1 if laid.wet_days else 0
            self._known[key] = np.maximum(days, least_days).astype(np.int32)
        return self._known[key]


def quantile_day(today: dt.date, days: "Numbers", frac: float) -> dt.date | None:
    """Return the first day by which so great a share of the trials is done; None where that is too far ahead."""
    import numpy as np  # noqa: PLC0415  as above

    number = int(np.quantile(days, frac, method="inverted_cdf"))
    return None if number >= NEVER else dt.date.fromordinal(min(today.toordinal() + number, dt.date.max.toordinal()))
