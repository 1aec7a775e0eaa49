"""The file of a new commission: its text, and a name for it."""

import unicodedata
from typing import Final

from coach.composition.proposal.answers import Answers
from coach.composition.proposal.proposal import proposed_plan
from coach.plan.cleaning import STAND_IN
from coach.plan.writing import plan_text

_MOST_STEM: Final = 60
_NO_NAME: Final = "commission"


def new_file_text(answers: Answers) -> str:
    """Return the text of the proposed plan; a plan has no place for the photo, so a line of comment names it."""
    photo = "".join(letter if letter.isprintable() else STAND_IN for letter in answers.photo or "")
    remark = f"# Painted from the photo {photo}\n\n" if photo else ""
    return remark + plan_text(proposed_plan(answers))


def file_stem(name: str) -> str:
    """Return a name for a file, without its ending: letters, digits and hyphens only, at least one.

    Args:
        name: Any text; what is neither letter nor digit becomes a hyphen between words.
    """
    composed = unicodedata.normalize("NFC", name)
    words = "".join(letter if letter.isalpha() or letter.isdecimal() else " " for letter in composed).split()
    return "-".join(words)[:_MOST_STEM].strip("-") or _NO_NAME
