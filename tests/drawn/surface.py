"""Surfaces as grids of points with a colour of their own, and the curves and bumps they are made of.

Lengths are in heights of a head: x to the right and 0 in the middle of the face, y down from the crown at 0 to the
chin at 1, z towards the viewer.
"""

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.interpolate import PchipInterpolator
from scipy.ndimage import gaussian_filter, zoom

from coach.colour.light import linear_of

Floats = NDArray[np.float64]

PIVOT: Final = np.array([0.0, 0.62, 0.0])
"""A head turns about the top of its neck."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """A piece of the sitter.

    Attributes:
        points: Where it lies, shape (rows, columns, 3); not a number where it is cut away.
        colour: Its own colour in linear light, same shape.
        shine: How much it glistens, shape (rows, columns).
    """

    points: Floats
    colour: Floats
    shine: Floats

    def turned(self, yaw: float, pitch: float = 0, roll: float = 0) -> "Surface":
        """Return it turned about the neck, in degrees: to the right, down, to the right shoulder."""
        a, b, c = np.radians([yaw, pitch, roll])
        across = np.array([[np.cos(a), 0, np.sin(a)], [0, 1, 0], [-np.sin(a), 0, np.cos(a)]])
        down = np.array([[1, 0, 0], [0, np.cos(b), np.sin(b)], [0, -np.sin(b), np.cos(b)]])
        aside = np.array([[np.cos(c), -np.sin(c), 0], [np.sin(c), np.cos(c), 0], [0, 0, 1]])
        return replace(self, points=(self.points - PIVOT) @ (aside @ down @ across).T + PIVOT)


def srgb(*levels: int) -> Floats:
    """Return linear light of levels 0 to 255."""
    return linear_of(np.array(levels) / 255)


def hill(x: Floats, y: Floats, at: tuple[float, float], sides: tuple[float, float], power: float = 2) -> Floats:
    """Return a bump of height one, so wide and so high; a higher power has steeper sides."""
    return np.exp(-(np.abs((x - at[0]) / sides[0]) ** power + np.abs((y - at[1]) / sides[1]) ** power))


def beyond(distance: ArrayLike, soft: float) -> Floats:
    """Return 0 before a border and 1 beyond it, so soft."""
    return 1 / (1 + np.exp(-np.clip(np.asarray(distance) / soft, -40, 40)))


def mixed(colour: Floats, other: ArrayLike, part: Floats) -> Floats:
    """Return a colour with so much of another one in it."""
    part = np.clip(part, 0, 1)[..., None]
    return colour * (1 - part) + np.asarray(other) * part


def grain(shape: tuple[int, ...], blurs: tuple[float, float], seed: int) -> Floats:
    """Return noise of spread one, blurred so many thousandths of its height down and of its width across."""
    sigmas = [blur * side / 1000 for blur, side in zip(blurs, shape, strict=True)]
    steps = [max(1.0, sigma / 4) for sigma in sigmas]  # blurred so far, fewer points hold the same
    coarse = [math.ceil(side / step) for side, step in zip(shape, steps, strict=True)]
    noise = np.random.default_rng(seed).normal(size=coarse)
    blurred = gaussian_filter(noise, [sigma / step for sigma, step in zip(sigmas, steps, strict=True)])
    found = zoom(blurred, [side / held for side, held in zip(shape, coarse, strict=True)], order=1)
    return np.asarray(found / found.std())


def profile(at: Floats, *pairs: tuple[float, float]) -> Floats:
    """Return a smooth curve through these places and values."""
    places, values = zip(*pairs, strict=True)
    return np.asarray(PchipInterpolator(places, values)(np.clip(at, places[0], places[-1])))


def tube(
    heights: Floats, wide: Floats, front: Floats, *, columns: int, power: float = 2.25, is_front: bool = False
) -> Floats:
    """Return the points of cross-sections, one at each height, from side to side or only their front."""
    angle = np.radians(np.linspace(-105, 105, columns))[None, :]
    across = np.linspace(-1, 1, columns)[None, :] if is_front else np.sin(angle)
    facing = 1.0 if is_front else np.sign(np.cos(angle))
    z = front[:, None] * facing * (1 - np.abs(across) ** power) ** (1 / power)
    return np.stack([wide[:, None] * across, np.broadcast_to(heights[:, None], z.shape), z], axis=-1)


def plain(points: Floats, colour: Floats, shine: float = 0.05) -> Surface:
    """Return a surface of one colour."""
    return Surface(
        points=points, colour=np.broadcast_to(colour, points.shape).copy(), shine=np.full(points.shape[:2], shine)
    )


def ball(
    at: tuple[float, float, float], sides: tuple[float, float, float], colour: Floats, *, folds: float, seed: int
) -> Surface:
    """Return the front of an ellipsoid with folds of this depth."""
    down, around = np.meshgrid(np.linspace(0, np.pi, 150), np.linspace(-np.pi / 2, np.pi / 2, 150), indexing="ij")
    unit = np.stack([np.sin(down) * np.sin(around), -np.cos(down), np.sin(down) * np.cos(around)], axis=-1)
    size = 1 + folds * grain(down.shape, (100, 40), seed)
    return plain(np.array(at) + unit * np.array(sides) * size[..., None], colour)
