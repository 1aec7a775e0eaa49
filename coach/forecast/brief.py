"""The days alone, with their chance: what a change is tried with while the painter looks on."""

import datetime as dt
from typing import TYPE_CHECKING, Final, NamedTuple

from coach.forecast.chance import Played, chance_of, day_quantile, played, reached
from coach.forecast.outlook import Outlook
from coach.plan.commission import Plan

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

HALF_FRAC: Final = 0.50
LIKELY_FRAC: Final = 0.80
NEAR_CERTAIN_FRAC: Final = 0.95


class DayQuantiles(NamedTuple):
    """The days by which something is done with a chance of 50, 80 and 95 %; None for what lies too far ahead."""

    p50: dt.date | None
    p80: dt.date | None
    p95: dt.date | None


class Brief(NamedTuple):
    """The days, and the chance of the due day.

    Attributes:
        chance: Chance of the due day, 0 to 1 (0 or 1 in a forecast without spread); None without a due day.
        last_stroke: Day of the last stroke.
        touch_dry: Day on which everything is dry to touch.
        framed: Day on which it comes from the framer.
        delivered: Day on which it is handed over.
    """

    chance: float | None
    last_stroke: DayQuantiles
    touch_dry: DayQuantiles
    framed: DayQuantiles
    delivered: DayQuantiles


def brief_of(plan: Plan, outlook: Outlook) -> Brief:
    """Return the days of a plan."""
    return brief_of_played(played(plan, outlook))


def brief_of_played(play: Played) -> Brief:
    """Return the days of work that was played through."""
    days = reached(play)
    today = play.outlook.today
    return Brief(
        chance=chance_of(play, days),
        last_stroke=_quantiles(today, days.last_stroke),
        touch_dry=_quantiles(today, days.touch_dry),
        framed=_quantiles(today, days.framed),
        delivered=_quantiles(today, days.delivered),
    )


def _quantiles(today: dt.date, days: "NDArray[np.int64]") -> DayQuantiles:
    return DayQuantiles(*(day_quantile(today, days, frac) for frac in (HALF_FRAC, LIKELY_FRAC, NEAR_CERTAIN_FRAC)))
