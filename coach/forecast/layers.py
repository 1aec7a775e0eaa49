"""Paint that meets paint: how long a neighbour is met wet, when a layer may go over another, what speaks against it."""

import datetime as dt
import enum
from collections.abc import Iterator, Mapping
from math import ceil
from types import MappingProxyType
from typing import Final, NamedTuple

from coach.forecast.calendar import day_after
from coach.forecast.drying import paint_of
from coach.journal.events import LaidPaint
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

OIL_RANK: Final = {"lean": 0, "middle": 1, "fat": 2}
"""How rich in oil a mixture is; no layer should be leaner than the one below it."""


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


def dry_days(paint: LaidPaint, painted: dt.date) -> DryDays:
    """Return the days from which paint is dry to touch, and from which a layer over it may be painted.

    Args:
        paint: The paint below, as it was laid.
        painted: Day of its last stroke.
    """
    return DryDays(day_after(painted, ceil(paint.low_days)), day_after(painted, ceil(paint.high_days)))


def layers_of(plan: Plan) -> tuple[Layer, ...]:
    """Return every pair of passages of which one lies dry over the other, in the order of the plan."""
    known = {(one.name, passage.name): passage for one in plan.passes for passage in one.passages}
    return tuple(
        Layer((one.name, passage), (passage.over[0], known[passage.over]))
        for one in plan.passes
        for passage in one.passages
        if passage.over is not None and passage.over in known
    )


Painted = Mapping[tuple[str, str, str], LaidPaint]
"""Paint as it was laid, by pass, passage and canvas."""


def layer_warnings(plan: Plan, painted: Painted = MappingProxyType({})) -> tuple[str, ...]:
    """Return a sentence for each layer that dries faster than the one below it or is leaner.

    Args:
        plan: What it says of a passage that is still to be painted.
        painted: What is laid, each as it was; a layer that is bad on some canvases only names them.

    Source:
        Trade facts B5.1 (Saitzyk excerpt; a maker's guide) and B5.2 (Mayer as reported; second-hand).
    """
    return tuple(sentence for layer in layers_of(plan) for sentence in _warnings(plan, layer, painted))


def _warnings(plan: Plan, layer: Layer, painted: Painted) -> Iterator[str]:
    planned = [paint_of(plan, passage) for _, passage in (layer.above, layer.below)]
    keys = [(pass_name, passage.name) for pass_name, passage in (layer.above, layer.below)]
    names = [canvas.name for canvas in plan.canvases]
    canvases: dict[str, list[str]] = {}
    for canvas in names:
        upper, lower = (painted.get((*key, canvas), own) for key, own in zip(keys, planned, strict=True))
        for sentence in _against(layer, upper, lower):
            canvases.setdefault(sentence, []).append(canvas)
    for sentence, own in canvases.items():
        yield sentence if own == names else f"{sentence[:-1]} (on {' and '.join(own)})."


def _against(layer: Layer, upper: LaidPaint, lower: LaidPaint) -> Iterator[str]:
    above, below = (_named(*layer.above), _named(*layer.below))
    if upper.high_days <= lower.high_days * FASTER_FRAC:
        yield (
            f"Fast over slow: {above} dries in up to {upper.high_days:.0f} d and lies over {below}, which takes up to "
            f"{lower.high_days:.0f} d; the layer on top may crack."
        )
    if upper.oil and lower.oil and OIL_RANK[upper.oil] < OIL_RANK[lower.oil]:
        yield (
            f"Lean over fat: the mixture of {above} is {upper.oil} and lies over {below}, which is {lower.oil}; each "
            "layer should be at least as rich in oil as the one below."
        )


def _named(pass_name: str, passage: Passage) -> str:
    return f"{passage.name} ({pass_name})"
