"""Landmarks of the drawing: where they are proposed, and what lies elsewhere by 3 mm or more."""

from collections.abc import Mapping

import numpy as np
import pytest

from coach.compare.canvas_view import CanvasView
from coach.compare.landmarks import LEAST, MOST, Landmark, SetLandmarks, landmark_findings, proposed_landmarks
from coach.plan.commission import CanvasSize
from coach.shapes.features import Feature, HeadBox
from coach.shapes.outlines import Ring
from coach.shapes.shape_map import OutlinedShape, ShapeMap

SIZE = CanvasSize(400, 500)
CROP = (100.0, 50.0, 900.0, 1050.0)  # two pixels a millimetre
HEAD = HeadBox(name="keeper", left=400, top=200, right=600, bottom=480)


def oval(x: float, y: float, half_width: float, half_height: float) -> Ring:
    turns = np.linspace(0, 2 * np.pi, 64, endpoint=False)
    points = np.stack((x + half_width * np.cos(turns), y + half_height * np.sin(turns)), axis=1)
    return tuple((float(a), float(b)) for a, b in points.round(1))


PORTRAIT = (
    (Feature.GROUND, "ground", ((100, 50), (900, 50), (900, 1050), (100, 1050))),
    (Feature.HAIR, "hair", oval(500, 300, 105, 130)),
    (Feature.EARS, "left ear", oval(398, 350, 10, 30)),
    (Feature.EARS, "right ear", oval(602, 350, 10, 30)),
    (Feature.FACE, "face", oval(500, 360, 95, 120)),
    (Feature.EYES, "left socket", oval(455, 335, 30, 16)),
    (Feature.EYES, "white of the left eye", oval(455, 338, 18, 7)),
    (Feature.EYES, "left iris", oval(455, 338, 6, 6)),
    (Feature.EYES, "right socket", oval(545, 335, 30, 16)),
    (Feature.EYES, "white of the right eye", oval(545, 338, 18, 7)),
    (Feature.EYES, "right iris", oval(545, 338, 6, 6)),
    (Feature.NOSE, "nose", oval(500, 375, 16, 30)),
    (Feature.MOUTH, "mouth", oval(500, 430, 34, 9)),
    (Feature.NECK, "neck", oval(500, 520, 50, 60)),
)


def shape_map(*shapes: tuple[Feature, str, Ring]) -> ShapeMap:
    outlined = [
        OutlinedShape(id=f"k{no}", name=name, feature=feature, outline=(ring,))
        for no, (feature, name, ring) in enumerate(shapes, start=1)
    ]
    return ShapeMap(
        photo_width_px=1000,
        photo_height_px=1100,
        photo_sha256="0" * 64,
        next_number=len(outlined) + 1,
        borders={},
        shapes=tuple(outlined),
    )


PROPOSED = proposed_landmarks(shape_map(*PORTRAIT), [HEAD], CROP)


def test_landmarks_lie_on_the_tips_of_the_outlines() -> None:
    at = {one.name: one.at for one in PROPOSED}

    assert LEAST <= len(at) == len(PROPOSED) <= MOST
    assert at["left corner of the mouth"] == pytest.approx((466, 430))
    assert at["lowest point of the nose"] == pytest.approx((500, 405))
    assert at["lobe of the right ear"] == pytest.approx((602, 380))
    assert at["top of the hair"] == pytest.approx((500, 170))
    assert at["lower edge of the face"] == pytest.approx((500, 480))
    assert at["outer corner of the left eye"] == pytest.approx((437, 338), abs=7)
    assert at["inner corner of the right eye"] == pytest.approx((527, 338), abs=7)


def test_two_sitters_are_told_apart_and_nothing_lies_outside_the_crop() -> None:
    boy = HeadBox(name="boy", left=650, top=200, right=850, bottom=480)
    beside = [(feature, f"{name}, boy", tuple((x + 250, y) for x, y in ring)) for feature, name, ring in PORTRAIT[1:]]
    found = proposed_landmarks(shape_map(*PORTRAIT, *beside), [HEAD, boy], (100, 50, 780, 1050))
    names = [one.name for one in found]

    assert len(set(names)) == len(names) <= MOST
    assert "outer corner of the left eye of keeper" in names
    assert "outer corner of the left eye of boy" in names
    assert all(one.at[0] < 780 for one in found)


