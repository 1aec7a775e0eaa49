"""Painted canvases photographed in a room, by code: light that falls off, a phone's curve, noise and JPEG."""

import io
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image
from scipy.ndimage import binary_dilation, gaussian_filter, label

from coach.colour.light import linear_of, srgb_of
from coach.compare.canvas_view import CanvasView, Corners
from coach.compare.subject import FeaturePlace, Outlines, Painted, Photographed
from coach.plan.commission import CanvasSize

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from tests.compare.rooms import FurnishedRoom

    Coded = NDArray[np.uint8]
    Labels = NDArray[np.int32]
    Light = NDArray[np.float64]

SIZE: Final = CanvasSize(400, 500)
DOTS_PER_MM: Final = 1.25
PAINT_DOTS_PER_MM: Final = 1.6
NAMES: Final = ("Hall", "School")
BARE: Final = 0.55
"""Light of a bare ground, and of a card, against white."""

CARD: Final = CanvasSize(60, 60)

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
COLOURS: Final = {name: colour for name, _, colour, *_ in DISCS}


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What stands between the paint and the photo.

    Attributes:
        ratio: Light of the right place for one of the left.
        gradient: How far the light falls off over a canvas, from left to right.
        slope: How far it falls off from above to below.
        tint: Logarithm of the light of the right place against the left one, by channel, beyond the ratio.
        curve: How strong the camera bends its values, 0 for plain sRGB.
        kind: Which of the `CURVES` it is.
        noise: Standard deviation of the sensor's noise, in linear light at white.
        changed: Light of the second photo's right place for one of the first photo's.
        seed: Decides noise, brush marks and hands.
        width_px: Width of the photo; its height is three quarters of that.
        click_mm: How far a corner that is set by hand lies off.
        quality: Quality of the JPEG.
        exposure: How bright the camera takes a photo against what it likes.
        has_cards: Whether a grey card stands beside each canvas.
    """

    ratio: float = 0.8
    gradient: float = 0.1
    slope: float = 0.0
    tint: tuple[float, float, float] = (0, 0, 0)
    curve: float = 0.0
    kind: int = 0
    noise: float = 0.004
    changed: float = 1.0
    seed: int = 1
    width_px: int = 1400
    click_mm: float = 0.3
    quality: int = 92
    exposure: float = 1.0
    has_cards: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A painted canvas: the passage of each of its dots, and how a camera sees the paint of each, (passages, 3)."""

    labels: "Labels"
    light: "Light"


@dataclass(frozen=True, slots=True, kw_only=True)
class Canvas:
    """How one canvas departs from the other: colours by passage, and features moved, in millimetres right and down."""

    colours: Mapping[str, tuple[int, int, int]] = field(default_factory=dict)
    moved: Mapping[str, tuple[float, float]] = field(default_factory=dict)

    @property
    def sheet(self) -> Sheet:
        """The canvas as it is painted."""
        colours = np.array([self.colours.get(name, colour) for name, colour in COLOURS.items()]) / 255
        return Sheet(labels=labels_of(self, PAINT_DOTS_PER_MM), light=linear_of(colours))


def labels_of(canvas: Canvas, dots_per_mm: float = DOTS_PER_MM) -> "Labels":
    """Return the passage of each dot of a canvas."""
    across, down = dots_at(dots_per_mm)
    labels = np.zeros(across.shape, dtype=np.int32)
    for number, (name, _, _, x, y, half_width, half_height) in enumerate(DISCS):
        right, lower = canvas.moved.get(name, (0, 0))
        labels[((across - x - right) / half_width) ** 2 + ((down - y - lower) / half_height) ** 2 <= 1] = number
    return labels


def dots_at(dots_per_mm: float) -> tuple["Light", "Light"]:
    """Return how far from the left and from above each dot of a canvas lies, in millimetres."""
    rows, columns = round(SIZE.height_mm * dots_per_mm), round(SIZE.width_mm * dots_per_mm)
    down, across = (np.indices((rows, columns)) + 0.5) / dots_per_mm
    return across, down


