"""The parts of a photo: its shapes on the canvas, small ones joined to the neighbour most like them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from heapq import heapify, heappop, heappush
from math import dist, hypot
from typing import Final

from coach.colour.light import luminance_at, value_of
from coach.composition.proposal.parts import LEAST_MIN, MOST_RUN_MIN, Meeting, Meetings, Part, Zone, sitter_words
from coach.plan.commission import MarkedHead
from coach.shapes.edges import EdgeKind
from coach.shapes.features import OF_FACE, Feature
from coach.shapes.outlines import Ring
from coach.shapes.shape import Shape

LEAST_WIDTH_MM: Final = 10.0
"""Nothing thinner is a passage of its own, unless it is an eye, a lip or a highlight. Source: ours, no other."""

_MIN_PER_CM2_POWER, _AREA_POWER, _MIN_PER_EDGE_CM = 1.5, 0.6, 0.25
"""Minutes of a passage are 1.5 x cm2 ^ 0.6 + 0.25 for each cm of its edge: a first guess, ours."""

CARE_FRAC: Final = {
    Feature.EYES: 3.5,
    Feature.NOSE: 2.5,
    Feature.MOUTH: 3.5,
    Feature.EARS: 1.5,
    Feature.FACE: 2.0,
    Feature.HAIR: 1.5,
    Feature.NECK: 1.25,
    Feature.CLOTHING: 0.7,
    Feature.OBJECT: 0.7,
    Feature.GROUND: 0.7,
}
"""What a feature takes against that guess: most for the eyes and the mouth, least for the ground.

