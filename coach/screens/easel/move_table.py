"""Which move of the session each action of the Easel makes."""

from collections.abc import Callable
from typing import Final

from coach.session import moves
from coach.session.moves import Move

MOVES: Final[dict[str, Move]] = {
    "go_on": moves.go_on,
    "go_other_way": moves.go_other_way,
    "pause": moves.pause,
    "rest": moves.rest,
    "mark": moves.mark,
    "skip": moves.skip,
    "undo": moves.undo,
    "count_away_as_work": moves.count_away_as_work,
    "end_session": moves.end_session,
    "work_ten_more": moves.work_ten_more,
    "silence_today": moves.silence_today,
    "find_dry": moves.find_dry,
    "find_wet": moves.find_wet,
}
"""Moves that ask for nothing."""

WRITTEN: Final[dict[str, Callable[[str], Move]]] = {
    "note": moves.noting,
    "woke": moves.waking,
    "minutes": moves.retiming,
}
"""Moves of a text that the field asked for."""
