"""What differs between two canvases that were photographed twice, with their places exchanged between the photos.

In the logarithm the light of a place is added to that of the paint. Each canvas stands once in each place, so that in
the mean of the two photos the places cancel, as periods do in a crossover trial. Half the difference of the two photos
shows the light of the places instead, which runs smoothly over the canvas. Both canvases together, one photo against
the other, show nothing but how the photos were exposed: what is not common to all passages in that is error.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.colour.light import lab_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Flags = NDArray[np.bool_]
    Light = NDArray[np.float64]

CALLED_DE: Final = 1.8
"""A difference from here on is called. Source: 50:50 % acceptability, Paravina et al. 2015 (dental ceramics)."""

CERTAIN_DE: Final = 1.0
"""Unless it may as well be smaller than this: what two exchanged photos can tell; ours."""

_DRAWS: Final = 300
_CHI_SQUARE: Final = 7.815
"""The 95 % point of chi-square with three degrees of freedom."""
_SPREAD_OF_MEDIAN: Final = 1.4826
"""Standard deviation of a normal spread for one median distance from its middle."""

_CURVED_FROM: Final = 15
"""From so many passages on the light may also run in a curve over the canvas; ours."""

_CAMERA_FRAC: Final = 0.08
"""Part of a difference by which a camera, which is no eye, may show it too large or too small. Source: colour-science's
sensitivities of two cameras with measured oil films, simulated."""

_ROUNDS: Final = 10
_FAR: Final = 2.0
"""Beyond so many standard deviations a passage pulls less on what is common to all. Source: Huber 1964, near 1.5."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Exchange:
    """Two photos of two canvases in logarithms; every array has the shape (passages, 3).

    Attributes:
        differs: One canvas against the other, free of the light of the places.
        places: The light of the first canvas's place in the first photo against the other one, as read.
        rough: What of it does not run smoothly over the canvas.
        uneven: How the exposure of the photos differs beyond what is common: none, unless a reading is wrong.
        mean: The mean of both canvases.
        covariance: How far `differs` may err in each passage, shape (passages, 3, 3).
    """

    differs: "Light"
    places: "Light"
    rough: "Light"
    uneven: "Light"
    mean: "Light"
    covariance: "Light"

    @property
    def light_ratio(self) -> float:
        """The light of the darker place for one of the lighter."""
        return float(np.exp(-abs(np.median(self.places.mean(axis=1)))))

    @property
    def is_wrong(self) -> "Flags":
        """Whether a reading of a passage is wrong, by as much as could be called; shape (passages,)."""
        sizes = difference(*lab_pairs(self.mean, self.uneven))
        return (sizes >= CERTAIN_DE) & _is_beyond(self.uneven, self.covariance)

    @property
    def common(self) -> "Light":
        """The shift that is common to all passages, shape (3,)."""
        return common_to_all(self.differs)

    @property
    def common_covariance(self) -> "Light":
        """How far that may err, shape (3, 3)."""
        return _covariance(self.differs - self.common) / len(self.differs)


def exchange_of(
    first: tuple["Light", "Light"], second: tuple["Light", "Light"], errors: "Light", at: "Light"
) -> Exchange:
    """Return what two photos tell of two canvases.

    Args:
        first: Logarithms of the light of one canvas and of the other in the first photo, each (passages, 3).
        second: The same in the second photo, where they stand in each other's place.
        errors: Standard error of `differs` from the pixels alone, (passages, 3).
        at: Middle of each passage on the canvas, in millimetres, (passages, 2).
    """
    apart_first, apart_second = first[0] - first[1], second[0] - second[1]
    differs, places = (apart_first + apart_second) / 2, (apart_first - apart_second) / 2
    exposures = (first[0] + first[1] - second[0] - second[1]) / 2
    uneven = exposures - np.median(exposures, axis=0)
    pooled = _covariance(uneven)
    own = np.array([np.diag(one) for one in errors**2 + (_CAMERA_FRAC * differs) ** 2])
    beyond = max(0.0, 1 - float(np.median(errors**2, axis=0).sum()) / max(float(np.trace(pooled)), 1e-12))
    return Exchange(
        differs=differs,
        places=places,
        rough=places - _smooth(places, at),
        uneven=uneven,
        mean=(first[0] + first[1] + second[0] + second[1]) / 4,
        covariance=own + beyond * pooled,
    )