def outlines() -> Outlines:
    """Return the outlines as they are drawn: what the canvases should show."""
    labels = labels_of(Canvas())
    places = places_of(labels, [feature for _, feature, *_ in DISCS], [name for name, *_ in DISCS])
    return Outlines(labels=labels, dots_per_mm=DOTS_PER_MM, features=places)


def places_of(labels: "Labels", features: Sequence[str], names: Sequence[str]) -> tuple[FeaturePlace, ...]:
    """Return the small features: shapes of one that lie nearer than 6 mm, called after the largest of them."""
    found = []
    for feature in dict.fromkeys(filter(None, features)):
        taken = np.isin(labels, [no for no, one in enumerate(features) if one == feature])
        numbered, count = label(binary_dilation(taken, iterations=round(3 * DOTS_PER_MM)))
        for piece in (taken & (numbered == number) for number in range(1, count + 1)):
            largest = int(np.bincount(labels[piece]).argmax())
            found.append(FeaturePlace(name=names[largest].partition(",")[0], inside=piece))
    return tuple(found)


def painted() -> list[Painted]:
    """Return the passages as the plan has them."""
    return [
        Painted(pass_="all", passage=name, light=tuple(linear_of(np.array(colour) / 255).tolist()))
        for name, _, colour, *_ in DISCS
    ]


def photographed(
    left: Sheet,
    right: Sheet,
    names: tuple[str, str],
    room: Room,
    *,
    is_second: bool = False,
    studio: "FurnishedRoom | None" = None,
) -> Photographed:
    """Return a photo with a canvas on the left and another one on the right, before an even wall or in a studio."""
    chance = np.random.default_rng((room.seed, is_second))
    width, height = room.width_px, room.width_px * 3 // 4
    scale = width / 1150
    light = np.full((height, width, 3), 0.15, dtype=np.float32) if studio is None else studio.wall(width, height)
    views, cards = [], {}
    for place, (sheet, name) in enumerate(zip((left, right), names, strict=True)):
        corners = _corners(place, scale, height, chance)
        if studio is not None:
            studio.easel(light, corners)
        places = np.exp(room.tint) * room.ratio * (room.changed if is_second else 1.0) if place else np.ones(3)
        strokes = np.random.default_rng((room.seed, sum(map(ord, name))))
        _stand(light, CanvasView(canvas=name, corners=corners, size=SIZE), _paint(sheet, strokes), places, room)
        if room.has_cards:
            card = _card(place, scale, height)
            grey = np.full((120, 120, 3), BARE)
            _stand(light, CanvasView(canvas=name, corners=card, size=CARD), grey, places, room)
            cards[name] = card
        off = chance.normal(0, room.click_mm * scale / 2**0.5, (4, 2))
        views.append(CanvasView(canvas=name, corners=_corners_of(np.array(corners) + off), size=SIZE))
    light *= np.float32(chance.uniform(0.75, 0.9) * room.exposure)
    light += chance.standard_normal(light.shape, dtype=np.float32) * np.sqrt(np.maximum(light, 0.02)) * room.noise
    return Photographed(
        name=f"photo{1 + is_second}.jpg", coded=_jpeg(_bent(light, room), room), views=(views[0], views[1]), cards=cards
    )


def smooth_curve(shown: "Light", strength: float) -> "Light":
    """Return displayed values bent in an S."""
    return shown + 4 * strength * (shown - 0.5) * shown * (1 - shown)


def logistic_curve(shown: "Light", strength: float) -> "Light":
    """Return displayed values along a logistic curve from black to white."""
    low, high, here = (1 / (1 + np.exp(-(8 * strength + 1e-6) * (at - 0.5))) for at in (0.0, 1.0, shown))
    found: Light = (here - low) / (high - low)
    return found