def test_without_features_the_sharpest_corners_of_shapes_are_taken() -> None:
    squares = [
        (Feature.OBJECT, f"box {no}", ((x, y), (x + 60, y), (x + 60, y + 60), (x, y + 60)))
        for no, (x, y) in enumerate((x, y) for x in (200, 400, 600) for y in (200, 400, 600))
    ]
    found = proposed_landmarks(shape_map(*squares), [], CROP)

    assert len(found) == LEAST
    assert all(one.name == f"corner of {one.feature}" for one in found)


def set_on(
    canvas: str, moved: Mapping[str, tuple[float, float]], *, click_mm: float = 0.0, seed: int = 1
) -> SetLandmarks:
    """Return the landmarks as they are clicked on a canvas that leans, drawn 1 % larger and turned by a degree."""
    chance = np.random.default_rng(seed)
    view = CanvasView(canvas=canvas, corners=((90, 80), (860, 95), (850, 1060), (100, 1040)), size=SIZE)
    turn = np.radians(1)
    way = 1.01 * np.array(((np.cos(turn), -np.sin(turn)), (np.sin(turn), np.cos(turn))))
    at = {}
    for one in PROPOSED:
        place = (np.array(one.at) - CROP[:2]) / 2
        shift = np.array(moved.get(one.feature, moved.get(one.name, (0, 0))))
        drawn = way @ place + (2, -1) + shift + chance.uniform(-0.5, 0.5, 2) * click_mm
        x, y, w = view.homography() @ (*drawn, 1)
        at[one.name] = (float(x / w), float(y / w))
    return SetLandmarks(view=view, at=at)


def found_in(one: SetLandmarks, other: SetLandmarks) -> list[str]:
    return [one.words for one in landmark_findings(PROPOSED, CROP, (one, other))]


def test_a_canvas_that_is_larger_or_turned_is_not_called() -> None:
    assert found_in(set_on("Hall", {}), set_on("School", {"left eye": (2, 0), "mouth": (0, -2.5)})) == []


def test_an_eye_that_lies_elsewhere_is_one_finding_of_the_canvas_that_is_off() -> None:
    said = "left eye: 4 mm further right and 3 mm lower on {} than on {}, give or take 1 mm"
    moved = set_on("School", {"left eye": (4, 3)})

    assert found_in(set_on("Hall", {}), moved) == [said.format("School", "Hall")]
    assert found_in(moved, set_on("Hall", {})) == [said.format("School", "Hall")]


def test_a_single_corner_is_told_by_its_name() -> None:
    moved = set_on("School", {"left corner of the mouth": (-4, 0)})

    assert found_in(set_on("Hall", {}), moved) == [
        "left corner of the mouth: 4 mm further left on School than on Hall, give or take 1 mm"
    ]


def test_what_lies_elsewhere_on_both_is_told_against_the_photo() -> None:
    both = [set_on(canvas, {"right ear": (0, 6)}) for canvas in ("Hall", "School")]

    assert found_in(*both) == ["right ear: 6 mm lower on Hall and School than in the photo, give or take 1 mm"]


def test_clicks_to_a_dot_of_a_millimetre_call_nothing() -> None:
    for seed in range(100):
        one, other = (set_on(name, {}, click_mm=1, seed=2 * seed + no) for no, name in enumerate(("Hall", "School")))
        assert found_in(one, other) == []


def test_of_few_landmarks_nothing_is_told() -> None:
    few: tuple[Landmark, ...] = PROPOSED[:4]
    drawn = set_on("Hall", {}), set_on("School", {"left eye": (9, 9)})

    assert landmark_findings(few, CROP, drawn) == ()


def test_what_is_clicked_to_large_dots_must_lie_further_away() -> None:
    drawn = set_on("Hall", {}), set_on("School", {"left eye": (4, 3)})

    assert [one.words.rpartition(", ")[2] for one in landmark_findings(PROPOSED, CROP, drawn, 2.0)] == [
        "give or take 2 mm"
    ]
    assert landmark_findings(PROPOSED, CROP, drawn, 3.0) == ()