def exposure(mean: "Light", expected: "Light") -> "Light":
    """Return what to add to logarithms of light so that the passages lie about where the photo has them, shape (3,)."""
    return np.median(np.log(np.maximum(expected, 1e-4)) - mean, axis=0)


def lab_pairs(mean: "Light", differs: "Light") -> tuple["Light", "Light"]:
    """Return Lab of both canvases from the mean and the difference of the logarithms of their light."""
    return lab_of(np.exp(mean + differs / 2)), lab_of(np.exp(mean - differs / 2))


def difference(one: "Light", other: "Light") -> "Light":
    """Return CIEDE2000 of Lab colours. Source: ISO/CIE 11664-6, by scikit-image."""
    from skimage.color import deltaE_ciede2000  # noqa: PLC0415  loaded when photos are compared

    found: Light = deltaE_ciede2000(one, other)
    return found


def intervals(mean: "Light", differs: "Light", covariance: "Light") -> "Light":
    """Return between what the CIEDE2000 of each passage lies in 95 of 100 cases, shape (passages, 2).

    It may be none at all where the difference lies within its errors.
    """
    normal = np.random.default_rng(0).standard_normal((_DRAWS, 1, 3))
    roots = np.linalg.cholesky(covariance + 1e-12 * np.eye(3))
    drawn = differs + np.einsum("pij,dpj->dpi", roots, np.broadcast_to(normal, (_DRAWS, len(differs), 3)))
    found = difference(*lab_pairs(np.broadcast_to(mean, drawn.shape), drawn))
    bounds: Light = np.percentile(found, (2.5, 97.5), axis=0).T
    bounds[~_is_beyond(differs, covariance), 0] = 0
    return bounds


def _is_beyond(differs: "Light", covariance: "Light") -> "Flags":
    """Return which differences lie beyond their errors."""
    weighed = np.linalg.solve(covariance + 1e-12 * np.eye(3), differs[..., None])[..., 0]
    found: Flags = (differs * weighed).sum(axis=1) >= _CHI_SQUARE
    return found


def is_called(mean: "Light", differs: "Light", covariance: "Light") -> "Flags":
    """Return which passages differ so far, and so surely, that it is called."""
    far = np.flatnonzero(difference(*lab_pairs(mean, differs)) >= CALLED_DE)
    found = np.zeros(len(mean), dtype=bool)
    found[far] = intervals(mean[far], differs[far], covariance[far])[:, 0] >= CERTAIN_DE
    return found


def common_to_all(differs: "Light") -> "Light":
    """Return the middle of values of which some lie far off, by Huber's weights."""
    middle = np.median(differs, axis=0)
    for _ in range(_ROUNDS):
        off = differs - middle
        weights = _weights(off)
        middle = (weights * differs).sum(axis=0) / weights.sum(axis=0)
    return middle


def smooth_ways(at: "Light") -> "Light":
    """Return the ways in which light may run over the canvas: evenly, along a plane, in a curve; (passages, ways)."""
    x, y = ((at - at.mean(axis=0)) / np.maximum(np.ptp(at, axis=0), 1)).T
    terms = [np.ones_like(x), x, y]
    if len(at) >= _CURVED_FROM:
        terms += [x * x, x * y, y * y]
    return np.stack(terms[: max(1, len(at) // 2)], axis=1)


def _smooth(places: "Light", at: "Light") -> "Light":
    """Return a plane, or a curved one where there are passages enough, through values of which some lie far off."""
    ways = smooth_ways(at)
    fitted = np.broadcast_to(np.median(places, axis=0), places.shape)
    for _ in range(_ROUNDS):
        roots = np.sqrt(_weights(places - fitted))
        channels = [
            ways @ np.linalg.lstsq(ways * roots[:, [no]], places[:, no] * roots[:, no], rcond=None)[0]
            for no in range(places.shape[1])
        ]
        fitted = np.stack(channels, axis=1)
    return fitted


def _weights(off: "Light") -> "Light":
    spread = np.maximum(_SPREAD_OF_MEDIAN * np.median(np.abs(off), axis=0), 1e-6)
    return np.minimum(1, _FAR * spread / np.maximum(np.abs(off), 1e-12))


def _covariance(rough: "Light") -> "Light":
    weights = _weights(rough).min(axis=1, keepdims=True)
    kept = rough * weights
    found: Light = kept.T @ kept / max(1.0, float((weights**2).sum()) - 1)
    return found
