"""The demo plans: drawn photos, outlined shapes, and plans that a painter could follow to the last stroke."""

import datetime as dt
import json
import shutil
from collections import Counter
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from shapely import unary_union
from skimage.data import lbp_frontal_face_cascade_filename
from skimage.feature import Cascade

from coach.cli import main
from coach.colour.light import linear_of, luminance_of, value_of
from coach.plan.commission import Passage, Plan
from coach.plan.reading import problems_on, read_plan
from coach.review.advice import advice_on
from coach.shapes.polygons import inside_mask, polygon_of
from coach.shapes.shape_map import ShapeMap
from coach.store.photo import photo_size
from coach.store.shape_file import load_shapes
from tests.demo_photos import PHOTOS, PLANS, levels_of
from tests.painter import Habits, paint_journal

Out = pytest.CaptureFixture[str]

_CATCHLIGHT_CM2 = 0.25
"""What is no larger is lighter in the middle than the lens lets its mean be."""

of_each_plan = pytest.mark.parametrize("name", PHOTOS)
of_each_layered_plan = pytest.mark.parametrize("name", ["orchard-keeper", "ferry-sisters"])


@cache
def plan_of(name: str) -> Plan:
    return read_plan((PLANS / f"{name}.yaml").read_text(encoding="utf-8"), name)


@cache
def shapes_of(name: str) -> ShapeMap:
    loaded = load_shapes(PLANS / f"{name}.yaml", f"{name}.shapes.svg", f"{name}.jpg")
    assert loaded.problems == ()
    return loaded.shape_map


def painted(plan: Plan) -> list[Passage]:
    """Return what is painted of the photo: neither checks nor the transfer, which are of the whole canvas."""
    return [p for one in plan.passes if one.name != "transfer" for p in one.passages if not p.check]


@of_each_plan
def test_the_photo_that_is_shipped_is_the_one_that_is_drawn(name: str) -> None:
    path = PLANS / f"{name}.jpg"
    with Image.open(path) as photo:
        shipped = np.asarray(photo.convert("RGB"), dtype=float)
    apart = np.abs(shipped - levels_of(PHOTOS[name]()))

    assert apart.mean() < 2
    assert np.percentile(apart, 99) < 12
    assert path.stat().st_size < 150_000


@of_each_plan
def test_a_general_library_sees_a_face_where_the_plan_marks_a_head(name: str) -> None:
    """The detector that scikit-image ships, an outside check that the drawing reads as a portrait."""
    finder = Cascade(lbp_frontal_face_cascade_filename())  # type: ignore[no-untyped-call]
    middles = []
    for share in (1.0, 0.6, 0.4):
        with Image.open(PLANS / f"{name}.jpg") as photo:
            small = np.asarray(photo.convert("RGB").resize((round(photo.width * share), round(photo.height * share))))
        found = finder.detect_multi_scale(
            img=small, scale_factor=1.2, step_ratio=1, min_size=(40, 40), max_size=(500, 500)
        )
        middles += [((f["c"] + f["width"] / 2) / share, (f["r"] + f["height"] / 2) / share) for f in found]
    boxes = [head.box for head in plan_of(name).heads]

    assert any(box.left_px < x < box.right_px and box.top_px < y < box.bottom_px for x, y in middles for box in boxes)


@of_each_plan
def test_the_shapes_tile_the_photo(name: str) -> None:
    found, size = shapes_of(name), photo_size(PLANS / f"{name}.jpg")
    outlines = [polygon_of(shape.outline) for shape in found.shapes]
    whole_px = size.width_px * size.height_px

    assert unary_union(outlines).area == pytest.approx(whole_px, rel=0.002)
    assert sum(one.area for one in outlines) == pytest.approx(whole_px, rel=0.002)
    assert {shape.id for shape in found.shapes} == {id_ for one in painted(plan_of(name)) for id_ in one.shapes}


@of_each_plan
def test_every_passage_has_a_place_a_value_and_an_area_and_they_are_those_of_its_shapes(name: str) -> None:
    """Areas within 10 % by the shoelace formula (in shapely), values within 0.75 of the photo's."""
    plan, outlines = plan_of(name), {shape.id: shape.outline for shape in shapes_of(name).shapes}
    with Image.open(PLANS / f"{name}.jpg") as photo:
        luminance = luminance_of(linear_of(np.asarray(photo.convert("RGB")) / 255))
    (canvas,) = {canvas.size for canvas in plan.canvases}
    assert canvas is not None
    assert plan.values is not None
    assert plan.crop is not None
    cm = canvas.width_mm / 10 / plan.crop.width_px
    for passage in painted(plan):
        assert passage.value is not None
        assert passage.shapes
        rings = [np.array(ring) for id_ in passage.shapes for ring in outlines[id_]]
        area_cm2 = sum(polygon_of(outlines[id_]).area for id_ in passage.shapes) * cm**2
        inside = inside_mask(rings, (0, 0, luminance.shape[1], luminance.shape[0]))
        value = plan.values.paint_value(float(value_of(luminance[inside].mean())))
        assert passage.area_cm2 == pytest.approx(area_cm2, rel=0.1), passage.name
        assert passage.value == pytest.approx(value, abs=0.75) or area_cm2 < _CATCHLIGHT_CM2, passage.name


