"""A portrait of square shapes, made by seed: every figure is known, so that a plan can be worked out by hand."""

import random
from typing import Final

from coach.composition.proposal.shape_parts import OnCanvas
from coach.plan.commission import Canvas, CanvasSize, MarkedBox, MarkedHead, Plan
from coach.shapes.edges import EdgeKind
from coach.shapes.features import Feature
from coach.shapes.shape import Neighbour, Shape

SIDE_PX: Final = 20
"""Side of a shape."""

LAYOUT: Final = (
    "gggggggg",
    "gghhhhgg",
    "gghffhgg",
    "ggaeeagg",
    "ggfnnfgg",
    "ggfmmfgg",
    "gggkkggg",
    "cccccccc",
    "cccccccc",
)
_FEATURE: Final = {
    "g": Feature.GROUND,
    "h": Feature.HAIR,
    "f": Feature.FACE,
    "a": Feature.EARS,
    "e": Feature.EYES,
    "n": Feature.NOSE,
    "m": Feature.MOUTH,
    "k": Feature.NECK,
    "c": Feature.CLOTHING,
}

COLUMNS, ROWS = len(LAYOUT[0]), len(LAYOUT)


def made_shapes(seed: int, sitters: int = 1) -> tuple[Shape, ...]:
    """Return the shapes of so many sitters side by side."""
    draw = random.Random(seed)  # noqa: S311  a seeded draw for a test
    rows = [line * sitters for line in LAYOUT]
    cells = [(row, column) for row in range(ROWS) for column in range(len(rows[0]))]
    kinds = {
        frozenset((cell, near)): draw.choice(list(EdgeKind))
        for cell in cells
        for near in ((cell[0], cell[1] + 1), (cell[0] + 1, cell[1]))
        if near in set(cells)
    }
    ids = {cell: f"k{number}" for number, cell in enumerate(cells, start=1)}
    return tuple(_shape(cell, rows, ids, kinds, draw) for cell in cells)


def _shape(
    cell: tuple[int, int],
    rows: list[str],
    ids: dict[tuple[int, int], str],
    kinds: dict[frozenset[tuple[int, int]], EdgeKind],
    draw: random.Random,
) -> Shape:
    row, column = cell
    feature, value = _FEATURE[rows[row][column]], round(draw.uniform(0, 10), 2)
    near = [(row, column + 1), (row + 1, column), (row, column - 1), (row - 1, column)]
    left, top = column * SIDE_PX, row * SIDE_PX
    right, bottom = left + SIDE_PX, top + SIDE_PX
    return Shape(
        id=ids[cell],
        feature=feature,
        name=f"{feature.value} {'left' if column % COLUMNS < COLUMNS / 2 else 'right'}, middle",
        lab=(value * 10, round(draw.uniform(-10, 30), 1), round(draw.uniform(-10, 40), 1)),
        value=value,
        spread_l=2.0,
        area_px=SIDE_PX**2,
        reach_px=SIDE_PX / 2,
        outline=(((left, top), (right, top), (right, bottom), (left, bottom)),),
        neighbours=tuple(
            Neighbour(id=ids[one], edge=kinds[frozenset((cell, one))], width_frac=0.01, length_px=SIDE_PX)
            for one in near
            if one in ids
        ),
    )


def made_frame(sitters: int = 1, size: CanvasSize = CanvasSize(400, 450)) -> Plan:  # noqa: B008  frozen
    """Return a commission for so many sitters on two canvases."""
    width, height = COLUMNS * SIDE_PX, ROWS * SIDE_PX
    heads = tuple(
        MarkedHead(
            name=("elder", "younger", "youngest")[number],
            box=MarkedBox(width * number + 2 * SIDE_PX, SIDE_PX, width * number + 6 * SIDE_PX, height - 3 * SIDE_PX),
        )
        for number in range(sitters)
    )
    canvases = (Canvas(name="Hall", size=size), Canvas(name="School", size=size))
    return Plan(canvases=canvases, passes=(), photo="sitter.jpg", heads=heads)


def made_on_canvas(frame: Plan, sitters: int = 1) -> OnCanvas:
    """Return how such shapes come out on the canvases of a commission."""
    size = frame.canvases[0].size
    assert size is not None
    return OnCanvas(mm_per_px=size.width_mm / (COLUMNS * SIDE_PX * sitters))
