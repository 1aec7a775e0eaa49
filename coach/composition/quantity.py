"""How much paint: from area, film, layers and waste to piles that can be mixed, paints and tubes, for all canvases."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import ceil
from typing import Any, Final

from coach.composition.areas import HeadAreas, PassageArea, areas_of
from coach.errors import UsageError
from coach.plan.commission import Passage, Plan
from coach.text import joined

WASTE_FRAC: Final = 0.25
"""Paint that stays on brush, palette and knife, on top of what lies on the canvas. Source: common practice, no source
(20 to 30 %)."""

TUBE_ML: Final = 37.0
"""A usual small tube, in millilitres. Source: common practice, no source (37 or 40)."""

LEAST_PILE_ML: Final = 1.0
"""Smallest pile that is mixed. Source: ours, no other."""

LEAST_PART_ML: Final = 0.25
"""Least of a paint in a pile that can still be measured by eye. Source: ours, no other."""

VALUE_REACH: Final = 1.0
"""So many steps of value a passage may be off the pile that it is painted from. Source: ours, no other."""

NEIGHBOUR_REACH: Final = 2.0
"""The same for a passage whose edge meets that of a passage of the pile. Source: ours, no other."""

LEAST_LIKENESS_FRAC: Final = 0.5
"""So much of a recipe its paints have in common with those of the pile it is painted from. Source: ours, no other."""

_SEEN_STEPS: Final = 0.5
"""A difference in value that is worth a change of the paint. Source: ours, no other."""

MOST_LAYERS: Final = 100
"""How often a passage may be painted. Source: ours, no other."""

MOST_WASTE_FRAC: Final = 5.0
"""Most paint mixed on top of what lies on the canvas, as a share of that."""

MOST_TUBE_ML: Final = 1000.0
"""Content of the largest tube, in millilitres; the smallest holds 1."""

_UM_CM2_PER_ML: Final = 10_000
_ROUNDING_ML: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class MixtureNeed:
    """What is mixed of one mixture for the whole work.

    Attributes:
        mixture: Its name; None for the passages that name none.
        cm2: Area on all canvases that is painted from it, in square centimetres.
        ml: Paint to mix, waste included, in millilitres.
        estimate: Whether an area in it is estimated.
        paints_ml: Each paint of its recipe, in millilitres; itself where it is one; empty where the plan has no recipe.
    """

    mixture: str | None
    cm2: float
    ml: float
    estimate: bool
    paints_ml: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Pile(MixtureNeed):
    """What is mixed of one mixture before one pass, so that every canvas is served from one pile.

    Attributes:
        before: The pass it is mixed before.
        needed_ml: What its passages take of it, waste included; less than `ml` where so little cannot be mixed.
        also_for: Mixtures of the pass that are too little to mix, and are taken from this pile.
    """

    before: str
    needed_ml: float
    also_for: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintNeed:
    """What the whole work takes of one paint, in millilitres, and how many tubes that is."""

    paint: str
    ml: float
    tubes: int
    estimate: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Uncounted:
    """A passage whose area nothing tells."""

    pass_: str
    passage: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantities:
    """The paint of a whole work.

    Attributes:
        mixtures: The sum of the piles of each mixture, in the order in which they are first mixed.
        piles: What to mix before which pass, in the order of the plan.
        paints: The sum of each paint, in the order of the palette.
        film_um: Thickness of one wet layer, in micrometres.
        layers: How often each passage is painted.
        waste_percent: Paint mixed on top of what lies on the canvas, in per cent of that.
        tube_ml: Content of a tube, in millilitres.
        uncounted: The passages whose area nothing tells.
        remarks: What is painted from the pile of another mixture, a sentence for each pass.
    """

    mixtures: tuple[MixtureNeed, ...]
    piles: tuple[Pile, ...]
    paints: tuple[PaintNeed, ...]
    film_um: float
    layers: int
    waste_percent: float
    tube_ml: float
    uncounted: tuple[Uncounted, ...]
    remarks: tuple[str, ...]


def volume_ml(area_cm2: float, film_um: float) -> float:
    """Return the paint on an area under a film, in millilitres. Source: identity, 1 mL on 100 cm2 is 100 um."""
    return area_cm2 * film_um / _UM_CM2_PER_ML


def tubes_for(ml: float, tube_ml: float = TUBE_ML) -> int:
    """Return how many whole tubes hold so many millilitres."""
    return ceil(ml / tube_ml - _ROUNDING_ML)


def least_ml(plan: Plan, mixture: str | None) -> float:
    """Return the smallest pile of a mixture: `LEAST_PILE_ML`, or as much as makes its smallest part `LEAST_PART_ML`."""
    parts = [share for _, share in _recipe(plan, mixture)]
    return max(LEAST_PILE_ML, LEAST_PART_ML / min(parts)) if parts else LEAST_PILE_ML


def quantities_of(
    plan: Plan,
    *,
    heads: Sequence[HeadAreas | None] = (),
    layers: int = 1,
    waste_frac: float = WASTE_FRAC,
    tube_ml: float = TUBE_ML,
) -> Quantities:
    """Return the paint that a plan takes on all canvases; the film is the plan's `forecast.film_um`.

    What a pass takes of a mixture is a pile. Of one under half of `LEAST_PILE_ML` the passages are painted from
    another pile of the pass whose recipe has half of its paint: the one nearest in value within `VALUE_REACH` of them,
    of two as near the one most alike; else a neighbour's within `NEIGHBOUR_REACH`. Where there is none, and of the
    others that are under `least_ml`, so much is mixed.

    Args:
        plan: The plan.
        heads: The heads on each canvas, for estimates; as for `areas_of`.
        layers: How often each passage is painted.
        waste_frac: Paint mixed on top of what lies on the canvas, as a share of that.
        tube_ml: Content of a tube, in millilitres.

    Raises:
        UsageError: A figure is out of range; the sentence says which.
    """
    _check_figures(layers, waste_frac, tube_ml)
    areas = areas_of(plan, heads)
    ml_per_cm2 = volume_ml(1, plan.forecast.film_um) * layers * (1 + waste_frac)
    passes = [_joined(batches) for batches in _batches(areas, ml_per_cm2, plan)]
    piles = tuple(_pile(batch) for batches in passes for batch in batches)
    return Quantities(
        mixtures=_mixtures(piles),
        piles=piles,
        paints=_paints(plan, piles, tube_ml),
        film_um=plan.forecast.film_um,
        layers=layers,
        waste_percent=round(100 * waste_frac, 1),
        tube_ml=tube_ml,
        uncounted=tuple(Uncounted(pass_=a.pass_name, passage=a.passage.name) for a in areas if a.cm2 is None),
        remarks=tuple(sentence for batches in passes for sentence in _sentences(batches)),
    )


def rounded(found: Quantities) -> Quantities:
    """Return quantities with areas and millilitres as they are printed: to the tenth, parts to the hundredth."""
    return replace(
        found,
        mixtures=tuple(replace(one, **_rounded(one)) for one in found.mixtures),
        piles=tuple(replace(one, needed_ml=round(one.needed_ml, 1), **_rounded(one)) for one in found.piles),
        paints=tuple(replace(one, ml=round(one.ml, 1)) for one in found.paints),
    )


def _rounded(need: MixtureNeed) -> dict[str, Any]:
    parts = {paint: round(ml, 2) for paint, ml in need.paints_ml.items()}
    return {"cm2": round(need.cm2, 1), "ml": round(need.ml, 1), "paints_ml": parts}


def _check_figures(layers: int, waste_frac: float, tube_ml: float) -> None:
    if not 1 <= layers <= MOST_LAYERS:
        raise UsageError(f"a passage is painted in 1 to {MOST_LAYERS} layers")
    if not 0 <= waste_frac <= MOST_WASTE_FRAC:  # written this way round so that NaN is refused
        raise UsageError(f"waste is 0 to {100 * MOST_WASTE_FRAC:g} % of what lies on the canvas")
    if not 1 <= tube_ml <= MOST_TUBE_ML:
        raise UsageError(f"a tube holds 1 to {MOST_TUBE_ML:g} ml")


@dataclass(slots=True, kw_only=True)
class _Batch:
    """What one pass takes of one mixture while it is decided from which pile that is painted."""

    pass_name: str
    mixture: str | None
    recipe: dict[str, float]
    least_ml: float
    areas: list[PassageArea]
    ml_per_cm2: float
    served: list["_Batch"] = field(default_factory=list)

    @property
    def cm2(self) -> float:
        return sum(area.cm2 or 0.0 for area in self.areas) + sum(one.cm2 for one in self.served)

    @property
    def needed_ml(self) -> float:
        return self.cm2 * self.ml_per_cm2

    @property
    def value(self) -> float | None:
        """Mean value of its own passages by area, in steps; None where none states it."""
        known = [(area.passage.value, area.cm2 or 0.0) for area in self.areas if area.passage.value is not None]
        whole_cm2 = sum(cm2 for _, cm2 in known)
        return sum(value * cm2 for value, cm2 in known) / whole_cm2 if whole_cm2 else None

    @property
    def values(self) -> list[float]:
        """The values of all passages painted from it."""
        own = [area.passage.value for area in self.areas if area.passage.value is not None]
        return own + [value for one in self.served for value in one.values]

    def is_beside(self, other: "_Batch") -> bool:
        """Return whether an edge of one of its passages meets one of the other's."""
        mine, others = ([area.passage for area in batch.areas] for batch in (self, other))
        return _meets(mine, others) or _meets(others, mine)


