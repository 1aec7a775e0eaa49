"""The shapes beside a plan: read with what is wrong with them, and saved with the plan as one or not at all."""

import hashlib
import json
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from coach.errors import CoachError
from coach.shapes.svg import read_svg, write_svg
from coach.shapes.svg_reading import SvgError
from coach.store import pair_saving, safe_files
from coach.store.pair_saving import CutSavingError, Pair, finish_pair, save_pair
from coach.store.plan_file import PlanFile, PlanSavingError, Saved, save_plan
from coach.store.shape_file import LoadedShapes, ShapeFileError, load_shapes, new_shapes, photo_sha256
from tests.shapes.test_svg import FILE, MAP
from tests.store import killed_at_every_point as killed

OLD, NEW = killed.OLD, killed.NEW
RENAMED = replace(MAP, shapes=(replace(MAP.shapes[0], name="lid"), *MAP.shapes[1:]))


@pytest.fixture
def plan(tmp_path: Path) -> Path:
    path = tmp_path / "plan.yaml"
    path.write_text(OLD)
    path.with_name("plan.shapes.svg").write_bytes(FILE)
    return path


def loaded(plan: Path, photo: str | None = None) -> LoadedShapes:
    return load_shapes(plan, "plan.shapes.svg", photo)


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_plan_and_shapes_are_saved_as_one_and_leave_nothing_behind(plan: Path) -> None:
    assert save_plan(plan, NEW, read_text=OLD, shapes=loaded(plan).changed(RENAMED)) == Saved(path=plan)
    assert (plan.read_text(), loaded(plan).shape_map) == (NEW, RENAMED)
    assert names(plan.parent) == ["plan.shapes.svg", "plan.yaml"]


def test_a_new_plan_has_new_shapes_and_never_over_others(tmp_path: Path, plan: Path) -> None:
    fresh = tmp_path / "fresh.yaml"
    saved = save_plan(fresh, NEW, read_text=None, shapes=new_shapes(fresh, "fresh.shapes.svg", MAP))
    assert (saved, fresh.read_text()) == (Saved(path=fresh), NEW)
    assert load_shapes(fresh, "fresh.shapes.svg", None).shape_map == MAP
    other = tmp_path / "other.yaml"
    saved = save_plan(other, NEW, read_text=None, shapes=new_shapes(other, "plan.shapes.svg", RENAMED))
    assert (saved.kept_beside, saved.shapes_beside) == (
        tmp_path / "other.edited.yaml",
        tmp_path / "plan.edited.shapes.svg",
    )
    assert loaded(plan).shape_map == MAP
    assert not other.exists()


@pytest.mark.parametrize("changed", ["plan.yaml", "plan.shapes.svg"])
def test_what_another_hand_wrote_meanwhile_stays_and_both_are_kept_beside(plan: Path, changed: str) -> None:
    shapes = loaded(plan).changed(RENAMED)
    other = plan.with_name(changed)
    theirs = other.read_bytes() + b"\n"
    other.write_bytes(theirs)
    saved = save_plan(plan, NEW, read_text=OLD, shapes=shapes)
    assert other.read_bytes() == theirs
    assert saved.kept_beside is not None
    assert saved.kept_beside.read_text() == NEW
    assert saved.shapes_beside == plan.with_name("plan.edited.shapes.svg")
    assert read_svg(saved.shapes_beside.read_bytes())[0] == RENAMED
    assert {plan.read_text(), plan.with_name("plan.shapes.svg").read_bytes()} & {OLD, FILE}


@pytest.mark.parametrize("kind", ["there", "new", "twin"])
def test_a_kill_at_any_point_leaves_either_pair(tmp_path: Path, kind: str) -> None:
    asked = [sys.executable, killed.__file__, str(tmp_path), kind]
    told = subprocess.run(asked, check=True, capture_output=True, text=True, timeout=300).stdout
    read = [json.loads(line) for line in told.splitlines()]
    before = ["there is no such file", None] if kind == "new" else [OLD, "old shapes"]
    pairs = [found[:2] for found in read]
    assert all(pair in (before, [NEW, "new shapes"]) for pair in pairs)
    assert pairs == sorted(pairs, key=lambda pair: pair != before)  # from one point on it is the new pair
    assert 4 < pairs.count(before) < len(pairs) - 5
    twin = ["twin.yaml"] if kind == "twin" else []
    expected = ["plan.shapes.svg", "plan.yaml", *twin]
    assert {tuple(name for name in found[2] if not name.startswith(".")) for found in read} <= {tuple(expected), ()}


def cut_short(plan: Path) -> Pair:
    """Leave the record of a saving of which nothing more was done."""
    drawn = plan.with_name("plan.shapes.svg")
    pair = Pair(plan=plan, shapes=drawn, before=(OLD.encode(), FILE), after=(NEW.encode(), write_svg(RENAMED)))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(pair_saving, "_write", lambda *_: (_ for _ in ()).throw(KeyboardInterrupt))
        with pytest.raises(KeyboardInterrupt):
            save_pair(plan, pair)
    return pair


