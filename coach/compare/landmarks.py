"""Landmarks of the drawing: proposed from the outlines, set on a photo of each canvas, and what lies elsewhere."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.compare.canvas_view import CanvasView, Corner
from coach.compare.drawing import CALLED_MM, laid_over
from coach.compare.findings import Moved
from coach.compare.moved import further
from coach.shapes.features import OF_FACE, Feature, HeadBox
from coach.shapes.polygons import polygon_of
from coach.shapes.shape_map import ShapeMap

if TYPE_CHECKING:
    from numpy.typing import NDArray
    from shapely.geometry.base import BaseGeometry

    Points = NDArray[np.float64]

Box = tuple[float, float, float, float]
"""Left, top, right and bottom of what is painted, in pixels of the photo."""

LEAST, MOST = 8, 15
"""So many landmarks are proposed."""

LEAST_SET: Final = 5
"""Of fewer landmarks none can be told from a canvas that stands otherwise; ours."""

_AROUND_HEAD: Final = 0.2
_EYE_FRAC, _LEVEL_FRAC = 0.35, 0.1
"""So far from its pupil the corners of an eye are looked for, for the width of all that is outlined of it; ours."""

_NEAR_FRAC, _APART_FRAC, _CORNER_FRAC = 0.012, 0.06, 0.01
"""Tips lie so far apart, corners of any shape so far; outlines are this coarse then, for the longest side; ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Landmark:
    """A point that is found again on every canvas.

    Attributes:
        name: What it is, in a painter's words; left and right as in the picture.
        feature: What it is part of; findings are told once for each.
        at: Column and row in pixels of the photo that is painted from.
    """

    name: str
    feature: str
    at: Corner


@dataclass(frozen=True, slots=True, kw_only=True)
class SetLandmarks:
    """Where a painter set landmarks, by their names, in a photo of a canvas; corners and points in its pixels."""

    view: CanvasView
    at: Mapping[str, Corner]


@dataclass(frozen=True, slots=True)
class _Tip:
    """The farthest point of a feature in one direction, right and down; of its left or right part, where it has two."""

    of: Feature
    name: str
    feature: str
    right: float
    down: float


def _both(of: Feature, name: str, feature: str, right: float, down: float) -> list[_Tip]:
    """Return a tip of the left part of a feature and its mirror image; {} stands for the side."""
    return [
        _Tip(of, name.format(side), feature.format(side), sign * right, down)
        for side, sign in (("left", -1), ("right", 1))
    ]


_TIPS: Final = (
    *_both(Feature.EYES, "outer corner of the {} eye", "{} eye", 1, 0),
    *_both(Feature.EYES, "inner corner of the {} eye", "{} eye", -1, 0),
    *_both(Feature.MOUTH, "{} corner of the mouth", "mouth", 1, 0),
    _Tip(Feature.NOSE, "lowest point of the nose", "nose", 0, 1),
    _Tip(Feature.FACE, "lower edge of the face", "chin", 0, 1),
    _Tip(Feature.FACE, "middle of the hairline", "hairline", 0, -1),
    *_both(Feature.EARS, "lobe of the {} ear", "{} ear", 0, 1),
    *_both(Feature.NOSE, "{} wing of the nose", "nose", 1, 0.3),
    _Tip(Feature.HAIR, "top of the hair", "hair", 0, -1),
    _Tip(Feature.NECK, "pit of the neck", "neck", 0, 1),
)
_OF_TWO_PARTS: Final = frozenset({Feature.EYES, Feature.EARS})
_IN_FACE: Final = OF_FACE - {Feature.EARS}


