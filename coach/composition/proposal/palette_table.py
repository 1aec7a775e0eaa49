"""Limited palettes, and a recipe from each for every mixture that the features name.

Source:
    Common practice, no source: starting piles, to be corrected by eye. Colour index names from memory. None of the
    paints holds lead, cadmium or cobalt.
"""

from collections.abc import Sequence
from typing import Final, NamedTuple

from coach.plan.commission import Mixture, Paint


class LimitedPalette(NamedTuple):
    """A set of paints by name.

    Attributes:
        name: What the painter calls it.
        holds: What is on it, in words.
        paints: Its paints, light to dark.
        recipes: Its mixtures.
    """

    name: str
    holds: str
    paints: tuple[Paint, ...]
    recipes: tuple[Mixture, ...]


_INDEX_NAME: Final = {
    "titanium white": "PW6",
    "yellow ochre": "PY43",
    "red oxide": "PR101",
    "quinacridone rose": "PV19",
    "burnt sienna": "PBr7",
    "raw umber": "PBr7",
    "burnt umber": "PBr7",
    "viridian": "PG18",
    "ultramarine blue": "PB29",
    "ivory black": "PBk9",
}


def _paints(*names: str) -> tuple[Paint, ...]:
    return tuple(Paint(name=name, pigment=_INDEX_NAME[name]) for name in names)


def _mix(name: str, **parts: int) -> Mixture:
    return Mixture(name=name, parts=tuple((paint.replace("_", " "), count) for paint, count in parts.items()))


_FOUR: Final = LimitedPalette(
    name="four colours",
    holds="white, ochre, red, black",
    paints=_paints("titanium white", "yellow ochre", "red oxide", "ivory black"),
    recipes=(
        _mix("warm dark", ivory_black=3, red_oxide=2),
        _mix("deep flesh", red_oxide=3, yellow_ochre=3, ivory_black=2),
        _mix("shadow flesh", yellow_ochre=3, red_oxide=2, titanium_white=2, ivory_black=1),
        _mix("half-tone flesh", titanium_white=7, yellow_ochre=3, red_oxide=2, ivory_black=1),
        _mix("rose flesh", titanium_white=9, yellow_ochre=2, red_oxide=2),
        _mix("light flesh", titanium_white=12, yellow_ochre=2, red_oxide=1),
        _mix("pale flesh", titanium_white=24, yellow_ochre=2, red_oxide=1),
        _mix("highlight", titanium_white=30, yellow_ochre=1),
        _mix("eye grey", titanium_white=9, ivory_black=1, yellow_ochre=1),
        _mix("iris tone", ivory_black=2, yellow_ochre=1, titanium_white=1),
        _mix("lip dark", red_oxide=4, titanium_white=2, ivory_black=1),
        _mix("lip rose", titanium_white=4, red_oxide=3, yellow_ochre=1),
        _mix("hair dark", ivory_black=3, red_oxide=1, yellow_ochre=1),
        _mix("hair middle", ivory_black=2, yellow_ochre=2, titanium_white=2, red_oxide=1),
        _mix("hair light", titanium_white=5, yellow_ochre=3, ivory_black=1),
        _mix("cloth dark", ivory_black=6, titanium_white=1),
        _mix("cloth middle", titanium_white=3, ivory_black=2),
        _mix("cloth light", titanium_white=5, ivory_black=1),
        _mix("linen", titanium_white=20, yellow_ochre=1, ivory_black=1),
        _mix("metal dark", ivory_black=3, yellow_ochre=2),
        _mix("metal light", titanium_white=6, yellow_ochre=3),
        _mix("ground dark", ivory_black=3, titanium_white=2, yellow_ochre=2, red_oxide=1),
        _mix("ground middle", titanium_white=5, ivory_black=2, yellow_ochre=2),
        _mix("ground light", titanium_white=8, yellow_ochre=2, ivory_black=1),
    ),
)

