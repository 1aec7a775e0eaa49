"""Where an edit is made: the plan, and the row of its tree that is in hand."""

from typing import NamedTuple

from coach.plan.commission import Passage, Plan
from coach.plan.editing.edited import Done, EditError
from coach.screens.plan.tree import Row


class Spot(NamedTuple):
    """Where an edit is made.

    Attributes:
        plan: The plan.
        row: The row in hand.
        done: What is done.
    """

    plan: Plan
    row: Row
    done: Done

    @property
    def pass_name(self) -> str:
        """Name of the pass of the row."""
        return self.row.one_pass.name

    @property
    def passage(self) -> Passage:
        """The passage of the row, or the first of its run.

        Raises:
            EditError: It is the row of a pass.
        """
        if self.row.run is None:
            raise EditError("this is a whole pass: choose a passage of it first")
        return self.row.passage or self.row.run.passages[0]

    @property
    def single(self) -> Passage:
        """The passage of the row.

        Raises:
            EditError: It is the row of a pass or a run.
        """
        if self.row.passage is None:
            what = "pass" if self.row.run is None else "run"
            raise EditError(f"this is a whole {what}: choose a passage of it first")
        return self.row.passage


Target = tuple[str, str | None]
"""Pass and passage (None for the whole pass) of the row that is in hand after an edit."""
