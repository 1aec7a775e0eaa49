"""One notice at a time: what is said, and what Enter and Esc answer to it. Pure."""

from typing import NamedTuple

from coach.screens.chips import Chip


class Notice(NamedTuple):
    """Something that wants an answer.

    Attributes:
        says: What it is, in plain words.
        yes: What Enter does about it, in few words; empty where Enter has its usual meaning.
        no: What Esc does about it; empty for nothing.
    """

    says: str
    yes: str = ""
    no: str = ""

    @property
    def chips(self) -> tuple[Chip, ...]:
        """The keys that answer."""
        return tuple(Chip(key, label) for key, label in (("enter", self.yes), ("escape", self.no)) if label)
