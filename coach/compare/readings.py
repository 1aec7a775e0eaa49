"""What a canvas seen from the front tells of each passage: its light, how it varies, and where nothing can be read."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from coach.colour.light import linear_of, luminance_of
from coach.compare.canvas_view import CanvasView, Corners, front_view
from coach.plan.commission import CanvasSize

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

BRIGHTEST: Final = 250
"""The coded level from which on a channel shows glare."""

_DARKEST: Final = 3

_MOST_GLARE_FRAC: Final = 1 / 3
_TRIM_FRAC: Final = (0.1, 0.9)
_SAME_GRAIN: Final = 16
"""Pixels that the camera and the brush make alike count as one; ours."""

_MOST_DOTS: Final = 800
"""Of a large passage every second dot, or every tenth, tells as much."""

_CARD_DOTS: Final = 40

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


class Interior(NamedTuple):
    """Where the dots of a passage lie that are read, and of how many dots one is read."""

    places: "Places"
    every: int


def interiors(labels: "Labels", count: int, shrink_dots: float, left_out: "Flags") -> list[Interior]:
    """Return for each label from 0 on the dots that are deep enough inside, at most `_MOST_DOTS` of them.

    Args:
        labels: The label of each dot.
        count: How many labels there are.
        shrink_dots: How deep inside a dot must lie.
        left_out: Dots that are not read.
    """
    from scipy.ndimage import maximum_filter, minimum_filter  # noqa: PLC0415  loaded when photos are compared

    small = labels.astype(np.int16)
    around = 2 * int(np.ceil(shrink_dots)) + 1
    highest, lowest = (kind(small, around, mode="constant", cval=-1) for kind in (maximum_filter, minimum_filter))
    deep = np.flatnonzero((highest == lowest) & ~left_out)
    own = small.ravel()[deep]
    order = np.argsort(own, kind="stable")
    found = np.split(deep[order], np.searchsorted(own[order], np.arange(1, count)))
    steps = [len(places) // _MOST_DOTS + 1 for places in found]
    return [Interior(places[::every], every) for places, every in zip(found, steps, strict=True)]


def readings_of(front: "Coded", inside: Sequence[Interior]) -> list[Reading | str]:
    """Return what each passage reads, or why it cannot be read.

    Args:
        front: The canvas from the front, 8-bit sRGB, shape (rows, columns, 3).
        inside: The dots of each passage.
    """
    dots = front.reshape(-1, 3)
    return [_reading(dots[places], every) for places, every in inside]


def card_reading(photo: "Coded", corners: Corners) -> Reading | str:
    """Return what the inner part of a card beside a canvas reads in a photo, or why it cannot be read."""
    view = CanvasView(canvas="", corners=corners, size=CanvasSize(_CARD_DOTS, _CARD_DOTS))
    inner = slice(_CARD_DOTS // 5, -(_CARD_DOTS // 5))
    return _reading(front_view(photo, view, _CARD_DOTS, _CARD_DOTS)[inner, inner].reshape(-1, 3), 1)


def _reading(coded: "Coded", every: int) -> Reading | str:
    if len(coded) < LEAST_PIXELS:
        return "too small in the photo"
    brightest = np.maximum(np.maximum(coded[:, 0], coded[:, 1]), coded[:, 2])
    is_glare = brightest >= BRIGHTEST
    if is_glare.mean() > _MOST_GLARE_FRAC:
        return "glare lies on it"
    kept = coded[~is_glare & (brightest > _DARKEST)]
    if len(kept) < LEAST_PIXELS:
        return "the photo shows nothing but black there"
    light = _LINEAR[kept]
    order = np.argsort(luminance_of(light))
    low, high = (round(part * len(light)) for part in _TRIM_FRAC)
    light = light[order[low:high]]
    mean = np.maximum(light.mean(axis=0), 1e-5)
    error = light.std(axis=0) / mean / np.sqrt(max(1.0, min(len(light), every * len(light) / _SAME_GRAIN)))
    return Reading(log_light=np.log(mean), error=error)
