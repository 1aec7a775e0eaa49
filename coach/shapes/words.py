"""Values and hues in a painter's words, and names that differ by them."""

import math
from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from typing import Final

VALUE_WORDS: Final = ("darkest", "dark", "half-dark", "middle", "half-light", "light", "lightest")
VALUE_LIMITS: Final = (1.5, 3.5, 5.0, 6.3, 7.6, 8.8)
"""From which value on the next word is used; ours."""

_HUES: Final = (
    (25, "red"),
    (65, "orange"),
    (105, "yellow"),
    (190, "green"),
    (285, "blue"),
    (335, "violet"),
    (361, "red"),
)
"""Up to which hue angle in Lab, in degrees, a word is used; ours."""

_GREY_CHROMA: Final = 8.0
RANKS: Final = ("", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")


def value_word(value: float) -> str:
    """Return a value, 0 to 10, in a word."""
    return VALUE_WORDS[bisect_right(VALUE_LIMITS, value)]


def hue_word(lab: tuple[float, float, float]) -> str:
    """Return the hue of a colour in a word; "grey" where it has none to speak of."""
    _, a, b = lab
    if math.hypot(a, b) < _GREY_CHROMA:
        return "grey"
    angle = math.degrees(math.atan2(b, a)) % 360
    return next(word for most, word in _HUES if angle < most)


def told_apart(names: Sequence[str], labs: Sequence[tuple[float, float, float] | None]) -> list[str]:
    """Return names that all differ: those that are alike get the hue of their Lab, where one is known, then a rank."""
    counts, seen = Counter(names), Counter[str]()
    hues = [
        f"{name} {hue_word(lab)}" if counts[name] > 1 and lab else name for name, lab in zip(names, labs, strict=True)
    ]
    ranked = []
    for name in hues:
        rank = RANKS[seen[name]] if seen[name] < len(RANKS) else str(seen[name] + 1)
        seen[name] += 1
        ranked.append(f"{name}, {rank}" if rank else name)
    return ranked
