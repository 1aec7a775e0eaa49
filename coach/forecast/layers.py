"""Passages over other passages: when they may be painted, and what speaks against it."""

import datetime as dt
from collections.abc import Iterator
from math import ceil
from typing import Final, NamedTuple

from coach.forecast.drying import passage_drying
from coach.plan.commission import Passage, Plan

FASTER_FRAC: Final = 2 / 3
"""A layer counts as faster than the one below from this share of its days on. Source: common practice, no source."""

_OIL: Final = {"lean": 0, "middle": 1, "fat": 2}


class Layer(NamedTuple):
    """A passage that lies over another.

    Attributes:
        above: Pass and passage on top.
        below: Pass and passage under it.
    """

    above: tuple[str, Passage]
    below: tuple[str, Passage]


class DryDays(NamedTuple):
    """Days from which a passage is dry to touch.

    Attributes:
        possible: The first day it may be.
        planned: The day to plan on: the slow end.
    """

    possible: dt.date
    planned: dt.date


def dry_days(plan: Plan, passage: Passage, painted: dt.date) -> DryDays:
    """Return the days from which a passage is dry to touch, and from which one over it may be painted.

    Args:
        plan: The plan; its paints, room, film and medium count.
        passage: The passage below.
        painted: Day of its last stroke.
    """
    days = passage_drying(plan, passage).days
    return DryDays(day_after(painted, ceil(days.low_days)), day_after(painted, ceil(days.high_days)))


def day_after(day: dt.date, count: int) -> dt.date:
    """Return the day so many days later (earlier below 0), held within what a calendar can count."""
    number = day.toordinal() + count
    return dt.date.fromordinal(min(max(number, dt.date.min.toordinal()), dt.date.max.toordinal()))


def layers_of(plan: Plan) -> tuple[Layer, ...]:
    """Return every pair of passages of which one lies dry over the other, in the order of the plan."""
    known = {(one.name, passage.name): passage for one in plan.passes for passage in one.passages}
    return tuple(
        Layer((one.name, passage), (passage.over[0], known[passage.over]))
        for one in plan.passes
        for passage in one.passages
        if passage.over is not None and passage.over in known
    )


def layer_warnings(plan: Plan) -> tuple[str, ...]:
    """Return a sentence for each layer that dries faster than the one below it or is leaner.

    Source:
        Trade facts B5.1 (Saitzyk excerpt; a maker's guide) and B5.2 (Mayer as reported; second-hand).
    """
    return tuple(sentence for layer in layers_of(plan) for sentence in _warnings(plan, layer))


def _warnings(plan: Plan, layer: Layer) -> Iterator[str]:
    above, below = (_named(*layer.above), _named(*layer.below))
    upper_days = passage_drying(plan, layer.above[1]).days.high_days
    lower_days = passage_drying(plan, layer.below[1]).days.high_days
    if upper_days <= lower_days * FASTER_FRAC:
        yield (
            f"Fast over slow: {above} dries in up to {upper_days:.0f} d and lies over {below}, which takes up to "
            f"{lower_days:.0f} d; the layer on top may crack."
        )
    upper_oil, lower_oil = _oil(plan, layer.above[1]), _oil(plan, layer.below[1])
    if upper_oil is not None and lower_oil is not None and _OIL[upper_oil] < _OIL[lower_oil]:
        yield (
            f"Lean over fat: the mixture of {above} is {upper_oil} and lies over {below}, which is {lower_oil}; each "
            "layer should be at least as rich in oil as the one below."
        )


def _oil(plan: Plan, passage: Passage) -> str | None:
    mixture = plan.mixture_named(passage.mixture)
    return None if mixture is None else mixture.oil


def _named(pass_name: str, passage: Passage) -> str:
    return f"{passage.name} ({pass_name})"
