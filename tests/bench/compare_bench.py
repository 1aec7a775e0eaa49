"""What two exchanged photos tell of rendered canvases, against the levels to reach, and how long it takes."""

import io
import time
from collections.abc import Iterator
from dataclasses import replace
from statistics import median
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image

from coach.colour.light import linear_of, srgb_of
from coach.compare.canvas_view import ComparisonError
from coach.compare.comparison import compare
from coach.compare.differences import difference, exchange_of, lab_pairs
from tests.compare.scenes import DISCS, NAMES, Canvas, Room, outlines, painted, photographed

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from coach.compare.subject import Photographed

    Light = NDArray[np.float64]

_SCENES: Final = 24
_FIRST_SEED: Final = 1000
_MOST_CURVE: Final = 0.3
"""A phone bends its values up to so far; drawn evenly for each scene."""

_LARGE_PX: Final = 4000
_RUNS: Final = 3


def compare_figures() -> Iterator[str]:
    """Yield a line a level: errors, false alarms, what is missed, wrong names, and time."""
    for strongest in (0.0, _MOST_CURVE):
        yield from _levels(strongest)
    yield _wrong_names()
    yield _seconds()


def _levels(strongest: float) -> Iterator[str]:
    errors: list[float] = []
    alike, apart = [], []
    for seed in range(_FIRST_SEED, _FIRST_SEED + _SCENES):
        chance = np.random.default_rng(seed)
        school = _changed(chance, 0.5)
        room = _room(chance, seed, chance.uniform(0, strongest) if strongest else 0.0)
        found = compare(_photos(Canvas(), school, room), painted(), outlines())
        truth = _true_differences(school)
        for one in found.shapes:
            errors.append(abs(one.difference - truth[one.passage]))
            if truth[one.passage] < 1:
                alike.append(one.called)
            if truth[one.passage] >= 2.5:
                apart.append(not one.called)
    camera = f"camera bends up to {strongest:g}"
    yield f"{camera}: error of CIEDE2000, median {median(errors):.2f} (0.5), 95 % {np.percentile(errors, 95):.2f} (1.0)"
    yield f"{camera}: false alarms {_share(alike)} (2 %), missed {_share(apart)} (5 %)"


def _wrong_names() -> str:
    """Return how often canvases that were not exchanged, but named as if they were, are refused."""
    refused = []
    for seed in range(_FIRST_SEED, _FIRST_SEED + _SCENES):
        chance = np.random.default_rng(seed)
        school = _changed(chance, 0.5)
        if sum(size >= 2.5 for size in _true_differences(school).values()) < 3:
            continue
        room = replace(_room(chance, seed, 0.0), ratio=chance.uniform(0.65, 0.9))
        first, second = _photos(Canvas(), school, room)[0], photographed(Canvas(), school, NAMES, room, is_second=True)
        one, other = second.views
        swapped = replace(second, views=(replace(one, canvas=other.canvas), replace(other, canvas=one.canvas)))
        try:
            compare((first, swapped), painted(), outlines())
        except ComparisonError:
            refused.append(True)
        else:
            refused.append(False)
    return f"canvases named wrongly: refused {_share(refused)} (95 %)"


def _seconds() -> str:
    photos = _photos(Canvas(), Canvas(), Room(width_px=_LARGE_PX))
    files = []
    for photo in photos:
        file = io.BytesIO()
        Image.fromarray(photo.coded).save(file, "JPEG", quality=92)
        files.append(file.getvalue())
    compared, decoded = [], []
    for _ in range(_RUNS):
        begun = time.perf_counter()
        for content in files:
            Image.open(io.BytesIO(content)).load()
        decoded.append(time.perf_counter() - begun)
        begun = time.perf_counter()
        compare(photos, painted(), outlines())
        compared.append(time.perf_counter() - begun)
    ratio = min(compared) / min(decoded)
    return f"two photos of 12 megapixels: {min(compared):.2f} s, {ratio:.2f} times decoding them (1.5)"


def _photos(hall: Canvas, school: Canvas, room: Room) -> tuple["Photographed", "Photographed"]:
    return photographed(hall, school, NAMES, room), photographed(school, hall, NAMES[::-1], room, is_second=True)


def _room(chance: "np.random.Generator", seed: int, curve: float) -> Room:
    return Room(ratio=chance.uniform(0.65, 1), gradient=chance.uniform(0, 0.2), curve=curve, seed=seed)


def _changed(chance: "np.random.Generator", share: float) -> Canvas:
    """Return a canvas on which so many of the passages came out in another colour."""
    colours = {}
    for name, _, colour, *_ in DISCS:
        if chance.random() < share:
            light = linear_of(np.array(colour) / 255) * np.exp(chance.normal(0, 0.12) + chance.normal(0, 0.05, 3))
            red, green, blue = (srgb_of(light) * 255).round().astype(int).tolist()
            colours[name] = (red, green, blue)
    return Canvas(colours=colours)


def _true_differences(school: Canvas) -> dict[str, float]:
    """Return by passage how far the paint of the canvases is apart beyond what is common to all."""
    hall = np.log(linear_of(np.array([colour for _, _, colour, *_ in DISCS]) / 255))
    other = np.log(linear_of(np.array([school.colours.get(name, colour) for name, _, colour, *_ in DISCS]) / 255))
    exact = exchange_of((hall, other), (hall, other), np.full(hall.shape, 1e-3), np.zeros((len(hall), 2)))
    sizes = difference(*lab_pairs(exact.mean, exact.differs - exact.common))
    return {name: float(size) for (name, *_), size in zip(DISCS, sizes, strict=True)}


def _share(cases: list[bool]) -> str:
    return f"{100 * sum(cases) / max(1, len(cases)):.1f} % of {len(cases)}"
