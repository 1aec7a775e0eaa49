"""What the journal adds up to, as records: turns that are over, sessions, pieces of work, moments, absences."""

import enum
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, NamedTuple

from coach.journal.compared import KeptComparison
from coach.journal.events import Event, LaidPaint, Turn
from coach.journal.reading import Reading

SKIPPED: Final = 0
"""Stands for the place of a passage that was passed over."""

Shape = tuple[str, str, str]
"""A passage on a canvas: name of the pass, of the passage, of the canvas."""


class Phase(enum.Enum):
    """What the painter is doing."""

    NOT_BEGUN = "not begun"
    WORKING = "working"
    PAUSED = "paused"
    RESTING = "resting"


class TurnRecord(NamedTuple):
    """A turn that is over.

    Attributes:
        turn: Which turn.
        begun: The clocks when it was taken in hand.
        ended: The clocks when it was over.
        worked_ms: Work on it, in milliseconds, without pauses, rests and absences; corrected where the painter did.
        session: Number of its session, from 1.
        on_duty_ms: Work of the day before it was taken up.
        notes: What was noted on it.
        is_marked: Whether its passages are to be looked at again.
        is_skipped: Whether it was passed over unpainted.
        went_other_way: Whether its canvas was taken before its turn.
        as_painted: The paint of each passage, in order; empty where an older coach did not keep it.
        plan_text: The plan in force when it was painted, where `as_painted` is empty; else empty.
        outlines: The outline of each of its shapes, by id, as it stood when it was painted: path data of SVG in pixels
            of the photo; empty where the plan named no shapes.
    """

    turn: Turn
    begun: Reading
    ended: Reading
    worked_ms: int
    session: int
    on_duty_ms: int = 0
    notes: tuple[str, ...] = ()
    is_marked: bool = False
    is_skipped: bool = False
    went_other_way: bool = False
    as_painted: tuple[LaidPaint, ...] = ()
    plan_text: str = ""
    outlines: Mapping[str, str] = {}

    @property
    def is_painted(self) -> bool:
        """Whether paint was laid: it was neither passed over nor a check."""
        return not (self.is_skipped or self.turn.check)

    @property
    def shapes(self) -> tuple[Shape, ...]:
        """Its passages on its canvas."""
        return tuple((self.turn.pass_name, passage, self.turn.canvas) for passage in self.turn.passages)


@dataclass(frozen=True, slots=True, kw_only=True)
class SessionRecord:
    """One session: its number from 1, when it was begun and left or last seen, and its work in milliseconds."""

    number: int
    begun: Reading
    ended: Reading
    worked_ms: int


class ComparisonRecord(NamedTuple):
    """A comparison of two canvases: the clocks when it was recorded, and what it found."""

    at: Reading
    found: KeptComparison


class Absence(NamedTuple):
    """A time away that was counted as away: number of the event that ended it, and its milliseconds."""

    seq: int
    away_ms: int
    ended_session: bool


class Piece(NamedTuple):
    """Work between two events.

    Attributes:
        turn_no: Number of its turn among the turns that are over, from 0; the turn in hand comes after the last.
        begin_ms: Time gone by when it began, in milliseconds since the first event.
        end_ms: The same when it ended; later than `begin_ms`.
        begun: The clocks when it began.
        ended: The clocks when it ended.
    """

    turn_no: int
    begin_ms: int
    end_ms: int
    begun: Reading
    ended: Reading

    @property
    def worked_ms(self) -> int:
        """Its length, in milliseconds, greater than 0."""
        return self.end_ms - self.begin_ms

    def shortened(self, worked_ms: int) -> "Piece":
        """Return the piece with so much of its work, from its beginning."""
        begun = self.begun
        ended = begun._replace(wall_ms=begun.wall_ms + worked_ms, elapsed_ms=begun.elapsed_ms + worked_ms)
        return self._replace(end_ms=self.begin_ms + worked_ms, ended=ended)


class Moment(NamedTuple):
    """Something the painter said or did about the hours.

    Attributes:
        at_ms: Time gone by, in milliseconds since the first event.
        event: A rest begun, minutes granted, a limit silenced, a waking, or a corrected time.
        before_ms: Time since waking (WOKE), or what the turn had by the clock (RETIMED); else 0.
    """

    at_ms: int
    event: Event
    before_ms: int
