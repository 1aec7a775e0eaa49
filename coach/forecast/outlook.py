"""What a forecast is asked about: the work that is left, what was laid, and what the log tells of time."""

import datetime as dt
from collections.abc import Mapping, Sequence
from math import log
from typing import Final, NamedTuple

from coach.forecast.adherence import CLEANUP_S, SETUP_S, DayKept
from coach.forecast.drying import DryAnswer
from coach.forecast.drying_table import DaysRange
from coach.journal.events import Kind, LaidPaint

LONG_TURN_S: Final = 4 * 3600
"""A turn over this, and over `LONG_TURN_RATIO` times its plan, is taken for a forgotten key. Source: ours."""

LONG_TURN_RATIO: Final = 5.0
"""See `LONG_TURN_S`."""

LONGEST_TURN_S: Final = 10 * 3600
"""A turn over this is taken for a forgotten key whatever its plan. Source: ours."""

SHORT_TURN_FRAC: Final = 0.05
"""A turn under this share of its plan is taken for a key pressed twice. Source: ours."""


class TurnTime(NamedTuple):
    """A turn that was painted and timed.

    Attributes:
        pass_name: Name of its pass.
        is_lead: Whether its canvas led the run.
        planned_s: Time planned, in seconds.
        worked_s: Time worked, in seconds.
        on_duty_s: Time since the day's work began when it was taken up, in seconds; None where not known.
        words: What the painter knows it by, such as "socket shadow, Hall, 3 April".
    """

    pass_name: str
    is_lead: bool
    planned_s: float
    worked_s: float
    on_duty_s: float | None = None
    words: str = ""

    @property
    def log_ratio(self) -> float:
        """Return the natural logarithm of worked over planned time; both must be above 0."""
        return log(self.worked_s / self.planned_s)


class Sorted(NamedTuple):
    """Turns by whether they count.

    Attributes:
        counted: Turns from which a pace is learned, in order.
        outliers: Turns left out until the painter has corrected them, in order.
    """

    counted: tuple[TurnTime, ...]
    outliers: tuple[TurnTime, ...]


def sorted_turns(turns: Sequence[TurnTime]) -> Sorted:
    """Return which turns count and which are offered for correction."""
    outliers = tuple(turn for turn in turns if not _is_believed(turn))
    return Sorted(tuple(turn for turn in turns if _is_believed(turn)), outliers)


def _is_believed(turn: TurnTime) -> bool:
    if not (turn.planned_s > 0 and turn.worked_s > 0):
        return False
    is_pressed_twice = turn.worked_s < SHORT_TURN_FRAC * turn.planned_s
    return not is_pressed_twice and not is_forgotten(turn.planned_s, turn.worked_s)


def is_forgotten(planned_s: float, worked_s: float) -> bool:
    """Return whether a turn took so long that the key must have been forgotten."""
    is_long = worked_s > LONG_TURN_S and worked_s > LONG_TURN_RATIO * planned_s
    return is_long or worked_s > LONGEST_TURN_S


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
        worked_s: Work done on it already, in seconds; more than 0 for the turn in hand only, which is the first.
        is_check: Whether it lays no paint.
    """

    canvas: str
    pass_name: str
    passages: tuple[str, ...]
    is_lead: bool
    planned_s: float
    worked_s: float = 0.0
    is_check: bool = False


class Laid(NamedTuple):
    """A passage that was painted on a canvas and is not known to be dry to touch.

    Attributes:
        canvas: Name of the canvas.
        pass_name: Name of the pass.
        passage: Name of the passage.
        painted: Day of its last stroke.
        dries: Days it takes from then; None where its paint decides.
        wet_days: Days after its last stroke when it was last found still wet; 0 where it never was.
        paint: Its paint as it was laid; None where it is what the plan says now.
    """

    canvas: str
    pass_name: str
    passage: str
    painted: dt.date
    dries: DaysRange | None = None
    wet_days: float = 0.0
    paint: LaidPaint | None = None


class Stage(NamedTuple):
    """What followed the last stroke on a canvas.

    Attributes:
        canvas: Name of the canvas.
        kind: One of the kinds of `STAGE_WORDS`.
        day: The day on which it was recorded.
    """

    canvas: str
    kind: Kind
    day: dt.date


class Outlook(NamedTuple):
    """Everything beside the plan that the day of delivery depends on.

    Attributes:
        today: The day it is asked on.
        remaining: Turns still to be painted, in the order in which they will be.
        turns: Turns timed so far, those of earlier commissions first.
        days: Days from the first session to yesterday, with hours promised and painted; of those on which the
            painter waited for paint to dry only the hours painted count as promised.
        laid: Passages that may still be wet, on canvases in the studio.
        gone_laid: The same on canvases that have left it.
        paint: The paint of all that is laid, dry or wet, by pass, passage and canvas.
        passes_painted: The passes that are painted on some canvas, each with the day of its last stroke so far.
        stages: What followed the last stroke, canvas by canvas, each in the order of `STAGE_WORDS`.
        answers: What was found dry or still wet of layers of this commission.
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
    gone_laid: tuple[Laid, ...] = ()
    paint: Mapping[tuple[str, str, str], LaidPaint] = {}
    passes_painted: Mapping[str, dt.date] = {}
    stages: tuple[Stage, ...] = ()
    answers: tuple[DryAnswer, ...] = ()
    today_painted_s: float = 0.0
    setup_s: float = SETUP_S
    cleanup_s: float = CLEANUP_S
    trials: int = TRIALS
