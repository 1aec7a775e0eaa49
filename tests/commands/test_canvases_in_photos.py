"""`coach compare` without its words: the newest photos of the folder, and the canvases that are found in them."""

import io
import json
import os
import shutil
import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from coach.cli import main
from tests.compare.made_plan import PHOTOS, made_plan
from tests.compare.rooms import FurnishedRoom
from tests.compare.scenes import DOTS_PER_MM, NAMES, Canvas, Room, photographed

CHANGED = {"cheek left, middle": (210, 144, 118)}
ASKED = ["compare", "plan.yaml"]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a plan, and with two photos of its canvases in a studio, Hall on the left in the first."""
    hall, school = Canvas().sheet, Canvas(colours=CHANGED).sheet
    made = tmp_path_factory.mktemp("found")
    made_plan(
        made,
        (
            photographed(hall, school, NAMES, Room(), studio=FurnishedRoom(2)),
            photographed(school, hall, NAMES[::-1], Room(), is_second=True, studio=FurnishedRoom(2)),
        ),
    )
    return made


@pytest.fixture
def folder(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a copy of its own, in which the command is given."""
    shutil.copytree(made, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    return tmp_path


class Terminal(io.StringIO):
    """What a painter types, or sees."""

    def isatty(self) -> bool:
        """Return that somebody sits there."""
        return True


def test_the_newest_photos_are_compared_where_the_canvases_are_found(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copy(folder / PHOTOS / "photo1.jpg", folder / PHOTOS / "older.jpg")
    (folder / PHOTOS / "newest.jpg").write_bytes(b"nothing")
    for name, time_s in (("older.jpg", 1_700_000_000), ("newest.jpg", 1_900_000_000)):
        os.utime(folder / PHOTOS / name, (time_s, time_s))
    assert main([*ASKED, "--left", "Hall", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)

    assert found["photos"] == ["photo1.jpg", "photo2.jpg"]
    assert [one["passage"] for one in found["shapes"] if one["called"]] == list(CHANGED)
    said = " ".join(found["remarks"])
    assert "photo1.jpg: taken 15 Jan 2027" in said
    assert ", by the time of its file. newest.jpg: this is not a photo" in said
    assert [one["canvas"] for one in found["corners"]] == ["Hall", "School", "School", "Hall"]
    assert all(one["proposed"] and len(one["corners"]) == 8 for one in found["corners"])


def test_which_canvas_is_where_is_asked_once(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    seen = Terminal()
    monkeypatch.setattr(sys, "stdin", Terminal("Hall\n"))
    monkeypatch.setattr(sys, "stderr", seen)
    assert main([*ASKED, "--photo", f"{PHOTOS}/photo1.jpg", "--photo", f"{PHOTOS}/photo2.jpg"]) == 0
    printed = capsys.readouterr().out

    assert seen.getvalue() == "Which canvas stands on the left in photo1.jpg: Hall, School? "
    assert printed.count("Found in photo") == printed.count("If that is not") == 2
    assert "Found in photo1.jpg: Hall:" in printed
    assert folder.joinpath("plan.journal").exists()


def test_what_is_typed_of_one_photo_decides_the_other(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*ASKED, "--left", "Hall", "--json"]) == 0
    placed = json.loads(capsys.readouterr().out)["corners"]
    words = [f"{one['canvas']}:{','.join(map(str, one['corners']))}" for one in placed[2:]]
    first, second = (f"{PHOTOS}/photo{number}.jpg" for number in (1, 2))
    assert (
        main([*ASKED, "--photo", first, "--photo", second, "--corners", words[0], "--corners", words[1], "--json"]) == 0
    )

    again = json.loads(capsys.readouterr().out)["corners"]
    assert [one["canvas"] for one in again] == [one["canvas"] for one in placed]
    assert [one["proposed"] for one in again] == [True, True, False, False]
    assert folder.is_dir()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "say which canvas stands on the left in photo1.jpg: --left and one of Hall, School"),
        (["--left", "Attic"], "“Attic” cannot stand on the left in photo1.jpg; one of Hall, School can"),
        (["--left", "Hall", "--right", "Hall"], "“Hall” cannot stand on the right in photo1.jpg; one of School can"),
        (["--left", "Hall", *["--photo", f"{PHOTOS}/photo1.jpg"] * 2], "are the same photo"),
        (["--left", "Hall", *["--photo", f"{PHOTOS}/photo1.jpg"] * 3], "of more than two photos, give --corners"),
    ],
)
@pytest.mark.usefixtures("folder")
def test_what_is_not_clear_is_one_sentence(words: list[str], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*ASKED, *words]) in (1, 2)
    assert said in capsys.readouterr().err


