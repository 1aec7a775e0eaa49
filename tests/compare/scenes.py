"""Two painted canvases photographed in a room, by code: light that falls off, a phone's curve, noise and JPEG."""

import io
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image
from scipy.ndimage import gaussian_filter

from coach.colour.light import linear_of, srgb_of
from coach.compare.canvas_view import CanvasView, Corners
from coach.compare.subject import Outlines, Painted, Photographed
from coach.plan.commission import CanvasSize

if TYPE_CHECKING:
    from collections.abc import Mapping

    from numpy.typing import NDArray

    Labels = NDArray[np.int32]
    Light = NDArray[np.float64]

SIZE: Final = CanvasSize(400, 500)
DOTS_PER_MM: Final = 1.25
NAMES: Final = ("Hall", "School")

Disc = tuple[str, str, tuple[int, int, int], float, float, float, float]
"""Name, small feature, colour as displayed, and an ellipse: middle and half sides in millimetres."""

DISCS: Final[tuple[Disc, ...]] = (
    ("ground upper, half-dark", "", (96, 98, 92), 200, 120, 400, 200),
    ("ground lower, dark", "", (70, 74, 72), 200, 460, 400, 260),
    ("coat, dark", "", (52, 58, 74), 200, 470, 190, 120),
    ("coat left, half-dark", "", (80, 88, 108), 110, 470, 60, 70),
    ("collar, light", "", (196, 190, 176), 200, 380, 70, 30),
    ("neck, middle", "", (150, 112, 88), 200, 350, 45, 40),
    ("hair, darkest", "", (40, 32, 28), 200, 170, 110, 110),
    ("hair left, half-dark", "", (84, 64, 50), 130, 150, 32, 55),
    ("face, half-light", "", (196, 150, 120), 200, 230, 85, 115),
    ("shadow side, middle", "", (136, 96, 74), 250, 240, 34, 80),
    ("forehead, light", "", (216, 176, 146), 180, 160, 45, 26),
    ("cheek left, middle", "", (190, 128, 104), 155, 260, 22, 24),
    ("chin, half-light", "", (200, 152, 124), 195, 330, 26, 14),
    ("socket left, half-dark", "eye", (128, 88, 70), 165, 210, 24, 13),
    ("white of the eye, light", "eye", (206, 196, 184), 165, 211, 15, 6),
    ("iris left, darkest", "eye", (44, 38, 36), 165, 210, 5, 5),
    ("socket right, dark", "eye", (104, 70, 56), 238, 210, 24, 13),
    ("white right, middle", "eye", (160, 150, 140), 238, 211, 15, 6),
    ("iris right, darkest", "eye", (40, 34, 32), 238, 210, 5, 5),
    ("nose, half-light", "nose", (210, 160, 132), 200, 250, 13, 34),
    ("nostrils, dark", "nose", (92, 54, 44), 202, 281, 13, 5),
    ("mouth, middle", "mouth", (160, 84, 76), 198, 308, 28, 6),
    ("lower lip, half-light", "mouth", (184, 110, 98), 198, 317, 20, 5),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What stands between the paint and the photo.

    Attributes:
        ratio: Light of the right place for one of the left.
        gradient: How far the light falls off over a canvas, from left to right.
        curve: How strong the camera bends its values, 0 for plain sRGB.
        noise: Standard deviation of the sensor's noise, in linear light at white.
        changed: Light of the second photo's right place for one of the first photo's.
        seed: Decides noise, brush marks and hands.
        width_px: Width of the photo; its height is three quarters of that.
        click_mm: How far a corner that is set by hand lies off.
    """

    ratio: float = 0.8
    gradient: float = 0.1
    curve: float = 0.0
    noise: float = 0.004
    changed: float = 1.0
    seed: int = 1
    width_px: int = 1400
    click_mm: float = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Canvas:
    """How one canvas departs from the other: colours by passage, and features moved, in millimetres right and down."""

    colours: "Mapping[str, tuple[int, int, int]]" = field(default_factory=dict)
    moved: "Mapping[str, tuple[float, float]]" = field(default_factory=dict)


def labels_of(canvas: Canvas) -> "Labels":
    """Return the passage of each dot of a canvas."""
    rows, columns = round(SIZE.height_mm * DOTS_PER_MM), round(SIZE.width_mm * DOTS_PER_MM)
    down, across = (np.indices((rows, columns)) + 0.5) / DOTS_PER_MM
    labels = np.zeros((rows, columns), dtype=np.int32)
    for number, (name, _, _, x, y, half_width, half_height) in enumerate(DISCS):
        right, lower = canvas.moved.get(name, (0, 0))
        inside = ((across - x - right) / half_width) ** 2 + ((down - y - lower) / half_height) ** 2 <= 1
        labels[inside] = number
    return labels


def outlines() -> Outlines:
    """Return the outlines as they are drawn: what the canvases should show."""
    return Outlines(labels=labels_of(Canvas()), dots_per_mm=DOTS_PER_MM)


def painted() -> list[Painted]:
    """Return the passages as the plan has them."""
    return [
        Painted(pass_="all", passage=name, feature=feature, light=tuple(linear_of(np.array(colour) / 255).tolist()))
        for name, feature, colour, *_ in DISCS
    ]


def photographed(
    left: Canvas, right: Canvas, names: tuple[str, str], room: Room, *, is_second: bool = False
) -> Photographed:
    """Return a photo with a canvas on the left and another one on the right."""
    chance = np.random.default_rng((room.seed, is_second))
    width, height = room.width_px, room.width_px * 3 // 4
    scale = width / 1150
    light = np.full((height, width, 3), 0.15)
    views = []
    for place, (canvas, name) in enumerate(zip((left, right), names, strict=True)):
        corners = _corners(place, scale, height, chance)
        places = 1.0 if place == 0 else room.ratio * (room.changed if is_second else 1.0)
        brush = np.random.default_rng((room.seed, NAMES.index(name)))
        _stand(light, corners, _paint(canvas, brush), places, room.gradient)
        off = chance.normal(0, room.click_mm * scale / 2**0.5, (4, 2))
        set_by_hand = _corners_of(np.array(corners) + off)
        views.append(CanvasView(canvas=name, corners=set_by_hand, size=SIZE))
    exposed = light * chance.uniform(0.75, 0.9)
    seen = exposed + chance.normal(0, 1, light.shape) * room.noise * np.sqrt(np.maximum(exposed, 0.02))
    return Photographed(
        name=f"photo{1 + is_second}.jpg", coded=_jpeg(_curve(seen, room.curve)), views=(views[0], views[1])
    )


def _corners(place: int, scale: float, height: int, chance: "np.random.Generator") -> Corners:
    left, top = (60 + place * 560) * scale, height / 2 - 255 * scale
    square = np.array([(0, 0), (SIZE.width_mm, 0), (SIZE.width_mm, SIZE.height_mm), (0, SIZE.height_mm)]) * scale
    return _corners_of(square + np.array([left, top]) + chance.normal(0, 4 * scale, (4, 2)))


def _corners_of(points: "Light") -> Corners:
    one, two, three, four = ((float(x), float(y)) for x, y in points)
    return one, two, three, four


def _paint(canvas: Canvas, chance: "np.random.Generator") -> "Light":
    colours = np.array([canvas.colours.get(name, colour) for name, _, colour, *_ in DISCS]) / 255
    flat = linear_of(colours)[labels_of(canvas)]
    strokes = gaussian_filter(chance.normal(0, 1, flat.shape[:2]), (1, 4))
    return gaussian_filter(flat, (1, 1, 0)) * (1 + 0.05 * strokes / strokes.std())[..., None]


def _stand(light: "Light", corners: Corners, paint: "Light", place: float, gradient: float) -> None:
    view = CanvasView(canvas="", corners=corners, size=SIZE)
    left, top = np.floor(np.min(corners, axis=0)).astype(int)
    right, bottom = np.ceil(np.max(corners, axis=0)).astype(int)
    rows, columns = np.mgrid[top:bottom, left:right] + 0.5
    x, y, w = np.tensordot(np.linalg.inv(view.homography()), np.stack((columns, rows, np.ones_like(rows))), axes=1)
    across, down = x / w, y / w
    inside = (across >= 0) & (across < SIZE.width_mm) & (down >= 0) & (down < SIZE.height_mm)
    dots = paint[(down[inside] * DOTS_PER_MM).astype(int), (across[inside] * DOTS_PER_MM).astype(int)]
    falling = place * (1 - gradient * across[inside] / SIZE.width_mm)
    light[top:bottom, left:right][inside] = dots * falling[:, None]


def _curve(light: "Light", strength: float) -> "Light":
    """Return values as a camera bends them: an S in the displayed values."""
    shown = srgb_of(light)
    return shown + strength * (shown - 0.5) * shown * (1 - shown) * 4


def _jpeg(shown: "Light") -> "NDArray[np.uint8]":
    file = io.BytesIO()
    Image.fromarray((np.clip(shown, 0, 1) * 255).round().astype(np.uint8)).save(file, "JPEG", quality=92)
    return np.asarray(Image.open(file).convert("RGB"))
