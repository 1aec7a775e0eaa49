"""How large a painted head is against life.

Life is the mean head of the ANSUR II survey (2012 US Army survey, soldiers, 4082 men and 1986 women): a yardstick,
not the sitter; a child's head is smaller.
"""

from dataclasses import dataclass
from typing import Final

HEAD_MAN_MM: Final = 236.4
"""Mean head height of a man, chin to crown. Standard deviation 11.8.

Source: ANSUR II public data; derived as eye to crown + face length, a few millimetres too large for it.
"""

HEAD_WOMAN_MM: Final = 222.0
"""Mean head height of a woman, chin to crown. Standard deviation 10.8. Source: as `HEAD_MAN_MM`."""

LIFE_MM: Final = (HEAD_MAN_MM + HEAD_WOMAN_MM) / 2
"""The yardstick where the sitter is not known: half way between a man's and a woman's mean head."""

EYE_LINE_MAN_FRAC: Final = 113.8 / HEAD_MAN_MM
"""Eye line down from the crown, as a share of head height. Source: ANSUR II, derived (0.481)."""

EYE_LINE_WOMAN_FRAC: Final = 108.9 / HEAD_WOMAN_MM
"""Eye line down from the crown, as a share of head height. Source: ANSUR II, derived (0.491)."""

EYE_LINE_FRAC: Final = (EYE_LINE_MAN_FRAC + EYE_LINE_WOMAN_FRAC) / 2
"""Eye line of a face seen from the front: the old rule "eyes at half height", measured."""

HAND_MAN_FRAC: Final = 193.3 / HEAD_MAN_MM
"""Mean hand length of a man, as a share of head height. Source: ANSUR II, derived (0.818)."""

HAND_WOMAN_FRAC: Final = 181.1 / HEAD_WOMAN_MM
"""Mean hand length of a woman, as a share of head height. Source: ANSUR II, derived (0.816)."""

PALM_MM: Final = (116.5 + 108.7) / 2
"""Mean palm length of a man and a woman. Source: ANSUR II public data."""

SMALLEST_LIKENESS_MM: Final = 60.0
"""Head height under which a likeness is hard to hold with ordinary small brushes. Source: common practice, no source
(50 to 60 mm)."""

HALF_FRAC: Final = 0.5
"""Share of life under which the coach says so. Source: a professional's range of 50 to 90 % (secondary)."""

FORMAL_FRAC: Final = 0.75
"""Share of life of a formal portrait. Source: an art magazine's page (secondary)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LifePercent:
    """Head height as per cent of a mean man's and a mean woman's head."""

    man: float
    woman: float


def life_percent(head_mm: float) -> LifePercent:
    """Return how many per cent of life a head of this height is."""
    return LifePercent(man=100 * head_mm / HEAD_MAN_MM, woman=100 * head_mm / HEAD_WOMAN_MM)


def height_for_mm(wanted_mm: float, head_mm: float, canvas_height_mm: float) -> float:
    """Return the height of a canvas on which the same crop gives a head of another height, in millimetres."""
    return canvas_height_mm * wanted_mm / head_mm


def yardstick_lines() -> list[str]:
    """Return what life is measured with, in sentences."""
    shares = ((HALF_FRAC, "half"), (FORMAL_FRAC, "three quarters"), (1.0, "life size"))
    heights = ", ".join(
        f"{words} {share * HEAD_MAN_MM / 10:.1f} and {share * HEAD_WOMAN_MM / 10:.1f} cm" for share, words in shares
    )
    hand = (HAND_MAN_FRAC + HAND_WOMAN_FRAC) / 2
    return [
        "Life is the mean head of soldiers (2012 US Army survey, ANSUR II), chin to crown; a child's is smaller.",
        f"Height of a man's and a woman's head: {heights}; a mean hand is {100 * hand:.0f} % of a head.",
    ]
