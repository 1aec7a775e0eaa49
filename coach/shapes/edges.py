"""How soft an edge is: the width of the ramp between two shapes, read across their border."""

import enum
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

_SIGMAS: Final = 40
_PLACES: Final = 13


def edge_widths(
    luminance: "Pixels", borders: "Sequence[Border]", head_rows: float
) -> "Mapping[tuple[int, int], float]":
    """Return for each pair of touching shapes the 10 to 90 % width of their edge, in parts of the height of a head.

    Args:
        luminance: Relative luminance in linear light, shape (rows, columns).
        borders: The borders of the shapes.
        head_rows: Height of the head in rows.

    Source:
        The edge spread function of a Gaussian blur is an error function; its 10 to 90 % rise is 2.563 sigma.
    """
    reach = max(4.0, _REACH_FRAC * head_rows)
    profiles, pairs, lengths = [], [], []
    for border in borders:
        if OUTSIDE in (border.left, border.right):
            continue
        for stretch in _stretches(border.corners):
            profiles.append(_profile(luminance, stretch, reach))
            pairs.append((min(border.left, border.right), max(border.left, border.right)))
            lengths.append(len(stretch))
    if not profiles:
        return {}
    sigmas = _fitted(np.array(profiles), reach)
    own = float(np.percentile(sigmas, _SHARPEST))
    clear = np.sqrt(np.maximum(sigmas**2 - own**2, 0))
    widths = {}
    for pair in sorted(set(pairs)):
        chosen = [no for no, found in enumerate(pairs) if found == pair]
        widths[pair] = RISE * _weighted_median(clear[chosen], [lengths[no] for no in chosen]) / head_rows
    return widths


def kind_of(width_frac: float, contrast: float) -> EdgeKind:
    """Return the kind of an edge from its width in parts of the height of a head and the L* between its shapes."""
    if contrast < LEAST_CONTRAST:
        return EdgeKind.LOST
    return next((kind for kind, widest in WIDEST if width_frac < widest), EdgeKind.LOST)


def _stretches(corners: "Pixels") -> "list[Pixels]":
    count = max(1, round((len(corners) - 1) / _STRETCH))
    bounds = np.linspace(0, len(corners) - 1, count + 1).round().astype(int)
    return [corners[first : last + 1] for first, last in pairwise(bounds.tolist())]


def _profile(luminance: "Pixels", stretch: "Pixels", reach: float) -> "Pixels":
    """Return the mean luminance across a stretch of border, from left to right, one sample a pixel."""
    from scipy.ndimage import map_coordinates  # noqa: PLC0415  loaded when a photo is taken apart

    smooth = np.stack([_smoothed(stretch[:, no]) for no in range(2)], axis=1)
    along = np.gradient(smooth, axis=0) if len(smooth) > 1 else np.zeros_like(smooth)
    lengths = np.linalg.norm(along, axis=1, keepdims=True)
    along = along / np.where(lengths > 0, lengths, 1)
    across = np.stack((-along[:, 1], along[:, 0]), axis=1)
    offsets = np.arange(-np.floor(reach), np.floor(reach) + 1)
    points = smooth[:, None, :] + offsets[None, :, None] * across[:, None, :] - 0.5
    values = map_coordinates(luminance, (points[..., 1], points[..., 0]), order=1, mode="nearest")
    return values.mean(axis=0)


def _smoothed(line: "Pixels") -> "Pixels":
    from scipy.ndimage import gaussian_filter1d  # noqa: PLC0415

    return gaussian_filter1d(line, 3.0, mode="nearest")


def _fitted(profiles: "Pixels", reach: float) -> "Pixels":
    """Return the sigma, in pixels, of the error function nearest to each profile; its ends and its place are free."""
    from scipy.special import erf  # noqa: PLC0415

    count = profiles.shape[1]
    offsets = np.arange(count) - (count - 1) / 2
    sigmas = np.geomspace(0.3, reach, _SIGMAS)
    places = np.linspace(-3, 3, _PLACES)
    steps = erf((offsets - places[:, None, None]) / (np.sqrt(2) * sigmas[None, :, None])).reshape(-1, count)
    weight = np.exp(-((offsets / (0.6 * reach)) ** 2))
    weight /= weight.sum()
    centred = steps - (steps @ weight)[:, None]
    power = (centred**2) @ weight
    level = profiles - (profiles @ weight)[:, None]
    explained = (level * weight) @ centred.T
    best = np.argmax(explained**2 / power, axis=1)
    return np.tile(sigmas, len(places))[best]


def _weighted_median(values: "Pixels", weights: "Sequence[int]") -> float:
    order = np.argsort(values, kind="stable")
    mass = np.cumsum(np.asarray(weights)[order])
    return float(values[order][np.searchsorted(mass, mass[-1] / 2)])