def proposed_landmarks(shape_map: ShapeMap, heads: Sequence[HeadBox], crop: Box) -> tuple[Landmark, ...]:
    """Return landmarks at tips and corners of the outlines, at most `MOST`; at least `LEAST` where there are so many.

    Args:
        shape_map: The shapes of the photo.
        heads: The heads in it; none where nobody marked one.
        crop: What is painted of it.
    """
    found: list[Landmark] = []
    every: Sequence[HeadBox | None] = heads or (None,)
    for head in every:
        tips = _TIPS[: MOST // max(len(heads), 1)]
        whose = f" of {head.name}" if head is not None and len(heads) > 1 else ""
        pieces = _of_head(shape_map, head)
        found += [mark for tip in tips if (mark := _landmark(tip, pieces, whose))]
    kept: list[Landmark] = []
    for mark in found:
        if _is_inside(mark.at, crop) and _is_apart(mark, kept, crop, _NEAR_FRAC):
            kept.append(mark)
    return tuple(kept if len(kept) >= LEAST else [*kept, *_corners(shape_map, kept, crop)][:LEAST])


def landmark_findings(
    landmarks: Sequence[Landmark], crop: Box, drawn: tuple[SetLandmarks, SetLandmarks], dot_mm: float = 1.0
) -> tuple[Moved, ...]:
    """Return the features that lie elsewhere on a canvas, once each, the farthest first.

    What lies less than `CALLED_MM` or two dots elsewhere is not told.

    Each canvas is laid over the photo, and over the other one, with the least shift, turn and scale of what agrees.

    Args:
        landmarks: Where they lie in the photo that is painted from.
        crop: What is painted of it.
        drawn: Where they lie on two canvases; what is not set on both is left out.
        dot_mm: How large the dots are that were clicked, in millimetres on the canvas.

    Returns:
        For each feature how far it lies from where the other canvas has it, told of the canvas that is farther from the
        photo; and features that lie elsewhere than in the photo on both.
    """
    known = [one for one in landmarks if all(one.name in own.at for own in drawn)]
    if len(known) < LEAST_SET:
        return ()
    left, top, right, _ = crop
    size = drawn[0].view.size
    in_photo = (np.array([one.at for one in known]) - (left, top)) * size.width_mm / (right - left)
    places = [_on_canvas(own, [one.name for one in known]) for own in drawn]
    off = [-_left_over(in_photo, place) for place in places]
    between = -_left_over(places[1], places[0])
    least = max(CALLED_MM, 2 * dot_mm)
    features = dict.fromkeys(one.feature for one in known)
    canvases = drawn[0].view.canvas, drawn[1].view.canvas
    found = []
    for feature in features:
        own = [no for no, one in enumerate(known) if one.feature == feature]
        which = _farthest(between, own, least)
        apart, shifts = between[which].mean(axis=0), [part[which].mean(axis=0) for part in off]
        what = feature if len(which) == len(own) else known[which[0]].name
        is_second = np.hypot(*shifts[1]) > np.hypot(*shifts[0])
        if np.hypot(*apart) >= least:
            canvas, other = canvases[::-1] if is_second else canvases
            said = f"{what}: {further(*(-apart if is_second else apart))} on {canvas} than on {other}"
            found.append(_moved(feature, canvas, said, -apart if is_second else apart, dot_mm))
        elif min(np.hypot(*shift) for shift in shifts) >= least:
            mean = np.mean(shifts, axis=0)
            said = f"{what}: {further(*mean)} on {canvases[0]} and {canvases[1]} than in the photo"
            found.append(_moved(feature, canvases[0], said, mean, dot_mm))
    return tuple(sorted(found, key=lambda one: -np.hypot(one.right_mm, one.down_mm)))


def _farthest(between: "Points", own: Sequence[int], least: float) -> list[int]:
    """Return the landmarks of a feature that tell of it: all of them, or the farthest where it alone lies elsewhere."""
    mean = between[own].mean(axis=0)
    far = np.hypot(*between[own].T)
    is_alone = np.hypot(*mean) < least <= far.max()
    return [own[int(far.argmax())]] if is_alone else list(own)


def _left_over(points: "Points", onto: "Points") -> "Points":
    """Return how far points lie from others, once laid over those of them that agree, (n, 2)."""
    kept = np.ones(len(points), dtype=bool)
    for _ in range(len(points)):
        fitted = laid_over(points[kept], onto[kept])
        off = fitted.laid(points) - onto
        far = np.hypot(*off.T)
        agree = far < max(CALLED_MM, float(np.median(far)) * 1.5)
        if (agree == kept).all() or agree.sum() < LEAST_SET - 1:
            break
        kept = agree
    return off


def _on_canvas(own: SetLandmarks, names: Sequence[str]) -> "Points":
    """Return landmarks in millimetres from the upper left corner of the canvas, (n, 2)."""
    points = np.array([(*own.at[name], 1.0) for name in names])
    x, y, w = np.linalg.inv(own.view.homography()) @ points.T
    return np.stack((x / w, y / w), axis=1)


def _moved(feature: str, canvas: str, said: str, apart: "Points", dot_mm: float) -> Moved:
    right, down = (round(float(side), 1) for side in apart)
    words = f"{said}, give or take {max(dot_mm, 1):.0f} mm"
    return Moved(feature=feature, canvas=canvas, right_mm=right, down_mm=down, words=words)


def _landmark(tip: _Tip, pieces: "Mapping[Feature, list[BaseGeometry]]", whose: str) -> Landmark | None:
    """Return the tip of a feature of a head; None where the head has no such feature."""
    from shapely import get_coordinates, get_parts, union_all  # noqa: PLC0415  loaded when photos are compared

    own = pieces[tip.of]
    if own and tip.of in _OF_TWO_PARTS:
        middle = union_all(pieces[Feature.NOSE] or own).centroid.x
        own = [piece for piece in own if (piece.centroid.x < middle) == ("left" in tip.feature)]
    if not own:
        return None
    if tip.of is Feature.EYES:
        points = _around_pupil(own)
    else:
        parts = get_parts(union_all(own)).tolist()
        largest = max(parts, key=lambda part: part.area)
        points = get_coordinates(largest if tip.of is Feature.FACE else parts)
    x, y = points[int((points @ (tip.right, tip.down)).argmax())].tolist()
    return Landmark(name=f"{tip.name}{whose}", feature=f"{tip.feature}{whose}", at=(x, y))


def _around_pupil(pieces: "Sequence[BaseGeometry]") -> "Points":
    """Return the points of the outlines of an eye that lie level with its pupil, where its smallest shapes lie."""
    from shapely import get_coordinates  # noqa: PLC0415  loaded when photos are compared

    smallest = sorted(pieces, key=lambda piece: piece.area)[: max(1, len(pieces) // 3)]
    x, y = np.median([(piece.centroid.x, piece.centroid.y) for piece in smallest], axis=0)
    points = np.concatenate([get_coordinates(piece) for piece in pieces])
    width = float(np.ptp(points[:, 0]))
    reach = (_EYE_FRAC * width, _LEVEL_FRAC * width)
    near = points[(np.abs(points - (x, y)) <= reach).all(axis=1)]
    return near if len(near) > 1 else points


def _of_head(shape_map: ShapeMap, head: HeadBox | None) -> "Mapping[Feature, list[BaseGeometry]]":
    """Return the outlines of each feature of a head as areas; a face goes behind what lies in it."""
    from shapely import box  # noqa: PLC0415  loaded when photos are compared

    pieces: dict[Feature, list[BaseGeometry]] = {feature: [] for feature in Feature}
    for shape in shape_map.shapes:
        piece = polygon_of(shape.outline)
        if head is not None:
            across, down = _AROUND_HEAD * (head.right - head.left), _AROUND_HEAD * (head.bottom - head.top)
            piece &= box(head.left - across, head.top - down, head.right + across, head.bottom + down)
        if not piece.is_empty:
            for feature in {shape.feature, Feature.FACE} if shape.feature in _IN_FACE else (shape.feature,):
                pieces[feature].append(piece)
    return pieces


def _corners(shape_map: ShapeMap, found: Sequence[Landmark], crop: Box) -> list[Landmark]:
    """Return the sharpest corners of outlines that lie apart from landmarks and from each other, one a shape."""
    from shapely import LinearRing  # noqa: PLC0415  loaded when photos are compared

    side = max(crop[2] - crop[0], crop[3] - crop[1])
    sharp: list[tuple[float, Landmark]] = []
    for shape in shape_map.shapes:
        ring = np.array(LinearRing(shape.outline[0]).simplify(_CORNER_FRAC * side).coords)[:-1]
        into, out = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
        lengths = np.hypot(*into.T) * np.hypot(*out.T)
        straight = (into * out).sum(axis=1) / np.maximum(lengths, 1e-9)
        for no in np.argsort(straight, kind="stable").tolist():
            at = (float(ring[no, 0]), float(ring[no, 1]))
            if _is_inside(at, crop):
                name = f"corner of {shape.name}"
                sharp.append((float(straight[no]), Landmark(name=name, feature=shape.name, at=at)))
                break
    kept = list(found)
    for _, mark in sorted(sharp, key=lambda one: (one[0], one[1].name)):
        if _is_apart(mark, kept, crop, _APART_FRAC):
            kept.append(mark)
    return kept[len(found) :]


def _is_apart(mark: Landmark, others: Sequence[Landmark], crop: Box, frac: float) -> bool:
    least = frac * max(crop[2] - crop[0], crop[3] - crop[1])
    return all(np.hypot(*np.subtract(mark.at, one.at)) >= least for one in others)


def _is_inside(at: Corner, crop: Box) -> bool:
    """Return whether a point lies in what is painted, and not at its edge, where outlines are cut."""
    left, top, right, bottom = crop
    edge = _CORNER_FRAC * max(right - left, bottom - top)
    return left + edge < at[0] < right - edge and top + edge < at[1] < bottom - edge
