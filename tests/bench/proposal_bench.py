"""The plan proposed from the portrait photograph that scikit-image ships, held against what is promised of it."""

import time
from collections.abc import Iterator
from contextlib import redirect_stdout
from io import StringIO
from itertools import pairwise
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Final

import numpy as np
import skimage
from PIL import Image, ImageDraw
from scipy.ndimage import binary_dilation, distance_transform_edt

from coach.cli import main
from coach.forecast.layers import layer_warnings
from coach.plan.commission import Passage, Plan
from coach.plan.reading import read_plan
from coach.review.advice import advice_on
from coach.shapes.shape_map import ShapeMap
from coach.shapes.svg import read_svg

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Mask = NDArray[np.bool_]

_HEAD: Final = "sitter:161,16,281,177"
_COUNTS: Final = {"coarse": 25, "middle": 50, "fine": 90}
_FINE: Final = ("eye", "lip", "upper lip", "lower lip", "mouth")
_TIMES: Final = 4
"""The outlines are drawn so much larger than the photograph to be measured."""


def proposal_figures() -> Iterator[str]:
    """Yield a line for each level: what was measured, its bound, and whether it is met."""
    with TemporaryDirectory() as folder:
        photo = Path(folder) / "sitter.png"
        copyfile(Path(skimage.__file__).parent / "data" / "astronaut.png", photo)
        for name, count in _COUNTS.items():
            yield from _of_count(name, count, photo)


def _of_count(name: str, count: int, photo: Path) -> Iterator[str]:
    path = photo.with_name(f"{name}.yaml")
    words = ("--count", str(count), "--canvas", "40 x 50 cm", "--canvases", "Hall,School", "--plan", str(path))
    begun_s = time.perf_counter()
    with redirect_stdout(StringIO()):
        main(["shapes", "--photo", str(photo), "--head", _HEAD, *words])
    taken_s = time.perf_counter() - begun_s
    plan = read_plan(path.read_text(encoding="utf-8"), path.name)
    shape_map, _ = read_svg(path.with_suffix(".shapes.svg").read_bytes())
    painted = [run for run in plan.runs if not run.is_check]
    passages = [passage for run in painted for passage in run.passages]
    yield f"{name}: {len(passages)} passages in {len(painted)} runs, {len(plan.runs) - len(painted)} checks"
    yield _line(f"{name}, mixtures", len(plan.mixtures), 8, 14)
    yield _line(f"{name}, longest run, min", max(run.planned_s for run in painted) / 60, 0, 40)
    yield _line(f"{name}, shortest passage, min", min(one.time_s for one in passages) / 60, 3, 40)
    yield _line(f"{name}, h a canvas", sum(run.planned_s for run in plan.runs) / 3600, 25, 40)
    masks = _masks(shape_map)
    yield from _widths(name, plan, masks)
    yield _line(f"{name}, part of next passages in a run that touch", _touching(plan, masks), 0.8, 1)
    yield _line(f"{name}, advice of coach check", len(advice_on(plan)) + len(layer_warnings(plan)), 0, 0)
    yield _line(f"{name}, s from photo to plan", taken_s, 0, 300)


def _masks(shape_map: ShapeMap) -> "dict[str, Mask]":
    size = shape_map.photo_width_px * _TIMES, shape_map.photo_height_px * _TIMES
    found = {}
    for shape in shape_map.shapes:
        mask = np.zeros(size[::-1], dtype=bool)
        for ring in shape.outline:
            image = Image.new("1", size)
            ImageDraw.Draw(image).polygon([(x * _TIMES, y * _TIMES) for x, y in ring], fill=1)
            mask ^= np.asarray(image)
        found[shape.id] = mask
    return found


def _whole(passage: Passage, masks: "dict[str, Mask]") -> "Mask":
    whole: Mask = np.any([masks[shape] for shape in passage.shapes], axis=0)
    return whole


def _widths(name: str, plan: Plan, masks: "dict[str, Mask]") -> Iterator[str]:
    """Yield how wide the thinnest passage of the features is, and which thinner ones are an eye, a lip or a light."""
    mm_per_px = 400 / (plan.crop.width_px if plan.crop else 1) / _TIMES
    features = [one for own in plan.passes[2:-1] for one in own.passages if one.shapes]
    wide_mm = {}
    for one in features:
        padded = np.pad(_whole(one, masks), 1)
        wide_mm[one.name] = 2 * float(distance_transform_edt(padded).max()) * mm_per_px
    fine = [one for one in wide_mm if one.startswith(_FINE) or "light" in one.partition(",")[2]]
    rest = {one: mm for one, mm in wide_mm.items() if one not in fine}
    thinnest = min(rest, key=lambda one: rest[one])
    yield _line(f"{name}, thinnest passage ({thinnest}), mm", rest[thinnest], 10, 500)
    thin = [one for one in fine if wide_mm[one] < 10]
    yield f"{name}, thinner than 1 cm, but an eye, a lip or a light: {', '.join(thin) or 'none'}"


def _touching(plan: Plan, masks: "dict[str, Mask]") -> float:
    pairs = [pair for run in plan.runs for pair in pairwise(run.passages) if all(one.shapes for one in pair)]
    near = [
        bool((binary_dilation(_whole(one, masks), iterations=_TIMES) & _whole(two, masks)).any()) for one, two in pairs
    ]
    return sum(near) / len(near)


def _line(name: str, measured: float, least: float, most: float) -> str:
    verdict = "met" if least <= measured <= most else "missed"
    return f"{name}: {measured:.3g}; {verdict}, {least:g} to {most:g}"
