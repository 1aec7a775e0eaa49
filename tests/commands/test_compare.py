"""`coach compare`: photos and corners as they are typed, what is printed, and what is said of bad input."""

import hashlib
import json
import shutil
from contextlib import closing
from pathlib import Path

import pytest
from PIL import Image

from coach.cli import main
from coach.colour.light import linear_of
from coach.commands.log_of_plan import journal_state
from coach.commands.opening import open_session
from coach.journal.events import Kind
from coach.session.comparing import mean_it
from coach.session.moves import go_on
from coach.store.journal_access import journal_path
from coach.store.sqlite_journal import SqliteJournal
from coach.store.system_clock import SystemClock
from tests.compare.made_plan import PHOTOS, made_plan
from tests.compare.scenes import DOTS_PER_MM, NAMES, SIZE, Canvas, Room, photographed

CHANGED = {"cheek left, middle": (210, 144, 118)}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return a folder with a plan, its photo and shapes, and two photos of its canvases."""
    folder = tmp_path_factory.mktemp("compared")
    hall, school = Canvas(), Canvas(colours=CHANGED)
    shots = (
        photographed(hall.sheet, school.sheet, NAMES, Room()),
        photographed(school.sheet, hall.sheet, NAMES[::-1], Room(), is_second=True),
    )
    made_plan(folder, shots)
    words: list[str] = []
    for shot in shots:
        (folder / PHOTOS / shot.name).rename(folder / shot.name)
        words += ["--photo", shot.name]
        for view in shot.views:
            typed = ",".join(f"{side:.1f}" for corner in view.corners for side in corner)
            words += ["--corners", f"{view.canvas}:{typed}"]
    (folder / "words.json").write_text(json.dumps(words), encoding="utf-8")
    return folder


@pytest.fixture
def words(folder: Path, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Return the words that name both photos, as typed in their folder."""
    monkeypatch.chdir(folder)
    found: list[str] = json.loads((folder / "words.json").read_text(encoding="utf-8"))
    return found


def test_the_size_of_the_scene_is_that_of_the_plan() -> None:
    assert (SIZE.width_mm * DOTS_PER_MM, SIZE.height_mm * DOTS_PER_MM) == (500, 625)
    assert linear_of(1.0) == pytest.approx(1.0)


def test_what_differs_is_printed_as_json(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "plan.yaml", *words, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)

    assert found["exchanged"] is True
    assert [one["passage"] for one in found["shapes"] if one["called"]] == list(CHANGED)
    assert set(found["shapes"][0]) == {"pass", "passage", "difference", "interval", "lab_difference", "called", "words"}
    assert found["shapes"][0]["words"].startswith("Hall is ")
    assert found["light_ratio"] == pytest.approx(0.8, abs=0.03)


def test_it_is_printed_in_sentences(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "plan.yaml", *words]) == 0
    printed = capsys.readouterr().out

    assert "cheek left, middle" in printed
    assert max(map(len, printed.splitlines())) <= 120


