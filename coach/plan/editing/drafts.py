"""The plans of one editing, one after the other: undo and redo without end."""

from dataclasses import dataclass
from typing import Self

from coach.plan.commission import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Drafts:
    """Every plan since editing began, and which of them is meant.

    Attributes:
        plans: One or more, in the order in which they were made; plans share what they have in common.
        number: Number of the plan that is meant, from 0.
    """

    plans: tuple[Plan, ...]
    number: int = 0

    @property
    def plan(self) -> Plan:
        """The plan that is meant."""
        return self.plans[self.number]

    @property
    def can_undo(self) -> bool:
        """Whether a plan was made before this one."""
        return self.number > 0

    @property
    def can_redo(self) -> bool:
        """Whether a plan was made after this one, and undone."""
        return self.number < len(self.plans) - 1

    def edited(self, plan: Plan) -> Self:
        """Return the drafts with one more plan; what was undone is forgotten. The same plan again is no draft."""
        if plan is self.plan:
            return self
        return type(self)(plans=(*self.plans[: self.number + 1], plan), number=self.number + 1)

    def undone(self) -> Self:
        """Return the drafts one plan back; at the first plan they stay."""
        return type(self)(plans=self.plans, number=max(self.number - 1, 0))

    def redone(self) -> Self:
        """Return the drafts one plan on; at the last plan they stay."""
        return type(self)(plans=self.plans, number=min(self.number + 1, len(self.plans) - 1))
