"""Pictures of canvases that cannot be compared: each gets one sentence, and none a wrong verdict."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter

from coach.compare.canvas_view import ComparisonError
from coach.compare.comparison import compare
from coach.compare.findings import Comparison
from coach.compare.subject import Photographed
from tests.compare.film_scenes import film_scene
from tests.compare.scenes import BARE, COLOURS, NAMES, Canvas, Room, Sheet, outlines, painted, photographed

HALL, SCHOOL = Canvas().sheet, Canvas(colours={"cheek left, middle": (212, 146, 120)}).sheet
ROOM = Room(curve=0.15)


def photos(one: Sheet, other: Sheet, room: Room = ROOM) -> tuple[Photographed, Photographed]:
    return photographed(one, other, NAMES, room), photographed(other, one, NAMES[::-1], room, is_second=True)


def compared(both: tuple[Photographed, Photographed]) -> Comparison:
    return compare(both, painted(), outlines())


def part_px(photo: Photographed, canvas: str, box_mm: tuple[float, float, float, float]) -> tuple[slice, slice]:
    """Return where a part of a canvas, from left, top to right, bottom, lies in a photo."""
    view = photo.view_of(canvas)
    (x, y), scale = view.corners[0], view.px_per_mm
    left, top, right, bottom = (round(side * scale) for side in box_mm)
    return slice(round(y) + top, round(y) + bottom), slice(round(x) + left, round(x) + right)


def covered(photo: Photographed, canvas: str, box_mm: tuple[float, float, float, float], coded: int) -> Photographed:
    picture = photo.coded.copy()
    picture[part_px(photo, canvas, box_mm)] = (coded, round(coded * 0.8), round(coded * 0.7))
    return replace(photo, coded=picture)


def framed(sheet: Sheet, part: float) -> Sheet:
    """Return a canvas in a broad dark frame, of which the corners are set at its outer edge."""
    rows, columns = (np.arange(side) / side for side in sheet.labels.shape)
    inner = [((at - part) / (1 - 2 * part) * len(at)).astype(int) for at in (rows, columns)]
    is_in = [(at >= 0) & (at < len(at)) for at in inner]
    labels = np.full(sheet.labels.shape, len(sheet.light), dtype=np.int32)
    shown = sheet.labels[np.ix_(*(at.clip(0, len(at) - 1) for at in inner))]
    labels[np.ix_(*is_in)] = shown[np.ix_(*is_in)]
    return Sheet(labels=labels, light=np.append(sheet.light, [[0.05, 0.04, 0.03]], axis=0))


@pytest.mark.parametrize(
    ("turn", "said"),
    [
        (lambda labels: labels[::-1, ::-1], "Hall is upside down there"),
        (lambda labels: labels[:, ::-1], "Hall is mirrored there"),
        (np.rot90, "Hall is on its side there"),
        (lambda labels: np.rot90(labels, 3), "Hall is on its side there"),
    ],
)
def test_a_canvas_that_stands_otherwise_than_its_corners_say_is_named(turn: Callable[..., object], said: str) -> None:
    turned = replace(HALL, labels=np.ascontiguousarray(turn(HALL.labels)))

    with pytest.raises(ComparisonError, match=said):
        compared(photos(turned, SCHOOL))


def test_a_photo_from_an_upside_down_phone_is_named() -> None:
    one, other = photos(
        replace(HALL, labels=HALL.labels[::-1, ::-1]), replace(SCHOOL, labels=SCHOOL.labels[::-1, ::-1])
    )

    with pytest.raises(ComparisonError, match="upside down"):
        compared((one, other))


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_canvas_of_another_commission_is_named(seed: int) -> None:
    with pytest.raises(ComparisonError, match="School does not show the painting of this plan"):
        compared(photos(HALL, film_scene(seed, 0).sheets[0]))


@pytest.mark.parametrize("part", [0.05, 0.1])
def test_a_frame_inside_the_corners_is_named(part: float) -> None:
    with pytest.raises(ComparisonError, match="set them inside the frame"):
        compared(photos(HALL, framed(SCHOOL, part)))


def test_glare_over_half_a_canvas_is_named() -> None:
    one, other = photos(HALL, SCHOOL)

    with pytest.raises(ComparisonError, match=r"photo2.jpg: Hall lies in glare"):
        compared((one, covered(other, "Hall", (0, 0, 400, 250), 255)))


def test_a_canvas_blurred_in_one_photo_is_named() -> None:
    one, other = photos(HALL, SCHOOL)
    picture, where = other.coded.copy(), part_px(other, "School", (0, 0, 400, 500))
    picture[where] = gaussian_filter(picture[where], (8, 8, 0))

    with pytest.raises(ComparisonError, match=r"photo2.jpg: School is blurred"):
        compared((one, replace(other, coded=picture)))


@pytest.mark.parametrize("box_mm", [(60, 320, 260, 500), (0, 150, 200, 300)])
def test_a_hand_in_front_of_a_canvas_gives_no_wrong_verdict(box_mm: tuple[float, float, float, float]) -> None:
    one, other = photos(HALL, HALL)
    found = compared((covered(one, "School", box_mm, 170), other))

    assert not any(shape.called for shape in found.shapes)
    assert not found.moved
    assert any("the two photos disagree there" in shape.why for shape in found.not_compared)


def test_a_passage_that_is_bare_on_one_canvas_is_not_called() -> None:
    bare = replace(SCHOOL, light=SCHOOL.light.copy())
    bare.light[list(COLOURS).index("coat, dark")] = BARE
    found = compared(photos(HALL, bare))

    assert {one.passage: one.why for one in found.not_compared}[
        "coat, dark"
    ] == "it seems not to be painted on School yet"
    assert [one.passage for one in found.shapes if one.called] == ["cheek left, middle"]
