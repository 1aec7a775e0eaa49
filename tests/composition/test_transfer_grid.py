"""The transfer grid: the same squares on photo and canvas."""

from itertools import pairwise
from xml.etree import ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.composition.crop import Crop
from coach.composition.photo_boxes import CompositionError
from coach.composition.transfer_grid import canvas_svg, grid_of, label, read_side_mm
from coach.errors import UsageError
from coach.plan.commission import CanvasSize

SVG = "{http://www.w3.org/2000/svg}"
INCHES_16_X_20 = CanvasSize(406.4, 508)
CROP = Crop(left_px=0, top_px=700, width_px=4000, height_px=5000)


def test_two_inch_squares_on_16_x_20_in() -> None:
    """trade-checks.md 67: 8 x 10 squares of 500 px."""
    grid = grid_of(INCHES_16_X_20, CROP, 50.8)

    assert (grid.columns, grid.rows) == (8, 10)
    assert grid.square_px == pytest.approx(500)
    assert grid.crop_lines_px()[0] == pytest.approx([500 * n for n in range(9)])
    assert grid.crop_lines_px()[1] == pytest.approx([500 * n for n in range(11)])
    assert grid_of(INCHES_16_X_20, CROP) == grid


def test_squares_that_divide_the_canvas_leave_no_sliver() -> None:
    """76.2 / 25.4 is a little more than 3 in binary."""
    grid = grid_of(CanvasSize(76.2, 152.4), CROP, 25.4)

    assert (grid.columns, grid.rows) == (3, 6)


@given(st.floats(20, 5000), st.floats(20, 5000), st.integers(1, 9000), st.integers(1, 9000), st.floats(5, 900))
def test_photo_and_canvas_have_as_many_squares_and_no_sliver(
    width_mm: float, height_mm: float, width_px: int, height_px: int, square_mm: float
) -> None:
    crop = Crop(left_px=3, top_px=4, width_px=width_px, height_px=height_px)
    try:
        grid = grid_of(CanvasSize(width_mm, height_mm), crop, square_mm)
    except CompositionError as refusal:
        assert "squares of" in str(refusal)  # noqa: PT017 - the other way there is a grid to look at
        return

    for on_canvas, on_photo, side_px in zip(
        grid.canvas_lines_mm(), grid.crop_lines_px(), (width_px, height_px), strict=True
    ):
        steps = [after - before for before, after in pairwise(on_canvas)]
        assert len(on_photo) == len(on_canvas)
        assert on_photo[-1] == pytest.approx(side_px)
        assert all(0 < step <= square_mm * 1.000002 for step in steps)
        assert steps[:-1] == pytest.approx([square_mm] * (len(steps) - 1))


@pytest.mark.parametrize(
    ("square_mm", "said"),
    [
        (0.0, "too small"),
        (-5.0, "too small"),
        (float("nan"), "too small"),
        (407.0, "larger than"),
        (5.0, "more than 100"),
    ],
)
def test_squares_that_cannot_be_are_refused(square_mm: float, said: str) -> None:
    with pytest.raises(CompositionError, match=said):
        grid_of(CanvasSize(406.4, 508), CROP, square_mm)


def test_a_thin_canvas_still_gets_squares_of_its_own() -> None:
    grid = grid_of(CanvasSize(50, 5000), CROP)

    assert grid.rows == 100
    assert grid.columns == 1


def test_squares_are_named_as_columns_of_letters_and_rows_of_numbers() -> None:
    assert [label(0, 0), label(25, 0), label(26, 1), label(51, 9), label(52, 99)] == [
        "A1",
        "Z1",
        "AA2",
        "AZ10",
        "BA100",
    ]


def test_the_svg_has_the_true_size_and_names_every_square() -> None:
    root = ET.fromstring(canvas_svg(grid_of(INCHES_16_X_20, CROP, 50.8), "North"))  # noqa: S314 - our own text
    names = [text.text for text in root.iter(f"{SVG}text")]

    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("406.4mm", "508mm", "0 0 406.4 508")
    assert names == [f"{letter}{row}" for row in range(1, 11) for letter in "ABCDEFGH"]
    path = root.find(f"{SVG}path")
    assert path is not None
    assert path.get("d", "").startswith("M0 0V508M50.8 0V508M101.6 0V508")


@given(st.text())
def test_any_title_is_text_in_the_svg(title: str) -> None:
    root = ET.fromstring(canvas_svg(grid_of(INCHES_16_X_20, CROP), f"<script>{title}"))  # noqa: S314 - our own text
    found = root.find(f"{SVG}title")

    assert found is not None
    assert len(found) == 0
    assert (found.text or "").startswith("<script>")
    assert root.find(f"{SVG}script") is None


@pytest.mark.parametrize(
    ("text", "side_mm"), [("2 in", 50.8), ("5 cm", 50), ("50mm", 50), (" 2.5 IN ", 63.5), ("2,5 cm", 25), ("0 cm", 0)]
)
def test_the_side_of_a_square_is_read_in_the_units_of_the_plan(text: str, side_mm: float) -> None:
    """The inch is 25.4 mm exactly (international inch, 1959)."""
    assert read_side_mm(text) == pytest.approx(side_mm)


@pytest.mark.parametrize("text", ["", "2", "in", "2 m", "-2 cm", "2 x 2 cm", "two in", "nan cm"])
def test_what_is_no_side_of_a_square_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="is not the side of a square; write 2 in or 5 cm"):
        read_side_mm(text)
