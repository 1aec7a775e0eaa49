"""How many days paint takes to be dry to touch: by paints, film, room and medium, and by what was found.

A range of days is read as the 10 and 90 % points of a log-normal distribution (trade facts K7; ours).
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import exp, log, sqrt
from typing import Final, NamedTuple

from coach.errors import CoachError
from coach.forecast.drying_table import ALKYD, ANY_PAINT, PIGMENTS, SLOW, DaysRange
from coach.journal.events import LaidPaint
from coach.plan.commission import Mixture, Paint, Passage, Plan
from coach.plan.delivery import Forecast

TABLE_FILM_UM: Final = 100.0
"""Wet film the table is for, in micrometres. Source: trade facts B3 and H."""

TABLE_ROOM_C: Final = 20.0
"""Temperature the table is for, in degrees Celsius. Source: trade facts B3."""

ENERGIES_KJ_MOL: Final = (43.0, 50.0)
"""Band of the activation energy of drying, in kJ/mol. Source: trade facts B4.2 to B4.5, derived there."""

GAS_CONSTANT_J_MOL_K: Final = 8.314462618
"""Molar gas constant. Source: CODATA 2018, exact since the SI of 2019 (from memory)."""

ZERO_C_K: Final = 273.15
"""0 degrees Celsius in kelvin. Source: the SI brochure, 9th edition (from memory)."""

RANGE_WIDTH_SD: Final = 2.5631
"""From the 10 to the 90 % point of a normal distribution, in standard deviations. Source: trade facts K7."""

LAYER_SD: Final = 0.2
"""Spread of the layers of one mixture, on the log scale. Source: trade facts K7 (ours)."""

LEAST_CHANCE_FRAC: Final = 1e-12
"""An answer that can hardly be true counts as so likely: a slip of the key must not settle everything."""

_GRID: Final = 60

_INDEX: Final = re.compile(r"(?<![a-z])(n|p)(w|bk|br|y|o|r|v|b|g)\s*([0-9]{1,3})(?![0-9])", re.IGNORECASE)


class Drying(NamedTuple):
    """How long something takes to be dry to touch.

    Attributes:
        days: The range; a plan counts on its slow end.
        unknown: Names of paints the table does not know, counted as slow; in order, each once.
    """

    days: DaysRange
    unknown: tuple[str, ...] = ()


def mixture_range(parts: Iterable[DaysRange]) -> DaysRange:
    """Return the days of a mixture from those of its parts: the fastest low end, the slowest high end.

    Source:
        Trade facts B3, planning rule: a mixture is planned as its slowest part; a drying pigment in it may make it
        faster (common practice, no source).
    """
    ranges = tuple(parts)
    return DaysRange(min(own.low_days for own in ranges), max(own.high_days for own in ranges))


def paint_drying(paint: Paint) -> Drying:
    """Return how long a paint takes under the conditions of the table.

    Days that the painter measured come first. Of the rows with its colour index name, one whose name is in the
    paint's name counts alone: burnt umber and burnt sienna are both PBr7.
    """
    if paint.dries_days is not None:
        return Drying(DaysRange(paint.dries_days, paint.dries_days))
    indexes = _indexes(paint.pigment or "")
    name = paint.name.casefold()
    by_name = [row for row in PIGMENTS if row.name.casefold() in name]
    rows = [row for row in PIGMENTS if indexes.intersection(row.indexes)] if indexes else by_name
    if not rows or not indexes <= {index for row in rows for index in row.indexes}:
        return Drying(SLOW, (paint.name,))
    named = [row for row in rows if row in by_name] if len(indexes) <= 1 else []
    return Drying(mixture_range(row.dries for row in named or rows))


def mixture_drying(plan: Plan, mixture: Mixture) -> Drying:
    """Return how long a mixture takes in the room, film and medium of the plan; without parts as any paint there.

    The painter's measured days of a paint stand as they are: they were measured in that room, with that film.
    """
    paints = {paint.name: paint for paint in plan.palette}
    names = [name for name, _ in mixture.parts] or list(paints)
    if not names:
        return Drying(conditioned(ANY_PAINT, plan.forecast))
    ranges: list[DaysRange] = []
    unknown: list[str] = []
    for name in names:
        paint = paints.get(name, Paint(name))
        own = paint_drying(paint)
        unknown.extend(own.unknown)
        ranges.append(own.days if paint.dries_days is not None else conditioned(own.days, plan.forecast))
    return Drying(mixture_range(ranges), tuple(dict.fromkeys(unknown)))


def passage_drying(plan: Plan, passage: Passage) -> Drying:
    """Return how long a passage takes to be dry to touch.

    Its mixture may be a paint of the palette by itself; without either the range of any paint is taken.
    """
    name = passage.mixture
    mixture = plan.mixture_named(name)
    if mixture is None and name is not None and any(paint.name == name for paint in plan.palette):
        mixture = Mixture(name, ((name, 1),))
    if mixture is None:
        return Drying(conditioned(ANY_PAINT, plan.forecast))
    return mixture_drying(plan, mixture)


def paint_of(plan: Plan, passage: Passage) -> LaidPaint:
    """Return the paint of a passage as it is laid under a plan."""
    mixture, days = plan.mixture_named(passage.mixture), passage_drying(plan, passage).days
    return LaidPaint(
        mixture=passage.mixture or "",
        medium=plan.forecast.medium,
        oil="" if mixture is None else mixture.oil or "",
        low_days=days.low_days,
        high_days=days.high_days,
    )


def slowest(ranges: Iterable[DaysRange]) -> DaysRange:
    """Return when the last of several wet passages is dry: the greatest low end and the greatest high end."""
    every = tuple(ranges)
    return DaysRange(max(own.low_days for own in every), max(own.high_days for own in every))


def conditioned(days: DaysRange, forecast: Forecast) -> DaysRange:
    """Return days of the table in the film, room and medium of a plan."""
    if forecast.medium == "alkyd":
        days = ALKYD
    film, room = film_factor(forecast.film_um), room_factor(forecast.room_c)
    return DaysRange(days.low_days * film[0] * room[0], days.high_days * film[1] * room[1])


def film_factor(film_um: float) -> tuple[float, float]:
    """Return the least and the greatest factor of the drying time for a wet film, against the table's film.

    Args:
        film_um: Thickness, in micrometres.

    Raises:
        CoachError: The thickness is not above 0.

    Source:
        Trade facts B4.11: no reliable law found; the range lies between time as thickness and as its square.
    """
    if not film_um > 0:
        raise CoachError(f"a film of {film_um:g} um has no drying time", where="film")
    ratio = film_um / TABLE_FILM_UM
    return min(ratio, ratio**2), max(ratio, ratio**2)


def room_factor(room_c: float, reference_c: float = TABLE_ROOM_C) -> tuple[float, float]:
    """Return the least and the greatest factor of the drying time in a room, over the band of energies."""
    factors = [arrhenius_factor(room_c, reference_c, energy) for energy in ENERGIES_KJ_MOL]
    return min(factors), max(factors)


def arrhenius_factor(room_c: float, reference_c: float, energy_kj_mol: float) -> float:
    """Return the drying time at one temperature over that at another: exp(E/R (1/T - 1/T0)).

    Args:
        room_c: Temperature of the room, in degrees Celsius.
        reference_c: Temperature it is held against, in degrees Celsius.
        energy_kj_mol: Activation energy, in kJ/mol.

    Raises:
        CoachError: A temperature is not above absolute zero.

    Source:
        Arrhenius identity; trade facts B4.2 to B4.5.
    """
    if not min(room_c, reference_c) > -ZERO_C_K:
        raise CoachError(f"{min(room_c, reference_c):g} C is below absolute zero", where="room")
    inverse = 1 / (room_c + ZERO_C_K) - 1 / (reference_c + ZERO_C_K)
    return exp(energy_kj_mol * 1000 / GAS_CONSTANT_J_MOL_K * inverse)


def _indexes(pigment: str) -> frozenset[str]:
    """Return the colour index names in a text as the table writes them: " pw 6 " and "PB15:3" are PW6 and PB15."""
    found = _INDEX.findall(pigment)
    return frozenset(f"{kind.upper()}{hue.capitalize()}{number}" for kind, hue, number in found)


@dataclass(frozen=True, slots=True, kw_only=True)
class DryAnswer:
    """What was found of one layer, in days after its last stroke.

    Attributes:
        mixture: Name of its mixture or paint; empty where the plan names none.
        medium: "oil" or "alkyd".
        wet_days: When it was last found still wet; 0 where it never was.
        dry_days: When it was found dry: it dried at that time or before; None where it was not.
    """

    mixture: str
    wet_days: float
    dry_days: float | None
    medium: str = "oil"


def log_days(days: DaysRange) -> tuple[float, float]:
    """Return mean and spread of the logarithm of the days; the ends of the range are above 0."""
    return log(days.low_days * days.high_days) / 2, log(days.high_days / days.low_days) / RANGE_WIDTH_SD


def learned_range(days: DaysRange, answers: Iterable[DryAnswer]) -> DaysRange:
    """Return the range of a new layer of a mixture after what was found of layers of it.

    "Still wet" on a day means that it dried after that day, "dry" that it dried on it or before: both are ends of an
    interval, and neither is the drying time.

    Args:
        days: Its range before; days that the painter stated, without a width, stand as they are.
        answers: Answers about its layers.

    Source:
        Trade facts K7, interval-censored: the centre of the mixture is normal, its layers lie about it with
        `LAYER_SD`, and each answer weighs a centre by the chance that a layer of it falls into the interval.
    """
    found = tuple(answers)
    if not found or not 0 < days.low_days < days.high_days:
        return days
    mean, spread = log_days(days)
    centre_sd = sqrt(max(spread**2 - LAYER_SD**2, LAYER_SD**2 / 4))
    centres = [mean + centre_sd * 6 * (number / _GRID - 1) for number in range(2 * _GRID + 1)]
    logs = [_log_weight(centre, (centre - mean) / centre_sd, found) for centre in centres]
    weights = [exp(own - max(logs)) for own in logs]
    return DaysRange(*(exp(_mixed_quantile(centres, weights, frac)) for frac in (0.1, 0.9)))


def _log_weight(centre: float, z: float, found: Iterable[DryAnswer]) -> float:
    from statistics import NormalDist  # noqa: PLC0415  the easel asks no chance of it

    layer = NormalDist(centre, LAYER_SD)
    chances = (
        (1.0 if own.dry_days is None else layer.cdf(log(own.dry_days)) if own.dry_days > 0 else 0.0)
        - (layer.cdf(log(own.wet_days)) if own.wet_days > 0 else 0.0)
        for own in found
    )
    return -(z**2) / 2 + sum(log(max(chance, LEAST_CHANCE_FRAC)) for chance in chances)


def _mixed_quantile(centres: Sequence[float], weights: Sequence[float], frac: float) -> float:
    low, high, total = min(centres) - 2, max(centres) + 2, sum(weights)
    from statistics import NormalDist  # noqa: PLC0415  the easel asks no chance of it

    unit = NormalDist(0.0, LAYER_SD)
    for _ in range(40):
        middle = (low + high) / 2
        below = sum(weight * unit.cdf(middle - own) for own, weight in zip(centres, weights, strict=True) if weight)
        low, high = (middle, high) if below < frac * total else (low, middle)
    return high
