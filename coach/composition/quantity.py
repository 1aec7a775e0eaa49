"""How much paint: from area, film, layers and waste to millilitres, paints and tubes, for all canvases at once."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Final, TypeVar

from coach.composition.areas import PassageArea, areas_of
from coach.composition.faults import CompositionError
from coach.plan.commission import Plan

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

_Key = TypeVar("_Key")

_UM_CM2_PER_ML: Final = 10_000
_ROUNDING_ML: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Pile:
    """What is mixed of one mixture before one pass, so that every canvas is served from one pile.

    Attributes:
        pass_name: The pass it is mixed before.
        mixture: Name of the mixture; None for the passages that name none.
        cm2: Area on all canvases that it covers, in square centimetres.
        ml: Paint to mix, waste included, in millilitres.
        is_estimate: Whether an area in it is estimated.
    """

    pass_name: str
    mixture: str | None
    cm2: float
    ml: float
    is_estimate: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class MixtureNeed:
    """What the whole work takes of one mixture.

    Attributes:
        mixture: Its name; None for the passages that name none.
        cm2: Area on all canvases, in square centimetres.
        ml: Paint, waste included, in millilitres.
        is_estimate: Whether an area in it is estimated.
        paints_ml: Each paint of its recipe, in millilitres; itself where it is one; empty where the plan has no recipe.
    """

    mixture: str | None
    cm2: float
    ml: float
    is_estimate: bool
    paints_ml: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class PaintNeed:
    """What the whole work takes of one paint, in millilitres, and how many tubes that is."""

    paint: str
    ml: float
    tubes: int
    is_estimate: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantities:
    """The paint of a whole work.

    Attributes:
        piles: What to mix before which pass, in the order of the plan.
        mixtures: The sum of each mixture, in the order in which they are first used.
        paints: The sum of each paint, in the order of the palette.
        uncounted: Pass and name of the passages whose area nothing tells.
        film_um: Thickness of one wet layer, in micrometres.
        layers: How often each passage is painted.
        waste_frac: Paint mixed on top of what lies on the canvas, as a share of that.
        tube_ml: Content of a tube, in millilitres.
    """

    piles: tuple[Pile, ...]
    mixtures: tuple[MixtureNeed, ...]
    paints: tuple[PaintNeed, ...]
    uncounted: tuple[tuple[str, str], ...]
    film_um: float
    layers: int
    waste_frac: float
    tube_ml: float


def volume_ml(area_cm2: float, film_um: float) -> float:
    """Return the paint on an area under a film, in millilitres. Source: identity, 1 mL on 100 cm2 is 100 um."""
    return area_cm2 * film_um / _UM_CM2_PER_ML


def tubes_for(ml: float, tube_ml: float = TUBE_ML) -> int:
    """Return how many whole tubes hold so many millilitres."""
    return ceil(ml / tube_ml - _ROUNDING_ML)


def quantities_of(
    plan: Plan,
    *,
    head_cm2: float | None = None,
    layers: int = 1,
    waste_frac: float = WASTE_FRAC,
    tube_ml: float = TUBE_ML,
) -> Quantities:
    """Return the paint that a plan takes on all canvases; the film is the plan's `forecast.film_um`.

    Args:
        plan: The plan.
        head_cm2: Area of all heads' boxes on one canvas, in square centimetres, for estimates; None if not known.
        layers: How often each passage is painted.
        waste_frac: Paint mixed on top of what lies on the canvas, as a share of that.
        tube_ml: Content of a tube, in millilitres.

    Raises:
        CompositionError: A figure is out of range; the sentence says which.
    """
    _check_figures(head_cm2, layers, waste_frac, tube_ml)
    areas = areas_of(plan, head_cm2)
    counted = [area for area in areas if area.cm2 is not None]
    ml_per_cm2 = volume_ml(1, plan.forecast.film_um) * layers * (1 + waste_frac)
    piles = tuple(
        Pile(pass_name=pass_name, mixture=mixture, cm2=cm2, ml=cm2 * ml_per_cm2, is_estimate=is_estimate)
        for (pass_name, mixture), cm2, is_estimate in _sums([((a.pass_name, a.passage.mixture), a) for a in counted])
    )
    mixtures = tuple(
        MixtureNeed(
            mixture=mixture,
            cm2=cm2,
            ml=cm2 * ml_per_cm2,
            is_estimate=is_estimate,
            paints_ml=_split(plan, mixture, cm2 * ml_per_cm2),
        )
        for mixture, cm2, is_estimate in _sums([(a.passage.mixture, a) for a in counted])
    )
    return Quantities(
        piles=piles,
        mixtures=mixtures,
        paints=_paints(plan, mixtures, tube_ml),
        uncounted=tuple((area.pass_name, area.passage.name) for area in areas if area.cm2 is None),
        film_um=plan.forecast.film_um,
        layers=layers,
        waste_frac=waste_frac,
        tube_ml=tube_ml,
    )


def _check_figures(head_cm2: float | None, layers: int, waste_frac: float, tube_ml: float) -> None:
    if not 1 <= layers <= MOST_LAYERS:
        raise CompositionError(f"a passage is painted in 1 to {MOST_LAYERS} layers")
    if not 0 <= waste_frac <= MOST_WASTE_FRAC:  # written this way round so that NaN is refused
        raise CompositionError(f"waste is 0 to {100 * MOST_WASTE_FRAC:g} % of what lies on the canvas")
    if not 1 <= tube_ml <= MOST_TUBE_ML:
        raise CompositionError(f"a tube holds 1 to {MOST_TUBE_ML:g} ml")
    if head_cm2 is not None and not head_cm2 > 0:
        raise CompositionError("the boxes of the heads have an area greater than 0")


def _sums(keyed: Sequence[tuple[_Key, PassageArea]]) -> list[tuple[_Key, float, bool]]:
    """Return each key once, in order of appearance, with the sum of its areas and whether any is an estimate."""
    groups: dict[_Key, list[PassageArea]] = {}
    for key, area in keyed:
        groups.setdefault(key, []).append(area)
    return [
        (key, sum(area.cm2 or 0.0 for area in group), any(area.is_estimate for area in group))
        for key, group in groups.items()
    ]


def _split(plan: Plan, name: str | None, ml: float) -> tuple[tuple[str, float], ...]:
    mixture = plan.mixture_named(name)
    if mixture is None:
        return ((name, ml),) if name in [paint.name for paint in plan.palette] else ()
    whole = sum(parts for _, parts in mixture.parts)
    return tuple((paint, ml * parts / whole) for paint, parts in mixture.parts)


def _paints(plan: Plan, mixtures: Sequence[MixtureNeed], tube_ml: float) -> tuple[PaintNeed, ...]:
    ml_of: dict[str, float] = {}
    estimated: set[str] = set()
    for need in mixtures:
        for paint, ml in need.paints_ml:
            ml_of[paint] = ml_of.get(paint, 0.0) + ml
            estimated |= {paint} if need.is_estimate else set()
    return tuple(
        PaintNeed(
            paint=paint.name,
            ml=ml_of[paint.name],
            tubes=tubes_for(ml_of[paint.name], tube_ml),
            is_estimate=paint.name in estimated,
        )
        for paint in plan.palette
        if paint.name in ml_of
    )
