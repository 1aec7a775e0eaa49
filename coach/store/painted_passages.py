"""What a comparison of canvases needs of the plan: the passages on top, their light in the photo, where they lie."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

import numpy as np

from coach.compare.subject import FeaturePlace, Outlines, Painted
from coach.composition.crop import painted_crop
from coach.errors import CoachError
from coach.plan.commission import Address, Plan
from coach.review.compared_passages import passages_on_top
from coach.shapes.features import Feature, HeadBox
from coach.shapes.shape import Picture
from coach.shapes.shape_map import OutlinedShape, ShapeMap, labels_in, paint
from coach.store.photo import photo_size, read_linear_light
from coach.store.reference_photo import head_boxes
from coach.store.shape_file import load_shapes
from coach.text import joined

if TYPE_CHECKING:
    from numpy.typing import NDArray

DOTS_PER_MM: Final = 1.25
"""Dots on which canvases are compared; ours."""

_SMALL_FEATURES: Final = {Feature.EYES: "eye", Feature.EARS: "ear", Feature.NOSE: "nose", Feature.MOUTH: "mouth"}
"""The features that are looked for where they may have moved, and how one of them is called."""

_IN_PAIRS: Final = frozenset({Feature.EYES, Feature.EARS})

_BETWEEN_FRAC: Final = 0.06
"""A shape whose middle lies so near to that of the head, in parts of its width, is neither left nor right; ours."""


def painted_passages(
    plan: Plan, plan_path: Path, canvases: tuple[str, ...], why_not: Mapping[Address, str]
) -> tuple[list[Painted], Outlines]:
    """Return the passages that name shapes, with their light in the photo, and where they lie on the canvases.

    What no passage names comes last, and is not compared; what no shape covers along the edge is a bare margin.

    Args:
        plan: The plan.
        plan_path: Its file, beside which its photo and its shapes lie.
        canvases: The canvases.
        why_not: Passages that are not compared, and why.

    Raises:
        CoachError: Photo or shapes are missing or cannot be read, or the canvases are of different shape.
    """
    if plan.photo is None or plan.shapes is None:
        raise CoachError("only a plan with photo and shapes can be compared; add both")
    loaded = load_shapes(plan_path, plan.shapes, None)
    if loaded.problems:
        raise CoachError(str(loaded.problems[0]), where=plan.shapes)
    shape_map = loaded.shape_map
    size, *others = (one.size for one in plan.canvases if one.name in canvases and one.size is not None)
    if any(one.width_mm * size.height_mm != one.height_mm * size.width_mm for one in others):
        raise CoachError(f"{joined(canvases)} are of different shape, so the same passage lies elsewhere on each")
    photo = plan_path.with_name(plan.photo)
    crop = painted_crop(plan, photo_size(photo))
    scale = DOTS_PER_MM * size.width_mm / crop.width_px
    linear = read_linear_light(photo, (crop.left_px, crop.top_px, crop.right_px, crop.bottom_px), scale)
    picture = Picture(linear=linear, left_px=crop.left_px, top_px=crop.top_px, scale=scale)
    tops = passages_on_top(plan)
    if not tops:
        raise CoachError("no passage of the plan names its shapes")
    numbers = {shape: no for no, top in enumerate(tops) for shape in top.shapes}
    of_shape = np.array([numbers.get(shape.id, len(tops)) for shape in shape_map.shapes], dtype=np.int32)
    shape_labels = labels_in(shape_map, picture)
    labels = of_shape[shape_labels]
    labels[_margin(shape_map, picture)] = len(tops) + 1
    sums = [np.bincount(labels.ravel(), linear[..., no].ravel(), len(tops) + 2) for no in range(3)]
    light = np.stack(sums, axis=1) / np.maximum(np.bincount(labels.ravel(), minlength=len(tops) + 2), 1)[:, None]
    painted = [
        Painted(
            pass_=top.address[0],
            passage=top.address[1],
            light=_three(light[no]),
            why_not=why_not.get(top.address, ""),
        )
        for no, top in enumerate(tops)
    ]
    rest = Painted(pass_="", passage="", light=_three(light[-2]), why_not="no passage names it")
    features = _features(plan, shape_map, shape_labels)
    return [*painted, rest], Outlines(labels=labels, dots_per_mm=DOTS_PER_MM, features=features)


def _features(plan: Plan, shape_map: ShapeMap, labels: "NDArray[np.int32]") -> tuple[FeaturePlace, ...]:
    """Return where each eye, ear, nose and mouth lies; `labels` are the places of shapes in the map."""
    own: dict[str, list[int]] = {}
    heads = _heads(plan, shape_map)
    for no, shape in enumerate(shape_map.shapes):
        name = _feature_name(heads, shape)
        if name:
            own.setdefault(name, []).append(no)
    return tuple(FeaturePlace(name=name, inside=np.isin(labels, places)) for name, places in own.items())


def _feature_name(heads: Sequence[HeadBox], shape: OutlinedShape) -> str:
    """Return which small feature a shape is part of: "left eye", as the picture is looked at; empty for none."""
    if shape.feature not in _SMALL_FEATURES:
        return ""
    x, y = np.mean(max(shape.outline, key=len), axis=0)
    head = min(heads, key=lambda box: np.hypot(2 * x - box.left - box.right, 2 * y - box.top - box.bottom))
    off = (x - (head.left + head.right) / 2) / (head.right - head.left)
    side = ""
    if shape.feature in _IN_PAIRS:
        if abs(off) < _BETWEEN_FRAC:
            return ""
        side = "left " if off < 0 else "right "
    whose = f" of {head.name}" if len(heads) > 1 else ""
    return f"{side}{_SMALL_FEATURES[shape.feature]}{whose}"


def _heads(plan: Plan, shape_map: ShapeMap) -> list[HeadBox]:
    """Return the heads of the plan; where none is marked one about all small features."""
    if plan.heads:
        return head_boxes(plan.heads)
    rings = [ring for shape in shape_map.shapes if shape.feature in _SMALL_FEATURES for ring in shape.outline]
    if not rings:
        return []
    (left, top), (right, bottom) = (side(np.concatenate(rings), axis=0).tolist() for side in (np.min, np.max))
    return [HeadBox(name="", left=left, top=top, right=right, bottom=bottom)]


def _margin(shape_map: ShapeMap, picture: Picture) -> "NDArray[np.bool_]":
    """Return which dots no shape covers, as far as they reach the edge of the canvas."""
    from scipy.ndimage import label  # noqa: PLC0415  loaded when photos are compared

    covered = np.full(picture.linear.shape[:2], -1, dtype=np.int32)
    for shape in shape_map.shapes:
        paint(covered, shape.outline, 0, picture)
    numbered, _ = label(covered < 0)
    at_edge = np.concatenate([numbered[[0, -1]].ravel(), numbered[:, [0, -1]].ravel()])
    found: NDArray[np.bool_] = np.isin(numbered, at_edge[at_edge > 0])
    return found


def _three(light: "NDArray[np.float64]") -> tuple[float, float, float]:
    red, green, blue = (float(channel) for channel in light)
    return red, green, blue
