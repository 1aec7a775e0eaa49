"""What can happen at the easel. The journal is these events, and nothing is ever changed in it."""

import enum
from collections.abc import Iterable, Mapping
from typing import Final, NamedTuple, Protocol

from coach.errors import CoachError
from coach.journal.compared import Difference, KeptComparison
from coach.journal.reading import Reading
from coach.plan.commission import Address


class JournalError(CoachError):
    """The journal cannot be read, or cannot be written."""


class Kind(enum.StrEnum):
    """The kinds of event; the value is what the journal stores."""

    PLAN_READ = "plan_read"
    SESSION_BEGUN = "session_begun"
    CAME_BACK = "came_back"
    TURN_DONE = "turn_done"
    WENT_OTHER_WAY = "went_other_way"
    PAUSED = "paused"
    REST_BEGUN = "rest_begun"
    WORK_RESUMED = "work_resumed"
    NOTED = "noted"
    MARKED = "marked"
    UNMARKED = "unmarked"
    SKIPPED = "skipped"
    TAKEN_UP = "taken_up"
    AWAY_WORKED = "away_worked"
    GRANTED = "granted"
    NOT_TODAY = "not_today"
    WOKE = "woke"
    FOUND_DRY = "found_dry"
    FOUND_WET = "found_wet"
    RETIMED = "retimed"
    DRY_RUN_FIRST = "dry_run_first"
    PHOTOGRAPHED = "photographed"
    TO_FRAMER = "to_framer"
    FROM_FRAMER = "from_framer"
    SENT = "sent"
    HANDED_OVER = "handed_over"
    COMPARED = "compared"
    MEANT = "meant"
    MEANT_NO_MORE = "meant_no_more"
    MARKED_FOR_RETURN = "marked_for_return"
    UNDONE = "undone"
    SESSION_ENDED = "session_ended"


STAGE_WORDS: Final[Mapping[Kind, str]] = {
    Kind.PHOTOGRAPHED: "photographed",
    Kind.TO_FRAMER: "to the framer",
    Kind.FROM_FRAMER: "back from the framer",
    Kind.SENT: "sent",
    Kind.HANDED_OVER: "handed over",
}
"""What follows the last stroke on a canvas, in this order, in words."""

COMPARING: Final = frozenset({Kind.COMPARED, Kind.MEANT, Kind.MEANT_NO_MORE, Kind.MARKED_FOR_RETURN})
"""What a comparison of canvases brings; MARKED is of the turn in hand, MARKED_FOR_RETURN of a passage that is over."""


class Turn(NamedTuple):
    """One run on one canvas, named so that it is understood without the plan.

    Attributes:
        pass_name: Name of the pass.
        run: Number of the run in its pass, from 1, in the plan it was painted under.
        passages: Names of the passages painted, in order.
        canvas: Name of the canvas.
        place: 1 for the lead of the run, 2 for the first that follows, and so on.
        planned_s: Time planned, in seconds.
        check: How the canvas is looked at where it is a check, which lays no paint; else empty.
    """

    pass_name: str
    run: int
    passages: tuple[str, ...]
    canvas: str
    place: int
    planned_s: int
    check: str = ""

    @property
    def is_lead(self) -> bool:
        """Whether its canvas leads; nobody leads a check."""
        return self.place == 1 and not self.check


class LaidPaint(NamedTuple):
    """The paint of a passage as it was laid: the plan may say something else by now.

    Attributes:
        mixture: Name of its mixture or paint; empty where the plan named none.
        medium: "oil" or "alkyd".
        oil: "lean", "middle" or "fat"; empty where the plan did not say.
        low_days: Days until it may be dry to touch, 0 or more, by the paints, film and room of the plan.
        high_days: Days until it is, by its slow end; not below `low_days`.
    """

    mixture: str
    medium: str
    oil: str
    low_days: float
    high_days: float


class Announced(NamedTuple):
    """What an event changed in the order of the work to come, as it was told to the painter.

    Attributes:
        orders: The canvases, in order, of every run that is new or whose order changed, by its first passage.
        held: First passages of the runs in hand, which come before all others, whatever the plan says; empty where
            what was held stays so.
        canvas: The canvas in hand, which comes first in the first of them; empty where the order says which.
        remark: Why, and what there is to know about the order; may be empty.
    """

    orders: Mapping[Address, tuple[str, ...]] = {}
    held: tuple[Address, ...] = ()
    canvas: str = ""
    remark: str = ""


