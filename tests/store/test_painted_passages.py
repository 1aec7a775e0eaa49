"""What a comparison needs of the plan: which dots are which passage, and which stay bare along the edge."""

from dataclasses import replace
from pathlib import Path

import numpy as np

from coach.commands.named_plan import plan_in
from coach.compare.subject import Outlines
from coach.shapes.outlines import borders_of, rings_of
from coach.shapes.svg import read_svg, write_svg
from coach.store.painted_passages import painted_passages
from tests.compare.made_plan import made_plan
from tests.compare.scenes import DISCS, NAMES, SIZE, Canvas, dots_at, labels_of

MARGIN_MM = 15


def read(path: Path) -> tuple[int, Outlines]:
    painted, outlines = painted_passages(plan_in(path), path, NAMES, {})
    return len(painted), outlines


def test_what_no_shape_covers_along_the_edge_is_a_bare_margin(tmp_path: Path) -> None:
    path = made_plan(tmp_path, ())
    count, whole = read(path)
    assert whole.labels.max() < count

    across, down = dots_at(1.25)
    to_edge = np.minimum(np.minimum(across, SIZE.width_mm - across), np.minimum(down, SIZE.height_mm - down))
    is_inside = ((across - 200) / 40) ** 2 + ((down - 60) / 30) ** 2 <= 1
    gaps = np.where((to_edge < MARGIN_MM) | is_inside, len(DISCS), labels_of(Canvas())).astype(np.int32)
    rings = rings_of(borders_of(gaps))
    file = tmp_path / "sitter.shapes.svg"
    known, _ = read_svg(file.read_bytes())
    shapes = [replace(shape, outline=tuple(rings[int(shape.id[1:]) - 1])) for shape in known.shapes]
    file.write_bytes(write_svg(replace(known, shapes=tuple(shapes))))
    count, outlines = read(path)

    assert (outlines.labels == count)[to_edge < MARGIN_MM - 1].all()
    assert not (outlines.labels == count)[to_edge > MARGIN_MM + 1].any()  # a gap in the middle is no margin