def _meets(some: Iterable[Passage], others: Iterable[Passage]) -> bool:
    names = {passage.name for passage in others}
    return any(passage.beside in names for passage in some)


def _batches(areas: Sequence[PassageArea], ml_per_cm2: float, plan: Plan) -> list[list[_Batch]]:
    """Return what each pass takes of each mixture, in the order of the plan."""
    passes: dict[str, dict[str | None, list[PassageArea]]] = {}
    for area in areas:
        if area.cm2 is not None:
            passes.setdefault(area.pass_name, {}).setdefault(area.passage.mixture, []).append(area)
    return [
        [
            _Batch(
                pass_name=pass_name,
                mixture=mixture,
                recipe=dict(_recipe(plan, mixture)),
                least_ml=least_ml(plan, mixture),
                areas=group,
                ml_per_cm2=ml_per_cm2,
            )
            for mixture, group in groups.items()
        ]
        for pass_name, groups in passes.items()
    ]


def _joined(batches: list[_Batch]) -> list[_Batch]:
    """Return the batches of a pass that are mixed, with what is painted from them; the smallest join first."""
    alone: list[_Batch] = []
    while small := [one for one in batches if one.needed_ml < LEAST_PILE_ML / 2 and one not in alone]:
        one = min(small, key=lambda batch: batch.needed_ml)
        host = _host(one, [batch for batch in batches if batch is not one and batch.mixture is not None])
        if host is None:
            alone.append(one)
        else:
            host.served.append(one)
            batches = [batch for batch in batches if batch is not one]
    return batches


