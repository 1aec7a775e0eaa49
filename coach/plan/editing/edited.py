"""What an edit returns, and how it finds what it is about."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from typing import TypeVar

from coach.errors import CoachError
from coach.plan.commission import Address, Pass, Passage, Plan
from coach.plan.problems import did_you_mean, quoted

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
