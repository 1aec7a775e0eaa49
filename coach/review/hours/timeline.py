"""The work of a journal laid out along the time that went by, with corrected times already taken out."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final

from coach.journal.events import Event, Kind
from coach.journal.reading import Reading
from coach.session.journal_state import JournalState, Phase, TurnRecord

_TOLD: Final = frozenset({Kind.REST_BEGUN, Kind.GRANTED, Kind.NOT_TODAY, Kind.WOKE, Kind.RETIMED})


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """Something the painter said or did about the hours.

    Attributes:
        at_ms: Time gone by, in milliseconds since the first event.
        event: A rest begun, minutes granted, a limit silenced, a waking, or a corrected time.
        before_ms: Time since waking (WOKE), or what the turn had by the clock (RETIMED); else 0.
    """

    at_ms: int
    event: Event
    before_ms: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Timeline:
    """Everything a journal tells of hours.

    Attributes:
        pieces: All work, in order; whatever lies between two pieces is time off.
        moments: In order; none lies within a piece.
        turns: Turns that are over, in the order painted, with their corrected times.
    """

    pieces: tuple[Piece, ...]
    moments: tuple[Moment, ...]
    turns: tuple[TurnRecord, ...]


def timeline_of(events: Iterable[Event]) -> Timeline:
    """Return the timeline of events that are all in force, in order.

    A turn whose time was corrected ends so much earlier: what was too much is time off.
    """
    noting = _Noting()
    for event in events:
        noting.add(event)
    return Timeline(pieces=tuple(noting.pieces), moments=tuple(noting.moments), turns=tuple(noting.turns))


class _Noting(JournalState):
    """The fold over the events, which notes work as it passes."""

    def __init__(self) -> None:
        super().__init__()
        self.pieces: list[Piece] = []
        self.moments: list[Moment] = []
        self.turns: list[TurnRecord] = []
        self._until: Reading | None = None

    def add(self, event: Event) -> TurnRecord | None:
        self._until = event.since or event.at
        record = super().add(event)
        if record is not None:
            self.turns.append(record)
        before_ms = (self.hours.awake_ms or 0) if event.kind is Kind.WOKE else 0
        if event.kind is Kind.RETIMED:
            before_ms = self._correct(event)
        if event.kind in _TOLD:
            self.moments.append(Moment(at_ms=self.hours.now_ms, event=event, before_ms=before_ms))
        return record

    def let_pass(self, ms: int) -> None:
        begin_ms, is_work = self.hours.now_ms, self.phase is Phase.WORKING
        super().let_pass(ms)
        end_ms = self.hours.now_ms
        if is_work and end_ms > begin_ms and self.at is not None and self._until is not None:
            piece = Piece(turn_no=len(self.turns), begin_ms=begin_ms, end_ms=end_ms, begun=self.at, ended=self._until)
            self.pieces.append(piece)

    def _correct(self, event: Event) -> int:
        """Cut a turn to its corrected time and return what it had before, in milliseconds; 0 for an unknown turn."""
        turn_no = next((no for no in reversed(range(len(self.turns))) if self.turns[no].turn == event.turn), None)
        if turn_no is None:
            return 0
        before_ms, worked_ms = self.turns[turn_no].worked_ms, int(event.text)
        self.turns[turn_no] = self.turns[turn_no]._replace(worked_ms=worked_ms)
        self._cut(turn_no, before_ms - worked_ms)
        return before_ms

    def _cut(self, turn_no: int, excess_ms: int) -> None:
        for at in reversed(range(len(self.pieces))):
            piece = self.pieces[at]
            if excess_ms <= 0 or piece.turn_no < turn_no:
                return
            if piece.turn_no > turn_no:
                continue
            if piece.worked_ms <= excess_ms:
                del self.pieces[at]
            else:
                self.pieces[at] = _shortened(piece, piece.worked_ms - excess_ms)
            excess_ms -= piece.worked_ms


def _shortened(piece: Piece, worked_ms: int) -> Piece:
    ended = piece.begun._replace(wall_ms=piece.begun.wall_ms + worked_ms, elapsed_ms=piece.begun.elapsed_ms + worked_ms)
    return replace(piece, end_ms=piece.begin_ms + worked_ms, ended=ended)