def receptor_curve(shown: "Light", strength: float) -> "Light":
    """Return displayed values after light goes through a receptor's curve. Source: Naka and Rushton 1966."""
    white = 1 / 1.5
    bent = linear_of(shown) ** (1 + strength)
    return srgb_of(bent / (bent + 0.5) / white)


CURVES: Final = (smooth_curve, logistic_curve, receptor_curve)


def _corners(place: int, scale: float, height: int, chance: "np.random.Generator") -> Corners:
    left, top = (60 + place * 560) * scale, height / 2 - 255 * scale
    square = np.array([(0, 0), (SIZE.width_mm, 0), (SIZE.width_mm, SIZE.height_mm), (0, SIZE.height_mm)]) * scale
    return _corners_of(square + np.array([left, top]) + chance.normal(0, 4 * scale, (4, 2)))


def _card(place: int, scale: float, height: int) -> Corners:
    """Return where a card stands, to the right of its canvas."""
    left, top = (480 + place * 560) * scale, height / 2
    return _corners_of(np.array([(0, 0), (1, 0), (1, 1), (0, 1)]) * CARD.width_mm * scale + np.array([left, top]))


def _corners_of(points: "Light") -> Corners:
    one, two, three, four = ((float(x), float(y)) for x, y in points)
    return one, two, three, four


def _paint(sheet: Sheet, chance: "np.random.Generator") -> "Light":
    """Return the light of each dot: brush marks vary it by 5 %, the weave by 4 %, but not the mean of a passage."""
    labels = sheet.labels
    strokes = gaussian_filter(chance.normal(0, 1, labels.shape), (1.2, 5))
    strokes = 0.05 * strokes / strokes.std() + 0.04 * chance.normal(0, 1, labels.shape)
    means = np.bincount(labels.ravel(), strokes.ravel()) / np.maximum(np.bincount(labels.ravel()), 1)
    return gaussian_filter(sheet.light[labels], (1.2, 1.2, 0)) * (1 + strokes - means[labels])[..., None]


def _stand(light: "NDArray[np.float32]", view: CanvasView, paint: "Light", place: "Light", room: Room) -> None:
    """Draw a painted canvas, or a card, where it stands."""
    left, top = np.maximum(np.floor(np.min(view.corners, axis=0)).astype(int), 0)
    right, bottom = np.ceil(np.max(view.corners, axis=0)).astype(int)
    bottom, right = min(bottom, light.shape[0]), min(right, light.shape[1])
    rows, columns = np.mgrid[top:bottom, left:right] + 0.5
    x, y, w = np.tensordot(np.linalg.inv(view.homography()), np.stack((columns, rows, np.ones_like(rows))), axes=1)
    across, down = x / w / view.size.width_mm, y / w / view.size.height_mm
    inside = (across >= 0) & (across < 1) & (down >= 0) & (down < 1)
    height, width = paint.shape[:2]
    dots = paint[(down[inside] * height).astype(int), (across[inside] * width).astype(int)]
    falling = (1 - room.gradient * across[inside]) * (1 - room.slope * down[inside])
    light[top:bottom, left:right][inside] = dots * falling[:, None] * place


def _bent(light: "NDArray[np.float32]", room: Room) -> "Coded":
    """Return 8-bit values as the camera saves them."""
    steps = np.linspace(0, 1, 16385)
    shown = CURVES[room.kind](srgb_of(steps), room.curve) if room.curve else srgb_of(steps)
    coded = (np.clip(shown, 0, 1) * 255).round().astype(np.uint8)
    return coded[(np.clip(light, 0, 1) * 16384).astype(np.int32)]


def _jpeg(coded: "Coded", room: Room) -> "Coded":
    file = io.BytesIO()
    Image.fromarray(coded).save(file, "JPEG", quality=room.quality)
    return np.asarray(Image.open(file).convert("RGB"))