@pytest.mark.parametrize(("share", "said"), [(0.5, "only one canvas is found well"), (0.1, "no canvas is found well")])
def test_photos_without_both_canvases_are_refused(
    folder: Path, share: float, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    photo = Image.open(folder / PHOTOS / "photo1.jpg")
    photo.crop((0, 0, round(share * photo.width), photo.height)).save(folder / "cut.jpg", quality=95)
    assert main([*ASKED, "--left", "Hall", "--photo", "cut.jpg"]) == 1
    assert f"cut.jpg: {said}; give both with --corners, such as Hall:" in capsys.readouterr().err


def test_a_folder_without_two_photos_says_why(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / PHOTOS / "photo2.jpg").write_bytes(b"nothing")
    assert main([*ASKED, "--left", "Hall"]) == 1
    assert "1 photo can be compared; photo2.jpg: this is not a photo" in capsys.readouterr().err

    text = (folder / "plan.yaml").read_text(encoding="utf-8")
    (folder / "plan.yaml").write_text(text.replace(f"photos: {PHOTOS}\n", ""), encoding="utf-8")
    assert main([*ASKED, "--left", "Hall"]) == 2
    assert "or name their folder in the plan, such as photos: canvas-photos" in capsys.readouterr().err


def test_a_photo_without_colour_is_refused_before_anything_is_asked(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    Image.open(folder / PHOTOS / "photo1.jpg").convert("L").save(folder / "grey.jpg")
    assert main([*ASKED, "--photo", "grey.jpg"]) == 1
    assert "grey.jpg: the photo is black and white; take it in colour" in capsys.readouterr().err


def test_what_speaks_against_the_photos_is_said(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for number, minute in ((1, 0), (2, 40)):
        path = folder / PHOTOS / f"photo{number}.jpg"
        exif = Image.Exif()
        exif.get_ifd(0x8769).update({0x9003: f"2027:01:08 10:{minute:02}:00", 0x9209: number - 1})
        Image.fromarray(np.asarray(Image.open(path))).save(path, quality=95, exif=exif)
    assert main([*ASKED, "--left", "Hall", "--json"]) == 0
    remarks = json.loads(capsys.readouterr().out)["remarks"]

    assert "photo2.jpg: it was taken with flash, which shines back from wet paint; take it without." in remarks
    assert "The photos were taken 40 minutes apart: the light may have changed in between." in remarks


def test_landmarks_that_are_typed_tell_what_lies_elsewhere(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*ASKED, "--landmarks", "--json"]) == 0
    landmarks = json.loads(capsys.readouterr().out)["landmarks"]
    assert main([*ASKED, "--landmarks"]) == 0
    assert landmarks[0]["name"] in capsys.readouterr().out
    names = [one["name"] for one in landmarks]
    assert 8 <= len(names) <= 15

    photo = photographed(Canvas().sheet, Canvas().sheet, NAMES, Room(click_mm=0), studio=FurnishedRoom(2))
    words = ["--photo", f"{PHOTOS}/photo1.jpg"]
    for view in photo.views:
        for one in landmarks:
            is_off = view.canvas == "School" and one["name"] == names[0]
            place = np.array((*one["at"], DOTS_PER_MM)) / DOTS_PER_MM + (6 * is_off, 0, 0)
            x, y, w = view.homography() @ place
            words += ["--landmark", f"{view.canvas}:{one['name']}:{x / w:.1f},{y / w:.1f}"]
    assert main([*ASKED, "--left", "Hall", *words, "--json"]) == 0
    (found,) = json.loads(capsys.readouterr().out)["moved"]
    assert (found["canvas"], found["right_mm"]) == ("School", pytest.approx(6, abs=1))

    for spoilt, said in (
        ([*words[:8]], "give at least 5 same landmarks on Hall and School"),
        (
            [*words[:3], "Hall:elbow:1,2"],
            "--landmark Hall:elbow:1,2 is none of the photo before it; write one such as Hall:",
        ),
        ([*words[:3], f"Hall:{names[0]}:1"], "is none of the photo before it"),
    ):
        assert main([*ASKED, "--left", "Hall", *spoilt]) == 2
        assert said in capsys.readouterr().err
    assert folder.is_dir()
