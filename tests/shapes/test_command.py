"""`coach shapes` through the front door: table, JSON, plans, and whatever a photo or a box may be."""

import json
import re
import shutil
from pathlib import Path

import numpy as np
import pytest
import skimage
from PIL import Image, ImageDraw

from coach.cli import main
from coach.shapes.features import Feature

HEAD = ("--head", "Anna:15,10,45,50")
PLAN = """
commission: Two panels
photo: photo.png
heads: [{{name: Anna, box: [15, 10, 45, 50]}}]
canvases:
  - {{name: Hall, size: {hall}}}
  - {{name: School, size: {school}}}
passes:
  - {{name: eyes, passages: [iris]}}
"""
Said = pytest.CaptureFixture[str]


def picture() -> Image.Image:
    """Return a head of few colours on a ground: 60 x 75 pixels."""
    image = Image.new("RGB", (60, 75), (104, 112, 108))
    draw = ImageDraw.Draw(image)
    draw.rectangle((5, 58, 55, 75), fill=(52, 60, 84))
    draw.ellipse((13, 6, 47, 46), fill=(66, 48, 38))
    draw.ellipse((17, 14, 43, 51), fill=(216, 170, 140))
    draw.rectangle((22, 43, 38, 46), fill=(150, 74, 70))
    return image


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "photo.png"
    picture().save(path)
    return path


def planned(photo: Path, hall: str, school: str) -> str:
    path = photo.with_name("two.yaml")
    path.write_text(PLAN.format(hall=hall, school=school))
    return str(path)


