"""Where the drawing of two canvases differs: features that lie elsewhere, and landmarks set by hand."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Flags = NDArray[np.bool_]
    Points = NDArray[np.float64]
    Values = NDArray[np.float64]

CALLED_MM: Final = 3.0
"""What lies this far off is called: corners and landmarks set by hand leave less unsure."""

_SEARCH_MM: Final = 12.0
_MARGIN_MM: Final = 4.0
_ALIKE: Final = 0.5
"""A place is taken for that of a feature where its pattern correlates so far; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """Landmarks laid over others with the least shift, turn and scale.

    Attributes:
        shift: What is added last, (2,).
        turn_deg: Turn, clockwise as it is looked at.
        scale: Scale.
        off: What is left of each landmark, (n, 2), in the measure of the points.
    """

    shift: "Points"
    turn_deg: float
    scale: float
    off: "Points"

    def laid(self, points: "Points") -> "Points":
        """Return where other points, (n, 2), come to lie with the same shift, turn and scale."""
        turn = np.radians(self.turn_deg)
        way = self.scale * np.array(((np.cos(turn), -np.sin(turn)), (np.sin(turn), np.cos(turn))))
        laid: Points = points @ way.T + self.shift
        return laid


def laid_over(points: "Points", onto: "Points") -> Fitted:
    """Return landmarks laid over others; both (n, 2), n at least 3, in the same order.

    Source:
        Least squares by singular values: Schönemann 1966, Umeyama 1991 (from memory); held against scipy and
        scikit-image in the tests.
    """
    middle, middle_onto = points.mean(axis=0), onto.mean(axis=0)
    own, other = points - middle, onto - middle_onto
    left, strength, right = np.linalg.svd(other.T @ own)
    straight = np.diag([1.0, np.sign(np.linalg.det(left @ right))])
    turn = left @ straight @ right
    scale = float((strength * np.diag(straight)).sum() / (own**2).sum())
    laid = scale * own @ turn.T
    angle = float(np.degrees(np.arctan2(turn[1, 0], turn[0, 0])))
    return Fitted(shift=middle_onto - scale * turn @ middle, turn_deg=angle, scale=scale, off=laid - other)


def shift_mm(one: "Values", other: "Values", inside: "Flags", dots_per_mm: float) -> tuple[float, float] | None:
    """Return how far a feature of `one` must be moved, right and down, to lie where it lies on `other`.

    Args:
        one: Value of every dot of a canvas from the front, (rows, columns).
        other: The same of the other canvas.
        inside: The dots of the feature as it is outlined.
        dots_per_mm: Dots for a millimetre.

    Returns:
        Millimetres right and down; None where the feature has no pattern that is found again.
    """
    from skimage.feature import match_template  # noqa: PLC0415  loaded when photos are compared

    rows, columns = (np.flatnonzero(inside.any(axis=axis)) for axis in (1, 0))
    if not len(rows):
        return None
    margin, reach = round(_MARGIN_MM * dots_per_mm), round(_SEARCH_MM * dots_per_mm)
    top, bottom = max(0, rows[0] - margin), min(one.shape[0], rows[-1] + 1 + margin)
    left, right = max(0, columns[0] - margin), min(one.shape[1], columns[-1] + 1 + margin)
    pattern = one[top:bottom, left:right]
    if pattern.std() < 1e-6:  # noqa: PLR2004  flat to rounding
        return None
    lines, places = (
        np.clip(np.arange(low - reach, high + reach), 0, side - 1)
        for low, high, side in ((top, bottom, other.shape[0]), (left, right, other.shape[1]))
    )
    place = match_template(other[np.ix_(lines, places)], pattern)
    best = tuple(int(at) for at in np.unravel_index(int(place.argmax()), place.shape))
    if place[best] < _ALIKE:
        return None
    down, across = (_between(place, best, axis) - reach for axis in (0, 1))
    return across / dots_per_mm, down / dots_per_mm


def _between(place: "Values", best: Sequence[int], axis: int) -> float:
    """Return where the top of a parabola through the best place and its neighbours lies, along an axis."""
    at = int(best[axis])
    if not 0 < at < place.shape[axis] - 1:
        return float(at)
    before, here, after = (
        float(place[tuple(at + step if no == axis else int(best[no]) for no in (0, 1))]) for step in (-1, 0, 1)
    )
    bend = before - 2 * here + after
    return at + (0.5 * (before - after) / bend if bend < 0 else 0.0)