def _host(small: _Batch, others: Sequence[_Batch]) -> _Batch | None:
    alike = [one for one in others if _likeness(small, one) >= LEAST_LIKENESS_FRAC]
    near = [(off, one) for one in alike if (off := _off(small, one)) is not None and off <= VALUE_REACH]
    if near:
        # In half steps, so that what is mixed alike goes before a difference in value that nobody sees.
        return min(near, key=lambda found: (round(2 * found[0]), -_likeness(small, found[1]), -found[1].needed_ml))[1]
    beside = [one for one in alike if small.is_beside(one) and (_off(small, one) or 0.0) <= NEIGHBOUR_REACH]
    return max(beside, key=lambda one: one.needed_ml, default=None)


def _off(small: _Batch, host: _Batch) -> float | None:
    """Return how far in value the passages of a batch are off another pile, at most; None where it is not stated."""
    value = host.value
    return None if value is None or not small.values else max(abs(one - value) for one in small.values)


def _likeness(one: _Batch, other: _Batch) -> float:
    """Return the share of paint that two recipes have in common, 0 to 1; 1 where one has no recipe."""
    if not one.recipe or not other.recipe:
        return 1.0
    return sum(min(share, other.recipe.get(paint, 0.0)) for paint, share in one.recipe.items())


def _pile(batch: _Batch) -> Pile:
    ml = max(batch.needed_ml, batch.least_ml)
    return Pile(
        before=batch.pass_name,
        mixture=batch.mixture,
        cm2=batch.cm2,
        ml=ml,
        needed_ml=batch.needed_ml,
        estimate=_is_estimate(batch),
        paints_ml={paint: ml * share for paint, share in batch.recipe.items()},
        also_for=tuple(one.mixture or "none named" for one in _all_served(batch)),
    )


