"""Which piles are mixed before each pass: what is too little to mix is painted from another pile."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from coach.composition.areas import PassageArea
from coach.plan.commission import Passage, Plan
from coach.text import joined

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


def least_ml(plan: Plan, mixture: str | None) -> float:
    """Return the smallest pile of a mixture: `LEAST_PILE_ML`, or as much as makes its smallest part `LEAST_PART_ML`."""
    return _least_ml(dict(_recipe(plan, mixture)))


def piles_of(plan: Plan, areas: Sequence[PassageArea], ml_per_cm2: float) -> tuple[tuple[Pile, ...], tuple[str, ...]]:
    """Return the piles in the order of the plan, and for each pass a sentence on what is painted from another's pile.

    What a pass takes of a mixture is a pile. Of one under half of `LEAST_PILE_ML` the passages are painted from
    another pile of the pass whose recipe has half of its paint: the one nearest in value within `VALUE_REACH` of them,
    of two as near the one most alike; else a neighbour's within `NEIGHBOUR_REACH`. Where there is none, and of the
    others that are under `least_ml`, so much is mixed.

    Args:
        plan: The plan.
        areas: Its passages; one whose area nothing tells is left out.
        ml_per_cm2: Paint for a square centimetre, waste included, in millilitres.
    """
    passes = [_joined(needs) for needs in _needs(areas, ml_per_cm2, plan)]
    piles = tuple(_pile(need) for needs in passes for need in needs)
    return piles, tuple(sentence for needs in passes for sentence in _sentences(needs))


@dataclass(slots=True, kw_only=True, eq=False)
class _Need:
    """What one pass takes of one mixture while it is decided from which pile that is painted.

    Attributes:
        value: Mean value of its own passages by area, in steps; None where none states it.
        ml: Paint for its own passages and for all that it serves, in millilitres.
        values: The lowest and the highest value that is painted from it; None where none is stated.
        served: What is painted from it.
    """

    pass_name: str
    mixture: str | None
    recipe: dict[str, float]
    least_ml: float
    areas: list[PassageArea]
    value: float | None
    ml: float
    values: tuple[float, float] | None
    served: list["_Need"] = field(default_factory=list)

    def serve(self, other: "_Need") -> None:
        """Paint what the other one is for from this pile."""
        self.served += [other, *other.served]
        self.ml += other.ml
        spans = [span for span in (self.values, other.values) if span is not None]
        if spans:
            self.values = min(low for low, _ in spans), max(high for _, high in spans)

    def is_beside(self, other: "_Need") -> bool:
        """Return whether an edge of one of its passages meets one of the other's."""
        mine, others = ([area.passage for area in need.areas] for need in (self, other))
        return _meets(mine, others) or _meets(others, mine)


def _meets(some: Iterable[Passage], others: Iterable[Passage]) -> bool:
    names = {passage.name for passage in others}
    return any(passage.beside in names for passage in some)


def _needs(areas: Sequence[PassageArea], ml_per_cm2: float, plan: Plan) -> list[list[_Need]]:
    """Return what each pass takes of each mixture, in the order of the plan."""
    passes: dict[str, dict[str | None, list[PassageArea]]] = {}
    for area in areas:
        if area.cm2 is not None:
            passes.setdefault(area.pass_name, {}).setdefault(area.passage.mixture, []).append(area)
    recipes = {mixture: dict(_recipe(plan, mixture)) for groups in passes.values() for mixture in groups}
    return [
        [_need(pass_name, mixture, recipes[mixture], group, ml_per_cm2) for mixture, group in groups.items()]
        for pass_name, groups in passes.items()
    ]


def _need(
    pass_name: str, mixture: str | None, recipe: dict[str, float], areas: list[PassageArea], ml_per_cm2: float
) -> _Need:
    known = [(area.passage.value, area.cm2 or 0.0) for area in areas if area.passage.value is not None]
    whole_cm2 = sum(cm2 for _, cm2 in known)
    return _Need(
        pass_name=pass_name,
        mixture=mixture,
        recipe=recipe,
        least_ml=_least_ml(recipe),
        areas=areas,
        value=sum(value * cm2 for value, cm2 in known) / whole_cm2 if whole_cm2 else None,
        ml=ml_per_cm2 * sum(area.cm2 or 0.0 for area in areas),
        values=(min(value for value, _ in known), max(value for value, _ in known)) if known else None,
    )


