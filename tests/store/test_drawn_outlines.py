"""The outlines beside a plan are read as they are drawn, anew whenever the file is."""

from pathlib import Path

from coach.shapes.features import Feature
from coach.shapes.shape_map import OutlinedShape, ShapeMap
from coach.shapes.svg import write_svg
from coach.store.drawn_outlines import DrawnOutlines

NAME = "keeper.shapes.svg"


def draw(folder: Path, right: float) -> None:
    """Write a file with one shape, a triangle."""
    outline = (((1.0, 2.0), (right, 2.0), (1.0, 9.0)),)
    shape = OutlinedShape(id="k7", name="lid, dark", feature=Feature.EYES, outline=outline)
    shapes = ShapeMap(
        photo_width_px=90, photo_height_px=90, photo_sha256="", next_number=8, borders={}, shapes=(shape,)
    )
    (folder / NAME).write_bytes(write_svg(shapes))


def test_outlines_are_read_as_path_data_and_anew_where_the_file_is_new(tmp_path: Path) -> None:
    draw(tmp_path, 20)
    outlines = DrawnOutlines(tmp_path / "plan.yaml")
    outlines.prepare(NAME)
    assert outlines.read(NAME) == {"k7": "M1,2 20,2 1,9Z"}
    draw(tmp_path, 30.5)
    assert outlines.read(NAME) == {"k7": "M1,2 30.5,2 1,9Z"}


def test_a_file_that_is_not_there_or_no_drawing_has_no_outlines(tmp_path: Path) -> None:
    outlines = DrawnOutlines(tmp_path / "plan.yaml")
    assert outlines.read(NAME) == {}
    (tmp_path / NAME).write_text("<svg")
    assert outlines.read(NAME) == {}
    draw(tmp_path, 20)
    assert list(outlines.read(NAME)) == ["k7"]
