"""The mixtures of a plan that is made from a photo: the colours of its passages gathered into few piles."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import atan2, degrees, hypot, inf
from typing import Final

from coach.colour.light import lightness_of, luminance_at
from coach.composition.proposal.block_in import big_value_word, lean_mixture
from coach.composition.proposal.feature_table import FEATURES, FINENESSES
from coach.composition.proposal.palette_table import LimitedPalette
from coach.composition.proposal.parts import Part, Zone
from coach.plan.commission import Mixture
from coach.plan.value_range import ValueRange
from coach.shapes.words import hue_word, value_word

Lab = tuple[float, float, float]
"""A colour in CIELAB under D65."""

LEAST_PILES: Final = 8
MOST_PILES: Final = 14
"""So many mixtures are proposed for a portrait, those of the block-in among them. Source: ours, no other."""

_WORST_DE: Final = 8.0
"""More piles are taken while a passage lies farther than this from its pile (CIEDE2000). Source: ours, no other."""

_RECIPE_REACH: Final = 1.0
"""A recipe of the palette serves a pile so many steps of value away. Source: ours, no other."""

_HUES: Final = {Zone.FLESH: (30.0, 90.0), Zone.HAIR: (30.0, 105.0)}
_LEAST_CHROMA, _GREYEST = 6.0, 12.0
"""The recipes are for flesh and hair of these hues, in degrees, and no greyer; for cloth and ground that are. Ours."""

_NOUNS: Final = {
    Zone.FLESH: "flesh",
    Zone.HAIR: "hair",
    Zone.OBJECT: "object",
    Zone.CLOTHING: "cloth",
    Zone.GROUND: "ground",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposedPile:
    """A mixture that is proposed.

    Attributes:
        mixture: Its name, parts and oil; without parts where no recipe of the palette is known for its colour.
        lab: What it is mixed to, CIELAB under D65, in the values that paint reaches.
        passages: How many passages are painted from it.
        spread_mean: How far their colours lie from it on average, CIEDE2000.
        spread_worst: How far the farthest lies.
    """

    mixture: Mixture
    lab: tuple[float, float, float]
    passages: int
    spread_mean: float
    spread_worst: float


def painted_lab(lab: Lab, photo_value: float, values: ValueRange) -> Lab:
    """Return a colour of the photo in paint: its own hue and chroma, its value fitted into what paint reaches."""
    return (float(lightness_of(luminance_at(values.paint_value(photo_value)))), lab[1], lab[2])


class PileMaker:
    """Gathers the colours of parts into piles.

    Attributes:
        piles: What was gathered so far, each stage from dark to light.
    """

    def __init__(self, values: ValueRange, palette: LimitedPalette) -> None:
        """Gather nothing yet; recipes are those of the palette."""
        self.piles: list[ProposedPile] = []
        self._values, self._palette = values, palette

    def block_in(self, parts: Sequence[Part]) -> list[Part]:
        """Return the parts of a block-in, each with the lean mixture of its big value."""
        words = [big_value_word(part.photo_value) for part in parts]
        return self._gathered(parts, words, lambda members, _: lean_mixture(members[0].photo_value, self._palette))

    def finish(self, parts: Sequence[Part]) -> list[Part]:
        """Return the parts of the features, each with the mixture of its cluster."""
        fewest, most = LEAST_PILES - len(self.piles), MOST_PILES - len(self.piles)
        return self._gathered(parts, clusters(self._labs(parts), fewest, most), self._mixture)

    def _labs(self, parts: Sequence[Part]) -> list[Lab]:
        return [painted_lab(part.lab, part.photo_value, self._values) for part in parts if part.lab is not None]

    def _gathered(
        self, parts: Sequence[Part], kinds: Sequence[object], mixture_for: Callable[[Sequence[Part], Lab], Mixture]
    ) -> list[Part]:
        """Return the parts with a mixture for those of each kind, made from dark to light."""
        labs, gathered = self._labs(parts), dict[object, list[int]]()
        for number, kind in enumerate(kinds):
            gathered.setdefault(kind, []).append(number)
        found = list(parts)
        for members in sorted(gathered.values(), key=lambda own: (_mean_lab(labs, parts, own), own)):
            lab = _mean_lab(labs, parts, members)
            mixture = mixture_for([parts[number] for number in members], lab)
            apart = differences(lab, [labs[number] for number in members])
            self.piles.append(
                ProposedPile(
                    mixture=mixture,
                    lab=lab,
                    passages=len(members),
                    spread_mean=round(sum(apart) / len(apart), 1),
                    spread_worst=round(max(apart), 1),
                )
            )
            for number in members:
                found[number] = replace(parts[number], mixture=mixture.name)
        return found

    def _mixture(self, members: Sequence[Part], lab: Lab) -> Mixture:
        """Return the mixture for some parts, with a name that none has."""
        zone = Counter(part.zone for part in members).most_common(1)[0][0]
        photo_value = sum(part.photo_value for part in members) / len(members)
        recipe = _recipe(zone, lab, self._values.paint_value(photo_value), self._palette)
        word, noun = value_word(photo_value), _NOUNS[zone]
        wanted = [f"{word} {noun}", f"{word} {hue_word(lab)} {noun}"]
        if recipe is not None:
            wanted.insert(0, recipe.name)
        wanted += [f"{wanted[-1]} {number}" for number in range(2, MOST_PILES + 1)]
        taken = {pile.mixture.name for pile in self.piles}
        name = next(name for name in wanted if name not in taken)
        return Mixture(name=name, parts=recipe.parts if recipe else (), oil="middle")


def clusters(labs: Sequence[Lab], least: int, most: int) -> list[int]:
    """Return for each colour the number of its cluster: the fewest, from `least` to `most`, that are narrow enough."""
    import numpy as np  # noqa: PLC0415  loaded when a plan is made from a photo
    from scipy.cluster.hierarchy import fcluster, linkage  # noqa: PLC0415

    if len(labs) <= max(1, least):
        return list(range(len(labs)))
    tree = linkage(np.array(labs), method="ward")
    for count in range(max(1, least), most + 1):
        found: list[int] = fcluster(tree, count, criterion="maxclust").tolist()
        if max(_worst(labs, found)) <= _WORST_DE:
            break
    return found


def _worst(labs: Sequence[Lab], found: Sequence[int]) -> Iterator[float]:
    for cluster in sorted(set(found)):
        own = [lab for lab, one in zip(labs, found, strict=True) if one == cluster]
        mean = tuple(sum(axis) / len(own) for axis in zip(*own, strict=True))
        yield max(differences((mean[0], mean[1], mean[2]), own))


def differences(lab: Lab, others: Sequence[Lab]) -> list[float]:
    """Return the CIEDE2000 differences of colours from one."""
    import numpy as np  # noqa: PLC0415  loaded when a plan is made from a photo
    from skimage.color import deltaE_ciede2000  # noqa: PLC0415

    apart: list[float] = deltaE_ciede2000(np.full((len(others), 3), lab), others).tolist()  # type: ignore[no-untyped-call]
    return apart


def _mean_lab(labs: Sequence[Lab], parts: Sequence[Part], members: Sequence[int]) -> Lab:
    """Return the mean colour of some parts by area, to the tenth."""
    areas = [parts[number].area_cm2 or 1.0 for number in members]
    lightness, a, b = (
        round(sum(labs[number][axis] * area for number, area in zip(members, areas, strict=True)) / sum(areas), 1)
        for axis in range(3)
    )
    return (lightness, a, b)


def _recipe(zone: Zone, lab: Lab, value: float, palette: LimitedPalette) -> Mixture | None:
    """Return the palette's recipe for such a colour of flesh, hair, cloth or ground; None where it has none."""
    chroma, hue = hypot(lab[1], lab[2]), degrees(atan2(lab[2], lab[1])) % 360
    lowest, highest = _HUES.get(zone, (0.0, 0.0))
    is_warm = lowest <= hue <= highest and chroma >= _LEAST_CHROMA
    if not (is_warm if zone in _HUES else chroma <= _GREYEST):
        return None
    at_value = _RECIPE_VALUES[zone]
    near = [(abs(at_value[one.name] - value), one) for one in palette.recipes if one.name in at_value]
    off, recipe = min(near, key=lambda own: own[0], default=(inf, None))
    return recipe if off <= _RECIPE_REACH else None


def _recipe_values() -> dict[Zone, dict[str, float]]:
    """Return for each mass the recipes that serve it, each with the mean value of the usual shapes painted from it."""
    of: dict[str, list[float]] = {}
    for feature in FEATURES:
        for fineness in FINENESSES:
            for shape in feature.shapes(fineness):
                of.setdefault(shape.mixture, []).append(shape.value)
    return {
        zone: {name: sum(values) / len(values) for name, values in of.items() if name in names}
        for zone, names in _RECIPES.items()
    }


_RECIPES: Final = {
    Zone.FLESH: ("deep flesh", "shadow flesh", "half-tone flesh", "light flesh", "pale flesh", "warm dark"),
    Zone.HAIR: ("hair dark", "hair middle", "hair light"),
    Zone.OBJECT: ("cloth dark", "cloth middle", "cloth light"),
    Zone.CLOTHING: ("cloth dark", "cloth middle", "cloth light", "linen"),
    Zone.GROUND: ("ground dark", "ground middle", "ground light"),
}
"""Which recipes of the palettes are for which mass."""

_RECIPE_VALUES: Final = _recipe_values()
