"""The features of a portrait and the passages proposed for each: a coarse, a middle and a fine set.

Source:
    Common practice, no source: names, values, minutes, shares and neighbours are ours, a start for the painter to
    change. Values suit a head of middling skin and hair lit from one side. Within a set the runs go from dark to light
    by their darkest passage, and so do the passages of each run.
"""

from typing import Final, NamedTuple

from coach.composition.areas import SHARE_OF_CANVAS_FRAC, SHARE_OF_HEAD_FRAC


class Shape(NamedTuple):
    """A passage as it is proposed.

    Attributes:
        name: Unique in its set.
        value: Munsell value, 0 black to 10 white.
        parts: Its share of the feature's area, in parts of the sum over its set; greater than 0.
        reference_min: Minutes on the reference head, or on the reference canvas for what is not on the head.
        mixture: Name of a mixture that every limited palette has a recipe for.
        beside: Name of the earlier shape of the set whose edge it meets wet; None if it has none.
    """

    name: str
    value: float
    parts: int
    reference_min: int
    mixture: str
    beside: str | None = None


class Feature(NamedTuple):
    """A feature and the passages it may be cut into.

    Attributes:
        name: Name of its pass; the sitter's name stands before it where there are several.
        area_frac: Its share of the head's box, or of the canvas for what is not on the head.
        is_on_head: Whether its size goes with the head; otherwise it goes with the canvas.
        is_for_each_sitter: Whether every sitter has a pass of it.
        coarse: Few large passages.
        middle: As many as most portraits take.
        fine: Many small passages.
    """

    name: str
    area_frac: float
    is_on_head: bool
    is_for_each_sitter: bool
    coarse: tuple[Shape, ...]
    middle: tuple[Shape, ...]
    fine: tuple[Shape, ...]

    def shapes(self, fineness: str) -> tuple[Shape, ...]:
        """Return its set of one of `FINENESSES`."""
        return {"coarse": self.coarse, "middle": self.middle, "fine": self.fine}[fineness]


FINENESSES: Final = ("coarse", "middle", "fine")
"""Names of the sets, from the fewest passages to the most."""

_GLASSES_FRAC: Final = 0.04
_JEWELLERY_FRAC: Final = 0.02
_HANDS_FRAC: Final = 0.50

_EYES: Final = Feature(
    name="eyes",
    area_frac=SHARE_OF_HEAD_FRAC["eye"] + SHARE_OF_HEAD_FRAC["brow"],
    is_on_head=True,
    is_for_each_sitter=True,
    coarse=(
        Shape("lash line", 1, 4, 8, "warm dark"),
        Shape("socket shadow", 2, 48, 16, "deep flesh"),
        Shape("iris", 3, 6, 9, "iris tone"),
        Shape("lids", 5, 42, 14, "half-tone flesh"),
    ),
    middle=(
        Shape("lash line", 1, 3, 7, "warm dark"),
        Shape("socket shadow", 2, 32, 13, "deep flesh"),
        Shape("upper lid", 3, 11, 9, "deep flesh", "socket shadow"),
        Shape("iris", 3, 3, 11, "iris tone"),
        Shape("white of the eye", 6, 5, 8, "eye grey", "iris"),
        Shape("catchlight", 9, 1, 4, "highlight", "iris"),
        Shape("eyebrow", 4, 12, 9, "hair middle"),
        Shape("lower lid", 4, 11, 9, "shadow flesh"),
        Shape("eye pouch", 5, 22, 10, "half-tone flesh", "lower lid"),
    ),
    fine=(
        Shape("lash line", 1, 3, 8, "warm dark"),
        Shape("pupil", 1, 1, 5, "warm dark"),
        Shape("iris", 3, 3, 11, "iris tone", "pupil"),
        Shape("white in shade", 5, 2, 7, "eye grey", "iris"),
        Shape("white in light", 7, 3, 7, "eye grey", "white in shade"),
        Shape("catchlight", 9, 1, 4, "highlight", "iris"),
        Shape("socket shadow", 2, 22, 13, "deep flesh"),
        Shape("fold of the lid", 2, 4, 8, "deep flesh", "socket shadow"),
        Shape("upper lid", 3, 10, 10, "deep flesh", "fold of the lid"),
        Shape("brow shadow", 3, 5, 8, "hair dark"),
        Shape("brow hairs", 4, 7, 8, "hair middle", "brow shadow"),
        Shape("inner corner", 4, 1, 6, "lip dark"),
        Shape("lower lid", 4, 9, 9, "shadow flesh"),
        Shape("eye pouch", 5, 14, 10, "half-tone flesh", "lower lid"),
        Shape("rim of the lid", 6, 2, 6, "rose flesh", "lower lid"),
        Shape("brow bone", 7, 13, 10, "light flesh"),
    ),
)

