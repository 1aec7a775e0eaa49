"""What a sitting needs from outside: clocks and the plan's file. The journal's port is in `journal/events.py`."""

from typing import Protocol

from coach.journal.reading import Reading


class Clock(Protocol):
    """The clocks of the machine."""

    def read(self) -> Reading:
        """Return all clocks, read together."""


class PlanSource(Protocol):
    """The file the plan is written in."""

    @property
    def name(self) -> str:
        """Name of the file, for sentences."""

    def stamp(self) -> object:
        """Return something that differs whenever the file may have changed; None where it is gone."""

    def read(self) -> str:
        """Return the text.

        Raises:
            CoachError: The file cannot be read as text.
        """


class LastSeen(Protocol):
    """Where the coach leaves word, second by second, that it is running."""

    def write(self, reading: Reading) -> None:
        """Put the reading on the disk; a disk that refuses it is not an error."""

    def read(self) -> Reading | None:
        """Return the last reading, or None where there is none."""
