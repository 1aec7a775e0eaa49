"""What the screens ask of a sitting."""

from typing import Protocol

from coach.session.moves import Move
from coach.session.situation import Situation


class SessionPort(Protocol):
    """What the app asks of a sitting."""

    @property
    def remarks(self) -> tuple[str, ...]:
        """What to tell the painter, gravest first."""

    def situation(self) -> Situation:
        """Return the situation now."""

    def make(self, move: Move) -> None:
        """Record a move."""

    def tick(self) -> None:
        """Let a second pass."""
