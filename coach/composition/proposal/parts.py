"""What is painted as one passage, before it is told when, on what and with what."""

import enum
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

MOST_RUN_MIN: Final = 40
"""Most minutes proposed for a run, and so for a passage. Source: ours, no other."""

LEAST_MIN: Final = 3
"""Fewest minutes proposed for a passage: there is paint to load and to look at. Source: common practice, no source."""

_LEAST_CM2: Final = 0.1
_HALVES_FROM_CM2: Final = 1
_WHOLE_FROM_CM2: Final = 10


class Zone(enum.StrEnum):
    """A mass of the picture, as the block-in takes it."""

    GROUND = "ground"
    OBJECT = "object"
    CLOTHING = "clothing"
    HAIR = "hair"
    FLESH = "flesh"


class Meeting(NamedTuple):
    """How two parts touch: so many cm of edge, and so many of them soft or lost."""

    cm: float = 0.0
    soft_cm: float = 0.0

    def plus(self, other: "Meeting") -> "Meeting":
        """Return both edges together."""
        return Meeting(self.cm + other.cm, self.soft_cm + other.soft_cm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What is painted as one passage.

    Attributes:
        group: The group of shapes it is of; a strip of one shares it.
        feature: Name of its feature, of which there is a pass.
        sitter: Whose head it is on; empty for what belongs to nobody, or where one sits.
        zone: The mass it belongs to.
        place: Where it lies, in words.
        name: What it is called; None where place and value name it.
        photo_value: Its value in the photo, 0 black to 10 white.
        lab: Its colour in the photo, CIELAB under D65; None where no photo tells.
        area_cm2: Area on one canvas; None where nothing tells it.
        minutes: Whole minutes on one canvas.
        brush_mm: The widest brush that fits; None where nothing tells it.
        mixture: Name of its mixture; None while it has none.
        shapes: Ids of its shapes.
    """

    group: int
    feature: str
    zone: Zone
    place: str
    photo_value: float
    minutes: int
    sitter: str = ""
    name: str | None = None
    lab: tuple[float, float, float] | None = None
    area_cm2: float | None = None
    brush_mm: float | None = None
    mixture: str | None = None
    shapes: tuple[str, ...] = ()


Meetings = Mapping[int, Mapping[int, Meeting]]
"""For each group those it touches."""


def meeting(one: Part, other: Part, meetings: Meetings) -> Meeting:
    """Return how two parts touch; a strip runs into the rest of its group."""
    if one.group == other.group:
        return Meeting(cm=1e3, soft_cm=1e3)
    return meetings.get(one.group, {}).get(other.group, Meeting())


def rounded_cm2(area_cm2: float) -> float:
    """Return an estimated area as a painter would state it: whole from 10 cm2, halves from 1 cm2, else tenths."""
    if area_cm2 >= _WHOLE_FROM_CM2:
        return float(round(area_cm2))
    if area_cm2 >= _HALVES_FROM_CM2:
        return round(area_cm2 * 2) / 2
    return max(_LEAST_CM2, round(area_cm2, 1))


def sitter_words(names: Sequence[str]) -> dict[str, str]:
    """Return for each sitter the word that stands in the names of passes: without /, which parts pass from passage.

    Empty where there is only one sitter.
    """
    words: dict[str, str] = {}
    for name in names if len(names) > 1 else ():
        plain = name.replace("/", "-")
        words[name] = plain if plain not in words.values() else f"{plain} {len(words) + 1}"
    return words or dict.fromkeys(names, "")
