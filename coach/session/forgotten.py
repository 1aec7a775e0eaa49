"""Which turn looks like a forgotten key."""

from coach.forecast.outlook import is_forgotten
from coach.session.journal_state import TurnRecord


def forgotten_turn(last: TurnRecord | None) -> TurnRecord | None:
    """Return the last turn where its time is so long that the key must have been forgotten, else None."""
    if last is None or last.is_skipped or not is_forgotten(last.turn.planned_s, last.worked_ms / 1000):
        return None
    return last
