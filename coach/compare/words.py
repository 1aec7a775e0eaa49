"""How one colour differs from another, in a painter's words."""

import math
from typing import Final

LabColour = tuple[float, float, float]

_SAID_FROM: Final = 0.8
"""A direction is said from here on. Source: 50:50 % perceptibility in CIEDE2000, Paravina et al. 2015."""

_SAID_FRAC: Final = 0.35
"""And where it is this part of the largest one; ours."""

_GREY_CHROMA: Final = 6.0
"""Below it hue words mislead; ours."""

_LEAST_WARMTH: Final = 0.08
_TOUCH, _MUCH = 2.0, 5.0
"""Up to where it is a touch, and from where on much; ours."""


def words_for(one: LabColour, other: LabColour) -> str:
    """Return how `one` differs from `other`, the largest first: "a touch lighter and warmer"; at least one word.

    Source:
        The parts of CIEDE2000 (Sharma, Wu, Dalal 2005) without its turn of blues. Warm and cool: Ou, Luo, Woodcock,
        Wright 2004, Color Res. Appl. 29, 232-240.
    """
    lightness, chroma, hue = _parts(one, other)
    warmth = _warmth(one) - _warmth(other)
    is_warmth = abs(warmth) >= _LEAST_WARMTH
    parts = [(abs(lightness), "lighter" if lightness > 0 else "darker")]
    if min(_chroma(one), _chroma(other)) >= _GREY_CHROMA:
        parts += [(abs(hue), _hue_word(one, other)), (abs(chroma), _chroma_word(chroma, warmth if is_warmth else 0.0))]
    else:
        parts.append((math.hypot(chroma, hue), _chroma_word(chroma, warmth if is_warmth else 0.0)))
    parts.sort(reverse=True)
    largest = parts[0][0]
    said = [word for size, word in parts if size >= _SAID_FROM and size >= _SAID_FRAC * largest] or [parts[0][1]]
    return f"{_degree(largest)}{' and '.join(said[:2])}"


def _degree(size: float) -> str:
    return "much " if size >= _MUCH else "a touch " if size < _TOUCH else ""


def _parts(one: LabColour, other: LabColour) -> tuple[float, float, float]:
    """Return the differences of lightness, chroma and hue, each in CIEDE2000's measure."""
    mean_l, mean_c = (one[0] + other[0]) / 2, (_chroma(one) + _chroma(other)) / 2
    off = (mean_l - 50) ** 2
    of_l = 1 + 0.015 * off / math.sqrt(20 + off)
    lightness, chroma = one[0] - other[0], _chroma(one) - _chroma(other)
    squared = (one[1] - other[1]) ** 2 + (one[2] - other[2]) ** 2 - chroma**2
    hue = math.sqrt(max(0.0, squared)) / (1 + 0.015 * mean_c)
    return lightness / of_l, chroma / (1 + 0.045 * mean_c), hue


def _chroma_word(chroma: float, warmth: float) -> str:
    if warmth:
        return "warmer" if warmth > 0 else "cooler"
    return "stronger" if chroma > 0 else "greyer"


def _hue_word(one: LabColour, other: LabColour) -> str:
    redder, yellower = one[1] - other[1], one[2] - other[2]
    if abs(redder) >= abs(yellower):
        return "redder" if redder > 0 else "greener"
    return "yellower" if yellower > 0 else "bluer"


def _warmth(lab: LabColour) -> float:
    return -0.5 + 0.02 * _chroma(lab) ** 1.07 * math.cos(math.radians(math.degrees(math.atan2(lab[2], lab[1])) - 50))


def _chroma(lab: LabColour) -> float:
    return math.hypot(lab[1], lab[2])
