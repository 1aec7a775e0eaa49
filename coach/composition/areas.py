"""Area of every passage on all canvases: stated, or estimated from the heads and the canvas."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

from coach.composition.crop import best_crop, placed
from coach.composition.life_size import HEAD_MAN_MM, HEAD_WOMAN_MM, LIFE_MM
from coach.composition.photo_boxes import PhotoSize, check_boxes
from coach.plan.commission import CanvasSize, Pass, Passage, Plan

SHARE_OF_HEAD_FRAC: Final = {
    "brow": 0.03,
    "eye": 0.10,
    "nose": 0.10,
    "mouth": 0.06,
    "lip": 0.04,
    "ear": 0.05,
    "cheek": 0.20,
    "chin": 0.08,
    "forehead": 0.15,
    "face": 0.60,
    "flesh": 0.60,
    "skin": 0.60,
    "hair": 0.35,
    "beard": 0.12,
    "neck": 0.20,
}
"""Word in the name of a pass or passage to its share of the head's box. Source: ours, no other."""

SHARE_OF_CANVAS_FRAC: Final = {"cloth": 0.35, "coat": 0.35, "dress": 0.35, "hand": 0.05, "collar": 0.03, "ground": 0.45}
"""Word in the name of a pass or passage to its share of a canvas with heads of their usual share. Source: as above."""

OTHER_SHARE_OF_HEAD_FRAC: Final = 0.10
"""Share of the head's box for a pass with no known word. Source: ours, no other."""

HEAD_SHARE_OF_CANVAS_FRAC: Final = 0.10
"""Share of the canvas for the heads' boxes together, where no photo tells. Source: ours: a three-quarter life head
(17 x 11 cm) on 40 x 50 cm."""

HEAD_WIDTH_FRAC: Final = (154.3 / HEAD_MAN_MM + 147.8 / HEAD_WOMAN_MM) / 2
"""Breadth of a head as a share of its height, man and woman. Source: ANSUR II, derived (0.66)."""

_MOST_OF_CANVAS_FRAC: Final = 0.5
_MM2_PER_CM2: Final = 100


def head_box_cm2(head_mm: float) -> float:
    """Return the area of the box about a head of this height, in square centimetres."""
    return head_mm**2 * HEAD_WIDTH_FRAC / _MM2_PER_CM2


def canvas_cm2(size: CanvasSize) -> float:
    """Return the area of a canvas, in square centimetres."""
    return size.width_mm * size.height_mm / _MM2_PER_CM2


def estimated_head_mm(size: CanvasSize, sitter_count: int) -> float:
    """Return the height of each head where nobody stated it, in whole millimetres.

    The heads' boxes together take their usual share of the canvas; no head is above life size or half the canvas.

    Args:
        size: The canvas.
        sitter_count: How many sitters are on it, 1 or more.
    """
    box_mm2 = HEAD_SHARE_OF_CANVAS_FRAC * size.width_mm * size.height_mm / sitter_count
    most_mm = min(LIFE_MM, size.height_mm * _MOST_OF_CANVAS_FRAC)
    return float(max(1, round(min(most_mm, sqrt(box_mm2 / HEAD_WIDTH_FRAC)))))


@dataclass(frozen=True, slots=True, kw_only=True)
class PassageArea:
    """Area of one passage.

    Attributes:
        pass_name: Its pass.
        passage: The passage.
        cm2: On all canvases together, in square centimetres; None where a canvas has no size to estimate from.
        is_estimate: Whether the plan states none.
    """

    pass_name: str
    passage: Passage
    cm2: float | None
    is_estimate: bool


HeadAreas = Mapping[str, float]
"""Name of each head to the area of its box on one canvas, in square centimetres."""


def heads_on_canvases(plan: Plan, photo: PhotoSize) -> list[HeadAreas | None]:
    """Return the heads that a plan marks in its photo as they come out on each canvas; None for one without a size.

    Raises:
        CompositionError: A box cannot be in the photo.
    """
    heads, keeps = plan.heads, plan.keeps
    check_boxes(photo, heads, keeps)
    found: list[HeadAreas | None] = []
    for size in (canvas.size for canvas in plan.canvases):
        on_canvas = () if size is None else placed(size, best_crop(photo, size, heads, keeps), heads)
        found.append({head.name: head.box_cm2 for head in on_canvas} or None)
    return found