@pytest.mark.parametrize(
    ("name", "hours", "passages"),
    [
        ("orchard-keeper", (25, 30), (85, 100)),
        ("ferry-sisters", (42, 48), (100, 125)),
        ("evening-study", (0.4, 0.6), (9, 9)),
    ],
)
def test_the_work_takes_the_hours_that_such_a_portrait_takes(
    name: str, hours: tuple[float, float], passages: tuple[int, int]
) -> None:
    plan = plan_of(name)
    assert hours[0] <= sum(run.planned_s for run in plan.runs) / 3600 <= hours[1]
    assert passages[0] <= len(painted(plan)) <= passages[1]
    assert max(run.planned_s for run in plan.runs) <= plan.limits.block_s
    assert advice_on(plan) == ()
    assert problems_on(plan, dt.date(2026, 12, 1)) == ()


@of_each_layered_plan
def test_the_block_in_lays_in_every_shape_once_and_each_layer_lies_over_what_is_dry_and_no_fatter(name: str) -> None:
    plan = plan_of(name)
    rank = {"lean": 0, "middle": 1, "fat": 2}
    oil = {
        (one.name, p.name): m.oil for one in plan.passes for p in one.passages if (m := plan.mixture_named(p.mixture))
    }
    block_in = next(one for one in plan.passes if one.name == "block-in")
    laid_in = Counter(id_ for passage in block_in.passages for id_ in passage.shapes)

    size = plan.canvases[0].size
    toned = plan.passes[0].passages[0]

    assert size is not None
    assert (toned.name, toned.area_cm2) == ("toned ground", size.width_mm * size.height_mm / 100)
    assert [one.name for one in plan.passes][:2] == ["transfer", "block-in"]
    assert plan.passes[-1].name == "edges and accents"
    assert laid_in == Counter(shape.id for shape in shapes_of(name).shapes)
    assert set(oil.values()) == set(rank)
    for one in plan.passes[1:]:
        for passage in one.passages:
            below = passage.over or passage.into
            if passage.mixture:
                assert below, passage.name
                assert rank[oil[below] or ""] <= rank[oil[one.name, passage.name] or ""], passage.name


@of_each_plan
def test_what_is_painted_in_one_run_lies_side_by_side_or_in_one_feature(name: str) -> None:
    """Passages of a run meet wet: in most runs each touches the one before, within 2 px of the photo."""
    outlines = {shape.id: polygon_of(shape.outline) for shape in shapes_of(name).shapes}
    joined = [
        unary_union([outlines[id_] for id_ in one.shapes]).distance(
            unary_union([outlines[id_] for id_ in other.shapes])
        )
        for run in plan_of(name).runs
        for one, other in pairwise(run.passages)
    ]
    assert sum(apart <= 2 for apart in joined) >= 0.9 * len(joined)


@of_each_plan
def test_every_plan_is_painted_to_the_end(name: str, tmp_path: Path, capsys: Out) -> None:
    for path in PLANS.glob(f"{name}.*"):
        shutil.copy(path, tmp_path)
    path = tmp_path / f"{name}.yaml"
    turns = paint_journal(path, Habits(slip_frac=0))
    plan = plan_of(name)

    assert turns == len(plan.runs) * len(plan.canvases)
    assert main(["order", str(path), "--json"]) == 0
    order = json.loads(capsys.readouterr().out)
    assert all(turn["painted"] for turn in order["turns"])
    assert main(["log", str(path)]) == 0
    assert "Led: " in capsys.readouterr().out


@of_each_layered_plan
def test_the_lead_ends_even_and_the_due_day_is_likely_to_hold(name: str, tmp_path: Path, capsys: Out) -> None:
    for path in PLANS.glob(f"{name}.*"):
        shutil.copy(path, tmp_path)
    copied = str(tmp_path / f"{name}.yaml")
    assert main(["order", copied, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["balance"]["apart_percent"] <= 2
    assert main(["forecast", copied, "--today", "2026-12-01", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["chance"] >= 0.75
