"""The block-in: the big values of each mass laid in thinly, the ground among them, before any feature is finished."""

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from typing import Final

from coach.composition.proposal.palette_table import LimitedPalette
from coach.composition.proposal.parts import LEAST_MIN, MOST_RUN_MIN, Meeting, Meetings, Part, Zone, meeting
from coach.plan.commission import Mixture

_OF_FINISH_FRAC: Final = 0.25
"""So much of the time of its finish a mass takes to be blocked in. Source: ours, no other."""

_LEAST_MASS_MIN: Final = 8
"""A big value that takes less joins the one beside it in its mass. Source: ours, no other."""

_VALUE_WORDS, _VALUE_LIMITS = ("dark", "middle", "light"), (4.0, 6.5)
"""The big values, and from which value of the photo on the next word is used. Source: ours, no other."""


_RECIPES: Final = {"dark": "warm dark", "middle": "ground middle", "light": "ground light"}
"""The recipe by which each big value is laid in; the dark is umber alone where there is one, for it dries first.

Source: common practice, no source.
"""

_UMBERS: Final = ("raw umber", "burnt umber")


def lean_mixture(photo_value: float, palette: LimitedPalette) -> Mixture:
    """Return the mixture in which a big value is laid in; without parts where the palette has no recipe for it."""
    word = big_value_word(photo_value)
    umber = next((paint.name for paint in palette.paints if paint.name in _UMBERS), None)
    recipe = next((one for one in palette.recipes if one.name == _RECIPES[word]), None)
    parts = ((umber, 1.0),) if umber and word == "dark" else recipe.parts if recipe else ()
    return Mixture(name=f"lean {word}", parts=parts, oil="lean")


class BlockIn:
    """The parts of a block-in.

    Attributes:
        parts: What is painted, each under a group of its own.
        meetings: How those groups touch.
        below: For each group of the finish the place of the part of the block-in that it lies over.
    """

    def __init__(self, finish: Sequence[Part], meetings: Meetings) -> None:
        """Gather the parts of the finish by mass and big value, each at most a run long."""
        masses = [_chunks(mass, meetings) for mass in _masses(finish).values()]
        members = [chunk for chunks in masses for chunk in chunks]
        is_whole = [len(chunks) == 1 for chunks in masses for _ in chunks]
        self.parts = [_laid_in(number, chunk, is_whole[number]) for number, chunk in enumerate(members)]
        self.below = {part.group: number for number, chunk in enumerate(members) for part in chunk}
        self.meetings = _between(self.below, meetings)


def _masses(finish: Sequence[Part]) -> Mapping[tuple[str, str, int], list[Part]]:
    """Return the parts by sitter, mass and big value; one too small to be laid in by itself joins the value beside."""
    masses: dict[tuple[str, str, int], list[Part]] = {}
    for part in finish:
        key = (part.sitter, _mass(part), bisect_right(_VALUE_LIMITS, part.photo_value))
        masses.setdefault(key, []).append(part)
    for key in sorted(masses):
        sitter, mass, word = key
        beside = [near for near in ((sitter, mass, word - 1), (sitter, mass, word + 1)) if near in masses]
        if beside and _minutes(masses[key]) < _LEAST_MASS_MIN:
            masses[beside[0]] += masses.pop(key)
    return masses


def _mass(part: Part) -> str:
    """Return the mass that a part is laid in with: the neck is not of the face."""
    if part.zone is Zone.FLESH:
        return "neck" if part.feature == "neck" else "face"
    return part.zone.value


def _minutes(parts: Sequence[Part]) -> float:
    return _OF_FINISH_FRAC * sum(part.minutes for part in parts)


def _chunks(mass: Sequence[Part], meetings: Meetings) -> list[list[Part]]:
    """Return a mass in pieces of at most a run; a piece grows along its longest edges."""
    left, chunks = list(mass), list[list[Part]]()
    while left:
        chunk = [left.pop(0)]
        while left:
            near = max(left, key=lambda part: sum(meeting(part, own, meetings).cm for own in chunk))
            if _minutes([*chunk, near]) > MOST_RUN_MIN:
                break
            left.remove(near)
            chunk.append(near)
        chunks.append(chunk)
    return chunks


def _laid_in(number: int, chunk: Sequence[Part], is_whole: bool) -> Part:
    areas = [part.area_cm2 for part in chunk]
    weights = [area or 1.0 for area in areas]
    labs = [part.lab for part in chunk if part.lab is not None]
    largest = max(chunk, key=lambda part: part.area_cm2 or 0.0)
    value = _mean([part.photo_value for part in chunk], weights)
    return Part(
        group=number,
        feature="block-in",
        sitter=largest.sitter,
        zone=largest.zone,
        place=f"{largest.sitter} {_mass(largest) if is_whole else largest.place}".strip(),
        photo_value=value,
        lab=(
            _mean([one[0] for one in labs], weights),
            _mean([one[1] for one in labs], weights),
            _mean([one[2] for one in labs], weights),
        )
        if labs
        else None,
        area_cm2=None if None in areas else sum(weights),
        minutes=max(LEAST_MIN, round(_minutes(chunk))),
        brush_mm=max((part.brush_mm for part in chunk if part.brush_mm is not None), default=None),
        shapes=tuple(shape for part in chunk for shape in part.shapes),
    )


def _mean(figures: Sequence[float], weights: Sequence[float]) -> float:
    return sum(figure * weight for figure, weight in zip(figures, weights, strict=True)) / sum(weights)


def big_value_word(photo_value: float) -> str:
    """Return a big value in a word: dark, middle or light."""
    return _VALUE_WORDS[bisect_right(_VALUE_LIMITS, photo_value)]


def _between(below: Mapping[int, int], meetings: Meetings) -> Meetings:
    found: dict[int, dict[int, Meeting]] = {}
    for group, touched in meetings.items():
        for other, edge in touched.items():
            one, two = below[group], below[other]
            if one != two:
                own = found.setdefault(one, {})
                own[two] = own.get(two, Meeting()).plus(edge)
    return found
