"""A plan with photo, shapes and photos of its canvases on the disk, drawn from the scenes."""

import os
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import numpy as np
from PIL import Image

from coach.compare.subject import Photographed
from coach.shapes.features import Feature
from coach.shapes.outlines import borders_of, rings_of
from coach.shapes.shape_map import OutlinedShape, ShapeMap
from coach.shapes.svg import write_svg
from tests.compare.scenes import DISCS, Canvas, labels_of

_PLAN: Final = """
canvases:
  - {name: Hall, place: left, size: 40 x 50 cm}
  - {name: School, place: right, size: 40 x 50 cm}
photo: sitter.png
shapes: sitter.shapes.svg
photos: canvas-photos
limits: {press: 0 s}
passes:
  - name: all
    passages:
"""
_FEATURES: Final = {"eye": Feature.EYES, "nose": Feature.NOSE, "mouth": Feature.MOUTH, "": Feature.FACE}
PHOTOS: Final = "canvas-photos"


def made_plan(folder: Path, shots: Sequence[Photographed]) -> Path:
    """Write a plan, its photo and shapes, and photos of its canvases, each a minute later; return the plan's path."""
    labels = labels_of(Canvas())
    colours = np.array([colour for _, _, colour, *_ in DISCS], dtype=np.uint8)
    Image.fromarray(colours[labels]).save(folder / "sitter.png")
    rings = rings_of(borders_of(labels))
    shapes = [
        OutlinedShape(id=f"k{no + 1}", name=name, feature=_FEATURES[feature], outline=tuple(rings[no]))
        for no, (name, feature, *_) in enumerate(DISCS)
        if no in rings
    ]
    shape_map = ShapeMap(
        photo_width_px=labels.shape[1],
        photo_height_px=labels.shape[0],
        photo_sha256="0" * 64,
        next_number=len(DISCS) + 1,
        borders={},
        shapes=tuple(shapes),
    )
    (folder / "sitter.shapes.svg").write_bytes(write_svg(shape_map))
    passages = [f'      - {{name: "{shape.name}", shapes: [{shape.id}]}}\n' for shape in shapes]
    plan = folder / "plan.yaml"
    plan.write_text(_PLAN + "".join(passages), encoding="utf-8")
    (folder / PHOTOS).mkdir()
    for number, shot in enumerate(shots):
        path = folder / PHOTOS / shot.name
        Image.fromarray(shot.coded).save(path, quality=95)
        os.utime(path, (1_800_000_000 + 60 * number,) * 2)
    return plan
