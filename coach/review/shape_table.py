"""The shapes of a photo as data for machines and as a table; lengths and areas come from crop and canvas."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from coach.composition.crop import Crop
from coach.composition.photo_boxes import PhotoSize
from coach.plan.commission import CanvasSize
from coach.shapes.outlines import Ring
from coach.shapes.shape import MANY_VALUES_L, Apart, Shape, widest_brush_mm

COLUMNS: Final = ("id", "name", "value", "cm2", "brush_mm", "meets")
"""Columns of the table of shapes."""

_MOST_MET: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class NeighbourRow:
    """A neighbour: its edge, the width of that in per cent of the height of a head, its length on the first canvas."""

    id: str
    edge: str
    width_percent: float
    length_cm: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeRow:
    """A shape; the brush is the widest that fits on the first canvas, None where there is no canvas."""

    id: str
    feature: str
    name: str
    value: float
    lab: tuple[float, float, float]
    spread_L: float  # noqa: N815  the key as published
    area_px: int
    area_cm2: Mapping[str, float]
    brush_mm: float | None
    outline: tuple[Ring, ...]
    neighbours: tuple[NeighbourRow, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShapeReport:
    """Everything `coach shapes` tells; photo and crop in pixels."""

    photo: tuple[int, int]
    crop: tuple[int, int, int, int]
    shapes: tuple[ShapeRow, ...]
    flat_difference_mean: float


def shape_report(
    apart: Apart, photo: PhotoSize, crop: Crop, canvases: Mapping[str, CanvasSize], brushes_mm: Sequence[float]
) -> ShapeReport:
    """Return the report on a photo taken apart.

    Args:
        apart: The photo.
        photo: Its size.
        crop: The part of it that is painted.
        canvases: Sizes by name, all of the crop's ratio.
        brushes_mm: The painter's brushes; may be empty.
    """
    mm_per_px = {name: size.width_mm / crop.width_px for name, size in canvases.items()}
    return ShapeReport(
        photo=(photo.width_px, photo.height_px),
        crop=(crop.left_px, crop.top_px, crop.width_px, crop.height_px),
        shapes=tuple(_row(shape, mm_per_px, brushes_mm) for shape in apart.shapes),
        flat_difference_mean=apart.flat_difference_mean,
    )


def shape_rows(report: ShapeReport) -> list[tuple[str, ...]]:
    """Return the shapes as texts under `COLUMNS`, each feature over its own; + where a shape has several values."""
    rows: list[tuple[str, ...]] = []
    for feature, shapes in groupby(report.shapes, key=lambda row: row.feature):
        rows.append(("", f"{feature}:", *[""] * (len(COLUMNS) - 2)))
        rows += [
            (
                row.id,
                row.name,
                f"{row.value:.1f}" + ("+" if row.spread_L > MANY_VALUES_L else " "),
                f"{next(iter(row.area_cm2.values())):.1f}" if row.area_cm2 else "",
                "" if row.brush_mm is None else f"{row.brush_mm:.0f}",
                ", ".join(f"{one.id} {one.edge}" for one in row.neighbours[:_MOST_MET]),
            )
            for row in shapes
        ]
    return rows


def _row(shape: Shape, mm_per_px: Mapping[str, float], brushes_mm: Sequence[float]) -> ShapeRow:
    first = next(iter(mm_per_px.values()), None)
    return ShapeRow(
        id=shape.id,
        feature=shape.feature.value,
        name=shape.name,
        value=shape.value,
        lab=shape.lab,
        spread_L=shape.spread_l,
        area_px=round(shape.area_px),
        area_cm2={name: round(shape.area_px * mm**2 / 100, 2) for name, mm in mm_per_px.items()},
        brush_mm=None if first is None else round(widest_brush_mm(shape.reach_px * first, brushes_mm), 1),
        outline=shape.outline,
        neighbours=tuple(
            NeighbourRow(
                id=one.id,
                edge=one.edge.value,
                width_percent=round(100 * one.width_frac, 2),
                length_cm=None if first is None else round(one.length_px * first / 10, 1),
            )
            for one in shape.neighbours
        ),
    )