def areas_of(plan: Plan, heads: Sequence[HeadAreas | None] = ()) -> tuple[PassageArea, ...]:
    """Return the area of every passage that is painted, in the order of the plan.

    A stated area holds on every canvas. A passage that states none has the share of the feature in its own name (the
    collar in a pass of hair and ground); the others divide the features that only the name of the pass holds. Passages
    with the same features divide what the stated ones leave of it; where nothing is left, each is as large as the
    smallest of those.

    Args:
        plan: The plan.
        heads: For each canvas its heads; None, or no entry, for the usual share of the canvas. A pass with the name of
            a head in its own is measured by that head, every other by all.
    """
    canvases = [
        _Measure(canvas.size, heads[number] if number < len(heads) else None)
        for number, canvas in enumerate(plan.canvases)
    ]
    return tuple(area for one_pass in plan.passes for area in _areas_of_pass(canvases, one_pass))


class _Measure:
    """One canvas that shares are taken of."""

    def __init__(self, size: CanvasSize | None, heads: HeadAreas | None) -> None:
        self._canvas_cm2 = None if size is None else canvas_cm2(size)
        self._heads = heads

    def cm2(self, words: Sequence[str], pass_name: str) -> float | None:
        """Return the area of features on this canvas; None where nothing tells it."""
        of_head = sum(SHARE_OF_HEAD_FRAC.get(word, 0.0) for word in words) if words else OTHER_SHARE_OF_HEAD_FRAC
        of_canvas = sum(SHARE_OF_CANVAS_FRAC.get(word, 0.0) for word in words)
        whole_cm2, all_heads_cm2 = self._canvas_cm2, self._heads_cm2("")
        if (of_head and all_heads_cm2 is None) or (of_canvas and whole_cm2 is None):
            return None
        found_cm2 = of_head * (self._heads_cm2(pass_name) or 0.0)
        if whole_cm2 and of_canvas:
            # What is not a head has the room that the heads leave: less than usual where they are large.
            beside_heads = max(0.1 * whole_cm2, whole_cm2 - (all_heads_cm2 or 0.0)) / (1 - HEAD_SHARE_OF_CANVAS_FRAC)
            found_cm2 += of_canvas * beside_heads
        return found_cm2

    def _heads_cm2(self, pass_name: str) -> float | None:
        if self._heads is None:
            return None if self._canvas_cm2 is None else self._canvas_cm2 * HEAD_SHARE_OF_CANVAS_FRAC
        said = f" {pass_name.casefold()} "
        named = [cm2 for name, cm2 in self._heads.items() if f" {name.casefold()} " in said]
        return sum(named or self._heads.values())


def _areas_of_pass(canvases: Sequence[_Measure], one_pass: Pass) -> Iterator[PassageArea]:
    one_pass = one_pass._replace(passages=tuple(passage for passage in one_pass.passages if not passage.check))
    keys = _features_of(one_pass)
    groups: dict[tuple[str, ...], list[Passage]] = {}
    for key, passage in zip(keys, one_pass.passages, strict=True):
        groups.setdefault(key, []).append(passage)
    guesses = {
        key: _sum([_share_cm2(canvas.cm2(key, one_pass.name), group) for canvas in canvases])
        for key, group in groups.items()
        if any(passage.area_cm2 is None for passage in group)
    }
    for key, passage in zip(keys, one_pass.passages, strict=True):
        is_estimate = passage.area_cm2 is None
        cm2 = guesses[key] if passage.area_cm2 is None else passage.area_cm2 * len(canvases)
        yield PassageArea(pass_name=one_pass.name, passage=passage, cm2=cm2, is_estimate=is_estimate)


def _features_of(one_pass: Pass) -> list[tuple[str, ...]]:
    """Return for each passage of a pass the features whose share it has its part of."""
    of_pass = features_named(one_pass.name)
    named = [
        tuple(feature for feature in features_named(passage.name) if len(of_pass) > 1 or feature not in of_pass)
        for passage in one_pass.passages
    ]
    left_over = tuple(feature for feature in of_pass if not any(feature in features for features in named))
    return [features or left_over for features in named]


def _share_cm2(whole_cm2: float | None, passages: Sequence[Passage]) -> float | None:
    """Return what each passage that states no area has of features that some passages cover together."""
    stated = [passage.area_cm2 for passage in passages if passage.area_cm2 is not None]
    if whole_cm2 is None:
        return None
    left_cm2 = (whole_cm2 - sum(stated)) / (len(passages) - len(stated))
    return left_cm2 if left_cm2 > 0 else min(stated)


def _sum(areas: Sequence[float | None]) -> float | None:
    known = [area for area in areas if area is not None]
    return sum(known) if len(known) == len(areas) else None


def features_named(name: str) -> tuple[str, ...]:
    """Return the features whose word begins or ends a word of the name, one a word; "ear" is not in "beard"."""
    words = [word.rstrip("s") for word in name.lower().replace("-", " ").split()]
    shares = {**SHARE_OF_CANVAS_FRAC, **SHARE_OF_HEAD_FRAC}
    hits = {next((key for key in shares if word.startswith(key) or word.endswith(key)), None) for word in words}
    return tuple(key for key in shares if key in hits)
