"""`coach compose`: what it answers and what it writes."""

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from PIL import Image

from coach.cli import main

PHOTO = ("--photo", "4000x6000")
ANNA = ("--head", "Anna:1500,1200,2200,2100")
Said = pytest.CaptureFixture[str]


def answer(said: Said, *words: str) -> dict[str, Any]:
    assert main(["compose", *words, "--json"]) == 0
    found: dict[str, Any] = json.loads(said.readouterr().out)
    return found


def names(said: Said, *words: str) -> set[object]:
    return {choice["canvas"] for choice in answer(said, *words)["choices"]}


def test_the_answer_for_a_size_needs_no_plan_and_no_photo(capsys: Said) -> None:
    """trade-checks.md 54, 57 and 59: a head of 900 px, 4000 x 6000 px on 16 x 20 in."""
    found = answer(capsys, *PHOTO, *ANNA, "--canvas", "16 x 20 in")

    best = found["choices"][0]
    assert (best["canvas"], best["direction"], best["crop"]) == ("16 x 20 in", "upright", [0, 700, 4000, 5000])
    assert best["heads"] == [{"name": "Anna", "cm": 9.1, "life_percent": {"man": 38.7, "woman": 41.2}}]
    assert (best["photo_lost_percent"], best["scale_px_per_cm"]) == (16.7, 98.4)
    assert "In this order: what cuts nothing first" in str(found["rule"])


def test_without_a_canvas_all_stock_sizes_are_ranked_and_the_best_are_printed(capsys: Said) -> None:
    """14 sizes in inches and 20 numbers in three French series, none of them square, in two directions."""
    assert len(answer(capsys, *PHOTO, *ANNA)["choices"]) == 2 * (14 + 3 * 20)

    assert main(["compose", *PHOTO, *ANNA]) == 0
    out = capsys.readouterr().out
    assert "and 133 more; --json prints them all" in out
    assert sum(bool(re.search(", (upright|lying) ", line)) for line in out.splitlines()) == 15
    assert "what cuts nothing first" in " ".join(out.split())
    assert max(len(line) for line in out.splitlines()[:18]) <= 80


def test_a_wanted_share_of_life_is_reached_on_the_first_canvas(capsys: Said) -> None:
    best = answer(capsys, *PHOTO, *ANNA, "--life", "60")["choices"][0]
    (head,) = best["heads"]
    percent = head["life_percent"]

    assert percent["man"] < 60 < percent["woman"]


def test_a_part_to_keep_stays_in_the_picture(capsys: Said) -> None:
    left, top, width, height = answer(capsys, *PHOTO, *ANNA, "--keep", "0,5950,100,6000", "--canvas", "16 x 20 in")[
        "choices"
    ][0]["crop"]

    assert (left, top + height, width) == (0, 6000, 4000)


def test_a_plan_gives_the_canvases_once_for_each_size_beside_those_that_are_named(tmp_path: Path, capsys: Said) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(
        "canvases: [{name: Hall, size: 50 x 40 cm}, {name: School, size: 50 x 40 cm}, {name: Mill, size: 16 x 20 in},"
        " Harbour]\npasses: [{name: eyes, passages: [lid]}]\n"
    )

    assert names(capsys, str(plan), *PHOTO) == {"40 x 50 cm", "40.64 x 50.8 cm"}
    assert names(capsys, str(plan), *PHOTO, "--canvas", "30 figure") == {"40 x 50 cm", "40.64 x 50.8 cm", "30 figure"}


def test_a_plan_without_any_size_asks_for_canvases(tmp_path: Path, capsys: Said) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text("canvases: [Hall]\npasses: [{name: eyes, passages: [lid]}]\n")

    assert main(["compose", str(plan), *PHOTO]) == 1
    assert "no canvas states its size; name sizes with --canvas" in capsys.readouterr().err
    assert names(capsys, str(plan), *PHOTO, "--canvas", "A3") == {"A3"}


MARKED = """
canvases: [{name: Hall, size: 16 x 20 in}]
passes: [{name: eyes, passages: [lid]}]
photo: sitter.png
heads: [{name: Anna, box: [1500, 1200, 2200, 2100]}]
keep: [[0, 5950, 100, 6000]]
"""


def marked_plan(folder: Path) -> str:
    Image.new("1", (4000, 6000)).save(folder / "sitter.png")
    (folder / "plan.yaml").write_text(MARKED)
    return str(folder / "plan.yaml")


def test_a_plan_gives_its_photo_heads_and_what_must_stay(tmp_path: Path, capsys: Said) -> None:
    """trade-checks.md 54, 57 and 59 again, and the crop moved down by the part to keep."""
    best = answer(capsys, marked_plan(tmp_path))["choices"][0]

    assert best["crop"] == [0, 1000, 4000, 5000]
    assert best["heads"] == [{"name": "Anna", "cm": 9.1, "life_percent": {"man": 38.7, "woman": 41.2}}]


