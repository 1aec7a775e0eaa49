"""What a canvas seen from the front tells of each passage: its light, how it varies, and where nothing can be read."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import linear_of, luminance_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Flags = NDArray[np.bool_]
    Labels = NDArray[np.int32]
    Places = NDArray[np.int64]
    Light = NDArray[np.float64]

SHRINK_MM: Final = 1.5
"""So far inside its outline a passage is read: corners set by hand err by less; ours."""

LEAST_PIXELS: Final = 25
"""Of fewer pixels nothing is said."""

_BRIGHTEST, _DARKEST = 250, 3
"""Coded levels from which on, and up to which, a channel shows glare or nothing at all."""

_MOST_GLARE_FRAC: Final = 1 / 3
_TRIM_PERCENT: Final = (10, 90)
_SAME_GRAIN: Final = 16
"""Pixels that the camera and the brush make alike count as one; ours."""

_MOST_DOTS: Final = 4000
"""Of a large passage every second dot, or every third, tells as much."""

_LINEAR: Final = linear_of(np.arange(256) / 255)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """The light of one passage on one canvas in one photo.

    Attributes:
        log_light: Natural logarithm of its mean linear light, for red, green and blue.
        error: Standard error of each, from how its pixels vary.
    """

    log_light: "Light"
    error: "Light"


def interiors(labels: "Labels", count: int, shrink_dots: float, left_out: "Flags") -> list["Places"]:
    """Return for each label from 0 on where the dots lie that are deep enough inside, at most `_MOST_DOTS` of them.

    Args:
        labels: The label of each dot.
        count: How many labels there are.
        shrink_dots: How deep inside a dot must lie.
        left_out: Dots that are not read.
    """
    from scipy.ndimage import distance_transform_edt  # noqa: PLC0415  loaded when photos are compared

    edge = np.zeros(labels.shape, dtype=bool)
    edge[:, 1:] |= labels[:, 1:] != labels[:, :-1]
    edge[1:] |= labels[1:] != labels[:-1]
    edge[[0, -1]] = edge[:, [0, -1]] = True
    deep = np.flatnonzero((distance_transform_edt(~edge) > shrink_dots) & ~left_out)
    own = labels.ravel()[deep]
    order = np.argsort(own, kind="stable")
    found = np.split(deep[order], np.searchsorted(own[order], np.arange(1, count)))
    return [places[:: len(places) // _MOST_DOTS + 1] for places in found]


def readings_of(front: "Coded", inside: Sequence["Places"]) -> list[Reading | str]:
    """Return what each passage reads, or why it cannot be read.

    Args:
        front: The canvas from the front, 8-bit sRGB, shape (rows, columns, 3).
        inside: Where the dots of each passage lie.
    """
    dots = front.reshape(-1, 3)
    return [_reading(dots[own]) for own in inside]


def _reading(coded: "Coded") -> Reading | str:
    if len(coded) < LEAST_PIXELS:
        return "too small in the photo"
    is_glare, is_dark = (coded >= _BRIGHTEST).any(axis=1), (coded <= _DARKEST).all(axis=1)
    if is_glare.mean() > _MOST_GLARE_FRAC:
        return "glare lies on it"
    kept = coded[~is_glare & ~is_dark]
    if len(kept) < LEAST_PIXELS:
        return "the photo shows nothing but black there"
    light = _LINEAR[kept]
    luminance = luminance_of(light)
    low, high = np.percentile(luminance, _TRIM_PERCENT)
    light = light[(low <= luminance) & (luminance <= high)]
    mean = np.maximum(light.mean(axis=0), 1e-5)
    error = light.std(axis=0) / mean / np.sqrt(max(1.0, len(light) / _SAME_GRAIN))
    return Reading(log_light=np.log(mean), error=error)
