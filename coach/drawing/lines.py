"""The lines between shapes, each drawn once, by the kind of its edge; and the drawing of them at true size as SVG."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from typing import Final

from coach.composition.crop import Crop
from coach.plan.commission import CanvasSize
from coach.shapes.edges import EdgeKind
from coach.shapes.outlines import Point, Ring
from coach.shapes.shape import Shape
from coach.text import xml_text


@dataclass(frozen=True, slots=True, kw_only=True)
class Pen:
    """How a line is drawn: its width, and the lengths drawn and left out in turn; none for a full line."""

    width_mm: float
    dash_mm: tuple[float, ...] = ()


PENS: Final[Mapping[EdgeKind, Pen]] = {
    EdgeKind.HARD: Pen(width_mm=0.5),
    EdgeKind.FIRM: Pen(width_mm=0.25),
    EdgeKind.SOFT: Pen(width_mm=0.25, dash_mm=(4, 2)),
    EdgeKind.LOST: Pen(width_mm=0.25, dash_mm=(0.5, 3)),
}
"""The pen of each edge, from the sharpest on: thick, thin, dashed, and dots where nothing is seen; ours."""

FRAME_MM: Final = 0.1
"""Width of the line about the canvas."""

_FRAME: Final = "frame"
"""Stands for what lies beyond the frame of all shapes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A stretch of border between two shapes, in pixels of the photo."""

    points: Ring
    edge: EdgeKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """Where pixels of the photo lie on a canvas; mirrored for a drawing that is traced through its back."""

    canvas: CanvasSize
    crop: Crop
    is_mirrored: bool = False

    def on_canvas(self, points: Ring) -> list[Point]:
        """Return points of the photo in millimetres from the top left corner of the canvas."""
        across, down = self.canvas.width_mm / self.crop.width_px, self.canvas.height_mm / self.crop.height_px
        found = [((x - self.crop.left_px) * across, (y - self.crop.top_px) * down) for x, y in points]
        return [(self.canvas.width_mm - x, y) for x, y in found] if self.is_mirrored else found


def lines_of(shapes: Sequence[Shape]) -> list[Line]:
    """Return the lines between the shapes, each once; their frame is none of them.

    A line that only one outline has, as after an edit in a drawing program, is drawn firm.
    """
    owners: dict[frozenset[Point], list[str]] = defaultdict(list)
    for shape in shapes:
        for side in _sides(shape.outline):
            owners[frozenset(side)].append(shape.id)
    columns, rows = zip(*(point for ends in owners for point in ends), strict=True)
    frame = (min(columns), max(columns)), (min(rows), max(rows))
    for ends, own in owners.items():
        if any({point[no] for point in ends} == {limit} for no in (0, 1) for limit in frame[no]):
            own.append(_FRAME)
    edges = {frozenset((shape.id, near.id)): near.edge for shape in shapes for near in shape.neighbours}
    return [
        Line(points=points, edge=edges.get(frozenset((shape.id, other)), EdgeKind.FIRM))
        for shape in shapes
        for ring in shape.outline
        for other, points in _stretches(ring, shape.id, owners)
        if other != _FRAME and shape.id > other
    ]


def drawing_svg(lines: Sequence[Line], placing: Placing, title: str, note: str) -> str:
    """Return the lines at true size on a canvas as SVG; user units are millimetres.

    Args:
        lines: What is drawn.
        placing: Where it lies on the canvas.
        title: What the drawing is called; any text.
        note: What else must be known of it, such as whose the photo is; may be empty.

    Source:
        Units and viewBox: SVG 2, W3C (from memory).
    """
    width_mm, height_mm = (f"{side:g}" for side in placing.canvas)
    groups = []
    for kind, pen in PENS.items():
        paths = "".join(_path(placing.on_canvas(line.points)) for line in lines if line.edge is kind)
        dashes = f' stroke-dasharray="{" ".join(f"{length:g}" for length in pen.dash_mm)}"' if pen.dash_mm else ""
        groups.append(f'<path id="{kind}" stroke-width="{pen.width_mm:g}"{dashes} d="{paths}"/>\n' if paths else "")
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width_mm}mm" height="{height_mm}mm" '
        f'viewBox="0 0 {width_mm} {height_mm}">\n'
        f"<title>{xml_text(title)}</title>\n"
        f"<desc>{xml_text(note)}</desc>\n"
        '<g fill="none" stroke="black" stroke-linejoin="round" stroke-linecap="round">\n'
        f'<rect id="canvas" width="{width_mm}" height="{height_mm}" stroke-width="{FRAME_MM:g}"/>\n'
        f"{''.join(groups)}</g>\n</svg>\n"
    )


def _path(points: Sequence[Point]) -> str:
    return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points)


def _sides(outline: Sequence[Ring]) -> Iterator[tuple[Point, Point]]:
    return ((one, other) for ring in outline for one, other in zip(ring, (*ring[1:], *ring[:1]), strict=True))


def _stretches(ring: Ring, own: str, owners: Mapping[frozenset[Point], Sequence[str]]) -> Iterator[tuple[str, Ring]]:
    """Yield the stretches of a ring along one neighbour each: its id, empty where there is none, and the points."""
    sides = list(_sides([ring]))
    others = [next((one for one in owners[frozenset(side)] if one != own), "") for side in sides]
    start = next((no for no, other in enumerate(others) if other != others[no - 1]), 0)
    along = list(zip(others, sides, strict=True))
    for other, stretch in groupby(along[start:] + along[:start], key=itemgetter(0)):
        ends = [side for _, side in stretch]
        yield other, (ends[0][0], *(end for _, end in ends))