class Event(NamedTuple):
    """One thing that happened.

    Attributes:
        seq: Its number in the journal, from 1, rising.
        at: The clocks when it happened.
        kind: What happened.
        turn: The turn in hand, where the kind concerns one.
        text: The note; the text of the plan; milliseconds granted to a block (GRANTED) or really worked on a
            turn (RETIMED); the limits that are not to be said today, each a key, a colon and a grade, with commas
            between (NOT_TODAY); the time of waking as HH:MM (WOKE); the name of the canvas (kinds of
            `STAGE_WORDS`); numbers of further events that are undone together with the target, with commas
            between (UNDONE).
        target: Number of the event that is undone (UNDONE) or of the return counted as work (AWAY_WORKED).
        since: The clocks when the coach was last seen running (CAME_BACK).
        announced: What it changed in the order of the work to come; None where it changed nothing.
        as_painted: The paint of each passage of a turn that is done, in order; empty for a check, and where an older
            coach did not keep it.
        outlines: The outline of every shape of a turn that is done, by its id, as it stood: path data of SVG in pixels
            of the photo; empty where it stands in the journal so already.
        comparison: What a comparison found (COMPARED).
        difference: What is meant so (MEANT), or is no more (MEANT_NO_MORE).
    """

    seq: int
    at: Reading
    kind: Kind
    turn: Turn | None = None
    text: str = ""
    target: int = 0
    since: Reading | None = None
    announced: Announced | None = None
    as_painted: tuple[LaidPaint, ...] = ()
    outlines: Mapping[str, str] = {}
    comparison: KeptComparison | None = None
    difference: Difference | None = None


class Journal(Protocol):
    """Where events are kept.

    Attributes:
        notice: What the painter must be told of it, though painting goes on; empty where there is nothing.
    """

    notice: str

    def append(self, event: Event) -> Event:
        """Put one event on the disk and return it with its number.

        Raises:
            JournalError: It is not on the disk; the journal is as it was.
        """

    def after(self, seq: int) -> Iterable[Event]:
        """Return every event with a higher number, in order.

        Raises:
            JournalError: The journal cannot be read.
        """


UNDOABLE = frozenset(
    {
        Kind.TURN_DONE,
        Kind.WENT_OTHER_WAY,
        Kind.PAUSED,
        Kind.REST_BEGUN,
        Kind.WORK_RESUMED,
        Kind.NOTED,
        Kind.MARKED,
        Kind.UNMARKED,
        Kind.SKIPPED,
        Kind.TAKEN_UP,
        Kind.AWAY_WORKED,
        Kind.GRANTED,
        Kind.NOT_TODAY,
        Kind.WOKE,
        Kind.FOUND_DRY,
        Kind.FOUND_WET,
        Kind.RETIMED,
        Kind.DRY_RUN_FIRST,
        *STAGE_WORDS,
        *COMPARING,
    }
)
"""The kinds that are moves of the painter within a session."""


def undone_by(event: Event) -> tuple[int, ...]:
    """Return the numbers of the events that an UNDONE event takes back."""
    return (event.target, *(int(number) for number in event.text.split(",") if number))


def in_force(events: Iterable[Event]) -> list[Event]:
    """Return the events that still count: without those undone, and without absences counted as work.

    The end of a session stays with the event that undid it: time passed between the two, and nobody painted.
    """
    happened = list(events)
    undone = {number for event in happened if event.kind is Kind.UNDONE for number in undone_by(event)}
    counted = {e.target for e in happened if e.kind is Kind.AWAY_WORKED and e.seq not in undone}
    if not undone and not counted:
        return happened
    ends = {event.seq for event in happened if event.kind is Kind.SESSION_ENDED}
    dropped = (undone - ends) | counted
    return [
        event
        for event in happened
        if event.seq not in dropped and (event.kind is not Kind.UNDONE or event.target in ends)
    ]
