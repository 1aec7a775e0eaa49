"""Minutes for a passage from how large it is painted.

The rule: minutes go with the square root of the area, that is with the height of the head. A shape of twice the area
is laid with a larger brush, so it does not take twice as long; its edge, where the time goes, is 1.4 times as long.
Nothing takes less than 3 minutes, for there is paint to load and to look at; nothing more than 60, for then it is no
longer one shape. Source: common practice, no source.
"""

from math import sqrt
from typing import Final

REFERENCE_HEAD_MM: Final = 160.0
"""Height of the head for which the minutes of the features are stated. Source: ours, no other."""

REFERENCE_CANVAS_CM2: Final = 2000.0
"""Area of the canvas for which the minutes of clothing and ground are stated: 40 x 50 cm. Source: ours, no other."""

LEAST_MIN: Final = 3
"""Fewest minutes proposed for a passage. Source: common practice, no source."""

MOST_MIN: Final = 60
"""Most minutes proposed for a passage. Source: common practice, no source."""


def scaled_min(reference_min: int, area_ratio: float) -> int:
    """Return whole minutes for a passage.

    Args:
        reference_min: Minutes at the reference size.
        area_ratio: Its area over its area at the reference size, 0 or more.
    """
    return min(MOST_MIN, max(LEAST_MIN, round(reference_min * sqrt(area_ratio))))
