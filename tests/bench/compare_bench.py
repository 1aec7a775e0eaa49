"""What two exchanged photos tell of canvases in measured oil films, against the levels to reach, and how long it takes.

Seeds from 1000 on are kept for these figures; whoever tunes the comparison takes others.
"""

import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Final

import numpy as np
from PIL import Image

from coach.compare.canvas_view import CanvasView, ComparisonError
from coach.compare.comparison import compare
from coach.compare.corner_finding import proposed_corners
from coach.compare.drawing import laid_over
from coach.compare.subject import Photographed, reading_scale
from coach.plan.commission import Canvas
from coach.screens.compare.picture import point_dots
from coach.screens.compare.repository import PhotoOfCanvases
from coach.screens.compare.state import begun, with_point
from coach.shapes.photo_light import PhotoLight
from coach.shapes.photo_window import whole
from coach.store.photo import read_srgb
from tests.compare.film_scenes import CAMERAS, FilmScene, film_room, film_scene
from tests.compare.rooms import FurnishedRoom
from tests.compare.scenes import DOTS_PER_MM, NAMES, SIZE, Room, photographed

if TYPE_CHECKING:
    from numpy.typing import NDArray

FIRST_SEED: Final = 1000
_SCENES: Final = 24
_MOST_CURVE: Final = 0.3
"""A phone bends its values up to so far; drawn evenly for each scene."""

_PHOTO_PX: Final = 4000
_RUNS: Final = 7
_SCREEN_CELLS: Final = (198, 56)
_OFF_MM: Final = 3
_CORNER_MM: Final = 0.5
_CERTAIN_DE, _ALIKE_DE = 2.5, 1.0


def compare_figures(scenes: int = _SCENES, first_seed: int = FIRST_SEED) -> Iterator[str]:
    """Yield a line a level: errors, false alarms, what is missed, what is refused, and time."""
    seeds = range(first_seed, first_seed + scenes)
    for strongest in (0.0, _MOST_CURVE):
        yield from _levels(seeds, strongest)
    yield _misnamed(seeds)
    yield from _changed_light(seeds)
    yield _corners(seeds)
    yield _landmarks(seeds)
    yield _seconds()
    yield _key_ms()


def _levels(seeds: range, strongest: float) -> Iterator[str]:
    errors: list[float] = []
    alike, apart, within = [], [], []
    moved = 0
    for seed in seeds:
        scene = film_scene(seed, seed % CAMERAS)
        found = compare(_exchanged(scene, film_room(seed, strongest, _PHOTO_PX)), scene.painted, scene.outlines)
        moved += len(found.moved)
        truth = {one.passage: float(size) for one, size in zip(scene.painted, scene.truth, strict=True)}
        for one in found.shapes:
            true = truth[one.passage]
            errors.append(abs(one.difference - true))
            within.append(one.interval[0] - 0.05 <= true <= one.interval[1] + 0.05)
            if true < _ALIKE_DE:
                alike.append(one.called)
            if true >= _CERTAIN_DE:
                apart.append(not one.called)
    camera = f"camera bends up to {strongest:g}"
    yield f"{camera}: error of CIEDE2000, median {median(errors):.2f} (0.5), 95 % {np.percentile(errors, 95):.2f} (1.0)"
    yield f"{camera}: false alarms {_share(alike)} (2 %), missed {_share(apart)} (5 %)"
    yield f"{camera}: features called moved {moved} (0); the truth lies in the 95 % interval in {_share(within)}"