def test_what_is_typed_adds_to_what_the_plan_marks_or_replaces_it_by_name(tmp_path: Path, capsys: Said) -> None:
    plan = marked_plan(tmp_path)
    heads = answer(capsys, plan, "--head", "Berta:100,1200,800,1700", "--head", "Anna:1500,1600,2200,2100")
    assert [(head["name"], head["cm"]) for head in heads["choices"][0]["heads"]] == [("Berta", 5.1), ("Anna", 5.1)]

    assert answer(capsys, plan, "--keep", "3900,0,4000,100")["choices"][0]["warnings"][0] == (
        "the part to keep 0,5950,100,6000 is cut by the edge"
    )
    assert main(["compose", plan, "--photo", "400x600"]) == 1
    assert 'the head "Anna" lies outside the photo of 400 x 600 px' in capsys.readouterr().err


def test_the_grid_is_drawn_into_a_copy_of_the_plans_photo(tmp_path: Path, capsys: Said) -> None:
    png = tmp_path / "grid.png"
    answer(capsys, marked_plan(tmp_path), "--grid-photo", str(png))

    with Image.open(png) as drawn:
        assert drawn.size == (4000, 5000)


def test_without_any_photo_the_way_to_name_one_is_told(tmp_path: Path, capsys: Said) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text("canvases: [{name: Hall, size: 16 x 20 in}]\npasses: [{name: eyes, passages: [lid]}]\n")

    assert main(["compose", str(plan)]) == 1
    assert "the plan names no photo; write photo: sitter.jpg into it" in capsys.readouterr().err
    assert main(["compose"]) == 2
    assert "name the photo with --photo" in capsys.readouterr().err


def test_a_plan_whose_photo_is_gone_says_so(tmp_path: Path, capsys: Said) -> None:
    plan = marked_plan(tmp_path)
    (tmp_path / "sitter.png").unlink()

    assert main(["compose", plan]) == 1
    assert capsys.readouterr().err.endswith("sitter.png: there is no such file\n")


def test_what_the_boxes_show_whatever_the_canvas_is_said_once(capsys: Said) -> None:
    heads = ("--head", "A:0,0,700,900", "--head", "B:600,100,1300,1000")

    assert answer(capsys, *PHOTO, *heads)["remarks"] == [
        "the boxes of A and B overlap: see that each holds one head",
        "A's head reaches the left and top edge of the photo: it may be cut in the photo itself",
    ]


@pytest.mark.parametrize(
    ("words", "squares"),
    [
        ((), "8 x 10 squares, 5.08 cm a side on the canvas, 50 px on the photo"),
        (("--square", "2 in"), "8 x 10 squares, 5.08 cm a side on the canvas, 50 px on the photo"),
        (("--square", "10 cm"), "5 x 6 squares, 10 cm a side on the canvas, 98.43 px on the photo"),
        (("--rows", "5"), "4 x 5 squares, 10.16 cm a side on the canvas, 100 px on the photo"),
    ],
)
def test_the_grid_of_the_first_choice_is_written_for_photo_and_canvas(
    tmp_path: Path, capsys: Said, words: tuple[str, ...], squares: str
) -> None:
    """trade-checks.md 67, a tenth of its size: 2 in squares on 16 x 20 in are 8 x 10, 50 px each."""
    photo, png, svg = tmp_path / "photo.png", tmp_path / "grid.png", tmp_path / "grid.svg"
    Image.new("RGB", (400, 600)).save(photo)
    grid = ("--grid-photo", str(png), "--grid-canvas", str(svg), *words)

    found = answer(capsys, "--photo", str(photo), "--head", "Anna:150,120,220,210", "--canvas", "16 x 20 in", *grid)

    assert found["remarks"] == [f"Grid for 16 x 20 in, upright: {squares}."]
    root = ET.parse(svg).getroot()  # noqa: S314 - our own file
    assert (root.get("width"), root.get("height")) == ("406.4mm", "508mm")
    with Image.open(png) as drawn:
        assert drawn.size == (400, 500)


def test_a_grid_is_never_written_over_a_file_and_then_nothing_is_printed(tmp_path: Path, capsys: Said) -> None:
    target = tmp_path / "notes.svg"
    target.write_text("mine")

    assert main(["compose", *PHOTO, "--grid-canvas", str(target)]) == 1
    out, err = capsys.readouterr()
    assert not out
    assert "there is such a file already; name another" in err
    assert target.read_text() == "mine"
