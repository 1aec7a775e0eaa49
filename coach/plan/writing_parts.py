"""The entries of a plan's lists as keys with their written values."""

from collections.abc import Mapping
from typing import Final

from coach.plan.commission import Canvas, MarkedBox, MarkedHead, Mixture, Paint, Passage
from coach.plan.writing_values import (
    area_text,
    days_text,
    key_text,
    list_text,
    mapping_text,
    minutes_text,
    number_text,
    scalar_text,
    size_text,
)

PASSAGE_KEYS: Final = (
    "name",
    "value",
    "minutes",
    "area",
    "mixture",
    "beside",
    "difficulty",
    "lead",
    "over",
    "into",
)
"""Keys of a passage in the order in which they are written."""


def entry_text(fields: Mapping[str, str]) -> str:
    """Return an entry of a list on one line: just its name where nothing else is said of it."""
    return fields["name"] if len(fields) == 1 else mapping_text(fields)


def canvas_fields(canvas: Canvas) -> dict[str, str]:
    """Return what is written of a canvas."""
    return _written(
        name=scalar_text(canvas.name),
        place=canvas.place,
        size=None if canvas.size is None else size_text(canvas.size),
    )


def paint_fields(paint: Paint) -> dict[str, str]:
    """Return what is written of a paint."""
    return _written(
        name=scalar_text(paint.name),
        pigment=None if paint.pigment is None else scalar_text(paint.pigment),
        dries=None if paint.dries_days is None else days_text(paint.dries_days),
    )


def mixture_fields(mixture: Mixture) -> dict[str, str]:
    """Return what is written of a mixture."""
    parts = mapping_text({key_text(paint): str(count) for paint, count in mixture.parts})
    return _written(name=scalar_text(mixture.name), parts=parts, oil=mixture.oil)


def head_fields(head: MarkedHead) -> dict[str, str]:
    """Return what is written of a head in the photo."""
    return _written(name=scalar_text(head.name), box=box_text(head.box))


def box_text(box: MarkedBox) -> str:
    """Return a box in the photo as its left, top, right and bottom in pixels."""
    return list_text(str(side_px) for side_px in box)


def passage_fields(passage: Passage, layer: str | None) -> dict[str, str]:
    """Return what is written of a passage.

    Args:
        passage: The passage.
        layer: The text by which it names what it lies over or is painted into; None where it names none.
    """
    return _written(
        name=scalar_text(passage.name),
        value=None if passage.value is None else number_text(passage.value),
        minutes=None if passage.planned_s is None else minutes_text(passage.planned_s),
        area=None if passage.area_cm2 is None else area_text(passage.area_cm2),
        mixture=None if passage.mixture is None else scalar_text(passage.mixture),
        beside=None if passage.beside is None else scalar_text(passage.beside),
        difficulty=None if passage.difficulty == 1 else number_text(passage.difficulty),
        lead=None if passage.lead is None else scalar_text(passage.lead),
        over=scalar_text(layer) if layer is not None and passage.over else None,
        into=scalar_text(layer) if layer is not None and passage.into else None,
    )


def _written(**fields: str | None) -> dict[str, str]:
    return {key: value for key, value in fields.items() if value is not None}
