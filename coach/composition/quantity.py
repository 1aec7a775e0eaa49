"""How much paint: from area, film, layers and waste to piles, paints, tubes and their cost, for all canvases."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import Any, Final

from coach.composition.areas import HeadAreas, areas_of
from coach.composition.piles import MixtureNeed, Pile, piles_of
from coach.errors import UsageError
from coach.plan.commission import Paint, Plan

WASTE_FRAC: Final = 0.25
"""Paint that stays on brush, palette and knife, on top of what lies on the canvas. Source: common practice, no source
(20 to 30 %)."""

TUBE_ML: Final = 37.0
"""A usual small tube, in millilitres. Source: common practice, no source (37 or 40)."""

MOST_LAYERS: Final = 100
"""How often a passage may be painted. Source: ours, no other."""

MOST_WASTE_FRAC: Final = 5.0
"""Most paint mixed on top of what lies on the canvas, as a share of that."""

MOST_TUBE_ML: Final = 1000.0
"""Content of the largest tube, in millilitres; the smallest holds 1."""

_UM_CM2_PER_ML: Final = 10_000
_ROUNDING_ML: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintNeed:
    """What the whole work takes of one paint.

    Attributes:
        paint: Its name.
        ml: Paint for all piles, in millilitres.
        tubes: How many whole tubes that is.
        estimate: Whether an area in it is estimated.
        used_cost: What so much of it costs; None where the palette states no price. In the painter's own money.
        tubes_cost: What the tubes cost; None likewise.
    """

    paint: str
    ml: float
    tubes: int
    estimate: bool
    used_cost: float | None
    tubes_cost: float | None


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
        used_cost: The sum over the paints with a price, in the painter's own money; None where none has one.
        tubes_cost: The same for whole tubes.
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
    used_cost: float | None
    tubes_cost: float | None
    uncounted: tuple[Uncounted, ...]
    remarks: tuple[str, ...]


def volume_ml(area_cm2: float, film_um: float) -> float:
    """Return the paint on an area under a film, in millilitres. Source: identity, 1 mL on 100 cm2 is 100 um."""
    return area_cm2 * film_um / _UM_CM2_PER_ML


def tubes_for(ml: float, tube_ml: float = TUBE_ML) -> int:
    """Return how many whole tubes hold so many millilitres."""
    return ceil(ml / tube_ml - _ROUNDING_ML)


def quantities_of(
    plan: Plan,
    *,
    heads: Sequence[HeadAreas | None] = (),
    layers: int = 1,
    waste_frac: float = WASTE_FRAC,
    tube_ml: float = TUBE_ML,
) -> Quantities:
    """Return the paint that a plan takes on all canvases; the film is the plan's `forecast.film_um`.

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
    piles, remarks = piles_of(plan, areas, ml_per_cm2)
    paints = _paints(plan, piles, tube_ml)
    return Quantities(
        mixtures=_mixtures(piles),
        piles=piles,
        paints=paints,
        film_um=plan.forecast.film_um,
        layers=layers,
        waste_percent=round(100 * waste_frac, 1),
        tube_ml=tube_ml,
        used_cost=_sum([paint.used_cost for paint in paints]),
        tubes_cost=_sum([paint.tubes_cost for paint in paints]),
        uncounted=tuple(Uncounted(pass_=a.pass_name, passage=a.passage.name) for a in areas if a.cm2 is None),
        remarks=remarks,
    )


def rounded(found: Quantities) -> Quantities:
    """Return quantities as they are printed: areas and millilitres to the tenth, parts and money to the hundredth."""
    return replace(
        found,
        mixtures=tuple(replace(one, **_rounded(one)) for one in found.mixtures),
        piles=tuple(replace(one, needed_ml=round(one.needed_ml, 1), **_rounded(one)) for one in found.piles),
        paints=tuple(replace(one, ml=round(one.ml, 1), **_rounded_costs(one)) for one in found.paints),
        **_rounded_costs(found),
    )


def _rounded(need: MixtureNeed) -> dict[str, Any]:
    parts = {paint: round(ml, 2) for paint, ml in need.paints_ml.items()}
    return {"cm2": round(need.cm2, 1), "ml": round(need.ml, 1), "paints_ml": parts}


def _rounded_costs(found: PaintNeed | Quantities) -> dict[str, Any]:
    costs = {"used_cost": found.used_cost, "tubes_cost": found.tubes_cost}
    return {name: None if cost is None else round(cost, 2) for name, cost in costs.items()}


def _check_figures(layers: int, waste_frac: float, tube_ml: float) -> None:
    if not 1 <= layers <= MOST_LAYERS:
        raise UsageError(f"a passage is painted in 1 to {MOST_LAYERS} layers")
    if not 0 <= waste_frac <= MOST_WASTE_FRAC:  # written this way round so that NaN is refused
        raise UsageError(f"waste is 0 to {100 * MOST_WASTE_FRAC:g} % of what lies on the canvas")
    if not 1 <= tube_ml <= MOST_TUBE_ML:
        raise UsageError(f"a tube holds 1 to {MOST_TUBE_ML:g} ml")


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
    holding = {paint: [pile for pile in piles if paint.name in pile.paints_ml] for paint in plan.palette}
    return tuple(_paint(paint, found, tube_ml) for paint, found in holding.items() if found)


def _paint(paint: Paint, piles: Sequence[Pile], tube_ml: float) -> PaintNeed:
    ml = sum(pile.paints_ml[paint.name] for pile in piles)
    tubes = tubes_for(ml, tube_ml)
    return PaintNeed(
        paint=paint.name,
        ml=ml,
        tubes=tubes,
        estimate=any(pile.estimate for pile in piles),
        used_cost=None if paint.price is None else paint.price * ml / tube_ml,
        tubes_cost=None if paint.price is None else paint.price * tubes,
    )


def _sum(costs: Sequence[float | None]) -> float | None:
    known = [cost for cost in costs if cost is not None]
    return sum(known) if known else None