Source: common practice, no source (trade facts G30); the figures are ours.
"""

_LIKE_VALUE: Final = 1.0
"""So many steps of value apart two small shapes of an eye or a mouth are still painted as one. Source: ours."""

_SCATTERED_MIN, _ALIKE_DE = 20, 30.0
"""Outside the face a shape that takes less joins a neighbour of its feature that is so near in colour (Lab). Ours."""

_HIGHLIGHT_FROM: Final = 7.6
_MOST_LETTERS: Final = 18
_OF_NOBODY: Final = frozenset({Feature.CLOTHING, Feature.OBJECT, Feature.GROUND})
_FINE: Final = frozenset({Feature.EYES, Feature.MOUTH})


@dataclass(frozen=True, slots=True, kw_only=True)
class OnCanvas:
    """A photo as it comes out on the canvas, under the painter's hand.

    Attributes:
        mm_per_px: Millimetres on the largest canvas for one pixel of the photo.
        pace_frac: What the painter takes against the first guess, by feature; 1 for what it does not name.
    """

    mm_per_px: float
    pace_frac: Mapping[str, float] = field(default_factory=dict)

    def area_cm2(self, area_px: float) -> float:
        """Return the area of so many pixels."""
        return area_px * self.mm_per_px**2 / 100

    def length_cm(self, length_px: float) -> float:
        """Return the length of so many pixels."""
        return length_px * self.mm_per_px / 10

    def minutes(self, feature: Feature, area_cm2: float, edge_cm: float) -> float:
        """Return the minutes of what is painted as one, with so much edge around it. Source: ours, no other."""
        guess_min = _MIN_PER_CM2_POWER * area_cm2**_AREA_POWER + _MIN_PER_EDGE_CM * edge_cm
        return float(guess_min * CARE_FRAC[feature] * self.pace_frac.get(feature.value, 1.0))

    def shape_minutes(self, shape: Shape) -> float:
        """Return the minutes of a shape that is painted by itself."""
        edge_px = sum(near.length_px for near in shape.neighbours)
        return self.minutes(shape.feature, self.area_cm2(shape.area_px), self.length_cm(edge_px))


def parts_of(shapes: Sequence[Shape], heads: Sequence[MarkedHead], on_canvas: OnCanvas) -> tuple[list[Part], Meetings]:
    """Return what is painted of shapes, sitter by sitter and else in their order, and how the groups touch.

    A shape that takes under `LEAST_MIN`, or is thinner than `LEAST_WIDTH_MM` and neither eye, lip nor highlight, joins
    the neighbour most like it, as long as both take at most `MOST_RUN_MIN`. Small shapes of an eye or a mouth join only
    such as have a like value, and take `LEAST_MIN` else. Outside the face a shape of a few minutes joins a neighbour of
    its feature and colour.

    Args:
        shapes: The shapes of a photo.
        heads: The heads in it, one at least.
        on_canvas: How the photo comes out on the canvas.
    """
    patches = _joined(_patches(shapes, heads, on_canvas), on_canvas)
    meetings = {number: {other: Meeting(*at) for other, at in one.meets.items()} for number, one in patches.items()}
    words = ["", *sitter_words([head.name for head in heads]).values()]
    parts = [_part(number, one, on_canvas) for number, one in patches.items()]
    return sorted(parts, key=lambda part: words.index(part.sitter)), meetings


@dataclass(slots=True, kw_only=True)
class _Patch:
    """Shapes that are painted as one.

    Attributes:
        largest_cm2: Area of the shape that names it.
        luminance_cm2: Luminance times area, summed.
        lab_cm2: Lab times area, summed.
        meets: For each patch it touches the cm of the edge, and those that are soft or lost.
    """

    ids: list[str]
    feature: Feature
    sitter: str
    place: str
    area_cm2: float
    largest_cm2: float
    reach_mm: float
    luminance_cm2: float
    lab_cm2: tuple[float, float, float]
    meets: dict[int, tuple[float, float]]

    @property
    def value(self) -> float:
        return float(value_of(self.luminance_cm2 / self.area_cm2))

    @property
    def lab(self) -> tuple[float, float, float]:
        lightness, a, b = (part / self.area_cm2 for part in self.lab_cm2)
        return (lightness, a, b)

    def minutes(self, on_canvas: OnCanvas) -> float:
        return on_canvas.minutes(self.feature, self.area_cm2, sum(cm for cm, _ in self.meets.values()))

    def take_in(self, other: "_Patch") -> None:
        if other.largest_cm2 > self.largest_cm2:
            self.feature, self.sitter, self.place = other.feature, other.sitter, other.place
            self.largest_cm2 = other.largest_cm2
        self.ids += other.ids
        self.area_cm2 += other.area_cm2
        self.reach_mm = max(self.reach_mm, other.reach_mm)
        self.luminance_cm2 += other.luminance_cm2
        first, second, third = (one + more for one, more in zip(self.lab_cm2, other.lab_cm2, strict=True))
        self.lab_cm2 = (first, second, third)


def _patches(shapes: Sequence[Shape], heads: Sequence[MarkedHead], on_canvas: OnCanvas) -> dict[int, _Patch]:
    numbers = {shape.id: number for number, shape in enumerate(shapes)}
    found = {}
    for number, shape in enumerate(shapes):
        area_cm2 = on_canvas.area_cm2(shape.area_px)
        found[number] = _Patch(
            ids=[shape.id],
            feature=shape.feature,
            sitter=_sitter(shape, heads),
            place=place_of(shape.name),
            area_cm2=area_cm2,
            largest_cm2=area_cm2,
            reach_mm=shape.reach_px * on_canvas.mm_per_px,
            luminance_cm2=float(luminance_at(shape.value)) * area_cm2,
            lab_cm2=(shape.lab[0] * area_cm2, shape.lab[1] * area_cm2, shape.lab[2] * area_cm2),
            meets={
                numbers[near.id]: (cm, cm * (near.edge in (EdgeKind.SOFT, EdgeKind.LOST)))
                for near in shape.neighbours
                for cm in [on_canvas.length_cm(near.length_px)]
            },
        )
    return found


def place_of(name: str) -> str:
    """Return the place in the name of a shape: what stands before the first comma, 18 letters of it at most."""
    words: list[str] = []
    for word in name.partition(",")[0].split() or [name]:
        if words and sum(map(len, words)) + len(word) > _MOST_LETTERS:
            break
        words.append(word[:_MOST_LETTERS])
    return " ".join(words)


def _sitter(shape: Shape, heads: Sequence[MarkedHead]) -> str:
    """Return whose head a shape is on: the nearest; empty where one sits, and for what is on no head."""
    if shape.feature in _OF_NOBODY:
        return ""
    x, y = _middle(shape.outline)
    nearest = min(heads, key=lambda head: _off(head, x, y))
    return sitter_words([head.name for head in heads])[nearest.name]


def _off(head: MarkedHead, x: float, y: float) -> float:
    box = head.box
    return hypot(x - (box.left_px + box.right_px) / 2, y - (box.top_px + box.bottom_px) / 2)


def _middle(outline: Sequence[Ring]) -> tuple[float, float]:
    """Return the middle of the outer ring, the mean of its corners."""
    ring = max(outline, key=len, default=((0.0, 0.0),))
    return sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring)


def _joined(patches: dict[int, _Patch], on_canvas: OnCanvas) -> dict[int, _Patch]:
    """Return the patches with small ones joined to the neighbour most like them, the smallest first."""
    waiting = [(patch.minutes(on_canvas), number) for number, patch in patches.items()]
    heapify(waiting)
    while waiting and len(patches) > 1:
        minutes, number = heappop(waiting)
        patch = patches.get(number)
        if patch is None or minutes != patch.minutes(on_canvas):
            continue  # what was joined since stands in the queue once more
        host = _host(patch, patches, on_canvas)
        if host is not None:
            _join(patches, number, host)
            for changed in (host, *patches[host].meets):
                heappush(waiting, (patches[changed].minutes(on_canvas), changed))
    return patches


def _host(small: _Patch, patches: Mapping[int, _Patch], on_canvas: OnCanvas) -> int | None:
    """Return the patch that another one joins; None where it is large enough or none is small and like enough."""
    minutes = small.minutes(on_canvas)
    if small.feature in _FINE:
        near = _of_its_place(small, patches) if minutes < LEAST_MIN else []
        return min(near, key=lambda number: (_apart(small, patches[number]), number), default=None)
    is_thin = 2 * small.reach_mm < LEAST_WIDTH_MM and not _is_highlight(small, patches)
    must_join = minutes < LEAST_MIN or is_thin
    if not must_join and (small.feature in OF_FACE or minutes >= _SCATTERED_MIN):
        return None
    near = [
        number
        for number, edge in small.meets.items()
        if patches[number].feature not in _FINE
        and minutes + patches[number].minutes(on_canvas) - 2 * _MIN_PER_EDGE_CM * edge[0] <= MOST_RUN_MIN
        and (must_join or (patches[number].feature is small.feature and _apart(small, patches[number]) <= _ALIKE_DE))
    ]
    return min(near, key=lambda number: (*_kinship(small, patches[number]), number), default=None)


def _of_its_place(small: _Patch, patches: Mapping[int, _Patch]) -> list[int]:
    """Return the patches of the same eye or lip that have a like value."""
    return [
        number
        for number, other in patches.items()
        if other is not small
        and (other.feature, other.sitter, other.place) == (small.feature, small.sitter, small.place)
        and abs(other.value - small.value) <= _LIKE_VALUE
    ]


def _is_highlight(patch: _Patch, patches: Mapping[int, _Patch]) -> bool:
    """Return whether a patch is light, and lighter than all that it touches by a step."""
    value = patch.value
    return value >= _HIGHLIGHT_FROM and all(value >= patches[near].value + 1 for near in patch.meets)


def _kinship(small: _Patch, other: _Patch) -> tuple[bool, bool, float]:
    """Return what makes a host: the same sitter and feature before the same mass, then the nearest colour."""
    is_kin = (small.feature, small.sitter) == (other.feature, other.sitter)
    return (not is_kin, zone_of(small.feature) is not zone_of(other.feature), _apart(small, other))


def _apart(one: _Patch, other: _Patch) -> float:
    return dist(one.lab, other.lab)


def _join(patches: dict[int, _Patch], number: int, host: int) -> None:
    """Join one patch to another; the largest circle in both is taken for that of a convex figure, area over edge."""
    gone, kept = patches.pop(number), patches[host]
    kept.take_in(gone)
    kept.meets.pop(number, None)
    for near, (cm, soft_cm) in gone.meets.items():
        if near == host:
            continue
        before = kept.meets.get(near, (0.0, 0.0))
        kept.meets[near] = (before[0] + cm, before[1] + soft_cm)
        other = patches[near].meets
        other.pop(number)
        other[host] = kept.meets[near]
    edge_cm = sum(cm for cm, _ in kept.meets.values())
    if edge_cm:
        kept.reach_mm = max(kept.reach_mm, 10 * kept.area_cm2 / edge_cm)


def zone_of(feature: Feature) -> Zone:
    """Return the mass that a feature belongs to."""
    if feature in OF_FACE or feature is Feature.NECK:
        return Zone.FLESH
    return Zone(feature.value)


def _part(number: int, patch: _Patch, on_canvas: OnCanvas) -> Part:
    return Part(
        group=number,
        feature=patch.feature.value,
        sitter=patch.sitter,
        zone=zone_of(patch.feature),
        place=patch.place,
        photo_value=patch.value,
        lab=patch.lab,
        area_cm2=patch.area_cm2,
        minutes=max(LEAST_MIN, round(patch.minutes(on_canvas))),
        brush_mm=patch.reach_mm,
        shapes=tuple(patch.ids),
    )