def test_what_a_painter_asks_is_kept_in_the_journal_once_and_what_a_script_asks_is_not(
    words: list[str], folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(folder, tmp_path, ignore=shutil.ignore_patterns("*.journal*"), dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    before = {file.name: file.stat().st_mtime_ns for file in tmp_path.iterdir()}
    plan, one_photo = Path("plan.yaml"), words[: len(words) // 2]
    assert main(["compare", "plan.yaml", *words, "--json"]) == main(["compare", "plan.yaml", *one_photo]) == 0
    assert {file.name: file.stat().st_mtime_ns for file in tmp_path.iterdir()} == before
    capsys.readouterr()
    session, access = open_session(plan, SystemClock())
    session.make(go_on)
    access.close()  # as a kill leaves it, with a session that nobody has ended

    assert main(["compare", "plan.yaml", *words]) == 0
    with closing(SqliteJournal(journal_path(plan), writes=False)) as journal:
        assert [event.kind for event in journal.after(2)] == [Kind.CAME_BACK, Kind.COMPARED]
    assert "Kept: Hall and School compared." in capsys.readouterr().out
    (record,) = journal_state(plan).comparisons
    assert [one.sha256 for one in record.found.photos] == [
        hashlib.sha256(Path(name).read_bytes()).hexdigest() for name in words if name.endswith(".jpg")
    ]
    assert [one.passage for one in record.found.passages if one.is_called] == list(CHANGED)

    assert main(["compare", "plan.yaml", *words]) == 0
    assert "These photos are compared and kept already." in capsys.readouterr().out
    session, access = open_session(plan, SystemClock())
    assert session.make(mean_it("all", next(iter(CHANGED)), NAMES))
    assert main(["compare", "plan.yaml", *words]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "Not kept in the journal: a coach has it open." in printed
    assert "Meant so: cheek left, middle (all)." in printed
    assert "Hall is" not in printed
    access.close()
    assert len(journal_state(plan).comparisons) == 1


def test_where_nothing_can_be_written_the_answer_is_printed_all_the_same(
    words: list[str], folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(folder, tmp_path, ignore=shutil.ignore_patterns("*.journal*"), dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    Path("plan.journal-lock").mkdir()
    assert main(["compare", "plan.yaml", *words]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert "cheek left, middle" in printed
    assert "Not kept in the journal: nothing can be recorded in" in printed


def test_one_photo_gives_readings_and_no_verdict(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["compare", "plan.yaml", *words[: len(words) // 2], "--json"]) == 0
    found = json.loads(capsys.readouterr().out)

    assert (found["exchanged"], found["shapes"]) == (False, [])
    assert {one["canvas"] for one in found["readings"]} == set(NAMES)


def test_three_canvases_are_chained_and_what_is_missing_is_said(
    words: list[str], folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    shutil.copytree(folder, tmp_path, ignore=shutil.ignore_patterns("*.journal*"), dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    plan = Path("plan.yaml")
    third = "  - {name: Attic, place: 3, size: 40 x 50 cm}\nphoto:"
    text = plan.read_text(encoding="utf-8").replace("place: left", "place: 1").replace("place: right", "place: 2")
    plan.write_text(text.replace("photo:", third, 1), encoding="utf-8")
    shot = photographed(Canvas().sheet, Canvas().sheet, ("School", "Attic"), Room(seed=5))
    Image.fromarray(shot.coded).save("attic.jpg", quality=95)
    for view in shot.views:
        typed = ",".join(f"{side:.1f}" for corner in view.corners for side in corner)
        words = [
            *words,
            *(() if "attic.jpg" in words else ("--photo", "attic.jpg")),
            "--corners",
            f"{view.canvas}:{typed}",
        ]

    assert main(["compare", "plan.yaml", *words, "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert [one["canvases"] for one in found["pairs"]] == [["Hall", "School"]]
    assert found["missing"][0].startswith("School and Attic: exchange them")
    assert main(["compare", "plan.yaml", *words]) == 0
    assert "3 canvases need 4 photos" in " ".join(capsys.readouterr().out.split())
    assert main(["compare", "plan.yaml", *words[:6], *words[-6:]]) != 0
    assert "3 canvases need 4 photos" in " ".join(capsys.readouterr().err.split())


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        (lambda _: [], "two photos are needed"),
        (lambda words: ["--corners", "Hall:1,2,3,4,5,6,7,8", *words], "belongs to a photo"),
        (lambda words: words[:4], "of two canvases"),
        (lambda words: [*words[:3], words[3].replace("Hall", "Attic"), *words[4:]], "names no canvas of the plan"),
        (lambda words: [*words[:3], "Hall:1,2,3", *words[4:]], "eight numbers"),
        (lambda words: [*words[:3], "Hall:1,2,3,4,5,6,7,nan", *words[4:]], "eight numbers"),
        (lambda words: [*words[:2], *words[2:6], "--photo", words[1], *words[2:6]], "the same photo"),
        (lambda words: [*words[:1], "gone.jpg", *words[2:]], "there is no such file"),
        (lambda words: ["--card", "Hall:1,2,3,4,5,6,7,8", *words], "--card belongs to a photo"),
        (lambda words: [*words, "--card", "Attic:1,2,3,4,5,6,7,8"], "--card names no canvas of the plan"),
        (lambda words: [*words, "--card", "Hall:1,2,3"], "--card Hall:1,2,3: eight numbers"),
    ],
)
def test_bad_input_is_one_sentence(
    changed: object, said: str, words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert callable(changed)
    assert main(["compare", "plan.yaml", *changed(words)]) in (1, 2)
    error = capsys.readouterr().err

    assert said in error
    assert "Traceback" not in error


def test_shapes_that_are_gone_are_one_sentence(
    words: list[str], folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = (folder / "plan.yaml").read_text(encoding="utf-8")
    (folder / "other.yaml").write_text(text.replace("sitter.shapes.svg", "gone.shapes.svg"), encoding="utf-8")

    assert main(["compare", "other.yaml", *words]) == 1
    assert "gone.shapes.svg" in capsys.readouterr().err