def _misnamed(seeds: range) -> str:
    """Return how often canvases that were not exchanged, but named as if they were, are refused."""
    refused = []
    for seed in seeds:
        scene = film_scene(seed, seed % CAMERAS)
        if (scene.truth >= _CERTAIN_DE).sum() < 3:
            continue
        chance = np.random.default_rng((seed, 19))
        room = replace(film_room(seed, _MOST_CURVE, _PHOTO_PX // 2), ratio=chance.uniform(0.65, 0.9))
        first = photographed(*scene.sheets, NAMES, room)
        second = photographed(*scene.sheets, NAMES[::-1], room, is_second=True)
        refused.append(_is_refused((first, second), scene))
    return f"canvases named wrongly: refused {_share(refused)} (95 %)"


def _changed_light(seeds: range) -> Iterator[str]:
    """Yield how often light that changed is refused where cards show it, and what is called where none do."""
    refused, kept, called = [], [], []
    for seed in seeds:
        scene = film_scene(seed, seed % CAMERAS)
        room = replace(film_room(seed, _MOST_CURVE, _PHOTO_PX // 2), has_cards=True)
        chance = np.random.default_rng((seed, 20))
        change = np.exp(chance.choice((-1, 1)) * np.log(chance.uniform(1.15, 1.5)))
        changed = _exchanged(scene, replace(room, changed=float(change)))
        refused.append(_is_refused(changed, scene))
        kept.append(not _is_refused(_exchanged(scene, room), scene))
        with suppress(ComparisonError):
            bare = tuple(replace(photo, cards={}) for photo in changed)
            found = compare(bare, scene.painted, scene.outlines)
            called.append(found.all_over is not None and found.all_over.called)
    yield f"light changed by over 15 %, cards in both photos: refused {_share(refused)} (95 %)"
    yield f"light that did not change, cards in both photos: compared {_share(kept)}"
    yield f"light changed by over 15 %, no card: a common shift is called {_share(called)} (0 %)"


def _is_refused(photos: tuple[Photographed, Photographed], scene: FilmScene) -> bool:
    try:
        compare(photos, scene.painted, scene.outlines)
    except ComparisonError:
        return True
    return False


def _corners(seeds: range) -> str:
    """Return how often both canvases are found in a rendered studio, and how often something else is proposed."""
    found, wrong = [], []
    for seed in seeds:
        scene = film_scene(seed, seed % CAMERAS)
        room = replace(film_room(seed, _MOST_CURVE, _PHOTO_PX // 2), click_mm=0)
        photo = photographed(*scene.sheets, NAMES, room, studio=FurnishedRoom(seed))
        proposed = proposed_corners(photo.coded, [SIZE.width_mm / SIZE.height_mm])
        off = [
            min(np.hypot(*(np.array(own) - np.array(view.corners)).T).max() / view.px_per_mm for view in photo.views)
            for own in proposed
        ]
        is_right = len(off) == len(photo.views) and max(off) < _OFF_MM
        found.append(is_right)
        wrong.append(len(off) >= len(photo.views) and not is_right)
    return f"corners proposed: both canvases within {_OFF_MM} mm {_share(found)}, elsewhere {_share(wrong)}"


def _landmarks(seeds: range) -> str:
    """Return how far apart landmarks lie of canvases that agree, by dots of a millimetre and by corners set by hand."""
    off: list[float] = []
    for seed in seeds:
        chance = np.random.default_rng((seed, 21))
        places = chance.uniform((80, 80), (320, 400), (12, 2))
        seen = []
        for _ in NAMES:
            corners = np.array(((60, 176), (460, 176), (460, 676), (60, 676))) + chance.normal(0, 8, (4, 2))
            by_hand = corners + chance.normal(0, _CORNER_MM / 2**0.5, (4, 2))  # a pixel is a millimetre here
            points = np.append(places + chance.uniform(-0.5, 0.5, places.shape), np.ones((len(places), 1)), axis=1)
            x, y, w = np.linalg.inv(_view(by_hand).homography()) @ _view(corners).homography() @ points.T
            seen.append(np.stack((x / w, y / w), axis=1))
        off += np.hypot(*laid_over(*seen).off.T).tolist()
    far = np.percentile(off, 95)
    return f"landmarks clicked to a dot of 1 mm: apart {np.mean(off):.2f} mm in the mean (1.5), 95 % {far:.2f} mm (3)"


def _view(points: "NDArray[np.float64]") -> CanvasView:
    one, two, three, four = ((float(x), float(y)) for x, y in points)
    return CanvasView(canvas="", corners=(one, two, three, four), size=SIZE)


def _seconds() -> str:
    """Return the processor's time for two large photos against that for decoding them."""
    scene = film_scene(FIRST_SEED, 0, masses=42)
    photos = _photos(scene, film_room(FIRST_SEED, _MOST_CURVE, _PHOTO_PX))
    decoded, read, compared = [], [], []
    with TemporaryDirectory() as name:
        folder = Path(name)
        for photo in photos:
            Image.fromarray(photo.coded).save(folder / photo.name, quality=92)
        for _ in range(_RUNS):
            begun = time.process_time()
            for photo in photos:
                Image.open(folder / photo.name).load()
            decoded.append(time.process_time() - begun)
            begun = time.process_time()
            pictures = [_read(photo, folder) for photo in photos]
            read.append(time.process_time() - begun)
            begun = time.process_time()
            compare(pictures, scene.painted, scene.outlines)
            compared.append(time.process_time() - begun)
    whole = min(decoded)
    size = f"two photos of 12 megapixels, {len(scene.painted)} shapes"
    return (
        f"{size}: compared in {min(compared):.2f} s, {min(compared) / whole:.2f} times decoding them (1.5); "
        f"read at the dots that are needed in {min(read) / whole:.2f} times"
    )


def _key_ms() -> str:
    """Return how long the Compare screen takes to move a corner by a key and to draw what comes of it."""
    chance = np.random.default_rng(FIRST_SEED)
    width, height = _PHOTO_PX, _PHOTO_PX * 3 // 4
    photo = PhotoOfCanvases("photo.jpg", "0" * 64, width, height, chance.random((547, 730, 3)))
    canvases = Canvas(NAMES[0], "left", SIZE), Canvas(NAMES[1], "right", SIZE)
    framings = begun(canvases, (photo, photo))
    light = PhotoLight(photo.linear, (0.0, 0.0, float(width), float(height)))
    window, taken = whole(light.bounds, *_SCREEN_CELLS), []
    for step in range(10 * _RUNS):
        started = time.perf_counter()
        x, y = framings.at
        framings = with_point(framings, (x + window.dot_px * (1 if step % 2 else -1), y), window.dot_px)
        point_dots(light, window, framings, is_set=True)
        taken.append(1000 * (time.perf_counter() - started))
    cells = "{} x {}".format(*_SCREEN_CELLS)
    return f"a corner moved by a key and drawn in {cells} cells: median {median(taken):.1f} ms (a frame: 16.7)"


def _exchanged(scene: FilmScene, room: Room) -> tuple[Photographed, Photographed]:
    """Return two photos of a scene as the coach reads them: a JPEG of more dots than are needed is read coarsely."""
    with TemporaryDirectory() as folder:
        one, other = _photos(scene, room)
        for photo in (one, other):
            Image.fromarray(photo.coded).save(Path(folder) / photo.name, quality=room.quality)
        return _read(one, Path(folder)), _read(other, Path(folder))


def _photos(scene: FilmScene, room: Room) -> tuple[Photographed, Photographed]:
    one, other = scene.sheets
    return photographed(one, other, NAMES, room), photographed(other, one, NAMES[::-1], room, is_second=True)


def _read(photo: Photographed, folder: Path) -> Photographed:
    coded = read_srgb(folder / photo.name, reading_scale(photo.views, DOTS_PER_MM))
    return replace(photo.at(coded.shape[1] / photo.coded.shape[1]), coded=coded)


def _share(cases: list[bool]) -> str:
    return f"{100 * sum(cases) / max(1, len(cases)):.1f} % of {len(cases)}"
