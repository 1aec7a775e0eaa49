"""Painters with known habits, written apart from what the forecast believes of them: is its 80 % day met by 80 %?

Source:
    The population of trade facts K: 50 to 400 turns of 8 to 40 planned minutes in seven passes, 18 to 120 h; 5 h from
    Monday to Friday, 3 h on Saturday, less half an hour a day and the rests; pace log-normal, median 1.35, sd 0.3; a
    pass strays by sd 0.2, a turn by 0.2 to 0.5; 60 to 100 % of the hours kept, a day strays by 0.1 to 0.3; every third
    painter skips a day in five on top. No effect of leading, no waits, no trend.
"""

import datetime as dt
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coach.forecast.adherence import DayKept
from coach.forecast.outlook import Outlook, RemainingTurn, TurnTime
from coach.forecast.scenarios import NO_CHANGE, Trials
from coach.forecast.simulation import quantile_day
from coach.plan.commission import Canvas, Pass, Passage, Plan
from coach.plan.delivery import Forecast

DONE_FRACS: Final = (0.1, 0.4, 0.8)
"""Shares of the planned minutes after which it is asked."""

_MONDAY: Final = dt.date(2027, 1, 4)
_WEEK_S: Final = (5 * 3600,) * 5 + (3 * 3600, 0)
_TRIALS: Final = 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of painter: pace against the plan, share of the hours kept, and whether days are skipped on top."""

    pace: float | None = None
    kept: float | None = None
    skips: bool | None = None

    @property
    def words(self) -> str:
        """What it is called in the table."""
        if self.pace is None or self.kept is None:
            return "all painters"
        return f"pace {self.pace:.1f}, {100 * self.kept:.0f} % kept" + (", skips days" if self.skips else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One question to the forecast: whether the day it named was met, and the chance it gave that day."""

    is_met: bool
    stated: float


KINDS: Final = (
    *(Kind(pace=pace, kept=kept, skips=False) for pace in (1.0, 1.3, 1.6) for kept in (0.6, 0.8, 1.0)),
    Kind(pace=1.0, kept=1.0, skips=True),
    Kind(pace=1.3, kept=0.8, skips=True),
    Kind(pace=1.6, kept=0.6, skips=True),
)
"""Twelve kinds; the goals for those that skip and those that do not are stated apart."""


def asked_of_kind(kind: Kind, count: int, seed: int) -> list[tuple[Asked, ...]]:
    """Return what so many painters of a kind were told at each of `DONE_FRACS`."""
    return [_painter(kind, np.random.default_rng([seed, number]), number) for number in range(count)]


def _painter(kind: Kind, chance_of: np.random.Generator, number: int) -> tuple[Asked, ...]:
    turns = int(chance_of.integers(25, 201)) * 2
    planned_s = np.repeat(chance_of.uniform(8, 40, turns // 2), 2) * 60
    planned_s *= np.clip(planned_s.sum(), 18 * 3600, 120 * 3600) / planned_s.sum()
    pass_of = np.sort(chance_of.integers(0, 7, turns // 2)).repeat(2)
    pace = chance_of.lognormal(np.log(1.35), 0.3) if kind.pace is None else kind.pace
    noise = chance_of.uniform(0.2, 0.5)
    worked_s = planned_s * pace * np.exp(chance_of.normal(0, 0.2, 7)[pass_of] + chance_of.normal(0, noise, turns))
    kept = chance_of.uniform(0.6, 1.0) if kind.kept is None else kind.kept
    skips = number % 3 == 0 if kind.skips is None else kind.skips
    days_s = _days_s(chance_of, kept, chance_of.uniform(0.1, 0.3), skips=skips, enough_s=float(worked_s.sum()))
    plan = Plan(
        canvases=(Canvas("Hall"), Canvas("School")),
        passes=tuple(Pass(f"pass {one}", (Passage("all"),), ()) for one in range(7)),
        week_s=_WEEK_S,
        forecast=Forecast(seed=number),
    )
    ends_s, painted_s = np.cumsum(worked_s), np.cumsum(days_s)
    last = int(np.searchsorted(painted_s, ends_s[-1] - 1e-6))
    told = []
    for done in DONE_FRACS:
        first_left = int(np.searchsorted(np.cumsum(planned_s), done * planned_s.sum()))
        day = int(np.searchsorted(painted_s, ends_s[first_left] - 1e-6))
        told.append(_told(plan, (planned_s, worked_s, pass_of), days_s[: day + 1], last - day - 1))
    return tuple(told)


def _days_s(
    chance_of: np.random.Generator, kept: float, spread: float, *, skips: bool, enough_s: float
) -> NDArray[np.float64]:
    """Return the seconds painted on each day from the first Monday, until it is enough."""
    count = 4000
    usable_s = np.array([(own - min(1800, own / 4)) * 50 / 60 for own in _WEEK_S] * (count // 7))
    shares = np.maximum(0.0, kept + spread * chance_of.standard_normal(len(usable_s)))
    if skips:
        shares *= chance_of.random(len(usable_s)) > 0.2
    painted_s = usable_s * shares
    painted_s[0] = max(painted_s[0], 60.0)  # the work begins with its first session
    return painted_s[: int(np.searchsorted(np.cumsum(painted_s), enough_s)) + 1]


def _told(
    plan: Plan,
    turns: tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.int64]],
    days_s: NDArray[np.float64],
    left: int,
) -> Asked:
    """Return what the forecast says the morning after those days; `left` days later falls the last stroke."""
    planned_s, worked_s, pass_of = turns
    today = _MONDAY + dt.timedelta(days=len(days_s))
    ends_s, done_s = np.cumsum(worked_s), float(np.sum(days_s))
    over = int(np.searchsorted(ends_s, done_s, side="right"))
    in_hand_s = done_s - (float(ends_s[over - 1]) if over else 0.0)
    outlook = Outlook(
        today,
        remaining=tuple(
            RemainingTurn("Hall", f"pass {pass_of[no]}", ("all",), no % 2 == 0, planned_s[no], in_hand_s * (no == over))
            for no in range(over, len(planned_s))
        ),
        turns=tuple(TurnTime(f"pass {pass_of[no]}", no % 2 == 0, planned_s[no], worked_s[no]) for no in range(over)),
        days=tuple(DayKept(_WEEK_S[no % 7], own) for no, own in enumerate(days_s)),
        trials=_TRIALS,
    )
    trials = Trials(plan, outlook)
    (days,) = trials.days_of([trials.play_of(NO_CHANGE)])
    named = quantile_day(today, days.last_stroke, 0.8)
    if named is None:
        return Asked(is_met=True, stated=1.0)
    number = (named - today).days
    return Asked(is_met=left <= number, stated=float((days.last_stroke <= number).mean()))
