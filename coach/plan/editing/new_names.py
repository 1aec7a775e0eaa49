"""Names that a painter gives: cleaned like a plan that is read, and refused where the plan could not hold them."""

from collections.abc import Iterable
from typing import Final

from coach.plan.commission import RETURN_TO
from coach.plan.editing.edited import EditError
from coach.plan.problems import quoted
from coach.text import sanitized

_LONGEST: Final = 300
"""Characters a name may have; the reader takes no more."""


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
    if len(name) > _LONGEST:
        raise EditError(f"{quoted(name)} has {len(name)} characters; use at most {_LONGEST}")
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


def cleaned(text: str) -> str:
    """Return typed text as the reader of a plan would take it."""
    return " ".join(sanitized(text).split())
