"""What a comparison finds, as the painter walks through it: the gravest first, each passage once. Pure."""

import enum
import math
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from typing import NamedTuple

from coach.compare.against_photo import HALF_STEP
from coach.compare.differences import CALLED_DE
from coach.compare.drawing import CALLED_MM
from coach.compare.findings import Comparison
from coach.plan.commission import Address
from coach.review.comparison_history import ALL_OVER
from coach.screens.compare import wording
from coach.screens.compare.repository import DrawnFeature
from coach.shapes.photo_window import Point


class Matter(enum.Enum):
    """What a finding is about."""

    COLOUR = "colour"
    DRAWING = "drawing"
    ALL_OVER = "all over"
    VALUE = "against the photo"


class Finding(NamedTuple):
    """Something that is out.

    Attributes:
        matter: What it is about.
        address: Pass and name of the passage; what is all over has no pass.
        words: What the eye sees, without a full stop.
        lab_difference: Of colours, one passage or all, the first canvas against the second; else zeros.
        canvas: The one that is off: of values and of a colour the one that leaves the photo most, of a drawing the one
            that has it elsewhere; empty where it is not known.
        steps: Of values, steps too light, or too dark where negative.
        shift_mm: Of a drawing, how far to the right and down the canvas has it; else zeros.
        at_mm: Of a landmark, where the photo has it, on the canvas; else None.
        meant_as: Pass and name by which the painter says that it is meant so; a drawing has no pass.
        more: What else is known of it, a sentence each.
        off: Of a colour, which canvas leaves the photo and how, a sentence; empty where it is not known.
    """

    matter: Matter
    address: Address
    words: str
    lab_difference: tuple[float, float, float] = (0.0, 0.0, 0.0)
    canvas: str = ""
    steps: float = 0.0
    shift_mm: Point = (0.0, 0.0)
    at_mm: Point | None = None
    meant_as: Address = ("", "")
    more: tuple[str, ...] = ()
    off: str = ""

    @property
    def name(self) -> str:
        """The passage, or the feature of the drawing."""
        return self.meant_as[1]


def findings_of(
    found: Comparison, meant: AbstractSet[Address] = frozenset(), drawn: Sequence[DrawnFeature] = ()
) -> tuple[Finding, ...]:
    """Return what is out and not meant so; what is out between the canvases comes first, each time the gravest.

    Args:
        found: The comparison.
        meant: What the painter wants to differ, each as `Finding.meant_as`.
        drawn: What landmarks find elsewhere.
    """
    ranked = [*_colours(found), *_drawing(found, drawn), *_values(found)]
    ranked.sort(key=lambda one: (one[1].matter is Matter.VALUE, -one[0], one[1].address))
    return tuple(finding for _, finding in ranked if finding.meant_as not in meant)


def differing(findings: tuple[Finding, ...]) -> int:
    """Return how many findings are between the canvases."""
    return sum(one.matter is not Matter.VALUE for one in findings)


Ranked = Iterator[tuple[float, Finding]]
"""Findings, each with how many times it is what is called at all."""


def _colours(found: Comparison) -> Ranked:
    for one in found.shapes:
        if one.called:
            address = (one.pass_, one.passage)
            low, high = one.interval
            more = [f"The difference is {one.difference:g}, between {low:g} and {high:g}."]
            values = [off for off in found.off_values if (off.pass_, off.passage) == address]
            more += [f"Against the photo: {off.words}." for off in values]
            finding = Finding(Matter.COLOUR, address, one.words, one.lab_difference, more=tuple(more))
            if values:
                most = values[0]
                finding = finding._replace(canvas=most.canvas, off=wording.is_off(most.canvas, most.steps))
            yield one.difference / CALLED_DE, finding._replace(meant_as=address)
    every = found.all_over
    if every is not None and every.called:
        address = ("", ALL_OVER)
        more = [f"The difference is {every.difference:g}."]
        finding = Finding(Matter.ALL_OVER, address, every.words, every.lab_difference, more=tuple(more))
        yield every.difference / CALLED_DE, finding._replace(meant_as=address)


def _drawing(found: Comparison, drawn: Sequence[DrawnFeature]) -> Ranked:
    """Yield what is drawn elsewhere; what landmarks tell of a feature goes before what the pattern tells."""
    places = {one.moved.feature: one for one in drawn}
    for moved in (*(one.moved for one in drawn), *(one for one in found.moved if one.feature not in places)):
        size_mm, place = math.hypot(moved.right_mm, moved.down_mm), places.get(moved.feature)
        words, _, give = moved.words.partition(": ")[2].partition(", give or take ")
        finding = Finding(
            Matter.DRAWING,
            (place.passage if place else None) or (moved.pass_, moved.passage or moved.feature),
            words,
            canvas=moved.canvas,
            shift_mm=(moved.right_mm, moved.down_mm),
            at_mm=place.at_mm if place else moved.at_mm,
            meant_as=("", moved.feature),
            more=(f"It lies {size_mm:.1f} mm off{f', give or take {give}' if give else ''}.",),
        )
        yield size_mm / CALLED_MM, finding


def _values(found: Comparison) -> Ranked:
    called = {(one.pass_, one.passage) for one in found.shapes if one.called}
    for off in found.off_values:
        address = (off.pass_, off.passage)
        if address not in called:
            finding = Finding(Matter.VALUE, address, off.words, canvas=off.canvas, steps=off.steps, meant_as=address)
            yield abs(off.steps) / HALF_STEP, finding
