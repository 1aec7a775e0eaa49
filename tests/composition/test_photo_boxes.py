"""Photo sizes, heads and boxes as they are typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.composition.photo_boxes import PhotoSize, read_box, read_head, read_photo_spec
from coach.errors import UsageError
from coach.plan.commission import MarkedBox


def test_a_size_is_told_from_a_file() -> None:
    assert read_photo_spec("4000x6000") == PhotoSize(width_px=4000, height_px=6000)
    assert read_photo_spec(" 4000 × 6000 px") == PhotoSize(width_px=4000, height_px=6000)
    assert read_photo_spec("4000x6000.jpg") is None
    assert read_photo_spec("ferry.png") is None


@pytest.mark.parametrize("text", ["0x6000", "4000x-1", "4000x10000000"])
def test_a_size_that_cannot_be_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="each side is 1 to 1000000 px"):
        read_photo_spec(text)


def test_a_name_may_hold_colons_and_nothing_that_steers_a_terminal() -> None:
    found = read_head("the \x1b elder: Anna:1,2, 3,4")

    assert found.name == "the � elder: Anna"
    assert found.box == MarkedBox(left_px=1, top_px=2, right_px=3, bottom_px=4)


@pytest.mark.parametrize("text", ["Anna", ":1,2,3,4", "  :1,2,3,4", "1,2,3,4"])
def test_a_head_without_a_name_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="write NAME:left,top,right,bottom"):
        read_head(text)


@pytest.mark.parametrize("text", ["Anna:1,2,3", "Anna:", "Anna:1,2,3,4,5", "Anna:1.5,2,3,4", "Anna:1,2,3,99999999999"])
def test_a_head_without_a_box_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match="is not a box; write left,top,right,bottom"):
        read_head(text)


@given(st.text())
def test_any_text_is_read_or_refused_on_one_line(text: str) -> None:
    said = []
    for read in (read_photo_spec, read_head, read_box):
        try:
            read(text)
        except UsageError as error:
            said.append(str(error))

    assert not any("\n" in sentence or "\x1b" in sentence for sentence in said)
