"""The photo beside a plan: found, drawn, and what is marked in it kept in the plan's file."""

from pathlib import Path

import pytest
from PIL import ExifTags, Image

from coach.commands.repositories import PhotoFileRepository
from coach.composition.photo_boxes import PhotoSize
from coach.errors import CoachError
from coach.plan.commission import CanvasSize, MarkedBox, MarkedHead
from coach.plan.reading import read_plan
from coach.screens.composition.state import Marked
from coach.shapes.dots import coded
from tests.sessions import Easel

PLAN = """\
# by hand
canvases: [{name: Hall, size: 40 x 50 cm}, {name: School, size: 40 x 50 cm}, Mill]   # three
photo: sitter.jpg
passes: [{name: eyes, passages: [lid]}]
"""
RED, BLUE = (255, 0, 0), (0, 0, 255)
HEAD = MarkedHead("Anna: [b]", MarkedBox(10, 20, 30, 50))
NOTHING = Marked("sitter.jpg")


def plan_in(folder: Path, text: str = PLAN) -> Path:
    path = folder / "plan.yaml"
    path.write_text(text)
    return path


def photo_in(folder: Path, name: str = "sitter.jpg", *, turn: int = 1) -> Path:
    """Draw a photo of 60 x 40 px as stored: red on the left, blue on the right."""
    picture = Image.new("RGB", (60, 40), RED)
    picture.paste(BLUE, (30, 0, 60, 40))
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = turn
    picture.save(folder / name, exif=exif, quality=95)
    return folder / name


def test_the_photo_lies_beside_the_plan_and_the_sizes_are_named_once(tmp_path: Path) -> None:
    photo_in(tmp_path)
    sitter = PhotoFileRepository(plan_in(tmp_path), Easel().session).sitter(None)

    assert (sitter.photo, sitter.size) == ("sitter.jpg", PhotoSize(width_px=60, height_px=40))
    assert sitter.sizes == (CanvasSize(400.0, 500.0),)
    assert sitter.written == NOTHING


def test_a_photo_turned_by_exif_is_found_and_drawn_upright(tmp_path: Path) -> None:
    """Orientation 6 of EXIF (CIPA DC-008): row 0 is the right side, so the red left side comes to lie on top."""
    photo_in(tmp_path, turn=6)
    repository = PhotoFileRepository(plan_in(tmp_path), Easel().session)
    light = coded(repository.light("sitter.jpg", (0, 0, 40, 60), 1.0))

    assert repository.sitter(None).size == PhotoSize(width_px=40, height_px=60)
    assert light.shape == (60, 40, 3)
    assert tuple(light[4, 20]) == pytest.approx(RED, abs=12)
    assert tuple(light[52, 20]) == pytest.approx(BLUE, abs=12)
    part = coded(repository.light("sitter.jpg", (10, 40, 15, 50), 1.0))
    assert part.shape == (10, 5, 3)
    assert tuple(part[5, 2]) == pytest.approx(BLUE, abs=12)


def test_another_photo_is_found_by_its_name(tmp_path: Path) -> None:
    photo_in(tmp_path, "other.jpg")
    sitter = PhotoFileRepository(plan_in(tmp_path), Easel().session).sitter("other.jpg")

    assert (sitter.photo, sitter.written.photo) == ("other.jpg", "sitter.jpg")
    assert sitter.size == PhotoSize(width_px=60, height_px=40)


def test_a_plan_without_a_photo_has_no_size_and_no_fault(tmp_path: Path) -> None:
    sitter = PhotoFileRepository(plan_in(tmp_path, PLAN.replace("photo: sitter.jpg\n", "")), Easel().session).sitter(
        None
    )
    assert (sitter.photo, sitter.size, sitter.fault) == (None, None, "")


@pytest.mark.parametrize(
    ("kind", "fault"),
    [
        ("gone", "there is no such file"),
        ("folder", "this is a folder; name the file of the photo"),
        ("text", "this is not a photo that can be read"),
        ("short", "the photo is damaged or cut short"),
    ],
)
def test_a_photo_that_cannot_be_read_is_a_sentence_and_the_plan_is_there(tmp_path: Path, kind: str, fault: str) -> None:
    photo = tmp_path / "sitter.jpg"
    if kind == "folder":
        photo.mkdir()
    elif kind == "text":
        photo.write_text("a letter")
    elif kind == "short":
        whole = photo_in(tmp_path).read_bytes()
        photo.write_bytes(whole[: len(whole) * 2 // 3])
    repository = PhotoFileRepository(plan_in(tmp_path), Easel().session)
    sitter = repository.sitter(None)

    assert sitter.size is None
    assert fault in sitter.fault
    assert "\n" not in sitter.fault
    assert sitter.written == NOTHING
    with pytest.raises(CoachError, match=fault):
        repository.light("sitter.jpg", (0, 0, 10, 10), 1.0)


def test_marks_are_written_into_the_plan_and_nothing_else_changes(tmp_path: Path) -> None:
    photo = photo_in(tmp_path)
    before, path = photo.read_bytes(), plan_in(tmp_path)
    repository = PhotoFileRepository(path, Easel().session)
    marked = Marked("sitter.jpg", (HEAD,), (MarkedBox(0, 0, 5, 5),))

    assert repository.write(NOTHING, marked, None) == "Saved. The easel knows it."
    text = path.read_text()
    plan = read_plan(text, "plan.yaml")
    assert Marked(plan.photo, plan.heads, plan.keeps) == marked == repository.sitter(None).written
    assert [line for line in PLAN.splitlines() if line not in text.splitlines()] == []
    assert photo.read_bytes() == before


def test_marks_that_are_gone_leave_the_plan(tmp_path: Path) -> None:
    path = plan_in(tmp_path)
    repository = PhotoFileRepository(path, Easel().session)
    marked = Marked("sitter.jpg", (HEAD,), (MarkedBox(0, 0, 5, 5),))
    repository.write(NOTHING, marked, None)
    repository.write(marked, NOTHING, None)

    assert path.read_text() == PLAN


def test_a_size_is_given_to_every_canvas(tmp_path: Path) -> None:
    path = plan_in(tmp_path)
    PhotoFileRepository(path, Easel().session).write(NOTHING, NOTHING, CanvasSize(508.0, 406.4))

    assert "{name: Hall, size: 20 x 16 in}, {name: School, size: 20 x 16 in}, {name: Mill, size: 20 x 16 in}" in (
        path.read_text()
    )


def test_other_marks_in_the_file_are_not_written_over_but_other_edits_are_kept(tmp_path: Path) -> None:
    path = plan_in(tmp_path)
    repository = PhotoFileRepository(path, Easel().session)
    marked = Marked("sitter.jpg", (HEAD,))
    path.write_text(PLAN + "due: 2027-05-01\n")
    repository.write(NOTHING, marked, None)
    assert "due: 2027-05-01" in path.read_text()

    with pytest.raises(CoachError, match="the plan says something else of its photo meanwhile"):
        repository.write(NOTHING, NOTHING, None)


def test_a_plan_with_a_fault_is_told_and_not_written(tmp_path: Path) -> None:
    path = plan_in(tmp_path, PLAN + "commision: x\n")
    repository = PhotoFileRepository(path, Easel().session)
    with pytest.raises(CoachError, match='did you mean "commission"'):
        repository.sitter(None)
    with pytest.raises(CoachError, match='did you mean "commission"'):
        repository.write(NOTHING, NOTHING, None)
    assert path.read_text() == PLAN + "commision: x\n"
