"""What a painter would say against a plan that can be painted: advice, never a fault.

Source: common practice, no source, where nothing else is said. A plan whose names tell no feature gets none about them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from coach.composition.areas import estimated_head_mm, features_named
from coach.composition.life_size import LIFE_MM
from coach.forecast.layers import OIL_RANK
from coach.plan.commission import Address, Canvas, Passage, Plan
from coach.plan.units import number_text
from coach.plan.value_range import PAINT_REACH
from coach.text import joined

BLOCK_IN_WORDS: Final = ("block-in", "block in", "lay-in", "lay in", "underpaint", "dead colour")
"""A pass with one of these in its name lays in the big values."""

USUAL_H: Final = (25.0, 40.0)
"""Hours a head of half life size takes in two layers. Source: common practice, no source."""

_PER_SIZE_POWER: Final = 1.2
"""Time of a head against its height: that of an area to the power of 0.6. A large head may be painted with larger
brushes, so only its most hours grow. Source: ours, no other."""

_SLACK_FRAC: Final = 0.2
"""Hours this far outside are still believed. Source: ours, no other."""

SMALL_H: Final = 1.5
"""A study in one layer of at most so many hours a canvas needs no block-in, and no hours of a portrait. Ours."""

_LOOKS: Final = frozenset({"brow", "eye", "nose", "mouth", "lip", "ear", "cheek", "chin", "forehead", "face"})
_NAMED_MOST: Final = 3
_VALUE_SLACK: Final = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """One piece of advice.

    Attributes:
        about: ground, block-in, oil, values, hair, hours or shapes.
        passages: Pass and name of the passages it is about; empty where it is about the whole plan.
        sentence: What it says.
    """

    about: str
    passages: tuple[Address, ...]
    sentence: str


class _Place(NamedTuple):
    """A passage in its place: its pass, itself, the features in its name, or else in that of its pass."""

    pass_name: str
    passage: Passage
    features: frozenset[str]
    is_block_in: bool

    @property
    def address(self) -> Address:
        return self.pass_name, self.passage.name

    @property
    def words(self) -> str:
        return f"{self.passage.name} ({self.pass_name})"


def advice_on(plan: Plan) -> tuple[Advice, ...]:
    """Return what speaks against a plan, in the order in which a painter would meet it."""
    places = _places(plan)
    is_layered = any(place.is_block_in or place.passage.over for place in places)
    canvas_h = sum(run.planned_s for run in plan.runs) / 3600
    is_small = not is_layered and canvas_h <= SMALL_H
    return (
        *_on_shapes(plan, places),
        *_on_ground(places),
        *(() if is_small else _on_block_in(places, is_layered=is_layered)),
        *_on_hair(places),
        *_on_oil(plan, places),
        *_on_values(plan, places),
        *(() if is_small else _on_hours(plan, places, canvas_h, is_layered=is_layered)),
    )


def _places(plan: Plan) -> list[_Place]:
    return [
        _Place(
            one.name,
            passage,
            frozenset(features_named(passage.name) or features_named(one.name)),
            any(word in one.name.lower() for word in BLOCK_IN_WORDS),
        )
        for one in plan.passes
        for passage in one.passages
        if not passage.check
    ]


def _on_shapes(plan: Plan, places: Sequence[_Place]) -> Iterator[Advice]:
    shaped = [place for place in places if place.passage.shapes]
    if shaped and plan.shapes is None:
        sentence = f"{_named(shaped)} name shapes, and the plan no file of shapes: write shapes: NAME.shapes.svg."
        yield _advice("shapes", shaped, sentence)
    if plan.shapes is not None and plan.values is None:
        sentence = "A photo goes darker and lighter than paint: give every canvas one range, values: {photo: [0, 10], "
        yield Advice(about="values", passages=(), sentence=f"{sentence}paint: {_span(PAINT_REACH)}}}.")


def _on_ground(places: Sequence[_Place]) -> Iterator[Advice]:
    looks = [place for place in places if place.features & _LOOKS and not place.is_block_in]
    grounds = [place for place in places if "ground" in place.features]
    if looks and grounds and places.index(looks[0]) < places.index(grounds[0]):
        order = f"{looks[0].words} comes before {grounds[0].words}"
        sentence = f"{order}: on bare white every colour looks too dark, so lay the ground first."
        yield _advice("ground", (looks[0], grounds[0]), sentence)


def _on_block_in(places: Sequence[_Place], *, is_layered: bool) -> Iterator[Advice]:
    finished = [place for place in places if place.features and not place.is_block_in]
    laid_in = [place for place in places if place.is_block_in]
    looks = [place for place in finished if place.features & _LOOKS]
    if looks and not is_layered:
        sentence = f"{looks[0].words} is finished on bare canvas: block in the big values first, the ground among them."
        yield _advice("block-in", looks[:1], sentence)
    late = [place for place in looks if laid_in and places.index(place) < places.index(laid_in[-1])]
    if late:
        sentence = f"{late[0].words} is finished before {laid_in[-1].words} is blocked in: block everything in first."
        yield _advice("block-in", (late[0], laid_in[-1]), sentence)


def _on_hair(places: Sequence[_Place]) -> Iterator[Advice]:
    hair, grounds = ([place for place in places if feature in place.features] for feature in ("hair", "ground"))
    if not hair or not grounds:
        return
    in_one_pass = {place.pass_name for place in hair} & {place.pass_name for place in grounds}
    addresses = {place.address for place in (*hair, *grounds)}
    if in_one_pass or any(place.passage.into in addresses for place in (*hair, *grounds)):
        return
    sentence = f"{hair[0].words} never meets {grounds[0].words} wet: paint them in one pass, or one into the other."
    yield _advice("hair", (hair[0], grounds[0]), sentence)


def _on_oil(plan: Plan, places: Sequence[_Place]) -> Iterator[Advice]:
    """Yield what lies leaner over the same shapes; what is said to lie `over` another is told with the layers."""
    below: dict[str, _Place] = {}
    for place in places:
        mine = _oil(plan, place)
        under = dict.fromkeys(below[shape] for shape in place.passage.shapes if shape in below)
        for other in under if place.passage.into is None else ():
            theirs = _oil(plan, other)
            if place.passage.over != other.address and mine and theirs and OIL_RANK[mine] < OIL_RANK[theirs]:
                sentence = (
                    f"{place.words} is {mine} and comes over {other.words}, which is {theirs}: go from lean to fat."
                )
                yield _advice("oil", (place, other), sentence)
        below |= dict.fromkeys(place.passage.shapes, place)


def _oil(plan: Plan, place: _Place) -> str | None:
    mixture = plan.mixture_named(place.passage.mixture)
    return None if mixture is None else mixture.oil


def _on_values(plan: Plan, places: Sequence[_Place]) -> Iterator[Advice]:
    darkest, lightest = PAINT_REACH if plan.values is None else plan.values.paint
    if darkest < PAINT_REACH[0] or lightest > PAINT_REACH[1]:
        sentence = f"The plan's range of paint, {_span((darkest, lightest))}, is wider than paint reaches, about "
        yield Advice(about="values", passages=(), sentence=f"{sentence}{_span(PAINT_REACH)} by measured oil colours.")
    valued = [(place.passage.value, place) for place in places if place.passage.value is not None]
    dark = [place for value, place in valued if value < darkest - _VALUE_SLACK]
    light = [place for value, place in valued if value > lightest + _VALUE_SLACK]
    for beyond, end, how in ((dark, darkest, "darker"), (light, lightest, "lighter")):
        if beyond:
            verb = "asks" if len(beyond) == 1 else "ask"
            reach = "paint reaches, about" if plan.values is None else "the plan's range of paint,"
            sentence = f"{_named(beyond)} {verb} for a value {how} than {reach} {number_text(end)}."
            yield _advice("values", beyond, sentence)


def _on_hours(plan: Plan, places: Sequence[_Place], canvas_h: float, *, is_layered: bool) -> Iterator[Advice]:
    if not any(place.features & _LOOKS for place in places):
        return
    size_frac = (_head_mm(plan) or LIFE_MM / 2) / (LIFE_MM / 2)
    layers_frac = 1.0 if is_layered else 0.5
    least_h = USUAL_H[0] * layers_frac * min(1.0, size_frac**_PER_SIZE_POWER)
    most_h = USUAL_H[1] * layers_frac * max(1.0, size_frac**_PER_SIZE_POWER)
    head_h = canvas_h / max(1, len(plan.heads))
    if not least_h * (1 - _SLACK_FRAC) <= head_h <= most_h * (1 + _SLACK_FRAC):
        layers = "two layers" if is_layered else "one layer"
        sentence = f"{head_h:.0f} h a head on each canvas is {'not much' if head_h < least_h else 'a lot'}: "
        yield Advice(
            about="hours",
            passages=(),
            sentence=f"{sentence}{least_h:.0f} to {most_h:.0f} h are usual for a head of this size in {layers}.",
        )


def _head_mm(plan: Plan) -> float | None:
    """Return the mean height of the heads on the canvases, as the crop has them or else estimated; None if unknown."""
    found = [_head_on(plan, canvas) for canvas in plan.canvases]
    known = [mm for mm in found if mm is not None]
    return sum(known) / len(known) if known else None


def _head_on(plan: Plan, canvas: Canvas) -> float | None:
    if canvas.size is None:
        return None
    if not plan.heads or plan.crop is None:
        return estimated_head_mm(canvas.size, max(1, len(plan.heads)))
    mean_px = sum(head.box.height_px for head in plan.heads) / len(plan.heads)
    return mean_px * canvas.size.width_mm / plan.crop.width_px


def _advice(about: str, places: Sequence[_Place], sentence: str) -> Advice:
    return Advice(about=about, passages=tuple(place.address for place in places), sentence=sentence)


def _named(places: Sequence[_Place]) -> str:
    words = [place.words for place in places]
    more = len(words) - _NAMED_MOST
    return joined(words if more < 2 else [*words[:_NAMED_MOST], f"{more} more"])  # noqa: PLR2004  one more is named too


def _span(span: tuple[float, float]) -> str:
    return f"[{number_text(span[0])}, {number_text(span[1])}]"