_NOSE: Final = Feature(
    name="nose",
    area_frac=SHARE_OF_HEAD_FRAC["nose"] + SHARE_OF_HEAD_FRAC["cheek"],
    is_on_head=True,
    is_for_each_sitter=True,
    coarse=(
        Shape("nostrils", 1, 2, 7, "warm dark"),
        Shape("shadow side", 4, 14, 14, "shadow flesh"),
        Shape("far cheek", 5, 38, 16, "half-tone flesh", "shadow side"),
        Shape("lit cheek", 7, 46, 18, "light flesh"),
    ),
    middle=(
        Shape("nostrils", 1, 2, 7, "warm dark"),
        Shape("cast shadow", 3, 6, 9, "deep flesh", "nostrils"),
        Shape("shadow side", 4, 10, 12, "shadow flesh"),
        Shape("far cheek", 5, 33, 18, "half-tone flesh", "shadow side"),
        Shape("nose tip", 6, 6, 10, "rose flesh"),
        Shape("lit cheek", 7, 38, 18, "light flesh", "nose tip"),
        Shape("ridge of the nose", 8, 5, 6, "pale flesh"),
    ),
    fine=(
        Shape("nostrils", 1, 2, 7, "warm dark"),
        Shape("wing of the nose", 3, 3, 8, "deep flesh", "nostrils"),
        Shape("cast shadow", 3, 4, 9, "deep flesh", "nostrils"),
        Shape("shadow side", 4, 8, 12, "shadow flesh"),
        Shape("turn of the cheek", 4, 9, 11, "shadow flesh", "shadow side"),
        Shape("far cheek", 5, 24, 16, "half-tone flesh", "turn of the cheek"),
        Shape("under the cheekbone", 5, 10, 11, "half-tone flesh"),
        Shape("rose of the cheek", 6, 10, 11, "rose flesh", "under the cheekbone"),
        Shape("nose tip", 6, 4, 10, "rose flesh"),
        Shape("lit cheek", 7, 18, 16, "light flesh", "nose tip"),
        Shape("light on the tip", 9, 1, 4, "highlight", "nose tip"),
        Shape("ridge of the nose", 8, 3, 6, "pale flesh"),
        Shape("light on the cheekbone", 8, 4, 7, "pale flesh"),
    ),
)

_MOUTH: Final = Feature(
    name="mouth",
    area_frac=SHARE_OF_HEAD_FRAC["mouth"] + SHARE_OF_HEAD_FRAC["chin"],
    is_on_head=True,
    is_for_each_sitter=True,
    coarse=(
        Shape("lip line", 2, 4, 8, "warm dark"),
        Shape("lips", 5, 28, 14, "lip rose", "lip line"),
        Shape("jaw shadow", 3, 36, 13, "deep flesh"),
        Shape("chin", 7, 32, 12, "light flesh"),
    ),
    middle=(
        Shape("lip line", 2, 4, 8, "warm dark"),
        Shape("upper lip", 4, 13, 10, "lip dark", "lip line"),
        Shape("lower lip", 5, 15, 11, "lip rose", "lip line"),
        Shape("jaw shadow", 3, 30, 14, "deep flesh"),
        Shape("under the lip", 4, 10, 9, "shadow flesh", "jaw shadow"),
        Shape("chin", 7, 28, 12, "light flesh"),
    ),
    fine=(
        Shape("lip line", 2, 3, 8, "warm dark"),
        Shape("corners of the mouth", 2, 2, 6, "warm dark", "lip line"),
        Shape("upper lip", 4, 12, 10, "lip dark", "lip line"),
        Shape("lower lip", 5, 11, 10, "lip rose", "lip line"),
        Shape("light on the lip", 6, 2, 5, "rose flesh", "lower lip"),
        Shape("jaw shadow", 3, 24, 14, "deep flesh"),
        Shape("under the lip", 4, 8, 9, "shadow flesh", "jaw shadow"),
        Shape("jaw", 5, 14, 10, "half-tone flesh", "jaw shadow"),
        Shape("groove above the lip", 5, 4, 7, "half-tone flesh"),
        Shape("above the lip", 6, 6, 8, "rose flesh", "groove above the lip"),
        Shape("chin", 7, 12, 10, "light flesh"),
        Shape("light on the chin", 8, 2, 5, "pale flesh", "chin"),
    ),
)

