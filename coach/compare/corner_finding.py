"""Where canvases lie in a photo, proposed: quadrilaterals of straight edges that have the shape of a canvas.

All figures here are ours, tried on rendered rooms (`python -m tests.bench --room compare`).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.compare.canvas_view import CanvasView, Corners, front_view
from coach.plan.commission import CanvasSize

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Coded = NDArray[np.uint8]
    Edges = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Numbers = NDArray[np.intp]

_SEARCHED_PX: Final = 640
"""Longest side of the small picture in which edges are looked for."""

_LEAST_STEP: Final = 3.0
"""The least change from pixel to pixel that counts as an edge."""

_LEAST_SIDE_FRAC: Final = 0.1
"""A canvas is so large for the longest side of the photo, at least."""

_MOST_SLOPE: Final = 0.2
_MOST_LINES: Final = 60
_MOST_OFF: Final = 0.16
"""How far the logarithm of its proportion may be off: nobody stands quite in front."""

_LEAST_HITS: Final = 0.35
"""Of each side so much shows as sharp edges."""

_BESIDE_PX: Final = (-11.0, -7.0, -4.0, -2.0, 2.0)
"""So far outside a side, and inside it, it is looked at."""

_PIECES, _LEAST_SHOWN, _LEAST_EDGES = 9, 2.0, 0.6
"""A side is looked at in so many pieces; one shows by this step, and of a side so many must."""

_LEAST_SCORE, _LEAST_ALONE = 0.9, 1.0
"""How good a quadrilateral is at least among others, and alone; a plain canvas reaches 1.1."""
_MOST_UNLIKE: Final = 0.3
_TRIED, _MOST_KEPT = 400, 60

_PLACES: Final = 81
_REACH_PX: Final = 3.0
"""So far around it, in pixels of the small picture, the place of a side is looked for."""


def proposed_corners(coded: "Coded", proportions: Sequence[float]) -> tuple[Corners, ...]:
    """Return the corners of the canvases that are found well, from left to right; nothing where none is.

    They stand upright and are seen about from the front. Those alike in size, height and picture go before other
    rectangles.

    Args:
        coded: The photo, 8-bit sRGB, shape (rows, columns, 3).
        proportions: Width by height of every canvas that may be in it.
    """
    small, scale = _small(coded)
    found = _with_steps(small, _quadrilaterals(small, proportions))
    chosen = _chosen(small, found)
    placed = [_placed(coded, corners / scale, _REACH_PX / scale) for corners in chosen]
    return tuple(sorted(placed, key=lambda corners: corners[0]))


def _small(coded: "Coded") -> tuple["Coded", float]:
    from PIL import Image  # noqa: PLC0415  loaded when photos are compared

    rows, columns = coded.shape[:2]
    scale = min(1.0, _SEARCHED_PX / max(rows, columns))
    size = max(1, round(columns * scale)), max(1, round(rows * scale))
    return np.asarray(Image.fromarray(coded).resize(size, Image.Resampling.BOX, reducing_gap=2)), scale


@dataclass(frozen=True, slots=True)
class _Lines:
    """Lines that run mostly along one way: `at + slope * along`; `hits` counts the edges on each up to a place."""

    at: "Floats"
    slope: "Floats"
    hits: "Floats"

    def share(self, no: "Numbers", begin: "Floats", end: "Floats") -> "Floats":
        """Return how much of lines shows as an edge between two places along them."""
        last = self.hits.shape[1] - 1
        one, other = (np.clip(np.rint(place), 0, last).astype(int) for place in (begin, end))
        share: Floats = (self.hits[no, other] - self.hits[no, one]) / np.maximum(end - begin, 1)
        return share

    def pairs(self, along: float) -> tuple["Numbers", "Numbers", "Floats"]:
        """Return every two lines, by what comes first at a place along them, and how far they are apart there."""
        across = self.at + self.slope * along
        order = np.argsort(across, kind="stable")
        one, other = (order[no] for no in np.triu_indices(len(order), 1))
        return one, other, np.maximum(across[other] - across[one], 1)


def _edges(small: "Floats", axis: int) -> "Edges":
    """Return where a picture changes most along an axis."""
    from scipy.ndimage import gaussian_filter, maximum_filter1d  # noqa: PLC0415  loaded when photos are compared

    orders = [(1, 0, 0), (0, 1, 0)] if axis == 0 else [(0, 1, 0), (1, 0, 0)]
    along, across = (np.abs(gaussian_filter(small, (1, 1, 0), order=order)).max(axis=2) for order in orders)
    least = max(_LEAST_STEP, 2 * float(np.median(along)))
    is_edge: Edges = (along >= maximum_filter1d(along, 3, axis=axis)) & (along >= least) & (along >= across)
    return is_edge


def _lines(edges: "Edges") -> _Lines:
    """Return the lines near the upright on which most edges lie; what lies on one is taken for no other."""
    from scipy.ndimage import maximum_filter1d  # noqa: PLC0415  loaded when photos are compared
    from skimage.transform import hough_line  # noqa: PLC0415  the same

    rows, columns = edges.shape
    turns = np.arctan(np.linspace(-_MOST_SLOPE, _MOST_SLOPE, _PLACES))
    down, near, left = np.arange(rows), maximum_filter1d(edges, 3, axis=1), edges.copy()
    at: list[float] = []
    slope: list[float] = []
    hits = np.zeros((0, rows + 1))
    while len(at) < _MOST_LINES:
        votes, angles, distances = hough_line(left, turns)
        place, turn = np.unravel_index(int(votes.argmax()), votes.shape)
        if votes[place, turn] < 0.7 * _LEAST_SIDE_FRAC * max(edges.shape):
            break
        at.append(float(distances[place] / np.cos(angles[turn])))
        slope.append(float(-np.tan(angles[turn])))
        across = np.rint(at[-1] + slope[-1] * down).astype(int)
        is_inside = (across >= 1) & (across < columns - 1)
        is_hit = is_inside & near[down, np.clip(across, 0, columns - 1)]
        hits = np.vstack((hits, np.append(0, np.cumsum(is_hit))))
        for beside in (-1, 0, 1):
            left[down[is_inside], across[is_inside] + beside] = False
    return _Lines(np.array(at), np.array(slope), hits)


@dataclass(frozen=True, slots=True)
class _Found:
    """Quadrilaterals: corners from upper left, clockwise, (n, 4, 2) in pixels, and how good each is, (n,)."""

    corners: "Floats"
    score: "Floats"

    def best(self, count: int) -> "_Found":
        """Return the best of them, the best one first."""
        order = np.argsort(-self.score, kind="stable")[:count]
        return _Found(self.corners[order], self.score[order])


def _quadrilaterals(small: "Coded", proportions: Sequence[float]) -> _Found:
    """Return the quadrilaterals whose four sides show as edges that end at the corners."""
    picture = small.astype(float)
    upright, level = _lines(_edges(picture, 1)), _lines(_edges(picture, 0).T)
    rows, columns = small.shape[:2]
    left, right, width = upright.pairs(rows / 2)
    top, bottom, height = level.pairs(columns / 2)
    across, down = np.nonzero(_off(np.log(width[:, None] / height), proportions) < 2 * _MOST_OFF)
    left, right, top, bottom = left[across], right[across], top[down], bottom[down]
    corners = np.stack(
        [_crossing(upright, a, level, b) for a, b in ((left, top), (right, top), (right, bottom), (left, bottom))], 1
    )
    x, y = corners[..., 0], corners[..., 1]
    ends = (
        (level, top, x[:, 0], x[:, 1]),
        (upright, right, y[:, 1], y[:, 2]),
        (level, bottom, x[:, 3], x[:, 2]),
        (upright, left, y[:, 0], y[:, 3]),
    )
    shown = np.stack([lines.share(no, begin, end) for lines, no, begin, end in ends], 1)
    beyond = np.mean([_beyond(*one) for one in ends], axis=0)
    off = _off(_log_proportion(corners), proportions)
    is_inside = (corners >= 0).all(axis=(1, 2)) & (corners < (columns, rows)).all(axis=(1, 2))
    kept = is_inside & (shown.min(axis=1) >= _LEAST_HITS) & (off < _MOST_OFF)
    return _Found(corners[kept], (shown.mean(axis=1) - 0.1 * beyond - off)[kept]).best(_TRIED)


def _off(logs: "Floats", proportions: Sequence[float]) -> "Floats":
    """Return how far logarithms of proportions are from the nearest that may be."""
    off: Floats = np.min([np.abs(logs - np.log(one)) for one in sorted(set(proportions))], axis=0)
    return off


def _log_proportion(corners: "Floats") -> "Floats":
    """Return the logarithm of width by height of quadrilaterals, (n,)."""
    sides = np.linalg.norm(np.roll(corners, -1, axis=1) - corners, axis=2)
    logs: Floats = np.log((sides[:, 0] + sides[:, 2]) / np.maximum(sides[:, 1] + sides[:, 3], 1))
    return logs


def _beyond(lines: _Lines, no: "Numbers", begin: "Floats", end: "Floats") -> "Floats":
    """Return how much of lines shows as an edge a tenth of their length beyond either end."""
    reach = 3 + 0.1 * (end - begin)
    return (lines.share(no, begin - reach, begin - 3) + lines.share(no, end + 3, end + reach)) / 2


def _crossing(upright: _Lines, one: "Numbers", level: _Lines, other: "Numbers") -> "Floats":
    """Return where upright lines cross level ones, (n, 2)."""
    steep, flat = upright.slope[one], level.slope[other]
    x = (upright.at[one] + steep * level.at[other]) / (1 - steep * flat)
    return np.stack((x, level.at[other] + flat * x), axis=1) + 0.5


def _with_steps(small: "Coded", found: _Found) -> _Found:
    """Return the quadrilaterals judged also by how they stand out, piece by piece, from what is around them.

    A strip around one that is lighter than what lies beyond is a canvas's margin, and belongs to it.
    """
    beside = _across(small, found.corners, np.roll(found.corners, -1, axis=1), np.array(_BESIDE_PX))
    pieces = beside.reshape(*beside.shape[:3], _PIECES, _PLACES // _PIECES, 3).mean(axis=4)
    steps = pieces[:, :, -1] - pieces[:, :, -2]
    shown = (np.abs(steps).max(axis=3) >= _LEAST_SHOWN).mean(axis=2)
    is_lighter = np.median(steps.sum(axis=3), axis=2) > 0
    light = np.median(pieces.sum(axis=4), axis=3)
    margin = np.tanh(np.maximum(light[..., 1:-1].max(axis=2) - light[..., 0], 0) / 60)
    score = found.score + 0.15 * shown.mean(axis=1) + 0.1 * is_lighter.mean(axis=1) - 0.55 * margin.mean(axis=1)
    kept = shown.min(axis=1) >= _LEAST_EDGES
    return _Found(found.corners[kept], score[kept]).best(_MOST_KEPT)


def _across(picture: "Coded", begin: "Floats", end: "Floats", offsets: "Floats") -> "Floats":
    """Return the picture beside sides from `begin` to `end`, (..., 2), offsets inwards: (..., offsets, places, 3)."""
    from scipy.ndimage import map_coordinates  # noqa: PLC0415  loaded when photos are compared

    places = begin[..., None, :] + np.linspace(0.04, 0.96, _PLACES)[:, None] * (end - begin)[..., None, :]
    points = places[..., None, :, :] + offsets[:, None, None] * _inwards(begin, end)[..., None, None, :]
    at = [points[..., 1] - 0.5, points[..., 0] - 0.5]  # the middle of a pixel lies half a pixel from its edge
    return np.stack([map_coordinates(picture[..., no], at, float, order=1, mode="nearest") for no in range(3)], axis=-1)


def _inwards(begin: "Floats", end: "Floats") -> "Floats":
    """Return the way, 1 long, that leads to the right of ways from `begin` to `end`: into what they go around."""
    along = (end - begin) / np.linalg.norm(end - begin, axis=-1, keepdims=True)
    return np.stack((-along[..., 1], along[..., 0]), axis=-1)


def _chosen(small: "Coded", found: _Found) -> list["Floats"]:
    """Return the corners of those that go together best, each somewhere else; of one alone, the best."""
    good = found.best(int((found.score >= _LEAST_SCORE).sum()))
    fronts = [_front(small, corners) for corners in good.corners]
    together = np.zeros((len(fronts), len(fronts)))
    for one, other in combinations(range(len(fronts)), 2):
        together[one, other] = together[other, one] = _together(good, fronts, one, other)
    if not together.any():
        return list(good.corners[:1][good.score[:1] >= _LEAST_ALONE])
    kept = [int(no) for no in np.unravel_index(int(together.argmax()), together.shape)]
    while (also := np.where((together[kept] > 0).all(axis=0), together[kept].sum(axis=0), 0)).any():
        kept.append(int(also.argmax()))
    return [good.corners[no] for no in kept]


def _together(found: _Found, fronts: Sequence["Floats"], one: int, other: int) -> float:
    """Return how well two quadrilaterals go together as canvases of one commission; 0 where they cannot."""
    (left, top), (right, bottom) = found.corners[one].min(axis=0), found.corners[one].max(axis=0)
    (left2, top2), (right2, bottom2) = found.corners[other].min(axis=0), found.corners[other].max(axis=0)
    height, height2 = bottom - top, bottom2 - top2
    unlike = abs(np.log(height / height2)) + abs(top + bottom - top2 - bottom2) / (height + height2)
    if min(right, right2) > max(left, left2) or unlike > _MOST_UNLIKE:
        return 0.0
    alike = float((fronts[one] * fronts[other]).mean())
    return float(max(found.score[one] + found.score[other] - unlike + alike, 0))


def _front(small: "Coded", corners: "Floats") -> "Floats":
    """Return the picture inside a quadrilateral, less its mean and as strong as any; nothing where it shows none."""
    view = CanvasView(canvas="", corners=_corners_of(corners), size=CanvasSize(40, 50))
    front = front_view(small, view, 40, 50).astype(float)
    shown = front - front.mean(axis=(0, 1))
    return shown / max(float(shown.std()), _LEAST_STEP)


def _placed(coded: "Coded", corners: "Floats", reach: float) -> Corners:
    """Return corners placed where the sides stand out most in the photo itself."""
    from scipy.ndimage import gaussian_filter1d  # noqa: PLC0415  loaded when photos are compared

    offsets = np.linspace(-reach, reach, 2 * _PLACES // 3)
    ends = []
    for side in range(4):
        begin, end = corners[side], corners[(side + 1) % 4]
        profile = _across(coded, begin, end, offsets)
        change = np.abs(gaussian_filter1d(profile, 2, axis=0, order=1)).max(axis=2)
        one, other = _strongest(change)
        inwards = _inwards(begin, end)
        ends.append((begin + offsets[one] * inwards, end + offsets[other] * inwards))
    crossings = [_meeting(ends[side - 1], ends[side]) for side in range(4)]
    highest = np.array(coded.shape[1::-1], dtype=float)
    return _corners_of(np.clip(crossings, 0, highest))


def _strongest(change: "Floats") -> tuple[int, int]:
    """Return at which offsets the straight line begins and ends along which a picture changes most."""
    count, places = change.shape
    share = np.linspace(0.04, 0.96, places)
    one, other = (no.ravel() for no in np.mgrid[0:count, 0:count])
    at = np.rint(one[:, None] * (1 - share) + other[:, None] * share).astype(int)
    best = int(change[at, np.arange(places)].mean(axis=1).argmax())
    return int(one[best]), int(other[best])


def _meeting(one: tuple["Floats", "Floats"], other: tuple["Floats", "Floats"]) -> "Floats":
    """Return where two lines through two points each meet."""
    way, across = one[1] - one[0], other[1] - other[0]
    share = np.linalg.solve(np.stack((way, -across), axis=1), other[0] - one[0])[0]
    point: Floats = one[0] + share * way
    return point


def _corners_of(points: "Floats") -> Corners:
    one, two, three, four = ((float(x), float(y)) for x, y in points)
    return one, two, three, four