_EARTHS: Final = LimitedPalette(
    name="earths",
    holds="white, ochre, red oxide, burnt sienna, both umbers, black",
    paints=_paints(
        "titanium white", "yellow ochre", "red oxide", "burnt sienna", "raw umber", "burnt umber", "ivory black"
    ),
    recipes=(
        _mix("warm dark", burnt_umber=3, ivory_black=2),
        _mix("deep flesh", burnt_umber=3, red_oxide=1, yellow_ochre=1),
        _mix("shadow flesh", titanium_white=3, burnt_sienna=3, raw_umber=2, yellow_ochre=1),
        _mix("half-tone flesh", titanium_white=7, yellow_ochre=2, red_oxide=1, raw_umber=1),
        _mix("rose flesh", titanium_white=9, yellow_ochre=2, red_oxide=2),
        _mix("light flesh", titanium_white=12, yellow_ochre=2, red_oxide=1),
        _mix("pale flesh", titanium_white=24, yellow_ochre=2, red_oxide=1),
        _mix("highlight", titanium_white=30, yellow_ochre=1),
        _mix("eye grey", titanium_white=9, ivory_black=1, raw_umber=1),
        _mix("iris tone", raw_umber=3, ivory_black=1, titanium_white=1),
        _mix("lip dark", red_oxide=3, titanium_white=2, burnt_umber=1),
        _mix("lip rose", titanium_white=4, red_oxide=3, yellow_ochre=1),
        _mix("hair dark", raw_umber=3, ivory_black=2),
        _mix("hair middle", raw_umber=3, titanium_white=2, burnt_sienna=1),
        _mix("hair light", titanium_white=5, yellow_ochre=3, raw_umber=1),
        _mix("cloth dark", ivory_black=5, raw_umber=2),
        _mix("cloth middle", titanium_white=3, ivory_black=2, raw_umber=1),
        _mix("cloth light", titanium_white=6, ivory_black=1, raw_umber=1),
        _mix("linen", titanium_white=20, yellow_ochre=1, ivory_black=1),
        _mix("metal dark", burnt_umber=2, yellow_ochre=2, ivory_black=1),
        _mix("metal light", titanium_white=6, yellow_ochre=3),
        _mix("ground dark", raw_umber=4, titanium_white=2, ivory_black=1),
        _mix("ground middle", titanium_white=5, raw_umber=3, yellow_ochre=1),
        _mix("ground light", titanium_white=9, raw_umber=2, yellow_ochre=1),
    ),
)

_BROAD: Final = LimitedPalette(
    name="broad",
    holds="white, the earths, rose, viridian, ultramarine, black",
    paints=_paints(*_INDEX_NAME),
    recipes=(
        _mix("warm dark", burnt_umber=3, ultramarine_blue=2),
        _mix("deep flesh", burnt_umber=3, red_oxide=1, yellow_ochre=1),
        _mix("shadow flesh", titanium_white=3, burnt_sienna=3, yellow_ochre=2, ultramarine_blue=1),
        _mix("half-tone flesh", titanium_white=7, yellow_ochre=3, burnt_sienna=2, viridian=1),
        _mix("rose flesh", titanium_white=9, yellow_ochre=2, quinacridone_rose=1, red_oxide=1),
        _mix("light flesh", titanium_white=12, yellow_ochre=2, red_oxide=1),
        _mix("pale flesh", titanium_white=24, yellow_ochre=2, quinacridone_rose=1),
        _mix("highlight", titanium_white=30, yellow_ochre=1),
        _mix("eye grey", titanium_white=9, ivory_black=1, raw_umber=1),
        _mix("iris tone", ultramarine_blue=2, raw_umber=2, titanium_white=1),
        _mix("lip dark", red_oxide=3, quinacridone_rose=2, titanium_white=2, burnt_umber=1),
        _mix("lip rose", titanium_white=4, quinacridone_rose=2, red_oxide=2),
        _mix("hair dark", burnt_umber=3, ivory_black=2, ultramarine_blue=1),
        _mix("hair middle", burnt_umber=3, titanium_white=2, burnt_sienna=1, yellow_ochre=1),
        _mix("hair light", titanium_white=5, yellow_ochre=3, raw_umber=1),
        _mix("cloth dark", ultramarine_blue=3, ivory_black=2, burnt_umber=1),
        _mix("cloth middle", ultramarine_blue=4, titanium_white=3, raw_umber=1),
        _mix("cloth light", titanium_white=6, ultramarine_blue=2, raw_umber=1),
        _mix("linen", titanium_white=20, yellow_ochre=1, ivory_black=1),
        _mix("metal dark", burnt_umber=2, yellow_ochre=2, ivory_black=1),
        _mix("metal light", titanium_white=6, yellow_ochre=3),
        _mix("ground dark", burnt_umber=3, titanium_white=2, ultramarine_blue=1),
        _mix("ground middle", titanium_white=6, burnt_umber=2, ultramarine_blue=1, yellow_ochre=1),
        _mix("ground light", titanium_white=9, raw_umber=2, ultramarine_blue=1),
    ),
)

PALETTES: Final = (_FOUR, _EARTHS, _BROAD)
"""Every limited palette, the fewest paints first."""

PALETTE_NAMED: Final = {palette.name: palette for palette in PALETTES}
"""Every limited palette by its name."""


def palette_holding(paints: Sequence[Paint]) -> LimitedPalette:
    """Return some paints as a palette, with those recipes of the others that need no paint beside them."""
    own = {paint.name for paint in paints}
    recipes: dict[str, Mixture] = {}
    for recipe in (one for palette in PALETTES for one in palette.recipes):
        if {paint for paint, _ in recipe.parts} <= own:
            recipes.setdefault(recipe.name, recipe)
    return LimitedPalette(name="own", holds="", paints=tuple(paints), recipes=tuple(recipes.values()))
