"""What a painter should know before settling on a crop, in sentences."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from coach.composition.crop import EDGES, Crop, PlacedHead, place_crop, placed, usual_margin_mm
from coach.composition.life_size import (
    HALF_FRAC,
    HEAD_MAN_MM,
    HEAD_WOMAN_MM,
    PALM_MM,
    SMALLEST_LIKENESS_MM,
    height_for_mm,
)
from coach.composition.photo_boxes import PhotoSize, corners, overlaps
from coach.composition.sizes import next_stock_names
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead
from coach.text import joined

CLOSE_FRAC: Final = 0.5
"""A head is close to an edge where it has less than this share of the usual margin. Source: ours, no other."""

_MOST_NAMES: Final = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Framed:
    """A photo with its boxes, and one crop of it for one canvas; `placed` are the heads in their order."""

    photo: PhotoSize
    canvas: CanvasSize
    crop: Crop
    heads: Sequence[MarkedHead]
    keeps: Sequence[MarkedBox]
    placed: Sequence[PlacedHead]

    @property
    def cut_count(self) -> int:
        """How many heads and parts to keep are cut by the edge."""
        return len(_cut_heads(self)) + len(_cut_keeps(self))


def warnings_of(framed: Framed) -> tuple[str, ...]:
    """Return the warnings about a crop, the gravest first; none where there is nothing to say."""
    return (*_cut_sentences(framed), *_size_sentences(framed), *_close_sentences(framed))


def remarks_on(photo: PhotoSize, heads: Sequence[MarkedHead]) -> tuple[str, ...]:
    """Return what is to be known of the boxes whatever the crop: heads that overlap or reach the photo's own edge."""
    reached = ((head, _photo_edges(photo, head.box)) for head in heads)
    at_the_end = (
        f"{head.name}'s head reaches the {joined(edges)} edge of the photo: it may be cut in the photo itself"
        for head, edges in reached
        if edges
    )
    return (*overlaps(heads), *at_the_end)


def _cut_heads(framed: Framed) -> list[tuple[PlacedHead, list[str]]]:
    cut = ((head, [e for e, room in zip(EDGES, head.margins_mm, strict=True) if room < 0]) for head in framed.placed)
    return [(head, edges) for head, edges in cut if edges]


def _cut_keeps(framed: Framed) -> list[MarkedBox]:
    crop = framed.crop
    return [
        keep
        for keep in framed.keeps
        if keep.left_px < crop.left_px
        or keep.top_px < crop.top_px
        or keep.right_px > crop.right_px
        or keep.bottom_px > crop.bottom_px
    ]


def _cut_sentences(framed: Framed) -> list[str]:
    heads = [f"{head.name}'s head is cut by the {joined(edges)} edge" for head, edges in _cut_heads(framed)]
    keeps = [f"the part to keep {corners(keep)} is cut by the edge" for keep in _cut_keeps(framed)]
    return [*heads, *keeps]


def _photo_edges(photo: PhotoSize, box: MarkedBox) -> list[str]:
    reached = (box.left_px <= 0, box.top_px <= 0, box.right_px >= photo.width_px, box.bottom_px >= photo.height_px)
    return [edge for edge, is_reached in zip(EDGES, reached, strict=True) if is_reached]


def _size_sentences(framed: Framed) -> list[str]:
    small = [head for head in framed.placed if head.life_frac < HALF_FRAC]
    tiny = [head for head in small if head.height_mm < SMALLEST_LIKENESS_MM]
    under_palm = [head for head in small if SMALLEST_LIKENESS_MM <= head.height_mm < PALM_MM]
    under_half = [head for head in small if head.height_mm >= PALM_MM]
    above = [head for head in framed.placed if head.life_frac > 1]
    least = f"under {SMALLEST_LIKENESS_MM / 10:.0f} cm"
    said = [
        (tiny, f"under half life size and {least}, where a likeness is hard to hold with ordinary small brushes"),
        (under_palm, "under half life size and smaller than a palm, where a likeness is hard to hold"),
        (under_half, "under half life size"),
        (above, "above life size, which portraits seldom are"),
    ]
    sentences = [f"{_with_heights(heads)}: {what}" for heads, what in said if heads]
    return [*sentences, _taller_canvas(framed, small)] if small else sentences


def _taller_canvas(framed: Framed, small: Sequence[PlacedHead]) -> str:
    """Return how high a canvas would have to be for heads of half life size, and which are in stock."""
    smallest_mm = min(head.height_mm for head in small)
    said = []
    for who, head_mm in (("man", HEAD_MAN_MM), ("woman", HEAD_WOMAN_MM)):
        needed_mm = height_for_mm(HALF_FRAC * head_mm, smallest_mm, framed.canvas.height_mm)
        stock = next_stock_names(needed_mm, is_upright=framed.canvas.height_mm >= framed.canvas.width_mm)
        named = f"next in stock {' and '.join(stock)}" if stock else "more than any in stock"
        said.append(f"{needed_mm / 10:.1f} cm high for a {who} ({named})")
    return f"with this crop, half life size needs a canvas {said[0]}, {said[1]}"


def _close_sentences(framed: Framed) -> list[str]:
    sides_mm = (framed.canvas.width_mm, framed.canvas.height_mm) * 2
    return [
        f"{head.name}'s head is {room / 10:.1f} cm from the {edge} edge: {_reason(framed, head_no, edge_no, least)}"
        for head_no, head in enumerate(framed.placed)
        for edge_no, (edge, room, side_mm) in enumerate(zip(EDGES, head.margins_mm, sides_mm, strict=True))
        if 0 <= room < (least := CLOSE_FRAC * usual_margin_mm(side_mm))
    ]


def _reason(framed: Framed, head_no: int, edge_no: int, least_mm: float) -> str:
    alone = framed.heads[head_no : head_no + 1]
    sides_px = framed.crop.width_px, framed.crop.height_px
    crop = place_crop(framed.photo, framed.canvas, sides_px, alone, ())
    is_forced = placed(framed.canvas, crop, alone)[0].margins_mm[edge_no] >= least_mm
    if is_forced and len(framed.heads) > 1 and not framed.keeps:
        apart = "stand at different heights" if EDGES[edge_no] in ("top", "bottom") else "stand far apart"
        return f"the heads {apart}, and this crop has no room for all of them"
    if is_forced:
        return "what must stay in the picture forces it there"
    ends = (
        framed.crop.left_px == 0,
        framed.crop.top_px == 0,
        framed.crop.right_px == framed.photo.width_px,
        framed.crop.bottom_px == framed.photo.height_px,
    )
    return "the photo ends there" if ends[edge_no] else "this crop has no more room"


def _with_heights(heads: Sequence[PlacedHead]) -> str:
    shown = [f"{head.name} {head.height_mm / 10:.1f} cm" for head in heads[:_MOST_NAMES]]
    others = len(heads) - len(shown)
    return joined([*shown, f"{others} others"] if others else shown)