def _joined(needs: list[_Need]) -> list[_Need]:
    """Return the needs of a pass that are mixed, with what is painted from them; the smallest join first."""
    alone: list[_Need] = []
    while small := [one for one in needs if one.ml < LEAST_PILE_ML / 2 and one not in alone]:
        one = min(small, key=lambda need: need.ml)
        host = _host(one, [need for need in needs if need is not one and need.mixture is not None])
        if host is None:
            alone.append(one)
        else:
            host.serve(one)
            needs = [need for need in needs if need is not one]
    return needs


def _host(small: _Need, others: Sequence[_Need]) -> _Need | None:
    off = [(_off(small, one), one) for one in others if _likeness(small, one) >= LEAST_LIKENESS_FRAC]
    near = [(steps, one) for steps, one in off if steps is not None and steps <= VALUE_REACH]
    if near:
        # In half steps, so that what is mixed alike goes before a difference in value that nobody sees.
        return min(near, key=lambda found: (round(2 * found[0]), -_likeness(small, found[1]), -found[1].ml))[1]
    beside = [one for steps, one in off if (steps or 0.0) <= NEIGHBOUR_REACH and small.is_beside(one)]
    return max(beside, key=lambda one: one.ml, default=None)


def _off(small: _Need, host: _Need) -> float | None:
    """Return how far in value the passages of a need are off another pile, at most; None where it is not stated."""
    if host.value is None or small.values is None:
        return None
    return max(abs(value - host.value) for value in small.values)


def _likeness(one: _Need, other: _Need) -> float:
    """Return the share of paint that two recipes have in common, 0 to 1; 1 where one has no recipe."""
    if not one.recipe or not other.recipe:
        return 1.0
    return sum(min(share, other.recipe.get(paint, 0.0)) for paint, share in one.recipe.items())


def _pile(need: _Need) -> Pile:
    ml = max(need.ml, need.least_ml)
    areas = [area for one in (need, *need.served) for area in one.areas]
    return Pile(
        before=need.pass_name,
        mixture=need.mixture,
        cm2=sum(area.cm2 or 0.0 for area in areas),
        ml=ml,
        needed_ml=need.ml,
        estimate=any(area.is_estimate for area in areas),
        paints_ml={paint: ml * share for paint, share in need.recipe.items()},
        also_for=tuple(one.mixture or "none named" for one in need.served),
    )


def _sentences(needs: Sequence[_Need]) -> list[str]:
    """Return what is painted from which pile of a pass, in one sentence; none where every mixture has its pile."""
    said = [
        f"{one.mixture or joined([area.passage.name for area in one.areas])} from {need.mixture}{_change(one, need)}"
        for need in needs
        for one in need.served
    ]
    return [f"{needs[0].pass_name}: too little to mix: {'; '.join(said)}"] if said else []


def _change(one: _Need, host: _Need) -> str:
    if one.value is None or host.value is None or abs(one.value - host.value) < _SEEN_STEPS:
        return ""
    return ", made lighter" if one.value > host.value else ", made darker"


def _least_ml(recipe: Mapping[str, float]) -> float:
    return max(LEAST_PILE_ML, LEAST_PART_ML / min(recipe.values())) if recipe else LEAST_PILE_ML


def _recipe(plan: Plan, name: str | None) -> tuple[tuple[str, float], ...]:
    """Return each paint of a mixture with its share of the whole; itself where it is a paint, else none."""
    mixture = plan.mixture_named(name)
    if mixture is None:
        return ((name, 1.0),) if name in [paint.name for paint in plan.palette] else ()
    whole = sum(parts for _, parts in mixture.parts)
    return tuple((paint, parts / whole) for paint, parts in mixture.parts)
