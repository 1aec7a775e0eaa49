"""The plan proposed for a new commission: values, minutes and areas from the size of the head on the canvas.

The rule: minutes go with the square root of the area, that is with the height of the head. A shape of twice the area
is laid with a larger brush, so it does not take twice as long; its edge, where the time goes, is 1.4 times as long.
Nothing takes less than 3 minutes, for there is paint to load and to look at; nothing more than 60, for then it is no
longer one shape. Source: common practice, no source.
"""

from collections.abc import Iterator
from math import sqrt
from typing import Final

from coach.composition.areas import canvas_cm2, head_box_cm2
from coach.composition.proposal.answers import Answers
from coach.composition.proposal.feature_table import FEATURE_NAMED, Feature
from coach.composition.proposal.palette_table import PALETTE_NAMED
from coach.composition.proposal.parts import LEAST_MIN, rounded_cm2
from coach.plan.commission import Canvas, Pass, Passage, Plan, runs_of
from coach.plan.delivery import After

USUAL_AFTER: Final = After(framing_working_days=5, transport_working_days=2)
"""What is proposed for after the last stroke; drying is computed from the paints.

Source: common practice, no source (framing 3 to 10 working days, transport in the country 1 to 3).
"""

REFERENCE_HEAD_MM: Final = 160.0
"""Height of the head for which the minutes of the features are stated. Source: ours, no other."""

REFERENCE_CANVAS_CM2: Final = 2000.0
"""Area of the canvas for which the minutes of clothing and ground are stated: 40 x 50 cm. Source: ours, no other."""

MOST_MIN: Final = 60
"""Most minutes proposed for a passage. Source: common practice, no source."""


def proposed_plan(answers: Answers) -> Plan:
    """Return the plan proposed for a commission.

    Passes stand in the order of the features; where there are several sitters, each has a pass of a feature before the
    next feature begins, and its name starts with the sitter's. Mixtures are those that a passage uses. The areas are
    estimates, rounded so that they read as such.
    """
    palette = PALETTE_NAMED[answers.palette]
    passes = tuple(_passes(answers))
    used = {passage.mixture for one_pass in passes for passage in one_pass.passages}
    is_alone = len(answers.canvases) == 1
    return Plan(
        commission=answers.commission,
        due=answers.due,
        photo=answers.photo,
        canvases=tuple(
            Canvas(name=one.name, place=None if is_alone else one.place, size=answers.size) for one in answers.canvases
        ),
        passes=passes,
        week_s=answers.week_s,
        after=USUAL_AFTER,
        palette=palette.paints,
        mixtures=tuple(mixture for mixture in palette.recipes if mixture.name in used),
    )


def scaled_min(reference_min: int, area_ratio: float) -> int:
    """Return whole minutes for a passage.

    Args:
        reference_min: Minutes at the reference size.
        area_ratio: Its area over its area at the reference size, 0 or more.
    """
    return min(MOST_MIN, max(LEAST_MIN, round(reference_min * sqrt(area_ratio))))


def _passes(answers: Answers) -> Iterator[Pass]:
    for name in answers.features:
        feature = FEATURE_NAMED[name]
        passages = tuple(_passages(feature, answers))
        if feature.is_for_each_sitter and len(answers.sitters) > 1:
            names = [f"{sitter} {name}" for sitter in answers.sitters]
        else:
            names = [name]
        for pass_name in names:
            yield Pass(name=pass_name, passages=passages, runs=runs_of(pass_name, passages))


def _passages(feature: Feature, answers: Answers) -> Iterator[Passage]:
    shapes = feature.shapes(answers.fineness)
    all_parts = sum(shape.parts for shape in shapes)
    whole_cm2 = _base_cm2(feature, answers)
    ratio = whole_cm2 / (head_box_cm2(REFERENCE_HEAD_MM) if feature.is_on_head else REFERENCE_CANVAS_CM2)
    for shape in shapes:
        yield Passage(
            name=shape.name,
            planned_s=scaled_min(shape.reference_min, ratio) * 60,
            value=shape.value,
            area_cm2=rounded_cm2(whole_cm2 * feature.area_frac * shape.parts / all_parts),
            mixture=shape.mixture,
            beside=shape.beside,
        )


def _base_cm2(feature: Feature, answers: Answers) -> float:
    """Return what the feature's share is counted from: the head's box, or the canvas that each sitter has of it."""
    if feature.is_on_head:
        return head_box_cm2(answers.painted_head_mm)
    return canvas_cm2(answers.size) / (len(answers.sitters) if feature.is_for_each_sitter else 1)
