"""The sentences of the frame around the screens: work that was left unsaved, learning a pedal.

Every screen has such a catalogue, `wording.py` in its folder, so that what it says can be read in one go.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

OFFERS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "plan edits": "You left changes to the plan unsaved last time: v shows them.",
        "composition marks": "You left marks in the photo unsaved last time: i shows them.",
        "shapes": "You left shapes unsaved last time: t shows them.",
        "corners": "You left points on the canvases half set last time: b goes on with them.",
        "note": "You left a note unfinished last time: n goes on with it.",
        "what-ifs": "What you tried for the due day last time is not in the plan: g shows it.",
    }
)
"""What is said at the next opening of work that was not saved, by its kind."""

PRESS: Final = "Press your pedal, or the key of your remote, once."
NOTHING: Final = "nothing any more"


def came(key: str) -> str:
    """Return the question after a key has come."""
    return f"{key} came. What should it mean?"


def works_already(key: str, says: str) -> str:
    """Return why a key is not learned: it does something already."""
    return f"{key} works already: {says[:1].lower()}{says[1:]}."


def means(key: str, meaning: str) -> str:
    """Return what a key means from now on."""
    return f"{key} means {meaning or NOTHING}."
