"""A drawn photo of four shapes with its plan, for what is tested of the Shapes screen."""

from dataclasses import replace

import numpy as np

from coach.composition.crop import Crop
from coach.composition.photo_boxes import PhotoSize
from coach.errors import CoachError
from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.screens.plan.repository import SaveResult
from coach.screens.shapes.repository import OpenedPhoto, OpenedShapes, Version
from coach.shapes.features import Feature, HeadBox
from coach.shapes.outlines import Ring
from coach.shapes.photo_window import Box
from coach.shapes.shape import Picture
from coach.shapes.shape_map import OutlinedShape, ShapeMap
from coach.shapes.svg import write_svg

TEXT = """\
photo: sitter.png
canvases: [{name: Hall, size: 40 x 50 cm}, {name: School, size: 40 x 50 cm}]
heads: [{name: Anna, box: [20, 10, 60, 60]}]
shapes: plan.shapes.svg
passes:
  - name: face
    passages: [{name: light side, shapes: [k1]}, {name: dark side, shapes: [k2]}, step back]
  - name: ground
    passages: [{name: wall, shapes: [k3]}]
"""
PLAN = read_plan(TEXT, "")


def box(left: float, top: float, right: float, bottom: float) -> Ring:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def shape(number: int, name: str, feature: Feature, *rings: Ring) -> OutlinedShape:
    return OutlinedShape(id=f"k{number}", name=name, feature=feature, outline=rings)


SHAPES = (
    shape(1, "cheek left, light", Feature.FACE, box(20, 10, 40, 60)),
    shape(2, "cheek right, dark", Feature.FACE, box(40, 10, 60, 60)),
    shape(
        3,
        "ground, middle",
        Feature.GROUND,
        ((0, 0), (80, 0), (80, 100), (70, 100), (70, 70), (10, 70), (10, 100), (0, 100)),
        ((20, 10), (40, 10), (60, 10), (60, 60), (40, 60), (20, 60)),
    ),
    shape(4, "coat, dark", Feature.CLOTHING, box(10, 70, 70, 100)),
)
MAP = ShapeMap(
    photo_width_px=80,
    photo_height_px=100,
    photo_sha256="0" * 64,
    next_number=5,
    borders={},
    shapes=SHAPES,
)
VERSION = Version(PLAN, MAP)


def linear(scale: int = 4) -> "np.ndarray":
    """Return the light of the photo, `scale` pixels for one of the photo."""
    light = np.full((100, 80), 0.2)
    light[10:60, 20:40], light[10:60, 40:60], light[70:100, 10:70] = 0.7, 0.1, 0.02
    light[30:35, 25:30] = 0.3
    return np.repeat(light.repeat(scale, axis=0).repeat(scale, axis=1)[..., None], 3, axis=2)


PHOTO = OpenedPhoto(
    size=PhotoSize(width_px=80, height_px=100),
    sha256="0" * 64,
    crop=Crop(left_px=0, top_px=0, width_px=80, height_px=100),
    picture=Picture(linear=linear(), left_px=0, top_px=0, scale=4),
    heads=(HeadBox(name="Anna", left=20, top=10, right=60, bottom=60),),
    mm_per_px={"Hall": 5.0, "School": 5.0},
)
OPENED = OpenedShapes(TEXT, PLAN, "plan.shapes.svg", write_svg(MAP), PHOTO, MAP)


class SetShapes:
    """A repository that answers from memory and keeps what is saved."""

    def __init__(self, opened: OpenedShapes = OPENED) -> None:
        self.answer = opened
        self.saved: list[tuple[OpenedShapes, Version]] = []
        self.asked: list[Box] = []
        self.difference: tuple[str, ...] = ()
        self.fault = ""

    def opened(self) -> OpenedShapes:
        if self.fault:
            raise CoachError(self.fault)
        return self.answer

    def photo(self, plan: Plan) -> OpenedPhoto | None:
        boxes = [
            HeadBox(name=name, left=box.left_px, top=box.top_px, right=box.right_px, bottom=box.bottom_px)
            for name, box in plan.heads
        ]
        return None if self.answer.photo is None else self.answer.photo._replace(heads=tuple(boxes))

    def part(self, photo: str, box: Box) -> "np.ndarray":
        assert photo == "sitter.png"
        self.asked.append(box)
        left, top, right, bottom = map(int, box)
        return linear(1)[top:bottom, left:right]

    def save(self, opened: OpenedShapes, version: Version) -> SaveResult:
        if self.fault:
            raise CoachError(self.fault)
        self.saved.append((opened, version))
        return SaveResult("saved text", "Saved in plan.yaml and plan.shapes.svg.", self.difference)


def without(*ids: str) -> ShapeMap:
    return replace(MAP, shapes=tuple(one for one in SHAPES if one.id not in ids))
