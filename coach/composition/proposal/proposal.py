"""The plan proposed for a new commission: values, minutes and areas from the size of the head on the canvas.

The rule: minutes go with the square root of the area, that is with the height of the head. A shape of twice the area
is laid with a larger brush, so it does not take twice as long; its edge, where the time goes, is 1.4 times as long.
Nothing takes less than 3 minutes, for there is paint to load and to look at; nothing more than a run. Source: common
practice, no source.
"""

from dataclasses import replace
from math import sqrt
from typing import Final

from coach.composition.areas import canvas_cm2, head_box_cm2
from coach.composition.proposal.answers import Answers
from coach.composition.proposal.block_in import BlockIn, lean_mixture
from coach.composition.proposal.feature_table import FEATURE_NAMED, Feature
from coach.composition.proposal.palette_table import PALETTE_NAMED
from coach.composition.proposal.parts import LEAST_MIN, MOST_RUN_MIN, Meeting, Meetings, Part, Zone, sitter_words
from coach.composition.proposal.stages import Studio, is_study, staged
from coach.plan.commission import Canvas, Plan
from coach.plan.delivery import After
from coach.plan.value_range import PAINT_REACH, ValueRange

USUAL_AFTER: Final = After(framing_working_days=5, transport_working_days=2)
"""What is proposed for after the last stroke; drying is computed from the paints.

Source: common practice, no source (framing 3 to 10 working days, transport in the country 1 to 3).
"""

REFERENCE_HEAD_MM: Final = 160.0
"""Height of the head for which the minutes of the features are stated. Source: ours, no other."""

REFERENCE_CANVAS_CM2: Final = 2000.0
"""Area of the canvas for which the minutes of clothing and ground are stated: 40 x 50 cm. Source: ours, no other."""

FINISH_FRAC: Final = 2.75
"""A finish over a block-in takes so much of the minutes of the features, which are those of a quick one. Ours."""

_LINE_CM: Final = 800.0
"""A head and shoulders are drawn in about so much line."""

_EDGE_CM: Final = 10.0
"""Shapes that touch are taken to do so along such an edge."""

_ZONES: Final = {
    "hair": Zone.HAIR,
    "beard": Zone.HAIR,
    "clothing": Zone.CLOTHING,
    "jewellery": Zone.CLOTHING,
    "ground": Zone.GROUND,
}


def proposed_plan(answers: Answers) -> Plan:
    """Return the plan proposed for a commission whose photo is not looked at.

    Stages and runs as for one that is (`stages`); what touches what is told by the table of features. Each sitter has a
    pass of a feature before the next feature begins. Mixtures are those that a passage uses. The areas are estimates,
    rounded so that they read as such.
    """
    palette = PALETTE_NAMED[answers.palette]
    finish, meetings = _parts(answers)
    block_in = None if is_study(finish) else BlockIn(finish, meetings)
    recipes = {recipe.name: recipe._replace(oil="middle") for recipe in palette.recipes}
    if block_in is not None:
        lean = [lean_mixture(part.photo_value, palette) for part in block_in.parts]
        recipes |= {mixture.name: mixture for mixture in lean}
        block_in.parts = [replace(part, mixture=own.name) for part, own in zip(block_in.parts, lean, strict=True)]
    studio = Studio(
        values=ValueRange(photo=PAINT_REACH, paint=PAINT_REACH),
        canvas_cm2=canvas_cm2(answers.size),
        line_cm=_LINE_CM,
        tone=finish[0].mixture if block_in is None else block_in.parts[0].mixture,
        features=answers.features,
    )
    passes = staged(finish, meetings, block_in, studio)
    used = {passage.mixture for one_pass in passes for passage in one_pass.passages}
    return agreed(answers)._replace(
        passes=passes, mixtures=tuple(mixture for mixture in recipes.values() if mixture.name in used)
    )


def agreed(answers: Answers) -> Plan:
    """Return what is agreed of a commission: all of its plan but passes and mixtures."""
    is_alone = len(answers.canvases) == 1
    return Plan(
        commission=answers.commission,
        due=answers.due,
        photo=answers.photo,
        heads=answers.heads if answers.photo else (),
        canvases=tuple(
            Canvas(name=one.name, place=None if is_alone else one.place, size=answers.size) for one in answers.canvases
        ),
        passes=(),
        week_s=answers.week_s,
        after=USUAL_AFTER,
        palette=PALETTE_NAMED[answers.palette].paints,
    )


def scaled_min(reference_min: int, area_ratio: float) -> int:
    """Return whole minutes for a passage.

    Args:
        reference_min: Minutes at the reference size.
        area_ratio: Its area over its area at the reference size, 0 or more.
    """
    return min(MOST_RUN_MIN, max(LEAST_MIN, round(FINISH_FRAC * reference_min * sqrt(area_ratio))))


def _parts(answers: Answers) -> tuple[list[Part], Meetings]:
    """Return what is painted, and what touches what: the shapes that are beside each other, and hair the ground."""
    parts: list[Part] = []
    meetings: dict[int, dict[int, Meeting]] = {}
    sitters = tuple(sitter_words(answers.sitters).values())
    for name in answers.features:
        feature = FEATURE_NAMED[name]
        for sitter in sitters if feature.is_for_each_sitter else ("",):
            own = _parts_of(feature, sitter, len(parts), answers)
            places = {part.name: part.group for part in own}
            for part, shape in zip(own, feature.shapes(answers.fineness), strict=True):
                if shape.beside is not None:
                    _touch(meetings, part.group, places[shape.beside], Meeting(_EDGE_CM, _EDGE_CM))
            parts += own
    hair = [part for part in parts if part.feature == "hair"]
    grounds = sorted((part for part in parts if part.feature == "ground"), key=lambda part: "hair" in part.place)
    for ground in grounds[-1:]:
        for part in hair:
            _touch(meetings, ground.group, part.group, Meeting(_EDGE_CM, 0.0))
    return parts, meetings


def _touch(meetings: dict[int, dict[int, Meeting]], one: int, other: int, how: Meeting) -> None:
    meetings.setdefault(one, {})[other] = how
    meetings.setdefault(other, {})[one] = how


def _parts_of(feature: Feature, sitter: str, first: int, answers: Answers) -> list[Part]:
    shapes = feature.shapes(answers.fineness)
    all_parts = sum(shape.parts for shape in shapes)
    whole_cm2 = _base_cm2(feature, answers)
    ratio = whole_cm2 / (head_box_cm2(REFERENCE_HEAD_MM) if feature.is_on_head else REFERENCE_CANVAS_CM2)
    return [
        Part(
            group=group,
            feature=feature.name,
            zone=_ZONES.get(feature.name, Zone.FLESH),
            sitter=sitter,
            place=shape.name,
            name=shape.name,
            photo_value=shape.value,
            minutes=scaled_min(shape.reference_min, ratio),
            area_cm2=whole_cm2 * feature.area_frac * shape.parts / all_parts,
            mixture=shape.mixture,
        )
        for group, shape in enumerate(shapes, start=first)
    ]


def _base_cm2(feature: Feature, answers: Answers) -> float:
    """Return what the feature's share is counted from: the head's box, or the canvas that each sitter has of it."""
    if feature.is_on_head:
        return head_box_cm2(answers.painted_head_mm)
    return canvas_cm2(answers.size) / (len(answers.sitters) if feature.is_for_each_sitter else 1)
