"""What the Plan screen asks of the disk, and what it is told."""

import datetime as dt
from collections.abc import Callable, Collection, Mapping, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple, Protocol

from coach.journal.events import Turn
from coach.plan.commission import RETURN_TO, Address, Plan
from coach.session.journal_state import JournalState
from coach.session.records import Shape
from coach.session.work import Work

if TYPE_CHECKING:
    from coach.shapes.reference import Reference


def corrected_pass(name: str) -> str:
    """Return the name of the pass that a pass of corrections returns to; any other pass's own name."""
    while name.startswith(RETURN_TO):
        name = name.removeprefix(RETURN_TO)
    return name


class OpenedPlan(NamedTuple):
    """A plan and the text of the file that reads as it."""

    text: str
    plan: Plan


class PlanProgress(NamedTuple):
    """What the journal holds of the work.

    Attributes:
        today: The day.
        places: For every passage done on a canvas its place in the run, 0 where it was skipped.
        marks: The passages marked for return.
        in_hand: The turn in hand; None where nothing is left to do.
        is_begun: Whether something of the turn in hand is on record, such as time or a note.
        work: Where the work stands under the plan in force; None where no journal tells.
        state: What the journal adds up to, with `work`.
    """

    today: dt.date
    places: Mapping[Shape, int] = {}
    marks: Collection[Shape] = ()
    in_hand: Turn | None = None
    is_begun: bool = False
    work: Work | None = None
    state: JournalState | None = None

    @property
    def done(self) -> frozenset[Address]:
        """The passages that are painted, begun or skipped on any canvas."""
        found = {(corrected_pass(pass_name), name) for pass_name, name, _ in self.places}
        if self.in_hand is not None and self.is_begun:
            found |= {(corrected_pass(self.in_hand.pass_name), name) for name in self.in_hand.passages}
        return frozenset(found)


class SaveResult(NamedTuple):
    """What became of a plan that was to be saved.

    Attributes:
        text: The text that was written.
        said: What was done, in a sentence.
        difference: What the text would change in the file, where another hand has changed that meanwhile, a line each;
            empty where the plan was saved.
    """

    text: str
    said: str
    difference: tuple[str, ...] = ()


class Around(NamedTuple):
    """What the Plan knows of the rest of the app.

    Attributes:
        are_shapes_unsaved: Returns whether the Shapes hold changes that are made of the same plan.
        is_picture_asked: Whether the photo is shown only when it is asked for, on its tab.
    """

    are_shapes_unsaved: Callable[[], bool]
    is_picture_asked: bool


ALONE: Final = Around(lambda: False, is_picture_asked=False)
"""No Shapes, and a line that is fast enough for pictures."""


class PlanRepository(Protocol):
    """Where the screen finds the plan, and where it leaves it."""

    def opened(self) -> OpenedPlan:
        """Return the plan as it is written now.

        Raises:
            CoachError: It cannot be read.
        """

    def progress(self) -> PlanProgress:
        """Return what the journal holds of the work now.

        Raises:
            CoachError: The journal cannot be read.
        """

    def take_up_skipped(self, pass_name: str, passages: Sequence[str]) -> str:
        """Let skipped passages come again, and return in words what was done, or why nothing was."""

    def reference(self, plan: Plan) -> "Reference | None":
        """Return the plan's photo ready to be shown; None where it names none. It takes time: asked from a thread.

        Raises:
            CoachError: It cannot be read.
        """

    def save(self, opened: OpenedPlan, plan: Plan) -> SaveResult:
        """Save a plan that was made of `opened`; called from a thread.

        Raises:
            CoachError: It cannot be saved.
        """
