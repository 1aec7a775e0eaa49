"""What a painter has said about a new commission, with a sound default for all that was not said yet."""

import datetime as dt
import unicodedata
from collections.abc import Sequence
from typing import Final, NamedTuple

from coach.composition.areas import estimated_head_mm
from coach.composition.proposal.feature_table import USUAL_FEATURES
from coach.plan.commission import CanvasSize, MarkedHead
from coach.text import joined

ONE_SITTER: Final = ("the sitter",)
"""The sitters where nobody is named."""

MOST_SITTERS: Final = 8
"""How many sitters one commission may have here."""

_DUE_DAYS: Final = 8 * 7
_DAY_S: Final = 5 * 3600
_MOST_STEM: Final = 60
_NO_NAME: Final = "commission"
_PAIR_PLACES: Final = ("left", "right")
_SIDES: Final = {
    1: ("Canvas",),
    2: ("Left", "Right"),
    3: ("Left", "Middle", "Right"),
    4: ("Far left", "Left", "Right", "Far right"),
    5: ("Far left", "Left", "Middle", "Right", "Far right"),
}
_NUMBERED: Final = (
    "First",
    "Second",
    "Third",
    "Fourth",
    "Fifth",
    "Sixth",
    "Seventh",
    "Eighth",
    "Ninth",
    "Tenth",
    "Eleventh",
    "Twelfth",
)


class NamedPlace(NamedTuple):
    """A canvas by name.

    Attributes:
        name: Unique among the canvases, capitals aside.
        place: "left", "right" or a number from 1 to 12 as text.
    """

    name: str
    place: str


class Answers(NamedTuple):
    """A new commission as far as it is known.

    Attributes:
        asked_on: Today.
        due: Day it must be handed over, after today.
        sitters: Their names, in the order in which they are painted; 1 to `MOST_SITTERS`.
        title: Name of the commission; empty where it is named after the sitters.
        canvases: 1 to 12.
        week_s: Seconds of work from Monday to Sunday.
        photo: Name of the photo's file as typed, or None.
        heads: The heads in the photo, in the order of the sitters; empty where they are not marked.
        size: Size of every canvas.
        head_mm: Height of a head on the canvas, in millimetres; None where it is estimated.
        palette: Name of a limited palette.
        features: Names of features, in the order of the passes.
        fineness: "coarse", "middle" or "fine".
        said: Keys of the questions that were answered.
    """

    asked_on: dt.date
    due: dt.date
    sitters: tuple[str, ...] = ONE_SITTER
    title: str = ""
    canvases: tuple[NamedPlace, ...] = (NamedPlace("Left", "left"), NamedPlace("Right", "right"))
    week_s: tuple[int, ...] = (_DAY_S,) * 5 + (0, 0)
    photo: str | None = None
    heads: tuple[MarkedHead, ...] = ()
    size: CanvasSize = CanvasSize(400.0, 500.0)
    head_mm: float | None = None
    palette: str = "earths"
    features: tuple[str, ...] = USUAL_FEATURES
    fineness: str = "middle"
    said: frozenset[str] = frozenset()

    @property
    def commission(self) -> str:
        """Name of the commission: as said, or after its sitters."""
        if self.title:
            return self.title
        few, first = 4, self.sitters[0]
        others = len(self.sitters) - 1
        return f"Portrait of {joined(self.sitters if others < few else [first, f'{others} others'])}"

    @property
    def is_seen(self) -> bool:
        """Whether the plan is made from the shapes of the photo."""
        return self.photo is not None and bool(self.heads)

    @property
    def painted_head_mm(self) -> float:
        """Height of a head on the canvas, in millimetres: as said, or estimated."""
        return estimated_head_mm(self.size, len(self.sitters)) if self.head_mm is None else self.head_mm


def default_answers(today: dt.date) -> Answers:
    """Return the answers before anything is said: one sitter, two canvases of 40 x 50 cm, due in eight weeks."""
    return Answers(asked_on=today, due=today + dt.timedelta(days=_DUE_DAYS))


def usual_places(count: int) -> tuple[str, ...]:
    """Return the places of so many canvases, 1 to 12: left and right for two, else numbers."""
    return _PAIR_PLACES if count == len(_PAIR_PLACES) else tuple(str(number) for number in range(1, count + 1))


def usual_names(count: int) -> tuple[str, ...]:
    """Return the names of so many canvases, 1 to 12, where the painter gave none: by their sides, else in order."""
    return _SIDES.get(count, _NUMBERED[:count])


def so_many_canvases(canvases: Sequence[NamedPlace], count: int) -> tuple[NamedPlace, ...]:
    """Return `count` canvases, 1 to 12, in their usual places.

    Those there are keep their names and new ones get one; names that the painter did not give follow the count.
    """
    names = [canvas.name for canvas in canvases[:count]]
    if tuple(canvas.name for canvas in canvases) == usual_names(len(canvases)):
        names = []
    taken = {name.casefold() for name in names}
    offered = _NUMBERED if names else usual_names(count)
    names += [name for name in offered if name.casefold() not in taken][: count - len(names)]
    return tuple(map(NamedPlace, names, usual_places(count)))


def file_stem(name: str) -> str:
    """Return a name for a file, without its ending: letters, digits and hyphens only, at least one.

    Args:
        name: Any text; what is neither letter nor digit becomes a hyphen between words.
    """
    composed = unicodedata.normalize("NFC", name)
    words = "".join(letter if letter.isalpha() or letter.isdecimal() else " " for letter in composed).split()
    return "-".join(words)[:_MOST_STEM].strip("-") or _NO_NAME
