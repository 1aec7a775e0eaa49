"""`coach shapes --plan`: from a photo to a plan with its shapes, without a question."""

import hashlib
import json
from pathlib import Path

import pytest
from PIL import Image

from coach.cli import main
from coach.plan.commission import CanvasSize
from coach.plan.reading import read_plan
from coach.shapes.svg import read_svg
from tests.shapes.test_command import HEAD, Said, picture

AGREED = """
commission: Two panels
due: 2030-05-01
canvases: [{name: Hall, size: 40 x 50 cm}, {name: School, size: 40 x 50 cm}]
photo: photo.png
heads: [{name: Anna, box: [15, 10, 45, 50]}]
week: {mon-fri: 4 h}
palette: [{name: titanium white, pigment: PW6}, {name: umber, pigment: PBr7}]
approval: [{after: eyes, wait: 3 days}]
passes: [{name: eyes, passages: [iris]}]
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    picture().save(tmp_path / "photo.png")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def proposed(*words: str) -> int:
    return main(["shapes", "--photo", "photo.png", *HEAD, "--count", "12", *words])


def test_a_plan_and_its_shapes_are_written_and_agree(folder: Path, capsys: Said) -> None:
    assert proposed("--plan", "new", "--canvases", "Hall, School", "--canvas", "40 x 50 cm") == 0
    said = capsys.readouterr().out
    plan = read_plan((folder / "new.yaml").read_text(), "new.yaml")
    shape_map, problems = read_svg((folder / "new.shapes.svg").read_bytes())

    assert "new.yaml and new.shapes.svg written" in said
    assert "mix to match" in said
    assert (problems, plan.shapes, plan.photo) == ((), "new.shapes.svg", "photo.png")
    assert plan.commission == "Portrait of Anna"
    assert [(one.name, one.place, one.size) for one in plan.canvases] == [
        ("Hall", "left", CanvasSize(400, 500)),
        ("School", "right", CanvasSize(400, 500)),
    ]
    assert plan.crop == (0, 0, 60, 75)
    assert shape_map.photo_sha256 == hashlib.sha256((folder / "photo.png").read_bytes()).hexdigest()
    used = {shape for one in plan.passes for passage in one.passages for shape in passage.shapes}
    assert used == {shape.id for shape in shape_map.shapes}
    assert main(["check", "new.yaml"]) == 0


def test_json_tells_what_was_written(capsys: Said) -> None:
    assert proposed("--plan", "new.yaml", "--canvases", "Hall", "--canvas", "40 x 50 cm", "--json") == 0
    found = json.loads(capsys.readouterr().out)

    assert list(found) == [
        *("plan", "shapes", "passes", "passages", "checks", "runs", "minutes", "mixtures"),
    ]
    assert list(found["mixtures"][0]) == ["mixture", "passages", "lab", "parts", "spread_mean", "spread_worst"]
    assert found["mixtures"][0]["mixture"] == "lean dark"


def test_without_a_size_all_of_the_photo_is_painted_and_no_area_is_stated(folder: Path) -> None:
    assert proposed("--plan", "new.yaml", "--canvases", "Hall,School") == 0
    plan = read_plan((folder / "new.yaml").read_text(), "new.yaml")

    assert plan.crop is None
    assert {(own.area_cm2, own.brush_mm) for one in plan.passes for own in one.passages} == {(None, None)}
    assert all(own.planned_s for one in plan.passes for own in one.passages)


def test_a_plan_that_is_named_lends_its_terms_and_its_paints(folder: Path) -> None:
    (folder / "agreed.yaml").write_text(AGREED)
    assert main(["shapes", "agreed.yaml", "--count", "12", "--plan", "new.yaml"]) == 0
    agreed, plan = (read_plan((folder / name).read_text(), name) for name in ("agreed.yaml", "new.yaml"))

    assert (plan.due, plan.week_s, plan.canvases, plan.palette) == (
        *(agreed.due, agreed.week_s, agreed.canvases, agreed.palette),
    )
    assert plan.approval == ()
    assert {paint for one in plan.mixtures for paint, _ in one.parts} <= {"titanium white", "umber"}


@pytest.mark.parametrize("taken", ["new.yaml", "new.yml", "new.journal", "new.shapes.svg"])
def test_nothing_is_written_over(folder: Path, capsys: Said, taken: str) -> None:
    (folder / taken).write_text("mine")

    assert proposed("--plan", "new.yaml", "--canvases", "Hall") == 2
    assert "of that name already" in capsys.readouterr().err
    assert sorted(path.name for path in folder.iterdir()) == sorted(["photo.png", taken])
    assert (folder / taken).read_text() == "mine"


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--plan", "new.yaml"), "name the canvases of the plan: --canvases Hall,School"),
        (("--plan", "new.txt", "--canvases", "Hall"), "a plan is a YAML file"),
        (("--plan", "no/new.yaml", "--canvases", "Hall"), "there is no such folder"),
        (("--plan", "new.yaml", "--canvases", "Hall,hall"), '--canvases: the name "hall" stands twice'),
        (("--plan", "new.yaml", "--canvases", ","), "--canvases names 1 to 12 canvases"),
        (("--plan", "new.yaml", "--canvases", "a,b,c,d,e,f,g,h,i,j,k,l,m"), "--canvases names 1 to 12 canvases"),
        (("--canvases", "Hall"), "--canvases names those of a new plan; write --plan NEW.yaml too"),
    ],
)
def test_what_is_missing_is_said_in_one_sentence(folder: Path, capsys: Said, words: tuple[str, ...], said: str) -> None:
    assert proposed(*words) == 2
    captured = capsys.readouterr()

    assert said in captured.err
    assert captured.err.count("\n") == 1
    assert [path.name for path in folder.iterdir()] == ["photo.png"]


def test_a_plan_lies_beside_its_photo(folder: Path, capsys: Said) -> None:
    (folder / "other").mkdir()

    assert proposed("--plan", "other/new.yaml", "--canvases", "Hall") == 2
    assert "a plan lies beside its photo" in capsys.readouterr().err


@pytest.mark.parametrize(("mode", "count"), [("L", "60"), ("RGB", "20")])
def test_grey_and_flat_photos_give_a_plan_too(folder: Path, mode: str, count: str) -> None:
    image = picture().convert("L") if mode == "L" else Image.new("RGB", (60, 75), (90, 90, 90))
    image.convert(mode).save(folder / "photo.png")
    words = ("--count", count, "--plan", "new.yaml", "--canvases", "Hall", "--canvas", "30 x 40 cm")

    assert main(["shapes", "--photo", "photo.png", *HEAD, *words]) == 0
    assert main(["check", "new.yaml"]) == 0
