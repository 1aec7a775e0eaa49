"""Names of shapes in a painter's words: the place first, then the value; hue and rank only where two would be alike."""

import math
from collections.abc import Collection, Sequence
from itertools import chain, count
from typing import Final

from coach.shapes.features import Feature, HeadBox
from coach.shapes.words import RANKS, hue_word, told_apart, value_word

ToName = tuple[Feature, tuple[float, float, float], float, float, float]
"""Feature, Lab, value, and the column and row of the middle of a shape."""

_FACE_PLACES: Final = (
    ("forehead", 0.12, 0.0, 0.88, 0.36),
    ("bridge", 0.40, 0.36, 0.60, 0.54),
    ("temple", 0.0, 0.20, 1.0, 0.46),
    ("above the lip", 0.34, 0.70, 0.66, 0.79),
    ("chin", 0.30, 0.86, 0.70, 1.05),
    ("cheek", 0.0, 0.44, 1.0, 0.76),
    ("jaw", 0.0, 0.74, 1.0, 1.10),
)
"""Name, left, top, right and bottom in parts of the head box; the first that holds the middle of a shape names it."""

_SIDED: Final = frozenset({"temple", "cheek", "jaw", "eye", "ear", "socket"})
_MIDDLE: Final = (0.42, 0.58)


def names_of(shapes: Sequence[ToName], heads: Sequence[HeadBox]) -> list[str]:
    """Return a name for each shape, all different; left and right are the viewer's.

    A place has at most 18 letters. With several heads the sitter's name stands in front.
    """
    places = [_place(shape, heads, shapes) for shape in shapes]
    names = [f"{place}, {value_word(shape[2])}" for place, shape in zip(places, shapes, strict=True)]
    return told_apart(names, [shape[1] for shape in shapes])


def free_name(shape: ToName, siblings: Sequence[ToName], heads: Sequence[HeadBox], taken: Collection[str]) -> str:
    """Return a name for a new shape that is not taken: place and value, then the hue, then a rank.

    Args:
        shape: The new shape.
        siblings: The other shapes of its feature; only where they lie counts.
        heads: The heads, one at least.
        taken: The names of all other shapes.
    """
    name = f"{_place(shape, heads, [shape, *siblings])}, {value_word(shape[2])}"
    hue = f"{name} {hue_word(shape[1])}"
    ranks = chain(RANKS[1:], map(str, count(len(RANKS) + 1)))
    return next(one for one in chain((name, hue), (f"{hue}, {rank}" for rank in ranks)) if one not in taken)


def _place(shape: ToName, heads: Sequence[HeadBox], shapes: Sequence[ToName]) -> str:
    feature, _, _, x, y = shape
    head = min(heads, key=lambda one: math.hypot(x - (one.left + one.right) / 2, y - (one.top + one.bottom) / 2))
    across, down = (x - head.left) / (head.right - head.left), (y - head.top) / (head.bottom - head.top)
    side = _side(across)
    if feature is Feature.FACE:
        return _in_face(across, down, side)
    if feature is Feature.HAIR:
        return "crown" if down < 0.12 else f"hair {side}".strip() if side else "fringe"  # noqa: PLR2004
    if feature in (Feature.EYES, Feature.EARS):
        return f"{feature.value.removesuffix('s')} {side or 'left'}"
    if feature is Feature.MOUTH:
        return "upper lip" if down < 0.825 else "lower lip"  # noqa: PLR2004
    if feature is Feature.NOSE:
        return "nose"
    return _in_thirds(feature, x, y, shapes)


def _in_face(across: float, down: float, side: str) -> str:
    for name, left, top, right, bottom in _FACE_PLACES:
        if left <= across <= right and top <= down <= bottom:
            return f"{name} {side}".strip() if name in _SIDED else name
    return f"face {side}".strip()


def _side(across: float) -> str:
    least, most = _MIDDLE
    return "left" if across < least else "right" if across > most else ""


def _in_thirds(feature: Feature, x: float, y: float, shapes: Sequence[ToName]) -> str:
    own = [(one[3], one[4]) for one in shapes if one[0] is feature]
    words = []
    for at, words_of, values in (
        (y, ("upper", "", "lower"), [v for _, v in own]),
        (x, ("left", "", "right"), [v for v, _ in own]),
    ):
        low, high = min(values), max(values)
        third = 1 if high == low else min(2, int(3 * (at - low) / (high - low)))
        words.append(words_of[third])
    return " ".join(word for word in (words[0], feature.value, words[1]) if word)
