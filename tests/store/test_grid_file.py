"""The transfer grid on the disk: a copy of the photo, never the photo."""

import os
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from PIL import Image

from coach.composition.crop import Crop
from coach.composition.photo_boxes import CompositionError
from coach.composition.transfer_grid import TransferGrid, grid_of
from coach.plan.commission import CanvasSize
from coach.store.grid_file import write_canvas_grid, write_photo_grid
from coach.store.photo import PhotoFileError

GREY = (120, 120, 120)


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    """A grey photo of 400 x 600 px."""
    path = tmp_path / "photo.png"
    Image.new("RGB", (400, 600), GREY).save(path)
    return path


@pytest.fixture
def grid() -> TransferGrid:
    """Squares of 50 px: 8 x 10 of them."""
    return grid_of(CanvasSize(406.4, 508), Crop(left_px=0, top_px=60, width_px=400, height_px=500), 50.8)


def test_lines_stand_on_every_square_of_the_copy(tmp_path: Path, photo: Path, grid: TransferGrid) -> None:
    """trade-checks.md 67, a tenth of its size: 8 x 10 squares, 50 px each."""
    before = photo.read_bytes()
    write_photo_grid(grid, photo, tmp_path / "grid.png")

    with Image.open(tmp_path / "grid.png") as drawn:
        assert (drawn.format, drawn.size) == ("PNG", (400, 500))
        # Far from the names, which stand at the top left of each square.
        assert [x for x in range(400) if drawn.getpixel((x, 45)) == (0, 0, 0)] == [*range(0, 400, 50), 398]
        assert [y for y in range(500) if drawn.getpixel((45, y)) == (0, 0, 0)] == [*range(0, 500, 50), 498]
        assert drawn.getpixel((45, 45)) == GREY
        named = [drawn.crop((x + 3, 3, x + 25, 20)).getcolors() for x in range(0, 400, 50)]
        assert all(len(colours or []) > 1 for colours in named)
    assert photo.read_bytes() == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["grid.png", "photo.png"]


def test_the_photo_is_never_the_target(tmp_path: Path, photo: Path, grid: TransferGrid) -> None:
    before = photo.read_bytes()
    (tmp_path / "link.png").symlink_to(photo)
    os.link(photo, tmp_path / "twin.png")

    for name in ("photo.png", "link.png", "twin.png"):
        with pytest.raises(PhotoFileError, match="there is such a file already; name another"):
            write_photo_grid(grid, photo, tmp_path / name)
    assert photo.read_bytes() == before


def test_a_crop_beyond_the_photo_is_refused(tmp_path: Path, photo: Path) -> None:
    beyond = grid_of(CanvasSize(400, 500), Crop(left_px=0, top_px=200, width_px=400, height_px=500))

    with pytest.raises(CompositionError, match="within the photo of 400 x 600 px"):
        write_photo_grid(beyond, photo, tmp_path / "grid.png")
    assert not (tmp_path / "grid.png").exists()


def test_the_svg_is_written_whole_with_its_title_as_text(tmp_path: Path, grid: TransferGrid) -> None:
    write_canvas_grid(grid, "North & <Harbour> \x1b", tmp_path / "north.svg")
    root = ET.parse(tmp_path / "north.svg").getroot()  # noqa: S314 - our own file

    assert root.get("width") == "406.4mm"
    assert root.findtext("{http://www.w3.org/2000/svg}title") == "North & <Harbour> "


def test_what_cannot_be_written_is_said_as_an_error_of_the_file(tmp_path: Path, grid: TransferGrid) -> None:
    with pytest.raises(PhotoFileError, match="this is a folder"):
        write_canvas_grid(grid, "North", tmp_path)
    assert list(tmp_path.iterdir()) == []
