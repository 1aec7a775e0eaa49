"""What a forecast is asked about: the work that is left, what was laid, and what the log tells."""

import datetime as dt
from typing import Final, NamedTuple

from coach.forecast.drying_table import DaysRange
from coach.forecast.kept_hours import CLEANUP_S, SETUP_S, DayKept
from coach.forecast.turn_times import TurnTime

TRIALS: Final = 10_000
"""How many times chance plays the rest of the work. Source: ours; the error of a chance stays below 0.5 %."""


class RemainingTurn(NamedTuple):
    """A turn still to be painted.

    Attributes:
        canvas: Name of its canvas.
        pass_name: Name of its pass.
        passages: Names of its passages that are still to be painted.
        is_lead: Whether its canvas leads the run.
        planned_s: Time planned for those passages, in seconds; a turn without time does not count.
    """

    canvas: str
    pass_name: str
    passages: tuple[str, ...]
    is_lead: bool
    planned_s: float


class Laid(NamedTuple):
    """A passage that was painted on a canvas and is not known to be dry to touch.

    Attributes:
        canvas: Name of the canvas.
        pass_name: Name of the pass.
        passage: Name of the passage.
        painted: Day of its last stroke.
        dries: Days it takes from then; None where the plan's paints, room and medium decide.
    """

    canvas: str
    pass_name: str
    passage: str
    painted: dt.date
    dries: DaysRange | None = None


class Outlook(NamedTuple):
    """Everything beside the plan that the day of delivery depends on.

    Attributes:
        today: The day it is asked on.
        remaining: Turns still to be painted, in the order in which they will be.
        turns: Turns timed so far, those of earlier commissions first.
        days: Days gone by before today, with hours promised and painted.
        laid: Passages that may still be wet.
        today_painted_s: Seconds spent on turns today.
        setup_s: Setting up, in seconds a day.
        cleanup_s: Clearing up, in seconds a day.
        trials: How many times chance plays the rest of the work, 1 or more.
    """

    today: dt.date
    remaining: tuple[RemainingTurn, ...] = ()
    turns: tuple[TurnTime, ...] = ()
    days: tuple[DayKept, ...] = ()
    laid: tuple[Laid, ...] = ()
    today_painted_s: float = 0.0
    setup_s: float = SETUP_S
    cleanup_s: float = CLEANUP_S
    trials: int = TRIALS
