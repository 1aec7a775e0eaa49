"""A plan, its photo and its shapes beside it: read together, saved as one pair."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from coach.commands.shapes_repository import ShapesFileRepository
from coach.errors import CoachError
from coach.plan.editing.figures import change
from coach.plan.reading import read_plan
from coach.screens.shapes.repository import Version
from coach.shapes.svg import read_svg, write_svg
from coach.store.shape_file import photo_sha256
from tests.screens.made_shapes import MAP, TEXT, without
from tests.sessions import Easel


def plan_in(folder: Path, text: str = TEXT, *, shapes: bytes | None = None) -> Path:
    Image.new("RGB", (80, 100), (120, 90, 60)).save(folder / "sitter.png")
    (folder / "plan.yaml").write_text(text)
    if "shapes:" in text:
        (folder / "plan.shapes.svg").write_bytes(shapes or write_svg(MAP))
    return folder / "plan.yaml"


def repository(path: Path) -> ShapesFileRepository:
    return ShapesFileRepository(path, Easel().session)


def test_plan_photo_and_shapes_are_read_together(tmp_path: Path) -> None:
    opened = repository(plan_in(tmp_path)).opened()
    assert opened.plan == read_plan(TEXT, "")
    assert opened.shape_map is not None
    assert [one.id for one in opened.shape_map.shapes] == ["k1", "k2", "k3", "k4"]
    photo = opened.photo
    assert photo is not None
    assert photo.bounds == (0, 0, 80, 100)
    assert photo.picture.linear.shape == (200, 160, 3)  # a small photo is enlarged twice at most
    assert photo.mm_per_px == {"Hall": 5, "School": 5}
    assert photo.finest_px == 0.2
    assert photo.heads[0].name == "Anna"
    assert photo.sha256 == photo_sha256(tmp_path / "sitter.png")


def test_another_photo_of_that_name_is_said_and_the_outlines_are_kept(tmp_path: Path) -> None:
    opened = repository(plan_in(tmp_path)).opened()
    assert len(opened.problems) == 1
    assert "is not the photo that these shapes were drawn on; their outlines are kept" in opened.problems[0]
    assert opened.shape_map is not None


def test_what_a_drawing_program_broke_is_listed_by_title_and_line(tmp_path: Path) -> None:
    broken = write_svg(MAP).replace(b"<title>coat, dark</title>", b"<title>cheek left, light</title>")
    opened = repository(plan_in(tmp_path, shapes=broken)).opened()
    assert any("has the name of k" in problem and "plan.shapes.svg:" in problem for problem in opened.problems)


@pytest.mark.parametrize(
    ("gone", "said"), [("sitter.png", "there is no such file"), ("plan.shapes.svg", "no such file")]
)
def test_a_photo_or_a_file_of_shapes_that_is_gone_is_said(tmp_path: Path, gone: str, said: str) -> None:
    path = plan_in(tmp_path)
    (tmp_path / gone).unlink()
    opened = repository(path).opened()
    assert any(said in problem for problem in opened.problems)
    assert (opened.photo is None) is (gone == "sitter.png")
    assert (opened.shape_map is None) is (gone == "plan.shapes.svg")


def test_a_plan_without_shapes_has_a_name_for_them(tmp_path: Path) -> None:
    text = TEXT.replace("shapes: plan.shapes.svg\n", "")
    opened = repository(plan_in(tmp_path, text)).opened()
    assert (opened.shapes_name, opened.shape_map, opened.problems) == ("plan.shapes.svg", None, ())
    bare = text.replace("photo: sitter.png\n", "").replace("heads: [{name: Anna, box: [20, 10, 60, 60]}]\n", "")
    assert repository(plan_in(tmp_path, bare)).opened().photo is None


def test_without_a_head_the_photo_is_there_in_a_size_of_its_own(tmp_path: Path) -> None:
    text = TEXT.replace("heads: [{name: Anna, box: [20, 10, 60, 60]}]\n", "").replace(
        "School, size: 40 x 50", "Mill, size: 50 x 50"
    )
    photo = repository(plan_in(tmp_path, text)).opened().photo
    assert photo is not None
    assert (photo.heads, photo.mm_per_px) == ((), {"Hall": 5})
    assert photo.sizing_heads[0].bottom == 45


def test_a_part_is_read_pixel_by_pixel(tmp_path: Path) -> None:
    part = repository(plan_in(tmp_path)).part("sitter.png", (10, 20, 15, 40))
    assert part.shape == (20, 5, 3)
    assert np.allclose(part, part[0, 0], atol=1e-6)


def test_plan_and_shapes_are_saved_as_one_in_the_painters_own_text(tmp_path: Path) -> None:
    path = plan_in(tmp_path, f"# by hand\n{TEXT}")
    asked = repository(path)
    opened = asked.opened()
    plan = change(opened.plan, "ground", "wall", "shapes", "k3, k4").plan
    result = asked.save(opened, Version(plan, without("k1")))
    assert result.said == "Saved in plan.yaml and plan.shapes.svg."
    assert path.read_text() == result.text == f"# by hand\n{TEXT.replace('[k3]', '[k3, k4]')}"
    assert [one.id for one in read_svg((tmp_path / "plan.shapes.svg").read_bytes())[0].shapes] == ["k2", "k3", "k4"]


def test_shapes_that_were_found_make_a_file_and_the_plan_names_it(tmp_path: Path) -> None:
    path = plan_in(tmp_path, TEXT.replace("shapes: plan.shapes.svg\n", ""))
    asked = repository(path)
    opened = asked.opened()
    asked.save(opened, Version(opened.plan, MAP))
    assert "shapes: plan.shapes.svg" in path.read_text()
    assert read_svg((tmp_path / "plan.shapes.svg").read_bytes())[0].shapes == MAP.shapes


def test_what_another_hand_wrote_stays_and_both_lie_beside(tmp_path: Path) -> None:
    path = plan_in(tmp_path)
    asked = repository(path)
    opened = asked.opened()
    path.write_text(f"# theirs\n{TEXT}")
    result = asked.save(opened, Version(opened.plan._replace(seed=7), without("k1")))
    assert result.difference
    assert "changed by another hand and stay so; yours lie in" in result.said
    assert path.read_text().startswith("# theirs")


def test_a_coach_that_only_shows_saves_nothing(tmp_path: Path) -> None:
    path = plan_in(tmp_path)
    session = Easel().session
    session.read_only = "another coach paints"
    asked = ShapesFileRepository(path, session)
    with pytest.raises(CoachError, match="not saved: another coach paints"):
        asked.save(asked.opened(), Version(read_plan(TEXT, ""), MAP))