_EARS: Final = Feature(
    name="ears",
    area_frac=SHARE_OF_HEAD_FRAC["ear"] + SHARE_OF_HEAD_FRAC["neck"],
    is_on_head=True,
    is_for_each_sitter=True,
    coarse=(
        Shape("neck shadow", 3, 54, 14, "deep flesh"),
        Shape("neck light", 5, 28, 10, "half-tone flesh", "neck shadow"),
        Shape("ear", 6, 18, 9, "rose flesh"),
    ),
    middle=(
        Shape("ear hollow", 2, 4, 7, "warm dark"),
        Shape("shaded rim", 4, 7, 8, "shadow flesh", "ear hollow"),
        Shape("neck shadow", 3, 53, 14, "deep flesh"),
        Shape("neck light", 5, 28, 11, "half-tone flesh", "neck shadow"),
        Shape("lit rim", 6, 8, 8, "rose flesh"),
    ),
    fine=(
        Shape("ear hollow", 2, 4, 7, "warm dark"),
        Shape("shaded rim", 4, 5, 8, "shadow flesh", "ear hollow"),
        Shape("behind the ear", 3, 5, 7, "deep flesh"),
        Shape("neck shadow", 3, 46, 13, "deep flesh"),
        Shape("cord of the neck", 5, 15, 10, "half-tone flesh", "neck shadow"),
        Shape("collar bone", 6, 15, 9, "rose flesh", "cord of the neck"),
        Shape("lit rim", 6, 5, 8, "rose flesh"),
        Shape("ear lobe", 6, 4, 6, "rose flesh", "lit rim"),
        Shape("light on the rim", 8, 1, 4, "pale flesh", "lit rim"),
    ),
)

_HAIR: Final = Feature(
    name="hair",
    area_frac=SHARE_OF_HEAD_FRAC["hair"] + SHARE_OF_HEAD_FRAC["forehead"],
    is_on_head=True,
    is_for_each_sitter=True,
    coarse=(
        Shape("hair shadow", 2, 35, 14, "hair dark"),
        Shape("hair mass", 4, 35, 14, "hair middle", "hair shadow"),
        Shape("forehead", 7, 30, 15, "light flesh"),
    ),
    middle=(
        Shape("hair shadow", 2, 28, 15, "hair dark"),
        Shape("hair mass", 4, 30, 14, "hair middle", "hair shadow"),
        Shape("hair line", 4, 6, 8, "hair middle"),
        Shape("far forehead", 5, 13, 12, "half-tone flesh", "hair line"),
        Shape("hair lights", 6, 6, 8, "hair light"),
        Shape("lit forehead", 7, 17, 16, "light flesh"),
    ),
    fine=(
        Shape("hair shadow", 2, 22, 14, "hair dark"),
        Shape("strands in shadow", 3, 9, 10, "hair dark", "hair shadow"),
        Shape("hair mass", 4, 22, 13, "hair middle", "strands in shadow"),
        Shape("hair lights", 6, 7, 9, "hair light", "hair mass"),
        Shape("hair line", 4, 6, 9, "hair middle"),
        Shape("far forehead", 5, 10, 12, "half-tone flesh", "hair line"),
        Shape("temple", 5, 5, 9, "half-tone flesh"),
        Shape("loose strands", 6, 3, 7, "hair light"),
        Shape("lit forehead", 7, 12, 15, "light flesh"),
        Shape("light on the forehead", 8, 4, 7, "pale flesh", "lit forehead"),
    ),
)

