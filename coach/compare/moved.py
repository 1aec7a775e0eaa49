"""Small features that lie elsewhere on one canvas than on the other."""

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import luminance_of, value_of
from coach.compare.drawing import CALLED_MM, shift_mm
from coach.compare.findings import Moved
from coach.compare.subject import FeaturePlace, Outlines, Painted

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Flags = NDArray[np.bool_]
    Light = NDArray[np.float64]

_AGREE_MM: Final = 1.5
"""So far apart two photos may show the same feature: corners set by hand err by less; ours."""

_WITH_IT_MM: Final = 8.0
"""What lies so near to a feature, lids, folds and its shadow, moves with it; ours."""

_BARE_VALUE: Final = 9.0
"""About the value of a ground; ours."""

_LOG_OF_CODED: Final = np.log(np.arange(256) + 4.0)
"""The pattern of a feature, by the green of the photo, where most of its lightness lies; darks count as lights do."""


def moved_features(
    canvases: tuple[str, str],
    patterns: tuple[Sequence["Light"], Sequence["Light"]],
    painted: Sequence[Painted],
    outlines: Outlines,
) -> tuple[tuple[Moved, ...], "Flags"]:
    """Return the features that lie elsewhere on one canvas, and the dots on which no colour is read for that.

    Args:
        canvases: The names of both.
        patterns: The value of each dot of either canvas, in each photo of it.
        painted: The passages.
        outlines: Where they lie.
    """
    values = value_of(luminance_of(np.array([one.light for one in painted])))
    wanted = np.append(values, _BARE_VALUE)[outlines.labels]
    taken = np.zeros(outlines.labels.shape, dtype=bool)
    found = []
    for feature in outlines.features:
        apart = _apart(patterns, feature.inside, outlines.dots_per_mm)
        if apart is None:
            continue
        taken |= _around(feature.inside, float(np.hypot(*apart)) + _WITH_IT_MM, outlines.dots_per_mm)
        off = _off_outline(patterns, wanted, feature.inside, outlines)
        passage = _passage(feature.inside, painted, outlines)
        found.append(replace(_moved(canvases, feature.name, passage, apart, off), at_mm=_middle_mm(feature, outlines)))
    return tuple(sorted(found, key=lambda one: -np.hypot(one.right_mm, one.down_mm))), taken


def _apart(
    patterns: tuple[Sequence["Light"], Sequence["Light"]], piece: "Flags", dots_per_mm: float
) -> tuple[float, float] | None:
    """Return how far apart the canvases have a feature; None unless every two photos of it agree that it is far."""
    shifts = []
    for one, other in zip(*patterns, strict=True):
        shift = shift_mm(other, one, piece, dots_per_mm)
        if shift is None or np.hypot(*shift) < CALLED_MM - _AGREE_MM:
            return None
        shifts.append(shift)
    right, down = (float(side) for side in np.mean(shifts, axis=0))
    spread = float(np.ptp(shifts, axis=0).max())
    return (right, down) if np.hypot(right, down) >= CALLED_MM and spread <= _AGREE_MM else None


def _off_outline(
    patterns: Sequence[Sequence["Light"]], wanted: "Light", piece: "Flags", outlines: Outlines
) -> list[float]:
    """Return for each canvas how far the feature lies from its outline, in millimetres; nan where that is not found."""
    shifts = [shift_mm(wanted, np.mean(own, axis=0), piece, outlines.dots_per_mm) for own in patterns]
    return [float("nan") if shift is None else float(np.hypot(*shift)) for shift in shifts]


def _moved(
    canvases: tuple[str, str], feature: str, passage: Painted, apart: tuple[float, float], off: Sequence[float]
) -> Moved:
    """Return the finding; `apart` is where the first canvas has the feature, seen from the second."""
    is_second = off[1] > off[0]
    right, down = (-apart[0], -apart[1]) if is_second else apart
    canvas, other = (canvases[1], canvases[0]) if is_second else canvases
    return Moved(
        feature=feature,
        pass_=passage.pass_,
        passage=passage.passage,
        canvas=canvas,
        right_mm=round(right, 1),
        down_mm=round(down, 1),
        words=f"{feature}: {further(right, down)} on {canvas} than on {other}",
    )


def further(right_mm: float, down_mm: float) -> str:
    """Return how far something lies elsewhere, the larger way first: "4 mm further right and 3 mm lower"."""
    ways = [
        (abs(right_mm), "further right" if right_mm > 0 else "further left"),
        (abs(down_mm), "lower" if down_mm > 0 else "higher"),
    ]
    return " and ".join(f"{size:.0f} mm {way}" for size, way in sorted(ways, reverse=True) if size >= 1)


def _middle_mm(feature: FeaturePlace, outlines: Outlines) -> tuple[float, float]:
    rows, columns = np.nonzero(feature.inside)
    x, y = ((float(side.mean()) + 0.5) / outlines.dots_per_mm for side in (columns, rows))
    return round(x, 1), round(y, 1)


def _passage(inside: "Flags", painted: Sequence[Painted], outlines: Outlines) -> Painted:
    """Return the passage that most of a feature belongs to."""
    return painted[int(np.bincount(outlines.labels[inside], minlength=len(painted))[: len(painted)].argmax())]


def _around(piece: "Flags", reach_mm: float, dots_per_mm: float) -> "Flags":
    from scipy.ndimage import distance_transform_edt  # noqa: PLC0415  loaded when photos are compared

    near: Flags = distance_transform_edt(~piece) <= reach_mm * dots_per_mm
    return near


def pattern_of(front: "Coded") -> "Light":
    """Return the value of each dot of a canvas from the front, as the eye tells them apart."""
    return _LOG_OF_CODED[front[..., 1]]
