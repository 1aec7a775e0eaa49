"""In which state the Easel is: what the painter must see at a glance, from what the session says."""

import enum
from typing import Final

from coach.limits.rule_table import Key
from coach.session.records import Absence, Phase
from coach.session.session_service import AWAY_MS
from coach.session.situation import Situation

ENDED_BY_A_REST: Final = (Key.BLOCK, Key.LONG_REST, Key.MEAL)
"""Limits for which the painter is called to a rest."""


class EaselState(enum.Enum):
    """What goes on at the easel."""

    NOT_BEGUN = "not begun"
    WORKING = "working"
    LOOKING = "looking"
    OVER = "over the planned time"
    REST_DUE = "rest due"
    RESTING = "resting"
    REST_OVER = "rest over"
    PAUSED = "paused"
    AWAY = "was away"
    SESSION_OVER = "session over"
    WAITING = "waiting for a canvas"
    FINISHED = "finished"

    @property
    def is_off(self) -> bool:
        """Whether the painter is off and will be back: the whole screen is inverted, as nothing is timed."""
        return self in (EaselState.RESTING, EaselState.PAUSED)

    @property
    def is_call(self) -> bool:
        """Whether the painter is called from the work: the time is inverted."""
        return self in (EaselState.REST_DUE, EaselState.AWAY)


def easel_state(situation: Situation, *, asks_away: bool = True) -> EaselState:
    """Return the state of a situation.

    Args:
        situation: The situation.
        asks_away: Whether the painter is still to be asked of the time away.
    """
    if situation.turn is None:
        is_waiting = situation.away and situation.done_frac < 1
        return EaselState.WAITING if is_waiting else EaselState.FINISHED
    match situation.phase:
        case Phase.NOT_BEGUN:
            return EaselState.SESSION_OVER if situation.day_ms else EaselState.NOT_BEGUN
        case Phase.PAUSED:
            return EaselState.PAUSED
        case Phase.RESTING:
            return EaselState.RESTING if situation.rest_left_ms else EaselState.REST_OVER
        case _:
            return _at_work(situation, asks_away=asks_away)


def absence_asked(situation: Situation) -> Absence | None:
    """Return the time away of which the painter is to be asked whether it was work; None where there is none.

    What the session itself does not take for a time away, and what cannot count as work, is not spoken of.
    """
    absence = situation.absence
    return None if absence is None or absence.ended_session or absence.away_ms < AWAY_MS else absence


def _at_work(situation: Situation, *, asks_away: bool) -> EaselState:
    if asks_away and absence_asked(situation) is not None:
        return EaselState.AWAY
    if any(passed.key in ENDED_BY_A_REST for passed in situation.exceeded):
        return EaselState.REST_DUE
    if situation.turn is not None and situation.turn_ms >= situation.turn.planned_s * 1000:
        return EaselState.OVER
    return EaselState.LOOKING if situation.passages and situation.passages[0].check else EaselState.WORKING
