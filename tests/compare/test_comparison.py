"""Two canvases photographed with their places exchanged: what is found, and what is not."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
import pytest

from coach.colour.light import lab_of, linear_of, srgb_of
from coach.compare.canvas_view import ComparisonError
from coach.compare.comparison import compare, read_alone
from coach.compare.differences import difference
from coach.compare.findings import Comparison
from tests.compare.scenes import (
    BARE,
    COLOURS,
    DISCS,
    DOTS_PER_MM,
    NAMES,
    PAINT_DOTS_PER_MM,
    SIZE,
    Canvas,
    Room,
    Sheet,
    dots_at,
    outlines,
    painted,
    photographed,
)

if TYPE_CHECKING:
    from numpy.typing import NDArray

LEFT_EYE = ("socket left, half-dark", "white of the eye, light", "iris left, darkest")


def shaded(name: str, *light: float) -> tuple[int, int, int]:
    red, green, blue = (srgb_of(linear_of(np.array(COLOURS[name]) / 255) * light) * 255).round().astype(int).tolist()
    return red, green, blue


CHANGED = {
    "cheek left, middle": shaded("cheek left, middle", 1.15, 1.15, 1.15),
    "collar, light": shaded("collar, light", 0.9, 0.88, 0.8),
    "coat, dark": shaded("coat, dark", 1.2, 1.1, 0.95),
}
HALL, SCHOOL = Canvas(), Canvas(colours=CHANGED)


def compared(one: Canvas, other: Canvas, room: Room) -> Comparison:
    first = photographed(one.sheet, other.sheet, NAMES, room)
    second = photographed(other.sheet, one.sheet, NAMES[::-1], room, is_second=True)
    return compare((first, second), painted(), outlines())


@pytest.mark.parametrize("room", [Room(), Room(ratio=0.65, seed=3), Room(ratio=1.0, gradient=0.2, seed=4)])
def test_what_differs_is_named_and_nothing_else(room: Room) -> None:
    moved = replace(SCHOOL, moved=dict.fromkeys(LEFT_EYE, (4, 3)))
    found = compared(HALL, moved, room)

    assert {one.passage for one in found.shapes if one.called} == set(CHANGED)
    assert [one.words for one in found.moved] == [
        "socket left: 4 mm further right and 3 mm lower on School than on Hall"
    ]
    assert {one.passage for one in found.not_compared} <= {*LEFT_EYE, "cheek left, middle"}
    assert found.light_ratio == pytest.approx(room.ratio, abs=0.03)
    assert not found.remarks


def test_four_things_are_named_by_a_window_on_the_left_in_a_painters_words_and_nothing_else() -> None:
    """What the whole comparison is for: three shapes 2.5 to 6 apart, and an eye 5 mm off, by a phone's photos."""
    window = Room(ratio=0.68, gradient=0.2, slope=0.1, curve=0.2, noise=0.01, seed=11, width_px=2000)
    found = compared(HALL, replace(SCHOOL, moved=dict.fromkeys(LEFT_EYE, (5, 0))), window)
    truth = difference(
        *(lab_of(linear_of(np.array([own[name] for name in CHANGED]) / 255)) for own in (COLOURS, CHANGED))
    )

    assert 2.5 <= truth.min() <= truth.max() <= 6
    assert {(one.passage, one.words) for one in found.shapes if one.called} == {
        ("cheek left, middle", "Hall is darker than School"),
        ("coat, dark", "Hall is stronger and darker than School"),
        ("collar, light", "Hall is lighter and greyer than School"),
    }
    assert [one.words for one in found.moved] == ["socket left: 5 mm further right on School than on Hall"]
    assert not (*found.off_values, *found.remarks)
    assert found.all_over is None


def test_the_words_say_which_canvas_and_how() -> None:
    words = {one.passage: one.words for one in compared(HALL, SCHOOL, Room()).shapes}

    assert words["cheek left, middle"].startswith("Hall is darker")
    assert words["collar, light"].startswith("Hall is lighter")


def test_canvases_that_agree_are_not_called_out() -> None:
    found = compared(HALL, HALL, Room(ratio=0.7, seed=8))

    assert not any(one.called for one in found.shapes)
    assert not found.moved


LIGHTER = Canvas(colours={name: shaded(name, 1.2, 1.2, 1.2) for name in COLOURS})


