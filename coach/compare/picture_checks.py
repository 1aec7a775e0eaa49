"""Whether a canvas from the front can be what its corners say: the right painting, upright, sharp and free of glare."""

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, Final

import numpy as np

from coach.colour.light import srgb_of
from coach.compare.canvas_view import CanvasView, ComparisonError
from coach.compare.readings import BRIGHTEST
from coach.compare.subject import Outlines, Painted, Photographed

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Flags = NDArray[np.bool_]
    Picture = NDArray[Any]
    Values = NDArray[np.float64]

_COLUMNS, _ROWS = 48, 60
"""Dots on which a canvas is held against what it should show."""

_ALIKE: Final = 0.45
"""A canvas whose values follow those of the plan less far shows another painting; ours, as the others here are."""

_BETTER: Final = 0.1
"""A canvas that follows the plan so much further when it is turned is turned."""

_FRAMES: Final = (0.04, 0.08, 0.12)
"""Parts of width and height that a frame may take on each side."""

_BETTER_FRAMED: Final = 0.05
_MOST_GLARE_FRAC: Final = 0.4
_BLURRED: Final = 2.0
"""So many times less detail in one photo than in the other is blur."""

_TILES: Final = 3
_NEAR_FRAC: Final = 0.7
_ROUNDS: Final = 6
_LEAST_DOTS: Final = 100


def check_front(photo: Photographed, view: CanvasView, front: "Coded", wanted: "Values", is_read: "Flags") -> None:
    """Raise where a canvas from the front is not what its corners say.

    Args:
        photo: The photo.
        view: Where the canvas lies in it.
        front: The canvas from the front.
        wanted: What it should show, as `wanted_values` has it.
        is_read: Where that is painted.

    Raises:
        ComparisonError: Glare lies over much of it, or it shows another painting, turned, mirrored, or with its frame.
    """
    whose = f"{photo.name}: {view.canvas}"
    if (front[::4, ::4] >= BRIGHTEST).any(axis=2).mean() > _MOST_GLARE_FRAC:
        raise ComparisonError(f"{whose} lies in glare; turn it away from the window and take the photo again")
    if is_read.sum() < _LEAST_DOTS:
        return
    seen = _coarse(front)
    own = _likeness(seen, wanted, is_read)
    on_side = (_coarse(np.rot90(front, times)) for times in (1, 3))
    turned = max(
        (_likeness(one, wanted, is_read), word)
        for one, word in (
            (seen[::-1, ::-1], "upside down"),
            (seen[:, ::-1], "mirrored"),
            *((one, "on its side") for one in on_side),
        )
    )
    if turned[0] > max(_ALIKE, own + _BETTER):
        raise ComparisonError(f"{whose} is {turned[1]} there; turn the photo, or set its corners anew")
    framed = max(_likeness(_inside(seen, part), wanted, is_read) for part in _FRAMES)
    if framed > max(_ALIKE, own + _BETTER_FRAMED):
        raise ComparisonError(
            f"{photo.name}: the corners of {view.canvas} lie outside what is painted; set them inside the frame"
        )
    if own < _ALIKE and _likeness(seen, wanted, is_read & _near(seen, wanted, is_read)) < _ALIKE:
        raise ComparisonError(f"{whose} does not show the painting of this plan; look which canvas it is")


def check_sharpness(canvas: str, names: Sequence[str], patterns: Sequence["Values"]) -> None:
    """Raise where a canvas has far less detail in one of two photos.

    Args:
        canvas: Its name.
        names: Names of the photos.
        patterns: The value of each of its dots in either photo.

    Raises:
        ComparisonError: It is blurred in one.
    """
    one, other = (_detail(pattern) for pattern in patterns)
    ratio = float(np.median(np.log(one / other)))
    if abs(ratio) > np.log(_BLURRED):
        raise ComparisonError(f"{names[ratio > 0]}: {canvas} is blurred; take it again, without portrait mode")


def _detail(pattern: "Values") -> "Values":
    """Return how far neighbouring dots differ where they differ most, in each of `_TILES` x `_TILES` parts."""
    steps = np.abs(np.diff(pattern[::2, ::4], axis=0))
    tiles = [tile for band in np.array_split(steps, _TILES) for tile in np.array_split(band, _TILES, axis=1)]
    return np.array([np.percentile(tile, 99) for tile in tiles]) + 1e-3


def wanted_values(painted: Sequence[Painted], outlines: Outlines) -> tuple["Values", "Flags"]:
    """Return the values that the plan has, on a coarse grid, and where something is painted."""
    labels = _coarse(outlines.labels)
    green = np.array([*(passage.light[1] for passage in painted), 1.0])
    is_read = np.array([*(not passage.why_not for passage in painted), False])
    return srgb_of(green)[labels], is_read[labels]


def _coarse(picture: "Picture") -> "Picture":
    """Return a picture on the coarse grid."""
    down, across = (
        (np.arange(count) * side + side // 2) // count
        for count, side in zip((_ROWS, _COLUMNS), picture.shape, strict=False)
    )
    return picture[np.ix_(down, across)]


def _likeness(seen: "Coded", wanted: "Values", is_read: "Flags") -> float:
    """Return the correlation of what is seen with what is wanted, beyond light that falls off evenly."""
    down, across = np.nonzero(is_read)
    ways = np.stack([np.ones(len(down)), down, across], axis=1)
    values = np.stack([seen[..., 1][is_read] / 255, wanted[is_read]], axis=1)
    values = values - ways @ np.linalg.lstsq(ways, values, rcond=None)[0]
    sizes = np.linalg.norm(values, axis=0)
    return float(values[:, 0] @ values[:, 1] / max(1e-9, float(sizes.prod())))


def _near(seen: "Coded", wanted: "Values", is_read: "Flags") -> "Flags":
    """Return the dots that follow the plan best: a few large passages may still be bare, or painted otherwise."""
    near = is_read
    for _ in range(_ROUNDS):
        slope, level = np.polyfit(wanted[near], seen[..., 1][near] / 255, 1)
        off = np.abs(seen[..., 1] / 255 - slope * wanted - level)
        near = is_read & (off <= np.quantile(off[is_read], _NEAR_FRAC))
    return near


def _inside(seen: "Coded", part: float) -> "Coded":
    """Return the picture without so much of its width and height on each side, at its own size."""
    rows, columns = ((part * side + (1 - 2 * part) * (np.arange(side) + 0.5)).astype(int) for side in seen.shape[:2])
    found: Coded = seen[np.ix_(rows, columns)]
    return found
