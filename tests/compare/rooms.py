"""A studio by code, in which canvases are photographed: wall, floor, window on the left, another picture, easels."""

from typing import TYPE_CHECKING, Final

import numpy as np
from scipy.ndimage import gaussian_filter
from skimage.draw import polygon

from coach.compare.canvas_view import CanvasView, Corners
from tests.compare.scenes import SIZE

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Light = NDArray[np.float64]
    Photo = NDArray[np.float32]
    Box = tuple[float, float, float, float]

_PHOTO_MM: Final = 1150
"""Millimetres that the width of a photo shows, at the canvases."""


class FurnishedRoom:
    """A room as chance decides it; light is linear, shape (rows, columns, 3)."""

    def __init__(self, seed: int) -> None:
        """Furnish it."""
        self._chance = np.random.default_rng((seed, 17))
        self._wall = np.exp(self._chance.uniform(np.log(0.1), np.log(0.8)))

    def wall(self, width: int, height: int) -> "Photo":
        """Return the light of all that stands behind the canvases."""
        chance, scale = self._chance, width / _PHOTO_MM
        down, across = np.indices((height, width)) / scale
        blotches = gaussian_filter(chance.normal(0, 1, (height, width)), 6 * scale)
        falling = np.exp(-across / 2500) * (1 + 0.04 * blotches / blotches.std())
        light = (self._wall * np.exp(chance.normal(0, 0.08, 3)) * falling[..., None]).astype(np.float32)
        floor_mm = chance.uniform(740, 800)
        light[down > floor_mm] *= chance.uniform(0.3, 0.8, 3)
        light[np.abs(down - floor_mm) < 12] = min(1.0, 1.6 * self._wall)  # a skirting board
        left, top, wide, high = chance.uniform((430, 20, 110, 80), (620, 60, 170, 130))
        _filled(light, _corners((left, top, left + wide, top + high)) * scale, chance.uniform(0.02, 0.9, 3))
        window_mm = chance.uniform(-20, 45)
        _filled(light, _corners((-300, -50, window_mm, 620)) * scale, np.array((1.6, 1.7, 2.0)))
        for bar_mm in (170, 390):
            _filled(light, _corners((-300, bar_mm, window_mm, bar_mm + 14)) * scale, np.full(3, 0.5))
        return light

    def easel(self, light: "Photo", corners: Corners) -> None:
        """Draw what holds a canvas, and what the canvas keeps from the light on the wall."""
        chance, (width, height) = self._chance, SIZE
        wood = chance.uniform(0.05, 0.5) * np.array((1.2, 1.0, 0.75))
        ledge_mm, mast_mm, shade_mm = chance.uniform((120, 18, -8), (260, 30, 14))
        middle, onto = width / 2, CanvasView(canvas="", corners=corners, size=SIZE).homography()

        def box(left: float, top: float, right: float, bottom: float, colour: "Light") -> None:
            places = onto @ np.append(_corners((left, top, right, bottom)), np.ones((4, 1)), axis=1).T
            _filled(light, (places[:2] / places[2]).T, colour)

        box(middle - mast_mm, -110, middle + mast_mm, 900, wood)
        box(width, 14, width + max(0.0, shade_mm), height, np.full(3, 0.6 * self._wall))
        box(middle - ledge_mm, height, middle + ledge_mm, height + 28, wood * 1.15)
        box(middle - ledge_mm, height + 28, middle + ledge_mm, height + 40, wood * 0.4)


def _corners(box: "Box") -> "Light":
    left, top, right, bottom = box
    return np.array(((left, top), (right, top), (right, bottom), (left, bottom)))


def _filled(light: "Photo", corners: "Light", colour: "Light") -> None:
    light[polygon(corners[:, 1], corners[:, 0], light.shape[:2])] = colour