_BEARD: Final = Feature(
    name="beard",
    area_frac=SHARE_OF_HEAD_FRAC["beard"],
    is_on_head=True,
    is_for_each_sitter=True,
    coarse=(
        Shape("beard shadow", 2, 55, 11, "hair dark"),
        Shape("beard mass", 4, 45, 9, "hair middle", "beard shadow"),
    ),
    middle=(
        Shape("beard shadow", 2, 40, 11, "hair dark"),
        Shape("beard mass", 4, 40, 11, "hair middle", "beard shadow"),
        Shape("beard edge", 5, 12, 8, "half-tone flesh"),
        Shape("beard lights", 6, 8, 7, "hair light"),
    ),
    fine=(
        Shape("beard shadow", 2, 30, 11, "hair dark"),
        Shape("beard mass", 4, 28, 11, "hair middle", "beard shadow"),
        Shape("moustache shadow", 2, 10, 8, "hair dark"),
        Shape("moustache", 4, 14, 9, "hair middle", "moustache shadow"),
        Shape("beard edge", 5, 10, 8, "half-tone flesh"),
        Shape("beard lights", 6, 6, 7, "hair light"),
        Shape("loose hairs", 6, 2, 6, "hair light"),
    ),
)

_GLASSES: Final = Feature(
    name="glasses",
    area_frac=_GLASSES_FRAC,
    is_on_head=True,
    is_for_each_sitter=True,
    coarse=(
        Shape("frame", 2, 85, 10, "metal dark"),
        Shape("glints", 9, 15, 5, "highlight"),
    ),
    middle=(
        Shape("frame", 2, 45, 12, "metal dark"),
        Shape("shadow of the frame", 3, 30, 8, "deep flesh", "frame"),
        Shape("edge of the lens", 6, 20, 7, "eye grey"),
        Shape("glints", 9, 5, 4, "highlight"),
    ),
    fine=(
        Shape("frame", 2, 35, 12, "metal dark"),
        Shape("light on the frame", 6, 8, 7, "metal light", "frame"),
        Shape("shadow of the frame", 3, 25, 8, "deep flesh"),
        Shape("edge of the lens", 6, 12, 7, "eye grey"),
        Shape("light in the lens", 7, 15, 7, "eye grey", "edge of the lens"),
        Shape("glints", 9, 5, 5, "highlight"),
    ),
)

_HANDS: Final = Feature(
    name="hands",
    area_frac=_HANDS_FRAC,
    is_on_head=True,
    is_for_each_sitter=True,
    coarse=(
        Shape("hand shadow", 4, 40, 14, "shadow flesh"),
        Shape("back of the hand", 6, 60, 16, "rose flesh", "hand shadow"),
    ),
    middle=(
        Shape("between the fingers", 2, 4, 9, "warm dark"),
        Shape("hand shadow", 4, 30, 15, "shadow flesh", "between the fingers"),
        Shape("knuckles", 5, 14, 10, "half-tone flesh"),
        Shape("back of the hand", 6, 40, 15, "rose flesh", "knuckles"),
        Shape("light on the fingers", 7, 12, 9, "light flesh"),
    ),
    fine=(
        Shape("between the fingers", 2, 4, 9, "warm dark"),
        Shape("hand shadow", 4, 24, 14, "shadow flesh", "between the fingers"),
        Shape("wrist", 4, 10, 9, "shadow flesh"),
        Shape("knuckles", 5, 10, 10, "half-tone flesh"),
        Shape("back of the hand", 6, 28, 14, "rose flesh", "knuckles"),
        Shape("veins", 5, 3, 7, "half-tone flesh"),
        Shape("fingers", 6, 12, 11, "rose flesh"),
        Shape("nails", 7, 2, 7, "light flesh", "fingers"),
        Shape("light on the fingers", 7, 7, 8, "light flesh"),
    ),
)

_JEWELLERY: Final = Feature(
    name="jewellery",
    area_frac=_JEWELLERY_FRAC,
    is_on_head=True,
    is_for_each_sitter=True,
    coarse=(
        Shape("metal shadow", 3, 60, 8, "metal dark"),
        Shape("metal light", 6, 40, 7, "metal light", "metal shadow"),
    ),
    middle=(
        Shape("shadow on the skin", 3, 35, 7, "deep flesh"),
        Shape("metal shadow", 3, 30, 9, "metal dark"),
        Shape("metal light", 6, 30, 8, "metal light", "metal shadow"),
        Shape("glint", 9, 5, 4, "highlight", "metal light"),
    ),
    fine=(
        Shape("setting", 2, 12, 8, "metal dark"),
        Shape("metal shadow", 3, 22, 9, "metal dark", "setting"),
        Shape("metal light", 6, 26, 8, "metal light", "metal shadow"),
        Shape("glint", 9, 5, 4, "highlight", "metal light"),
        Shape("shadow on the skin", 3, 30, 7, "deep flesh"),
        Shape("light from below", 6, 5, 6, "metal light"),
    ),
)

