"""`coach shapes --drawing`: which files there are, and that nothing is ever written over."""

import json
import shutil
from pathlib import Path

import pytest
from PIL import Image, ImageDraw

from coach.cli import main
from coach.plan.reading import read_plan

PLAN = """
commission: The orchard keeper 林
photo: photo.png
rights: ours
consent: given
heads: [{name: Anna, box: [15, 10, 45, 50]}]
canvases:
  - {name: ../../Hall, size: 16 x 20 cm}
  - {name: School, size: 16 x 20 cm}
  - {name: Mill, size: 12 x 15 cm}
passes:
  - {name: eyes, passages: [iris]}
"""
LINES = [f"drawing-{size}{end}" for size in ("16x20cm", "12x15cm") for end in (".svg", "-A4.pdf", "-Letter.pdf")]
Said = pytest.CaptureFixture[str]


@pytest.fixture
def plan(tmp_path: Path) -> str:
    image = Image.new("RGB", (60, 75), (104, 112, 108))
    draw = ImageDraw.Draw(image)
    draw.ellipse((13, 6, 47, 46), fill=(66, 48, 38))
    draw.ellipse((17, 14, 43, 51), fill=(216, 170, 140))
    image.save(tmp_path / "photo.png")
    (tmp_path / "two.yaml").write_text(PLAN)
    return str(tmp_path / "two.yaml")


def test_every_drawing_is_written_once_for_the_canvases_of_one_size(plan: str, tmp_path: Path, capsys: Said) -> None:
    words = ["shapes", plan, "--count", "12", "--drawing", str(tmp_path / "out")]
    assert main([*words, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    files = {one["file"]: one["holds"] for one in told["files"]}
    assert list(files)[: len(LINES) + 2] == [*LINES, "wall.png", "wall.svg"]
    assert sorted(files) == sorted(path.name for path in (tmp_path / "out").iterdir())
    assert files["drawing-16x20cm-A4.pdf"] == "lines at true size for ../../Hall and School, 1 sheet of A4"
    assert "Rights in the photo: ours; Consent: given" in (tmp_path / "out" / "wall.svg").read_text()
    before = {path: path.read_bytes() for path in (tmp_path / "out").iterdir()}

    assert main([*words, "--mirrored"]) == 0
    mirrored = [path for path in (tmp_path / "out").iterdir() if path not in before]
    assert len(mirrored) == len(LINES)
    assert all("-mirrored" in path.name for path in mirrored)
    capsys.readouterr()

    assert main(words) == 1
    assert (
        capsys.readouterr().err
        == f"{tmp_path}/out: drawing-16x20cm.svg is there already, so nothing was drawn; name another folder\n"
    )
    assert {path: path.read_bytes() for path in before} == before


def test_the_wall_names_the_passages_of_the_plan_and_their_piles(tmp_path: Path) -> None:
    plans = Path(__file__).parents[2] / "plans"
    for path in plans.glob("evening-study.*"):
        shutil.copy(path, tmp_path)
    assert main(["shapes", str(tmp_path / "evening-study.yaml"), "--drawing", str(tmp_path / "out")]) == 0
    plan = read_plan((plans / "evening-study.yaml").read_text(encoding="utf-8"), "")
    shaped = [passage for one in plan.passes for passage in one.passages if passage.shapes]
    wall = (tmp_path / "out" / "wall.svg").read_text(encoding="utf-8")
    assert shaped
    assert all(f">{passage.name}</text>" in wall and f">{passage.mixture}</text>" in wall for passage in shaped)


def test_a_link_in_the_folder_leads_nowhere(plan: str, tmp_path: Path, capsys: Said) -> None:
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "wall.png").symlink_to(tmp_path / "elsewhere.png")
    assert main(["shapes", plan, "--count", "12", "--drawing", str(folder)]) == 1
    assert "wall.png is there already" in capsys.readouterr().err
    assert [path.name for path in folder.iterdir()] == ["wall.png"]
    assert not (tmp_path / "elsewhere.png").exists()


@pytest.mark.parametrize(
    ("folder", "said"), [("two.yaml", "not a folder"), ("a/b", "cannot be made"), ("a\0b", "no folder can have")]
)
def test_what_is_no_folder_is_said(plan: str, tmp_path: Path, capsys: Said, folder: str, said: str) -> None:
    assert main(["shapes", plan, "--count", "12", "--drawing", f"{tmp_path}/{folder}"]) == 1
    err = capsys.readouterr().err
    assert said in err
    assert len(err.splitlines()) == 1


def test_without_a_canvas_there_is_no_true_size(tmp_path: Path, plan: str, capsys: Said) -> None:
    photo = str(Path(plan).with_name("photo.png"))
    words = ["shapes", "--photo", photo, "--head", "Anna:15,10,45,50", "--drawing", str(tmp_path / "out")]
    assert main(words) == 2
    assert "needs a canvas" in capsys.readouterr().err
