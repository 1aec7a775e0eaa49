"""Speed of the composition room, and of a photo drawn for the terminal, in time of the processor."""

import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Final

from PIL import Image

from coach.composition.choices import choices_of
from coach.composition.photo_boxes import PhotoSize, read_head
from coach.composition.quantity import quantities_of
from coach.composition.sizes import iso_formats, stock_canvases
from coach.plan.commission import Canvas, CanvasSize, Mixture, Paint, Pass, Passage, Plan
from coach.shapes.photo_light import moderate_scale
from coach.store.photo import read_linear_light

_RUNS: Final = 7
_SHOWN_PX: Final = (516, 775)
_MOST_RANKING_S: Final = 0.1
_MOST_PREPARING_S: Final = 0.5
_MOST_DRAWING_FRAC: Final = 4.0
"""In linear light three channels are scaled as floats."""

_PHOTO_PX: Final = (4000, 6000)


def composition_figures() -> list[str]:
    """Return each figure with its bound, one sentence each."""
    return [_ranking(), _preparing(), *_drawing()]


def _ranking() -> str:
    photo = PhotoSize(width_px=_PHOTO_PX[0], height_px=_PHOTO_PX[1])
    heads = [read_head(f"N{n}:{500 + 700 * n},{1200 + 300 * n},{1100 + 700 * n},{2000 + 300 * n}") for n in range(4)]
    canvases = [*stock_canvases(), *iso_formats(), *stock_canvases()][:100]
    taken_s = _median_s(lambda: choices_of(photo, heads, (), canvases))
    tight_s = _median_s(lambda: choices_of(photo, heads, (), canvases, life_frac=0.6))
    return (
        f"ranking 100 canvases in two directions with four heads: {taken_s * 1000:.1f} ms, with a wanted size "
        f"{tight_s * 1000:.1f} ms; {_word(max(taken_s, tight_s) <= _MOST_RANKING_S)}, at most 100 ms"
    )


def _preparing() -> str:
    """Time the piles of the largest plan: 3,000 passages in 60 passes on 12 canvases, 60 mixtures."""
    paints = [f"p{n}" for n in range(12)]
    mixtures = tuple(
        Mixture(f"m{n}", ((paints[n % 12], 1 + n % 7), (paints[(n + 3) % 12], 1 + n % 4))) for n in range(60)
    )
    passages = tuple(
        Passage(f"s{n}", value=n * 7 % 11, area_cm2=(0.2, 1, 5, 20)[n % 4], mixture=f"m{n * 13 % 60}")
        for n in range(50)
    )
    plan = Plan(
        canvases=tuple(Canvas(f"C{n}", size=CanvasSize(400, 500)) for n in range(12)),
        passes=tuple(Pass(f"pass {n}", passages, ()) for n in range(60)),
        palette=tuple(map(Paint, paints)),
        mixtures=mixtures,
    )
    taken_s = _median_s(lambda: quantities_of(plan))
    return f"piles of 3,000 passages: {taken_s * 1000:.0f} ms; {_word(taken_s <= _MOST_PREPARING_S)}, at most 500 ms"


def _drawing() -> list[str]:
    said = []
    scale = moderate_scale(_PHOTO_PX[0] * _PHOTO_PX[1])
    with TemporaryDirectory() as folder:
        for kind in ("JPEG", "PNG"):
            path = Path(folder) / "photo"
            Image.radial_gradient("L").resize(_PHOTO_PX).convert("RGB").save(path, kind)
            ours_s = _median_s(lambda path=path: read_linear_light(path, (0, 0, *_PHOTO_PX), scale, is_shown=True))  # type: ignore[misc]
            pillow_s = _median_s(lambda path=path: _scaled_by_pillow(path))  # type: ignore[misc]
            ratio = ours_s / pillow_s
            said.append(
                f"reading a {kind} of 24 megapixels to show it: {ours_s * 1000:.0f} ms, "
                f"Pillow's scaling {pillow_s * 1000:.0f} ms; {ratio:.2f} times, {_word(ratio <= _MOST_DRAWING_FRAC)}, "
                f"at most {_MOST_DRAWING_FRAC:g} times"
            )
    return said


def _scaled_by_pillow(path: Path) -> None:
    with Image.open(path) as image:
        image.thumbnail(_SHOWN_PX)


def _median_s(work: Callable[[], object]) -> float:
    taken = []
    for _ in range(_RUNS):
        begun_s = time.process_time()
        work()
        taken.append(time.process_time() - begun_s)
    return median(taken)


def _word(is_met: bool) -> str:
    return "met" if is_met else "NOT MET"
