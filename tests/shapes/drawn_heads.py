"""Heads drawn by code: shapes of known colour, borders of known blur, noise, and light that falls off."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np
from scipy.ndimage import gaussian_filter
from skimage.draw import polygon2mask

from coach.colour.light import linear_of
from coach.shapes.features import HeadBox

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Pixels = NDArray[np.float64]

NOISE_FRAC: Final = 0.01
FALL_OFF_FRAC: Final = 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """A drawn head.

    Attributes:
        linear: The picture in linear light, with falling light and noise, shape (rows, columns, 3).
        sharp: The same in flat colours under the falling light: no border is blurred, and there is no noise.
        truth: The shape that each pixel belongs to.
        names: Names of the shapes.
        sigmas_px: Blur of the border under which each shape lies upon what was drawn before it.
        head: The box of the head.
    """

    linear: "Pixels"
    sharp: "Pixels"
    truth: "NDArray[np.int32]"
    names: tuple[str, ...]
    sigmas_px: tuple[float, ...]
    head: HeadBox

    def blur_px(self, one: int, other: int) -> float:
        """Return the blur of the border between two shapes: that of the upper one, or the face's where its shade ends.

        The shade lies on the face only, so that towards hair, ground and neck the border is the face's.
        """
        face, upper, lower = self.names.index("face"), max(one, other), min(one, other)
        ends = self.names[upper] == "shadow side" and lower < face
        return self.sigmas_px[face if ends else upper]


Points = tuple[float, ...]
"""Of an ellipse its middle and its sides, of a side its place and how it leans, of a polygon x and y in turn."""

_FRONTAL: Final[tuple[tuple[str, tuple[int, int, int], float, str, Points], ...]] = (
    ("ground", (104, 112, 108), 0.0, "all", ()),
    (
        "coat",
        (52, 60, 84),
        0.001,
        "polygon",
        (-0.9, 2.6, -0.75, 1.5, 0.1, 1.18, 0.9, 1.18, 1.75, 1.5, 1.9, 2.6),
    ),
    ("shirt", (206, 204, 196), 0.001, "polygon", (0.24, 1.2, 0.76, 1.2, 0.52, 1.75)),
    ("neck", (150, 108, 84), 0.0035, "polygon", (0.26, 0.85, 0.74, 0.85, 0.76, 1.22, 0.5, 1.36, 0.24, 1.22)),
    ("hair", (66, 48, 38), 0.004, "ellipse", (0.5, 0.4, 1.08, 0.84)),
    ("ear", (176, 120, 96), 0.001, "ellipse", (0.03, 0.6, 0.16, 0.26)),
    ("face", (216, 170, 140), 0.001, "ellipse", (0.5, 0.6, 0.86, 0.82)),
    ("shadow side", (158, 112, 88), 0.012, "side", (0.66, 0.05)),
    ("fringe", (98, 72, 54), 0.004, "ellipse", (0.44, 0.17, 0.72, 0.22)),
    ("socket left", (120, 84, 70), 0.0035, "ellipse", (0.3, 0.49, 0.22, 0.09)),
    ("socket right", (96, 66, 56), 0.0035, "ellipse", (0.7, 0.49, 0.22, 0.09)),
    ("nose shadow", (134, 94, 74), 0.010, "polygon", (0.52, 0.52, 0.62, 0.72, 0.5, 0.735, 0.44, 0.72)),
    ("upper lip", (132, 70, 66), 0.001, "polygon", (0.32, 0.825, 0.44, 0.79, 0.56, 0.79, 0.68, 0.825)),
    ("lower lip", (182, 104, 98), 0.0035, "polygon", (0.34, 0.83, 0.66, 0.83, 0.56, 0.885, 0.44, 0.885)),
    ("light on the forehead", (236, 200, 172), 0.012, "ellipse", (0.38, 0.34, 0.26, 0.1)),
)
_TURNED: Final[tuple[tuple[str, tuple[int, int, int], float, str, Points], ...]] = (
    ("ground light", (142, 134, 118), 0.0, "all", ()),
    ("ground dark", (84, 80, 78), 0.02, "polygon", (-3, -2, 0.2, -2, -0.4, 4, -3, 4)),
    (
        "coat",
        (92, 54, 46),
        0.001,
        "polygon",
        (-1.0, 2.6, -0.6, 1.4, 0.2, 1.14, 0.95, 1.14, 1.6, 1.42, 1.8, 2.6),
    ),
    ("collar", (214, 208, 190), 0.001, "polygon", (0.1, 1.2, 0.5, 1.08, 0.95, 1.16, 0.8, 1.4, 0.45, 1.5)),
    ("neck", (138, 96, 76), 0.0035, "polygon", (0.3, 0.85, 0.8, 0.8, 0.84, 1.14, 0.55, 1.22, 0.32, 1.14)),
    ("hair", (120, 112, 104), 0.004, "ellipse", (0.56, 0.36, 1.0, 0.8)),
    ("face", (224, 182, 152), 0.001, "ellipse", (0.44, 0.55, 0.8, 0.84)),
    ("shadow side", (150, 108, 86), 0.010, "side", (0.2, -0.05)),
    ("ear", (190, 132, 110), 0.001, "ellipse", (0.9, 0.58, 0.16, 0.24)),
    ("beard", (92, 78, 66), 0.004, "polygon", (0.12, 0.72, 0.78, 0.72, 0.8, 0.9, 0.5, 1.02, 0.2, 0.94)),
    ("mouth", (150, 82, 78), 0.001, "ellipse", (0.4, 0.81, 0.28, 0.055)),
    ("socket left", (112, 80, 66), 0.0035, "ellipse", (0.2, 0.47, 0.17, 0.085)),
    ("socket right", (128, 92, 76), 0.0035, "ellipse", (0.6, 0.47, 0.22, 0.085)),
    ("nose shadow", (160, 116, 94), 0.010, "polygon", (0.36, 0.5, 0.44, 0.68, 0.34, 0.71, 0.24, 0.69)),
    ("light on the cheek", (242, 210, 184), 0.012, "ellipse", (0.66, 0.62, 0.16, 0.12)),
)
LAYOUTS: Final = {"frontal": _FRONTAL, "turned": _TURNED}


def drawn_head(layout: str, seed: int, *, head_rows: int = 360) -> Drawn:
    """Return a drawn head; the seed moves the colours a little and makes the noise."""
    generator = np.random.default_rng(seed)
    rows, columns = round(head_rows * 2.1), round(head_rows * 1.68)
    head_columns = round(head_rows * 0.72)
    left, top = (columns - head_columns) // 2, round(head_rows * 0.3)
    y, x = np.indices((rows, columns)).astype(float)
    u, v = (x - left) / head_columns, (y - top) / head_rows
    linear, truth = np.zeros((rows, columns, 3)), np.zeros((rows, columns), dtype=np.int32)
    sharp = np.zeros_like(linear)
    face, on_face = np.zeros((rows, columns), dtype=bool), np.zeros((rows, columns, 1))
    for number, (name, srgb, blur_frac, form, points) in enumerate(LAYOUTS[layout]):
        mask = _mask(u, v, form, points, face)
        if name == "face":
            face = mask
        colour = linear_of(np.clip(np.array(srgb) / 255 + generator.normal(0, 0.01, 3), 0, 1))
        alpha = gaussian_filter(mask.astype(float), blur_frac * head_rows)[..., None]
        if form == "side":
            alpha = alpha * on_face
        linear = alpha * colour + (1 - alpha) * linear
        if name == "face":
            on_face = alpha
        truth[mask], sharp[mask] = number, colour
    light = 1 - FALL_OFF_FRAC * (x / columns + y / rows) / 2
    sharp = sharp * light[..., None]
    linear = linear * light[..., None] * (1 + generator.normal(0, NOISE_FRAC, linear.shape))
    box = HeadBox(name="head", left=left, top=top, right=left + head_columns, bottom=top + head_rows)
    names = tuple(name for name, *_ in LAYOUTS[layout])
    sigmas = tuple(blur * head_rows for _, _, blur, _, _ in LAYOUTS[layout])
    linear = np.clip(linear, 0, 1)
    return Drawn(linear=linear, sharp=sharp, truth=truth, names=names, sigmas_px=sigmas, head=box)


def _mask(
    u: "Pixels", v: "Pixels", form: str, points: tuple[float, ...], face: "NDArray[np.bool_]"
) -> "NDArray[np.bool_]":
    if form == "all":
        return np.ones(u.shape, dtype=bool)
    if form == "ellipse":
        x, y, width, height = points
        return ((u - x) / (width / 2)) ** 2 + ((v - y) / (height / 2)) ** 2 <= 1
    if form == "side":
        across, lean = points
        line = across + lean * np.sin(6 * v)
        return face & ((u > line) if across > 0.5 else (u < line))
    head_columns = 1 / (u[0, 1] - u[0, 0])
    head_rows = 1 / (v[1, 0] - v[0, 0])
    corners = [
        ((py - v[0, 0]) * head_rows, (px - u[0, 0]) * head_columns)
        for px, py in zip(points[::2], points[1::2], strict=True)
    ]
    return polygon2mask(u.shape, corners)