@pytest.mark.parametrize("written", [0, 1])
def test_another_hand_between_a_kill_and_the_next_reading_is_noticed_and_loses_nothing(
    plan: Path, written: int
) -> None:
    pair = cut_short(plan)
    if written:
        plan.write_bytes(pair.after[0])
    theirs = FILE.replace(b"eye left, dark", b"theirs")
    pair.shapes.write_bytes(theirs)
    with pytest.raises(CutSavingError) as caught:
        PlanFile(plan).read()
    assert str(caught.value) == (
        f"{plan}: a saving was cut short and another hand wrote meanwhile: that stays, "
        "and the rest lies in plan.edited.yaml and plan.edited.shapes.svg"
    )
    assert (PlanFile(plan).read(), pair.shapes.read_bytes()) == (OLD, theirs)
    assert plan.with_name("plan.edited.yaml").read_text() == NEW
    assert plan.with_name("plan.edited.shapes.svg").read_bytes() == pair.after[1]


def test_the_shapes_are_finished_before_they_are_read(plan: Path) -> None:
    cut_short(plan)
    assert loaded(plan).shape_map == RENAMED
    assert plan.read_text() == NEW


def test_a_record_that_cannot_be_finished_is_said_and_waits(plan: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cut_short(plan)

    def full(*_: object, **__: object) -> None:
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr(pair_saving, "overwrite", full)
    with pytest.raises(CutSavingError, match="was cut short and cannot be finished: No space left on device"):
        PlanFile(plan).read()
    monkeypatch.undo()
    assert PlanFile(plan).read() == NEW


def test_a_disk_that_fails_between_the_two_leaves_both_as_they_were(
    plan: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shapes, overwrite = loaded(plan).changed(RENAMED), safe_files.overwrite

    def full(path: Path, content: bytes, *, spare: Path | None) -> None:
        if path.suffix == ".svg":
            raise OSError(28, os.strerror(28))
        overwrite(path, content, spare=spare)

    monkeypatch.setattr(pair_saving, "overwrite", full)
    with pytest.raises(PlanSavingError, match="the plan cannot be saved: No space left on device"):
        save_plan(plan, NEW, read_text=OLD, shapes=shapes)
    assert (plan.read_text(), plan.with_name("plan.shapes.svg").read_bytes()) == (OLD, FILE)
    assert names(plan.parent) == ["plan.shapes.svg", "plan.yaml"]


@pytest.mark.parametrize(
    "record",
    [
        b"",
        b"[]",
        b"{}",
        b'{"shapes": "../elsewhere.shapes.svg", "contents": [null, null, "QQ==", "QQ=="]}',
        b'{"shapes": "plan.yaml", "contents": [null, null, "QQ==", "QQ=="]}',
        b'{"shapes": "x.shapes.svg", "contents": [null, null, null, "QQ=="]}',
        b'{"shapes": "x.shapes.svg", "contents": 3}',
    ],
)
def test_a_record_that_is_none_of_ours_writes_nothing(plan: Path, record: bytes) -> None:
    plan.with_name("plan.saving-shapes").write_bytes(record)
    finish_pair(plan)
    assert (plan.read_text(), names(plan.parent)) == (OLD, ["plan.shapes.svg", "plan.yaml"])


def test_another_photo_of_that_name_is_said_and_the_outlines_are_kept(plan: Path) -> None:
    photo = plan.with_name("sitter.jpg")
    photo.write_bytes(b"light")
    assert photo_sha256(photo) == hashlib.sha256(b"light").hexdigest()
    found = loaded(plan, "sitter.jpg")
    assert found.shape_map == MAP
    assert found.problems == (
        f"{found.path}: sitter.jpg is not the photo that these shapes were drawn on; their outlines are kept",
    )
    same = replace(MAP, photo_sha256=hashlib.sha256(b"light").hexdigest())
    found.path.write_bytes(write_svg(same))
    assert loaded(plan, "sitter.jpg").problems == loaded(plan, "none.jpg").problems == loaded(plan).problems == ()


def test_faults_are_told_with_file_and_line(plan: Path) -> None:
    path = plan.with_name("plan.shapes.svg")
    path.write_bytes(FILE.replace(b"M10,10 30,10 30,30 10,30Z", b"M10,10 30"))
    assert loaded(plan).problems == (f'{path}:12: k1 "eye left, dark": is no path that SVG knows',)


def test_what_is_no_file_of_shapes_is_said(plan: Path, tmp_path: Path) -> None:
    def refused(name: str) -> str:
        with pytest.raises(CoachError) as caught:
            load_shapes(plan, name, None)
        assert isinstance(caught.value, ShapeFileError | SvgError)
        return str(caught.value).removeprefix(f"{tmp_path}/")

    (tmp_path / "folder.shapes.svg").mkdir()
    (tmp_path / "link.shapes.svg").symlink_to(plan.with_name("plan.shapes.svg"))
    (tmp_path / "yaml.shapes.svg").write_text(OLD)
    os.mkfifo(tmp_path / "pipe.shapes.svg")
    assert refused("none.shapes.svg") == "none.shapes.svg: there is no such file of shapes"
    for name in ("folder", "link", "pipe"):
        assert refused(f"{name}.shapes.svg").endswith("the shapes cannot be read: this is not an ordinary file")
    assert refused("yaml.shapes.svg") == "yaml.shapes.svg: this is not an SVG file; a drawing program saves one"
    assert refused("\0.shapes.svg").endswith("the shapes cannot be read: embedded null byte")
