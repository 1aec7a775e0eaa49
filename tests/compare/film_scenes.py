"""Canvases of shapes drawn by chance, painted in measured oil films, as cameras of known sensitivities see them."""

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np
from scipy.ndimage import gaussian_filter

from coach.compare.differences import common_to_all, difference, lab_pairs
from coach.compare.subject import Outlines, Painted
from tests.compare.scenes import CURVES, DOTS_PER_MM, PAINT_DOTS_PER_MM, SIZE, Room, Sheet, dots_at, places_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Labels = NDArray[np.int32]
    Light = NDArray[np.float64]

CAMERAS: Final = 3
MASSES: Final = 22
FEATURES: Final = ("eye", "eye", "nose", "mouth")

_FILE: Final = Path(__file__).parent.parent / "cases" / "oil_films_seen.csv"
_WAY_DE: Final = 4.0
"""How far apart in CIEDE2000 a film and its mixture with another paint are in the table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmScene:
    """Two canvases painted after the same shapes.

    Attributes:
        sheets: Both canvases as the camera sees them.
        painted: The passages.
        outlines: Where they lie.
        truth: CIEDE2000 of the paint between the canvases, beyond what is common to all, (passages,).
    """

    sheets: tuple[Sheet, Sheet]
    painted: list[Painted]
    outlines: Outlines
    truth: "Light"


def film_scene(seed: int, camera: int, share: float = 0.5, common: float = 0.0, masses: int = MASSES) -> FilmScene:
    """Return two canvases of which so many of the passages came out in another mixture.

    Args:
        seed: Decides shapes, paints and what differs.
        camera: Which of the `CAMERAS` sees them.
        share: Part of the passages that differ.
        common: How much lighter the second canvas is all over, in logarithms of light.
        masses: How many large shapes there are, beside the small features.
    """
    chance = np.random.default_rng((seed, 17))
    labels, features = _shapes(chance, masses)
    films = [list(_films().values())[no] for no in chance.integers(len(_films()), size=len(features))]
    paint = np.log([film for film, _ in films]) + chance.normal(0, 0.1, (len(films), 1, 1))
    differs = np.zeros_like(paint)
    for no, (_, ways) in enumerate(films):
        size = min(abs(chance.normal(0, 3)), 6.5) / _WAY_DE if chance.random() < share else 0.0
        differs[no] = ways[chance.integers(len(ways))] * size * chance.choice((-1, 1))
    one, other = paint - differs / 2, paint + differs / 2 + common
    planned = paint[:, 0] * chance.uniform(0.88, 1.08) + chance.normal(0, 0.12, (len(films), 1))
    apart = one[:, 0] - other[:, 0]
    return FilmScene(
        sheets=(_sheet(labels, one[:, 1 + camera]), _sheet(labels, other[:, 1 + camera])),
        painted=[
            Painted(pass_="all", passage=f"shape {no}", light=_three(np.exp(planned[no])))
            for no in range(len(features))
        ],
        outlines=_outlines(_seen(labels, DOTS_PER_MM), features),
        truth=difference(*lab_pairs((one[:, 0] + other[:, 0]) / 2, apart - common_to_all(apart))),
    )


def _outlines(labels: "Labels", features: Sequence[str]) -> Outlines:
    places = places_of(labels, features, [f"shape {no}" for no in range(len(features))])
    return Outlines(labels=labels, dots_per_mm=DOTS_PER_MM, features=places)


def film_room(seed: int, strongest_curve: float, width_px: int) -> Room:
    """Return a room: 0.65 to 1 of the light on the right, gradients, a phone's curve, noise and JPEG as they come."""
    chance = np.random.default_rng((seed, 18))
    red, green, blue = chance.normal(0, 0.02, 3).tolist()
    return Room(
        ratio=chance.uniform(0.65, 1),
        gradient=chance.uniform(-0.2, 0.2),
        slope=chance.uniform(-0.15, 0.15),
        tint=(red, green, blue),
        curve=chance.uniform(0, strongest_curve) if strongest_curve else 0.0,
        kind=int(chance.integers(len(CURVES))),
        noise=chance.uniform(0.005, 0.02),
        quality=int(chance.integers(85, 96)),
        seed=seed,
        width_px=width_px,
    )


def _films() -> dict[str, tuple["Light", list["Light"]]]:
    """Return each film in linear light, true and as each camera sees it, (1 + CAMERAS, 3), and the ways from it."""
    found: dict[str, tuple[Light, list[Light]]] = {}
    with _FILE.open(encoding="utf-8") as file:
        for row in csv.DictReader(line for line in file if not line.startswith("#")):
            name, way, *numbers = row.values()
            lights = np.array(numbers, dtype=float).reshape(1 + CAMERAS, 3)
            if way:
                found[name][1].append(lights)
            else:
                found[name] = (lights, [])
    return found


def _shapes(chance: "np.random.Generator", masses: int) -> tuple["Labels", list[str]]:
    """Return a canvas divided into masses of wavy edges, with small features on top, and the feature of each shape."""
    across, down = dots_at(PAINT_DOTS_PER_MM)
    across = across + _waves(chance, across.shape)
    down = down + _waves(chance, across.shape)
    middles = chance.uniform((0, 0), SIZE, (masses, 2))
    far = [(across - x) ** 2 + (down - y) ** 2 for x, y in middles]
    labels = np.argmin(far, axis=0).astype(np.int32)
    features = [""] * masses
    for no, feature in enumerate(FEATURES):
        x, y = 90 + 220 * (no % 2) + chance.uniform(-30, 30), 150 + 200 * (no // 2) + chance.uniform(-40, 40)
        width, height = chance.uniform(16, 30), chance.uniform(8, 14)
        for part in (1.0, 0.5):
            is_in = ((across - x) / (part * width)) ** 2 + ((down - y) / (part * height)) ** 2 <= 1
            labels[is_in] = len(features)
            features.append(feature)
    return labels, features


def _waves(chance: "np.random.Generator", shape: tuple[int, ...]) -> "Light":
    waves = gaussian_filter(chance.normal(0, 1, shape), 25)
    return 8 * waves / waves.std()


def _sheet(labels: "Labels", light: "Light") -> Sheet:
    return Sheet(labels=labels, light=np.exp(light))


def _seen(labels: "Labels", dots_per_mm: float) -> "Labels":
    rows, columns = round(SIZE.height_mm * dots_per_mm), round(SIZE.width_mm * dots_per_mm)
    step = PAINT_DOTS_PER_MM / dots_per_mm
    down, across = (((np.arange(count) + 0.5) * step).astype(int) for count in (rows, columns))
    return labels[np.ix_(down, across)]


def _three(light: "Light") -> tuple[float, float, float]:
    red, green, blue = light.tolist()
    return red, green, blue
