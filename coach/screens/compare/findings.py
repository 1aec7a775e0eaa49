"""What a comparison finds, as the painter walks through it: the gravest first, each passage once. Pure."""

import enum
from collections.abc import Set as AbstractSet
from typing import Final, NamedTuple

from coach.compare.against_photo import HALF_STEP
from coach.compare.differences import CALLED_DE
from coach.compare.drawing import CALLED_MM
from coach.compare.findings import Comparison
from coach.plan.commission import Address


class Matter(enum.Enum):
    """What a finding is about."""

    COLOUR = "colour"
    DRAWING = "drawing"
    VALUE = "against the photo"


class Finding(NamedTuple):
    """Something that is out.

    Attributes:
        matter: What it is about.
        address: Pass and name of the passage.
        words: What the eye sees, without a full stop.
        lab_difference: Of colours, the first canvas against the second; else zeros.
        canvas: Of values, the canvas; of a drawing, the one that has it elsewhere; else empty.
        steps: Of values, steps too light, or too dark where negative.
        meant_as: Pass and name by which the painter says that it is meant so; a drawing has no pass.
        more: What else is known of it, a sentence each.
    """

    matter: Matter
    address: Address
    words: str
    lab_difference: tuple[float, float, float] = (0.0, 0.0, 0.0)
    canvas: str = ""
    steps: float = 0.0
    meant_as: Address = ("", "")
    more: tuple[str, ...] = ()


_ORDER: Final = {Matter.COLOUR: 0, Matter.DRAWING: 0, Matter.VALUE: 1}


def findings_of(
    found: Comparison, passages: tuple[Address, ...], meant: AbstractSet[Address] = frozenset()
) -> tuple[Finding, ...]:
    """Return what is out and not meant so; what is out between the canvases comes first, each time the gravest.

    Args:
        found: The comparison.
        passages: All passages that are painted.
        meant: What the painter wants to differ, each as `Finding.meant_as`.
    """
    ranked: list[tuple[float, Finding]] = []
    values = {(one.pass_, one.passage): one for one in found.off_values}
    called = {(one.pass_, one.passage) for one in found.shapes if one.called}
    for one in found.shapes:
        if one.called:
            address = (one.pass_, one.passage)
            low, high = one.interval
            more = [f"The difference is {one.difference:g}, between {low:g} and {high:g}."]
            if address in values:
                more.append(f"Against the photo: {values[address].words}.")
            colour = Finding(Matter.COLOUR, address, one.words, one.lab_difference, meant_as=address, more=tuple(more))
            ranked.append((one.difference / CALLED_DE, colour))
    for moved in found.moved:
        address = next((own for own in passages if own[1].partition(",")[0] == moved.feature), ("", moved.feature))
        words = moved.words.removeprefix(f"{moved.feature}: ")
        size = (moved.right_mm**2 + moved.down_mm**2) ** 0.5
        drawing = Finding(
            Matter.DRAWING,
            address,
            words,
            canvas=moved.canvas,
            meant_as=("", moved.feature),
            more=(f"It lies {size:.1f} mm off.",),
        )
        ranked.append((size / CALLED_MM, drawing))
    for off in found.off_values:
        address = (off.pass_, off.passage)
        if address not in called:
            value = Finding(Matter.VALUE, address, off.words, canvas=off.canvas, steps=off.steps, meant_as=address)
            ranked.append((abs(off.steps) / HALF_STEP, value))
    ranked.sort(key=lambda one: (_ORDER[one[1].matter], -one[0], one[1].address))
    return tuple(finding for _, finding in ranked if finding.meant_as not in meant)


def differing(findings: tuple[Finding, ...]) -> int:
    """Return how many findings are between the canvases."""
    return sum(one.matter is not Matter.VALUE for one in findings)
