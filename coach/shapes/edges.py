"""How soft an edge is: the width of the ramp between two shapes, read across their border."""

import enum
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.shapes.outlines import OUTSIDE, Border

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]


class EdgeKind(enum.StrEnum):
    """How an edge looks, from the sharpest to the one that is not seen."""

    HARD = "hard"
    FIRM = "firm"
    SOFT = "soft"
    LOST = "lost"


WIDEST: Final = ((EdgeKind.HARD, 0.005), (EdgeKind.FIRM, 0.015), (EdgeKind.SOFT, 0.04))
"""The widest ramp of each kind, in parts of the height of a head; ours, common practice has no figures."""

LEAST_CONTRAST: Final = 3.0
"""Under so many L* apart an edge is lost; ours."""

RISE: Final = 2.5631031310892007
"""The rise of a Gaussian blur from 10 to 90 per cent, in its standard deviations: twice the normal quantile of 0.9."""

_STRETCH: Final = 28
"""So many corners of a border are read together."""

_REACH_FRAC: Final = 0.045
"""How far on each side a border is read, in parts of the height of a head."""

_SHARPEST: Final = 5
"""The sharpest edge of a photo is taken at this percentile: what it is blurred by belongs to the photo."""

_SMOOTHING: Final = 3.0
"""Corners over which the steps of a border are smoothed before its direction is taken."""

_SIGMAS: Final = 40
_PLACES: Final = 13


def edge_widths(
    luminance: "Pixels", borders: "Sequence[Border]", head_rows: float, photo_blur: float | None = None
) -> "tuple[Mapping[tuple[int, int], float], float]":
    """Return the 10 to 90 % width of the edge of each pair of touching shapes, and the photo's own blur.

    Args:
        luminance: Relative luminance in linear light, shape (rows, columns).
        borders: The borders of the shapes.
        head_rows: Height of the head in rows.
        photo_blur: Standard deviation of the photo's own blur in pixels, where it is known; else it is that of the
            sharpest of these borders.

    Returns:
        The widths in parts of the height of a head, and the photo's own blur.

    Source:
        The edge spread function of a Gaussian blur is an error function; its 10 to 90 % rise is 2.563 sigma.
    """
    reach = reach_of(head_rows)
    stretches, pairs = [], []
    for border in borders:
        if OUTSIDE not in (border.left, border.right):
            found = _stretches(border.corners)
            stretches += found
            pairs += [(min(border.left, border.right), max(border.left, border.right))] * len(found)
    if not stretches:
        return {}, photo_blur or 0.0
    sigmas = _fitted(_profiles(luminance, stretches, reach), reach)
    own = float(np.percentile(sigmas, _SHARPEST)) if photo_blur is None else photo_blur
    clear = np.sqrt(np.maximum(sigmas**2 - own**2, 0))
    by_pair: dict[tuple[int, int], list[int]] = {}
    for number, pair in enumerate(pairs):
        by_pair.setdefault(pair, []).append(number)
    widths = {
        pair: RISE * _weighted_median(clear[chosen], [len(stretches[no]) for no in chosen]) / head_rows
        for pair, chosen in sorted(by_pair.items())
    }
    return widths, own


def reach_of(head_rows: float) -> float:
    """Return how far on each side a border is read, in pixels, by the height of the head in rows."""
    return max(4.0, _REACH_FRAC * head_rows)


def kind_of(width_frac: float, contrast: float) -> EdgeKind:
    """Return the kind of an edge from its width in parts of the height of a head and the L* between its shapes."""
    if contrast < LEAST_CONTRAST:
        return EdgeKind.LOST
    return next((kind for kind, widest in WIDEST if width_frac < widest), EdgeKind.LOST)


def _stretches(corners: "Pixels") -> "list[Pixels]":
    count = max(1, round((len(corners) - 1) / _STRETCH))
    bounds = np.linspace(0, len(corners) - 1, count + 1).round().astype(int)
    return [corners[first : last + 1] for first, last in pairwise(bounds.tolist())]


def _profiles(luminance: "Pixels", stretches: "Sequence[Pixels]", reach: float) -> "Pixels":
    """Return the mean luminance across each stretch of border, from left to right, one sample a pixel."""
    from scipy.ndimage import map_coordinates  # noqa: PLC0415  loaded when a photo is taken apart

    starts = np.cumsum([0, *map(len, stretches)])
    smooth = _smoothed(stretches)
    along = _along(smooth, starts)
    lengths = np.linalg.norm(along, axis=1, keepdims=True)
    along = along / np.where(lengths > 0, lengths, 1)
    across = np.stack((-along[:, 1], along[:, 0]), axis=1)
    offsets = np.arange(-np.floor(reach), np.floor(reach) + 1)
    points = smooth[:, None, :] + offsets[None, :, None] * across[:, None, :] - 0.5
    values = map_coordinates(luminance, (points[..., 1], points[..., 0]), order=1, mode="nearest")
    return np.add.reduceat(values, starts[:-1], axis=0) / np.diff(starts)[:, None]


def _smoothed(stretches: "Sequence[Pixels]") -> "Pixels":
    """Return the points of all stretches, each stretch smoothed along itself as if it went on at its ends."""
    from scipy.ndimage import gaussian_filter1d  # noqa: PLC0415

    margin, longest = round(4 * _SMOOTHING), max(map(len, stretches))
    places = np.arange(-margin, longest + margin)
    padded = [one[np.clip(places, 0, len(one) - 1)] for one in stretches]
    smooth = gaussian_filter1d(np.array(padded), _SMOOTHING, axis=1, mode="nearest")
    return np.concatenate([line[margin : margin + len(one)] for one, line in zip(stretches, smooth, strict=True)])


def _along(points: "Pixels", starts: "NDArray[np.int64]") -> "Pixels":
    """Return the way on at each point of stretches that begin at `starts`: from the point before to the next."""
    before, after = np.arange(len(points)) - 1, np.arange(len(points)) + 1
    before[starts[:-1]] += 1
    after[starts[1:] - 1] -= 1
    steps = np.maximum(after - before, 1)[:, None]
    return (points[after] - points[before]) / steps


def _fitted(profiles: "Pixels", reach: float) -> "Pixels":
    """Return the sigma, in pixels, of the error function nearest to each profile; its ends and its place are free."""
    sigmas, weight, centred, power = _ramps(profiles.shape[1], reach)
    level = profiles - (profiles @ weight)[:, None]
    explained = (level * weight) @ centred.T
    best = np.argmax(explained**2 / power, axis=1)
    return sigmas[best]


@cache
def _ramps(count: int, reach: float) -> "tuple[Pixels, Pixels, Pixels, Pixels]":
    """Return what profiles are held against: sigma of each ramp, weights of the samples, the ramps, their power."""
    from scipy.special import erf  # noqa: PLC0415

    offsets = np.arange(count) - (count - 1) / 2
    sigmas = np.geomspace(0.3, reach, _SIGMAS)
    places = np.linspace(-3, 3, _PLACES)
    steps = erf((offsets - places[:, None, None]) / (np.sqrt(2) * sigmas[None, :, None])).reshape(-1, count)
    weight = np.exp(-((offsets / (0.6 * reach)) ** 2))
    weight /= weight.sum()
    centred = steps - (steps @ weight)[:, None]
    return np.tile(sigmas, len(places)), weight, centred, (centred**2) @ weight


def _weighted_median(values: "Pixels", weights: "Sequence[int]") -> float:
    order = np.argsort(values, kind="stable")
    mass = np.cumsum(np.asarray(weights)[order])
    return float(values[order][np.searchsorted(mass, mass[-1] / 2)])