_CLOTHING: Final = Feature(
    name="clothing",
    area_frac=SHARE_OF_CANVAS_FRAC["cloth"],
    is_on_head=False,
    is_for_each_sitter=True,
    coarse=(
        Shape("cloth shadow", 2, 45, 20, "cloth dark"),
        Shape("cloth light", 4, 55, 24, "cloth middle", "cloth shadow"),
    ),
    middle=(
        Shape("deep folds", 1, 8, 12, "cloth dark"),
        Shape("cloth shadow", 2, 35, 20, "cloth dark", "deep folds"),
        Shape("cloth light", 4, 46, 24, "cloth middle"),
        Shape("collar shadow", 6, 4, 9, "eye grey"),
        Shape("collar", 8, 7, 11, "linen", "collar shadow"),
    ),
    fine=(
        Shape("deep folds", 1, 8, 13, "cloth dark"),
        Shape("cloth shadow", 2, 25, 18, "cloth dark", "deep folds"),
        Shape("reflected light", 3, 7, 10, "cloth dark", "cloth shadow"),
        Shape("seams", 2, 1, 9, "cloth dark"),
        Shape("cloth half-tone", 4, 26, 20, "cloth middle"),
        Shape("cloth light", 5, 18, 18, "cloth light", "cloth half-tone"),
        Shape("lights on the folds", 6, 5, 10, "cloth light"),
        Shape("collar shadow", 6, 3, 9, "eye grey"),
        Shape("collar", 8, 6, 11, "linen", "collar shadow"),
        Shape("collar edge", 9, 1, 5, "linen", "collar"),
    ),
)

_GROUND: Final = Feature(
    name="ground",
    area_frac=SHARE_OF_CANVAS_FRAC["ground"],
    is_on_head=False,
    is_for_each_sitter=False,
    coarse=(
        Shape("ground shadow", 3, 50, 20, "ground dark"),
        Shape("ground light", 5, 50, 20, "ground middle", "ground shadow"),
    ),
    middle=(
        Shape("ground shadow", 3, 40, 22, "ground dark"),
        Shape("ground at head", 5, 33, 24, "ground middle"),
        Shape("edge of the hair", 5, 3, 9, "ground middle", "ground at head"),
        Shape("ground light", 6, 24, 20, "ground light"),
    ),
    fine=(
        Shape("ground corner", 3, 15, 16, "ground dark"),
        Shape("ground shadow", 3, 25, 20, "ground dark", "ground corner"),
        Shape("ground at head", 5, 25, 22, "ground middle"),
        Shape("edge of the hair", 5, 3, 10, "ground middle", "ground at head"),
        Shape("edge of the shoulder", 5, 3, 10, "ground middle", "ground at head"),
        Shape("ground light", 6, 20, 18, "ground light"),
        Shape("ground at the cheek", 6, 9, 12, "ground light", "ground light"),
    ),
)

FEATURES: Final = (
    _EYES,
    _NOSE,
    _MOUTH,
    _EARS,
    _HAIR,
    _BEARD,
    _GLASSES,
    _HANDS,
    _JEWELLERY,
    _CLOTHING,
    _GROUND,
)
"""Every feature, in the order in which the passes are proposed.

The cheeks go with the nose, the chin with the mouth, the neck with the ears, the forehead with the hair, so that the
flesh is covered once. Shares not in the table of shares are ours, no other: hands are two, partly covered (a mean
hand's length times breadth is 0.47 of a mean head's box; ANSUR II, derived).
"""

USUAL_FEATURES: Final = ("eyes", "nose", "mouth", "ears", "hair", "clothing", "ground")
"""Names of the features that every portrait has."""

FEATURE_NAMED: Final = {feature.name: feature for feature in FEATURES}
"""Every feature by its name."""
