"""Paint that meets paint: how long a neighbour is met wet, when a layer may go over another, what speaks against it."""

import datetime as dt
import enum
from collections.abc import Iterator
from math import ceil
from typing import Final, NamedTuple

from coach.forecast.calendar import day_after
from coach.forecast.drying import passage_drying
from coach.plan.commission import Passage, Plan

SETS_SOON_S: Final = 8 * 3600
"""Oil stays workable for the rest of the day, taken as so long. Source: trade facts B5.4, common practice."""

SET_S: Final = 24 * 3600
"""Often it stays so into the next day, taken as no longer than this. Source: trade facts B5.4, common practice."""

ALKYD_SETS_SOON_S: Final = 4 * 3600
"""Paint with an alkyd medium is workable at least so long. Source: trade facts B2.11, second-hand."""

ALKYD_SET_S: Final = 8 * 3600
"""Paint with an alkyd medium is workable at most so long. Source: trade facts B2.11, second-hand."""


class Openness(enum.Enum):
    """Whether a passage can still be met wet; the values are the words of the screen."""

    WET = "wet"
    SETS_SOON = "sets soon"
    SET = "set"


def open_time(since_s: float, medium: str = "oil") -> Openness:
    """Return whether a neighbour can still be met wet.

    Args:
        since_s: Elapsed time since its last stroke on the same canvas, in seconds; a time below 0, as from a
            clock put back, counts as 0.
        medium: "oil" or "alkyd".
    """
    soon_s, set_s = (ALKYD_SETS_SOON_S, ALKYD_SET_S) if medium == "alkyd" else (SETS_SOON_S, SET_S)
    if since_s < soon_s:
        return Openness.WET
    return Openness.SETS_SOON if since_s < set_s else Openness.SET


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