def _is_estimate(batch: _Batch) -> bool:
    return any(area.is_estimate for area in batch.areas) or any(map(_is_estimate, batch.served))


def _all_served(batch: _Batch) -> list[_Batch]:
    return [found for one in batch.served for found in (one, *_all_served(one))]


def _sentences(batches: Sequence[_Batch]) -> list[str]:
    """Return what is painted from which pile of a pass, in one sentence; none where every mixture has its pile."""
    said = [
        f"{one.mixture or joined([area.passage.name for area in one.areas])} from {batch.mixture}{_change(one, batch)}"
        for batch in batches
        for one in _all_served(batch)
    ]
    return [f"{batches[0].pass_name}: too little to mix: {'; '.join(said)}"] if said else []


def _change(one: _Batch, host: _Batch) -> str:
    if one.value is None or host.value is None or abs(one.value - host.value) < _SEEN_STEPS:
        return ""
    return ", made lighter" if one.value > host.value else ", made darker"


def _recipe(plan: Plan, name: str | None) -> tuple[tuple[str, float], ...]:
    """Return each paint of a mixture with its share of the whole; itself where it is a paint, else none."""
    mixture = plan.mixture_named(name)
    if mixture is None:
        return ((name, 1.0),) if name in [paint.name for paint in plan.palette] else ()
    whole = sum(parts for _, parts in mixture.parts)
    return tuple((paint, parts / whole) for paint, parts in mixture.parts)


def _mixtures(piles: Sequence[Pile]) -> tuple[MixtureNeed, ...]:
    groups: dict[str | None, list[Pile]] = {}
    for pile in piles:
        groups.setdefault(pile.mixture, []).append(pile)
    return tuple(
        MixtureNeed(
            mixture=mixture,
            cm2=sum(pile.cm2 for pile in group),
            ml=sum(pile.ml for pile in group),
            estimate=any(pile.estimate for pile in group),
            paints_ml={paint: sum(pile.paints_ml[paint] for pile in group) for paint in group[0].paints_ml},
        )
        for mixture, group in groups.items()
    )


def _paints(plan: Plan, piles: Sequence[Pile], tube_ml: float) -> tuple[PaintNeed, ...]:
    needs = []
    for paint in plan.palette:
        holding = [pile for pile in piles if paint.name in pile.paints_ml]
        ml = sum(pile.paints_ml[paint.name] for pile in holding)
        if holding:
            is_estimate = any(pile.estimate for pile in holding)
            needs.append(PaintNeed(paint=paint.name, ml=ml, tubes=tubes_for(ml, tube_ml), estimate=is_estimate))
    return tuple(needs)
