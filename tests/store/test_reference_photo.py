"""The plan's photo for showing: its painted part, with the shapes that lie beside the plan."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from coach.plan.reading import read_plan
from coach.shapes.dots import values_of
from coach.shapes.features import Feature
from coach.shapes.shape_map import OutlinedShape, ShapeMap
from coach.shapes.svg import write_svg
from coach.store.photo import PhotoFileError
from coach.store.reference_photo import load_reference

PLAN = """\
photo: sitter.png
shapes: sitter.shapes.svg
canvases: [{name: Hall, size: 40 x 40 cm}]
passes: [{name: eyes, passages: [{name: lid, shapes: [k1]}]}]
"""
SQUARE = (((10.0, 10.0), (20.0, 10.0), (20.0, 20.0), (10.0, 20.0)),)


def plan_in(folder: Path, text: str = PLAN) -> Path:
    Image.new("RGB", (40, 60), (120, 120, 120)).save(folder / "sitter.png")
    shape = OutlinedShape(id="k1", name="lid", feature=Feature.EYES, outline=SQUARE)
    shapes = ShapeMap(
        photo_width_px=40, photo_height_px=60, photo_sha256="", next_number=2, borders={}, shapes=(shape,)
    )
    (folder / "sitter.shapes.svg").write_bytes(write_svg(shapes))
    (folder / "plan.yaml").write_text(text)
    return folder / "plan.yaml"


def test_the_shapes_of_a_plan_are_outlined_on_its_photo(tmp_path: Path) -> None:
    path = plan_in(tmp_path)
    reference = load_reference(path, read_plan(PLAN, ""))
    assert reference is not None
    assert reference.reference([], 20, 10).shape == (20, 20, 3)  # the crop is square as the canvas is
    assert (values_of(reference.reference(["k1"], 20, 10)) == 10).any()


@pytest.mark.parametrize("shapes", ["", "shapes: gone.shapes.svg"])
def test_without_shapes_the_whole_photo_is_shown(tmp_path: Path, shapes: str) -> None:
    text = PLAN.replace("shapes: sitter.shapes.svg", shapes).replace(", shapes: [k1]", "")
    reference = load_reference(plan_in(tmp_path, text), read_plan(text, ""))
    assert reference is not None
    assert np.array_equal(reference.reference(["k1"], 20, 10), reference.reference([], 20, 10))


def test_a_plan_without_a_photo_has_no_reference_and_a_photo_that_is_gone_is_said(tmp_path: Path) -> None:
    text = PLAN.replace("photo: sitter.png\n", "")
    assert load_reference(plan_in(tmp_path, text), read_plan(text, "")) is None
    (tmp_path / "sitter.png").unlink()
    with pytest.raises(PhotoFileError, match=r"sitter\.png: there is no such file"):
        load_reference(tmp_path / "plan.yaml", read_plan(PLAN, ""))
