"""What an edit returns, how it finds what it is about, the names it may give, and undo and redo without end."""

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass
from typing import Self, TypeVar

from coach.errors import CoachError
from coach.plan.commission import RETURN_TO, Address, Pass, Passage, Plan
from coach.plan.problems import did_you_mean, quoted
from coach.plan.value_types import WrongValueError, checked_text, cleaned

_T = TypeVar("_T")
_NamedT = TypeVar("_NamedT", Pass, Passage)

Done = Collection[Address]
"""Passages, by pass and name, that are painted, begun or skipped on any canvas: the journal knows them by these names.

A set is asked fastest.
"""


class EditError(CoachError):
    """The edit would leave a plan that cannot be."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edited:
    """A plan after an edit.

    Attributes:
        plan: The plan as it is now; the same object where nothing changed.
        remark: What was done, and what was done besides, in plain sentences.
    """

    plan: Plan
    remark: str


def pass_named(plan: Plan, name: str) -> Pass:
    """Return the pass of that name.

    Raises:
        EditError: There is none.
    """
    return _named(plan.passes, name, "no pass")


def passage_named(one_pass: Pass, name: str) -> Passage:
    """Return the passage of that name in a pass.

    Raises:
        EditError: There is none.
    """
    return _named(one_pass.passages, name, f"no passage of {quoted(one_pass.name)}")


def place_of(one_pass: Pass, name: str) -> int:
    """Return at which place in its pass a passage stands, from 0.

    Raises:
        EditError: There is no passage of that name.
    """
    return one_pass.passages.index(passage_named(one_pass, name))


def refuse_done(what: str, pass_name: str, passages: Iterable[Passage], done: Done) -> None:
    """Refuse to do what would part passages from what the journal holds of them.

    Args:
        what: What cannot be done to them, such as "renamed".
        pass_name: Name of their pass.
        passages: The passages.
        done: What is done.

    Raises:
        EditError: One of the passages is done.
    """
    begun = next((passage for passage in passages if (pass_name, passage.name) in done), None)
    if begun:
        place = f"{pass_name} / {begun.name}"
        raise EditError(f"{quoted(place)} is begun and the journal knows it by this name: it cannot be {what}")


def _named(entries: tuple[_NamedT, ...], name: str, none: str) -> _NamedT:
    found = next((entry for entry in entries if entry.name == name), None)
    if found is None:
        meant = did_you_mean(name, (entry.name for entry in entries))
        raise EditError("; ".join(filter(None, (f"{none} is called {quoted(name)}", meant))))
    return found


def typed(read: Callable[[str], _T], text: str) -> _T:
    """Return what the reader of a plan makes of a typed text.

    Raises:
        EditError: It refuses it.
    """
    try:
        return read(text)
    except WrongValueError as wrong:
        raise EditError(str(wrong)) from wrong


def new_name(text: str, taken: Iterable[str]) -> str:
    """Return a name as the plan will hold it: sanitized, on one line, with single spaces.

    Args:
        text: What was typed.
        taken: Names that its neighbours have; capitals make no difference.

    Raises:
        EditError: The name is empty, too long, taken, or would read as something else.
    """
    name = cleaned(text)
    if not name:
        raise EditError("a name is missing: write at least one letter")
    name = typed(checked_text, name)
    if "/" in name:
        raise EditError(f"{quoted(name)} has a /, which parts the name of a pass from that of a passage")
    folded = name.casefold()
    twin = next((other for other in taken if other.casefold() == folded), None)
    if twin is not None:
        raise EditError(f"the name {quoted(twin)} is taken: give each its own name")
    return name


def new_pass_name(text: str, taken: Iterable[str]) -> str:
    """Return the name of a pass; as `new_name`, and it does not begin like a pass of corrections.

    Raises:
        EditError: The name cannot be.
    """
    name = new_name(text, taken)
    if name.casefold().startswith(RETURN_TO):
        raise EditError(f"{quoted(name)} begins like a pass of corrections: choose another name")
    return name


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