def test_a_canvas_that_is_lighter_all_over_cannot_be_told_from_light_that_changed() -> None:
    found = compared(HALL, LIGHTER, Room())

    assert not any(one.called for one in found.shapes)
    assert found.remarks == ("Hall is darker all over, or the light changed: take both photos again.",)
    assert found.all_over is not None
    assert not found.all_over.called


@pytest.mark.parametrize("room", [Room(has_cards=True), Room(has_cards=True, changed=1.06, curve=0.2, seed=6)])
def test_a_card_beside_each_canvas_tells_lighter_paint_from_light_that_changed(room: Room) -> None:
    found = compared(HALL, LIGHTER, room)

    assert found.all_over is not None
    assert (found.all_over.called, found.all_over.words) == (True, "Hall is darker all over")
    assert not any(one.called for one in found.shapes)
    assert not found.remarks


def test_bare_margins_tell_it_too() -> None:
    bare = len(DISCS)

    def margined(labels: "NDArray[np.int32]", dots_per_mm: float) -> "NDArray[np.int32]":
        across, down = dots_at(dots_per_mm)
        to_edge = np.minimum(np.minimum(across, SIZE.width_mm - across), np.minimum(down, SIZE.height_mm - down))
        return np.where(to_edge < 15, bare, labels).astype(np.int32)

    one, other = (
        Sheet(
            labels=margined(canvas.sheet.labels, PAINT_DOTS_PER_MM),
            light=np.append(canvas.sheet.light, [[BARE] * 3], axis=0),
        )
        for canvas in (HALL, LIGHTER)
    )
    photos = photographed(one, other, NAMES, Room()), photographed(other, one, NAMES[::-1], Room(), is_second=True)
    found = compare(photos, painted(), replace(outlines(), labels=margined(outlines().labels, DOTS_PER_MM)))

    assert found.all_over is not None
    assert found.all_over.called


@pytest.mark.parametrize("changed", [0.8, 1.25])
def test_light_that_changed_far_between_the_photos_is_refused_where_cards_show_it(changed: float) -> None:
    with pytest.raises(ComparisonError, match="the light changed between photo1"):
        compared(HALL, SCHOOL, Room(has_cards=True, changed=changed))


def test_brightness_common_to_both_canvases_is_never_refused() -> None:
    first = photographed(HALL.sheet, SCHOOL.sheet, NAMES, Room())
    second = photographed(SCHOOL.sheet, HALL.sheet, NAMES[::-1], Room(exposure=0.6), is_second=True)
    found = compare((first, second), painted(), outlines())

    assert {one.passage for one in found.shapes if one.called} == set(CHANGED)
    assert not found.remarks


def test_photos_without_the_exchange_allow_no_verdict() -> None:
    first, second = (
        photographed(HALL.sheet, SCHOOL.sheet, NAMES, Room(), is_second=second) for second in (False, True)
    )
    found = compare((first, second), painted(), outlines())

    assert not found.exchanged
    assert not found.shapes
    assert found.readings
    assert "Hall stands on the left in both photos" in found.remarks[0]


def test_canvases_named_wrongly_are_refused() -> None:
    first, second = (
        photographed(HALL.sheet, SCHOOL.sheet, NAMES, Room(), is_second=second) for second in (False, True)
    )
    one, other = second.views
    misnamed = replace(second, views=(replace(one, canvas=other.canvas), replace(other, canvas=one.canvas)))

    with pytest.raises(ComparisonError, match="named wrongly"):
        compare((first, misnamed), painted(), outlines())


def test_one_photo_reads_and_judges_nothing() -> None:
    found = read_alone(photographed(HALL.sheet, SCHOOL.sheet, NAMES, Room()), painted(), outlines())

    assert not found.shapes
    assert {one.canvas for one in found.readings} == set(NAMES)
    assert "One photo allows no verdict" in found.remarks[0]


def test_glare_is_left_out_and_said() -> None:
    first = photographed(HALL.sheet, SCHOOL.sheet, NAMES, Room())
    second = photographed(SCHOOL.sheet, HALL.sheet, NAMES[::-1], Room(), is_second=True)
    coded = first.coded.copy()
    (x, y), scale = first.views[0].corners[0], first.views[0].px_per_mm
    top, left = round(y + 350 * scale), round(x + 120 * scale)
    coded[top : top + round(70 * scale), left : left + round(160 * scale)] = 255
    found = compare((replace(first, coded=coded), second), painted(), outlines())

    assert {one.passage: one.why for one in found.not_compared}["collar, light"] == "glare lies on it"
