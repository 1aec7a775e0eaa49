"""What is to be heard: the moment at which a turn runs over its time, a rest is due, or a rest is over."""

import enum
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Protocol

from coach.session.records import Phase
from coach.session.situation import Situation

if TYPE_CHECKING:
    from coach.limits.rule_table import Grade, Key


class Cue(enum.Enum):
    """Something that is heard, the gravest first."""

    REST_DUE = "rest due"
    REST_OVER = "rest over"
    TURN_OVER = "turn over time"
    MOVE = "move"


class Sounds(Protocol):
    """What sounds, and what the painter has settled for the room."""

    @property
    def learned(self) -> Mapping[str, str]:
        """The key that each learned key stands for, such as that of a pedal."""

    def load(self) -> str:
        """Read what is settled; return in a sentence what is wrong with it. Called from a thread."""

    def switch(self) -> str:
        """Switch sound on or off, keep that, and return it in a sentence.

        Raises:
            CoachError: It is switched, and cannot be kept.
        """

    def play(self, cue: Cue, ring: Callable[[], None]) -> None:
        """Let a cue be heard where sound is on; `ring` rings the terminal's bell. No key waits for it."""


class Cues:
    """Compares each situation with the one before."""

    def __init__(self) -> None:
        """Begin with nothing that was heard."""
        self._exceeded: frozenset[tuple[Key, Grade]] = frozenset()
        self._before: Situation | None = None

    def heard(self, now: Situation) -> Cue | None:
        """Return what is to be heard of a situation, once each time it comes about; None for nothing."""
        before, self._before = self._before, now
        known, self._exceeded = self._exceeded, frozenset((one.key, one.grade) for one in now.exceeded)
        if self._exceeded - known:
            return Cue.REST_DUE
        if before is None or before.turn != now.turn:
            return None
        if before.phase is now.phase is Phase.RESTING and now.rest_left_ms <= 0 < before.rest_left_ms:
            return Cue.REST_OVER
        planned_ms = 0 if now.turn is None else now.turn.planned_s * 1000
        is_working = before.phase is now.phase is Phase.WORKING
        return Cue.TURN_OVER if is_working and before.turn_ms < planned_ms <= now.turn_ms else None