def test_the_table_names_every_shape_and_what_it_meets(photo: Path, capsys: Said) -> None:
    assert main(["shapes", "--photo", str(photo), *HEAD, "--count", "12", "--canvas", "40 x 50 cm"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].split() == ["id", "name", "value", "cm2", "brush", "mm", "meets"]
    assert "     clothing:" in lines
    assert any("clothing, dark" in line for line in lines)
    assert any(re.search(r" k\d+ soft", line) for line in lines)
    shape_count = sum(line.startswith("k") for line in lines)
    assert any(line.startswith(f"{shape_count} shapes; painted flat") for line in lines)


def test_json_has_the_keys_that_are_published_and_the_areas_fill_each_canvas(photo: Path, capsys: Said) -> None:
    plan = planned(photo, "40 x 50 cm", "20 x 25 cm")
    assert main(["shapes", plan, "--count", "12", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert list(found) == ["photo", "crop", "shapes", "flat_difference_mean"]
    assert (found["photo"], found["crop"]) == ([60, 75], [0, 0, 60, 75])
    first = found["shapes"][0]
    assert list(first) == [
        *("id", "feature", "name", "value", "lab", "spread_L", "area_px", "area_cm2", "brush_mm", "outline"),
        "neighbours",
    ]
    assert list(first["neighbours"][0]) == ["id", "edge", "width_percent", "length_cm"]
    areas = [shape["area_cm2"] for shape in found["shapes"]]
    assert sum(one["Hall"] for one in areas) == pytest.approx(2000, abs=0.1)
    assert sum(one["School"] for one in areas) == pytest.approx(500, abs=0.1)
    coat = max((one for one in found["shapes"] if one["feature"] == "clothing"), key=lambda one: one["area_px"])
    assert coat["lab"][0] == pytest.approx(25.3, abs=1.0)  # of (52, 60, 84), by a general colour library
    assert main(["shapes", plan, "--count", "12", "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == found


@pytest.mark.parametrize(
    ("typed", "crop"), [("40 x 50 cm", [0, 0, 60, 75]), ("50 x 40 cm", [0, 6, 60, 48]), ("30 x 30 cm", [0, 0, 60, 60])]
)
def test_the_crop_is_that_of_the_canvas_as_it_is_typed(photo: Path, capsys: Said, typed: str, crop: list[int]) -> None:
    assert main(["shapes", "--photo", str(photo), *HEAD, "--count", "9", "--canvas", typed, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["crop"][2:] == crop[2:]
    assert sum(shape["area_px"] for shape in found["shapes"]) == pytest.approx(crop[2] * crop[3], abs=9)


PLANS = Path(__file__).parents[2] / "plans"


@pytest.fixture
def study(tmp_path: Path) -> Path:
    """Return a demo plan with its photo and its shapes."""
    for path in PLANS.glob("evening-study.*"):
        shutil.copy(path, tmp_path)
    return tmp_path / "evening-study.yaml"


def shapes_told(plan: Path, capsys: Said) -> tuple[list[dict[str, object]], str]:
    assert main(["shapes", str(plan), "--json"]) == 0
    out, err = capsys.readouterr()
    return json.loads(out)["shapes"], err


def test_the_shapes_beside_a_plan_are_told_as_they_are_kept(study: Path, capsys: Said) -> None:
    svg = study.with_name("evening-study.shapes.svg").read_text()
    told, err = shapes_told(study, capsys)
    assert not err
    kept = re.findall(r'<path id="(k\d+)"[^>]*>\s*<title>([^<]*)', svg)
    assert sorted((one["id"], one["name"]) for one in told) == sorted(kept)


def test_other_shapes_of_a_plan_keep_the_borders_of_its_features(study: Path, capsys: Said) -> None:
    kept = shapes_told(study, capsys)[0]
    assert main(["shapes", str(study), "--count", "30", "--json"]) == 0
    anew = json.loads(capsys.readouterr().out)["shapes"]
    assert len(anew) == pytest.approx(30, abs=6)

    def areas_px(shapes: list[dict[str, object]]) -> list[float]:
        own = {
            feature: [float(str(one["area_px"])) for one in shapes if one["feature"] == feature] for feature in Feature
        }
        return [sum(areas) for areas in own.values()]

    assert areas_px(anew) == pytest.approx(areas_px(kept), rel=0.1, abs=500)


def test_brushes_are_the_painter_s_own(study: Path, capsys: Said) -> None:
    reach_mm = {str(one["id"]): float(str(one["brush_mm"])) for one in shapes_told(study, capsys)[0]}
    study.write_text(re.sub("brushes:.*\n", "", study.read_text()) + "\nbrushes: [4 mm, 9 mm]\n")
    for one in shapes_told(study, capsys)[0]:
        fits = [width for width in (4.0, 9.0) if width <= reach_mm[str(one["id"])]]
        assert one["brush_mm"] == (fits[-1] if fits else reach_mm[str(one["id"])])


def test_what_is_wrong_with_the_shapes_is_said_beside_the_answer(study: Path, capsys: Said) -> None:
    with Image.open(study.with_name("evening-study.jpg")) as image:
        image.rotate(1).save(study.with_name("evening-study.jpg"))
    told, err = shapes_told(study, capsys)
    assert told
    assert "is not the photo that these shapes were drawn on" in err


def test_a_head_that_is_found_is_told_as_it_would_be_typed(capsys: Said) -> None:
    """The photograph that the image library ships; the box lies about the one marked by eye there."""
    photo = Path(skimage.__file__).parent / "data" / "astronaut.png"
    assert main(["shapes", "--photo", str(photo)]) == 2
    said = capsys.readouterr().err
    found = re.search(r"--head sitter:(\d+),(\d+),(\d+),(\d+)$", said.strip())
    assert found
    assert [int(side) for side in found.groups()] == pytest.approx([161, 16, 281, 177], abs=20)


def test_heads_cheek_to_cheek_are_taken_apart_together(photo: Path, capsys: Said) -> None:
    words = ["shapes", "--photo", str(photo), "--head", "Ada:5,10,32,50", "--head", "Bea:28,10,55,50", "--json"]
    assert main(words) == 0
    assert {"eyes", "mouth"} <= {shape["feature"] for shape in json.loads(capsys.readouterr().out)["shapes"]}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "none was found here"),
        (("--head", "Anna:15,10,75,50"), "inside what is painted"),
        ((*HEAD, "--canvas", "2 x 500 cm"), "inside what is painted"),
        (("--head", "Anna:15,10,15,50"), "is empty"),
        ((*HEAD, "--head", "Bea:18,10,45,50"), "lies over that of Anna"),
        (HEAD * 40, "at most 12"),
        ((*HEAD, "--count", "0"), "1 to 300"),
        ((*HEAD, "--canvas", "large"), "is not a size of a canvas"),
    ],
)
def test_what_cannot_be_taken_apart_is_said_in_one_sentence(
    photo: Path, capsys: Said, words: tuple[str, ...], said: str
) -> None:
    assert main(["shapes", "--photo", str(photo), *words]) == 2
    out, err = capsys.readouterr()
    assert not out
    assert said in err
    assert len(err.splitlines()) == 1


def test_canvases_of_two_ratios_are_asked_for_one(photo: Path, capsys: Said) -> None:
    assert main(["shapes", planned(photo, "40 x 50 cm", "30 x 30 cm")]) == 1
    assert "differ in ratio" in capsys.readouterr().err


def test_a_photo_cut_short_is_said(photo: Path, capsys: Said) -> None:
    photo.write_bytes(photo.read_bytes()[:200])
    assert main(["shapes", "--photo", str(photo), *HEAD]) == 1
    assert len(capsys.readouterr().err.splitlines()) == 1


def profile() -> Image.Image:
    """Return the head seen from the side, as far as the box goes: the eye is not where the proportions have it."""
    image = picture()
    draw = ImageDraw.Draw(image)
    draw.rectangle((28, 8, 46, 50), fill=(66, 48, 38))
    draw.polygon([(18, 26), (8, 34), (18, 36)], fill=(216, 170, 140))
    return image


def glasses_and_beard() -> Image.Image:
    image = picture()
    draw = ImageDraw.Draw(image)
    draw.ellipse((18, 38, 42, 54), fill=(92, 78, 66))
    for left in (18, 32):
        draw.ellipse((left, 24, left + 11, 33), outline=(20, 20, 20), width=2)
    return image


def sixteen_bits(image: Image.Image) -> Image.Image:
    return Image.fromarray(np.asarray(image.convert("L"), dtype=np.uint16) * 257)


def sepia(image: Image.Image) -> Image.Image:
    return Image.merge(
        "RGB", [image.convert("L").point(lambda level, part=part: level * part) for part in (1, 0.9, 0.7)]
    )


def clipped(image: Image.Image) -> Image.Image:
    return image.point(lambda level: 255 if level > 100 else 0)


@pytest.mark.parametrize(
    ("kind", "image"),
    [
        *(("PNG", picture().convert(mode)) for mode in ("L", "1", "P", "RGBA", "LA")),
        ("TIFF", picture().convert("CMYK")),
        ("PNG", profile()),
        ("PNG", glasses_and_beard()),
        ("PNG", sixteen_bits(picture())),
        ("PNG", sepia(picture())),
        ("PNG", clipped(picture())),
        ("PNG", Image.new("RGB", (60, 75), (90, 80, 70))),
        ("GIF", picture()),
    ],
)
def test_any_kind_of_photo_is_tiled(tmp_path: Path, capsys: Said, kind: str, image: Image.Image) -> None:
    path = tmp_path / "photo"
    more = {"save_all": True, "append_images": [Image.new("RGB", image.size)]} if kind == "GIF" else {}
    image.save(path, kind, **more)
    assert main(["shapes", "--photo", str(path), *HEAD, "--count", "12", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)["shapes"]
    assert sum(shape["area_px"] for shape in found) == pytest.approx(60 * 75, abs=9)
    assert {shape["feature"] for shape in found} <= set(Feature)
    assert len({shape["name"] for shape in found}) == len(found)


@pytest.mark.parametrize("sides", [(1, 1), (2, 2), (5, 7), (400, 1)])
def test_the_smallest_photos_have_shapes_too(tmp_path: Path, capsys: Said, sides: tuple[int, int]) -> None:
    Image.new("RGB", sides).save(tmp_path / "photo.png")
    assert main(["shapes", "--photo", str(tmp_path / "photo.png"), "--head", "Anna:0,0,1,1", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert sum(shape["area_px"] for shape in found["shapes"]) == pytest.approx(sides[0] * sides[1], abs=1)
    assert found["flat_difference_mean"] == 0
