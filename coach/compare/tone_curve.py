"""The curve by which a camera bends its values, found from the readings themselves and undone.

A phone deepens shadows and lights before it saves a photo, so that equal steps of light are no equal steps of the file.
Three things tell of it: the light of two places is in one ratio, whatever the tone of the passage; so is the exposure
of two photos; and the canvases are painted about as the photo they are painted from.
"""

from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import linear_of, srgb_of
from coach.compare.differences import smooth_ways

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Light = NDArray[np.float64]

_PRIOR: Final = np.array([0.3, 0.3, 0.2])
"""How far each part of the curve is likely to be from none; ours, as the next three are."""

_READING_ERROR: Final = 0.008
_PAINTING_ERROR: Final = 0.25
"""How far a passage is likely to be painted from the light of the photo, in logarithms."""

_CONTRAST_ERROR: Final = 0.1
"""How far all steps of value are likely to be painted wider or narrower than those of the photo."""

_STEP: Final = 1e-3
_LEAST_SLOPE, _LOWEST, _HIGHEST = 0.1, 0.01, 1.2


def undone(read: "Light", curve: "Light") -> tuple["Light", "Light"]:
    """Return logarithms of light with a curve undone, and how much each of their steps is stretched by that."""
    shown = srgb_of(np.exp(read))
    return _straight(shown, curve), _slope(shown, curve)


def tone_curve(read: "Light", expected: "Light", at: "Light") -> "Light":
    """Return the three parts of the curve that explains the readings best; zeros mean plain sRGB.

    Args:
        read: Logarithms of light as sRGB has them, shape (photos, canvases, passages, 3); two photos, exchanged.
        expected: Logarithms of light in the photo that is painted from, shape (passages, 3).
        at: Middle of each passage on the canvas, in millimetres, (passages, 2).

    Source:
        Two exposures in an unknown ratio show a camera's curve: T. Mitsunaga, S. Nayar 1999 (from memory).
    """
    from scipy.optimize import least_squares  # noqa: PLC0415  loaded when photos are compared

    ways, shown = smooth_ways(at), srgb_of(np.exp(read))
    middle = shown.mean(axis=(0, 1))

    def unexplained(parts: "Light") -> "Light":
        straight = _straight(shown, parts[:3])
        (one, other), (one_then, other_then) = straight
        weight = 1 / (_READING_ERROR * _slope(middle, parts[:3]))
        places = _beyond((one - other - one_then + other_then) / 2, ways, weight)
        exposures = _beyond((one + other - one_then - other_then) / 2, ways[:, :1], weight)
        off = straight.mean(axis=(0, 1)) - parts[3] * expected
        painted = (off - np.median(off, axis=0)) / (_PAINTING_ERROR * off.shape[1] ** 0.5)
        likely = np.append(parts[:3] / _PRIOR, (parts[3] - 1) / _CONTRAST_ERROR)
        return np.concatenate([_mild(np.concatenate((places, exposures, painted))).ravel(), likely])

    found: Light = least_squares(unexplained, [0, 0, 0, 1], ftol=1e-4, xtol=1e-4).x[:3]
    return found


def _straight(shown: "Light", curve: "Light") -> "Light":
    """Return the logarithms of light of displayed values with a curve undone."""
    tone = 2 * shown - 1
    bent = shown + (curve[0] + tone * (curve[1] + tone * curve[2])) * shown * (1 - shown)
    return np.log(linear_of(np.clip(bent, _LOWEST, _HIGHEST)))


def _slope(shown: "Light", curve: "Light") -> "Light":
    """Return how much a step of the logarithm of light is stretched by undoing a curve."""
    there = np.clip(shown, _LOWEST, 1) + _STEP
    plain = np.zeros(3)
    bent, straight = (_straight(there, parts) - _straight(there - 2 * _STEP, parts) for parts in (curve, plain))
    return np.maximum(bent / np.maximum(straight, _STEP**2), _LEAST_SLOPE)


def _beyond(values: "Light", ways: "Light", weight: "Light") -> "Light":
    """Return what weighted least squares along some ways leave of each channel, in its standard errors."""
    weighed = ways[None] * weight.T[..., None]
    wanted = (values * weight).T[..., None]
    turned = weighed.transpose(0, 2, 1)
    fitted = weighed @ np.linalg.solve(turned @ weighed + 1e-9 * np.eye(ways.shape[1]), turned @ wanted)
    left: Light = (wanted - fitted)[..., 0].T
    return left


def _mild(errors: "Light") -> "Light":
    """Return errors of which the far ones count less. Source: the pseudo-Huber loss, its square root."""
    far = 2.0
    return np.sign(errors) * np.sqrt(2 * far**2 * (np.sqrt(1 + (errors / far) ** 2) - 1))
