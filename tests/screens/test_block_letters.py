"""Block letters: every letterform tells itself from every other, and the drawing keeps its measures.

The measures follow from the Unicode block elements: U+2580 and U+2584 each fill one half of a cell (The
Unicode Standard, chart "Block Elements", from memory), so one cell holds two half-cells.
"""

from __future__ import annotations

import unicodedata
from itertools import combinations
from string import ascii_uppercase, digits

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.screens.widgets.block_glyph_table import (
    GLYPH_ROWS_PX,
    GLYPHS,
    MARKS_ABOVE,
    MARKS_BELOW,
    NARROW_GLYPHS,
    NARROW_ROWS_PX,
)
from coach.screens.widgets.block_letters import Form, block_lines, can_draw, height_cells, width_cells

WANTED = ascii_uppercase + digits + " .,:;-+/&'()!?#%=*←→↑↓–×ÆØŒŁÞÐ"
LEAST_DIFFERENCE_PX = 3
COMBINING = {
    "grave": "\u0300",
    "acute": "\u0301",
    "circumflex": "\u0302",
    "tilde": "\u0303",
    "macron": "\u0304",
    "diaeresis": "\u0308",
    "ring": "\u030a",
    "caron": "\u030c",
    "cedilla": "\u0327",
}

texts = st.text(alphabet=sorted(GLYPHS), max_size=40)
accented_texts = st.lists(
    st.sampled_from(list(ascii_uppercase)).flatmap(
        lambda base: st.sampled_from(["", *COMBINING.values()]).map(lambda mark: base + mark)
    ),
    max_size=20,
).map("".join)
scales = st.integers(min_value=1, max_value=9)


def ink_px(rows: tuple[str, ...]) -> set[tuple[int, int]]:
    return {(x, y) for y, row in enumerate(rows) for x, pixel in enumerate(row) if pixel == "#"}


def least_difference_px(one: tuple[str, ...], other: tuple[str, ...]) -> int:
    """Pixels in which two glyphs differ, laid over each other as well as a sideways shift allows."""
    still, moved = ink_px(one), ink_px(other)
    return min(len(still ^ {(x + shift, y) for x, y in moved}) for shift in range(-7, 8))


def half_cells(lines: tuple[str, ...]) -> list[str]:
    """The lines taken apart again into rows of half-cells, `#` for ink and `.` for paper."""
    upper = str.maketrans(" ▀▄█", ".#.#")
    lower = str.maketrans(" ▀▄█", "..##")
    return [line.translate(half) for line in lines for half in (upper, lower)]


def test_every_glyph_asked_for_is_there_and_nothing_else() -> None:
    assert sorted(GLYPHS) == sorted(WANTED)
    assert sorted({**MARKS_ABOVE, **MARKS_BELOW}) == sorted(COMBINING.values())


@pytest.mark.parametrize("name", COMBINING)
def test_a_mark_is_the_one_that_unicode_names(name: str) -> None:
    official = {"ring": "RING ABOVE", "grave": "GRAVE ACCENT", "acute": "ACUTE ACCENT"}
    official |= {"circumflex": "CIRCUMFLEX ACCENT"}
    assert unicodedata.name(COMBINING[name]) == f"COMBINING {official.get(name, name.upper())}"


@pytest.mark.parametrize("character", WANTED)
def test_a_glyph_is_a_full_box_of_ink_and_paper(character: str) -> None:
    rows = GLYPHS[character]

    assert len(rows) == GLYPH_ROWS_PX == 7
    assert len({len(row) for row in rows}) == 1
    assert set("".join(rows)) <= {"#", "."}


@pytest.mark.parametrize("character", ascii_uppercase + digits)
def test_letters_and_figures_reach_all_four_sides_of_a_box_at_most_five_wide(character: str) -> None:
    rows = GLYPHS[character]
    columns = list(zip(*rows, strict=True))

    assert len(columns) <= 5
    assert all("#" in side for side in (rows[0], rows[-1], columns[0], columns[-1]))


def test_any_two_glyphs_differ_however_they_are_shifted() -> None:
    too_alike = [
        one + other
        for one, other in combinations(WANTED, 2)
        if least_difference_px(GLYPHS[one], GLYPHS[other]) < LEAST_DIFFERENCE_PX
    ]
    assert too_alike == []


@pytest.mark.parametrize("pair", ["0O", "1I", "5S", "8B", "2Z", "0Ø", "8S", "UV", "6G"])
def test_pairs_that_are_often_mistaken_differ_more(pair: str) -> None:
    least_px = 3 if pair == "0O" else 5
    assert least_difference_px(GLYPHS[pair[0]], GLYPHS[pair[1]]) >= least_px


def test_any_two_marks_above_differ() -> None:
    for one, other in combinations(MARKS_ABOVE.values(), 2):
        assert least_difference_px(one, other) >= LEAST_DIFFERENCE_PX


@pytest.mark.parametrize(("one", "other"), [("←", "→"), ("(", ")")])
def test_left_and_right_are_mirrored(one: str, other: str) -> None:
    assert GLYPHS[one] == tuple(row[::-1] for row in GLYPHS[other])


def test_down_is_up_turned_over_and_up_is_left_turned() -> None:
    assert GLYPHS["↓"] == GLYPHS["↑"][::-1]
    assert GLYPHS["↑"] == tuple(map("".join, zip(*GLYPHS["←"], strict=True)))


def test_the_letter_l_at_scale_1() -> None:
    assert block_lines("L", 1) == ("█    ", "█    ", "█    ", "▀▀▀▀▀")


def test_the_letter_t_at_scale_2() -> None:
    assert block_lines("T", 2) == ("██████████", *["    ██    "] * 6)


def test_letters_stand_one_pixel_apart_and_a_space_is_three_wide() -> None:
    assert width_cells("HALL", 1) == 4 * 5 + 3
    assert width_cells("UP UP", 1) == 4 * 5 + 3 + 4
    assert block_lines("II", 1)[0] == "▀█▀ ▀█▀"


@pytest.mark.parametrize(("scale", "lines"), [(1, 4), (2, 7), (3, 11), (4, 14), (8, 28)])
def test_seven_pixels_take_half_as_many_lines_rounded_up(scale: int, lines: int) -> None:
    assert height_cells("HALL", scale) == lines == len(block_lines("HALL", scale))


@pytest.mark.parametrize(("text", "scale", "lines"), [("É", 1, 5), ("É", 2, 10), ("Ç", 1, 5), ("Ç", 2, 9)])
def test_marks_add_height_only_where_there_are_any(text: str, scale: int, lines: int) -> None:
    assert height_cells(text, scale) == lines
    assert height_cells("E", scale) < lines


def test_a_letter_with_a_mark_keeps_its_own_form_and_baseline() -> None:
    plain, marked = half_cells(block_lines("HE", 1)), half_cells(block_lines("HÉ", 1))

    assert marked[3:10] == plain[:7]
    assert any("#" in row for row in marked[:3])


def test_a_cedilla_hangs_below_the_baseline_and_an_acute_stands_clear_above() -> None:
    below, above = half_cells(block_lines("Ç", 1)), half_cells(block_lines("É", 1))

    assert below[:7] == list(GLYPHS["C"])
    assert "#" in below[7]
    assert "#" in below[8]
    assert "#" not in above[2]


def test_a_mark_wider_than_its_letter_widens_the_box_and_the_letter_stands_in_its_middle() -> None:
    rows = half_cells(block_lines("Ï", 1))

    assert width_cells("Ï", 1) == 5
    assert rows[:3] == ["##.##", "##.##", "....."]
    assert rows[3:5] == [".###.", "..#.."]


@pytest.mark.parametrize(("text", "same"), [("straße", "STRASSE"), ("hall", "HALL"), ("œuvre", "ŒUVRE")])
def test_words_are_drawn_in_capitals(text: str, same: str) -> None:
    assert block_lines(text, 2) == block_lines(same, 2)


@pytest.mark.parametrize("text", ["Éloïse", "Łódź", "Århus", "São", "Žižka", "Façade", "Māra"])
def test_composed_and_decomposed_spellings_are_drawn_alike(text: str) -> None:
    composed, decomposed = (unicodedata.normalize(form, text) for form in ("NFC", "NFD"))

    assert composed != decomposed
    assert block_lines(composed, 1) == block_lines(decomposed, 1)


@pytest.mark.parametrize(
    "text",
    [
        "EYES 🎨",
        "眼",
        "عين",
        "глаз",
        "A\tB",
        "A\nB",
        "\x1b[31mEYES",
        "\x7f",
        "\u202eEYES",
        "A\u200dB",
        "[EYES]",
        "\u0301",
        "A \u0301",
        "1\u0301",
        "→\u0301",
        "\ud800",
    ],
)
def test_text_without_letterforms_is_refused_whole(text: str) -> None:
    assert not can_draw(text)
    with pytest.raises(ValueError, match="no block letters"):
        block_lines(text, 1)
    with pytest.raises(ValueError, match="no block letters"):
        width_cells(text, 1)
    with pytest.raises(ValueError, match="no block letters"):
        height_cells(text, 1)


@pytest.mark.parametrize(
    ("text", "same"), [("E\u0301\u0300", "É"), ("C\u0327\u0327", "Ç"), ("A\u0323", "A"), ("Żółw", "Zółw")]
)
def test_a_mark_that_has_no_form_or_no_room_is_left_out(text: str, same: str) -> None:
    assert block_lines(text, 1) == block_lines(same, 1)


@pytest.mark.parametrize("form", [Form.TALL, Form.NARROW, Form.SLENDER])
def test_the_other_forms_are_drawn_without_marks_and_are_as_tall_as_they_say(form: Form) -> None:
    assert block_lines("Éloïse Ç", 1, form) == block_lines("ELOISE C", 1, form)
    assert height_cells("É", 1, form) == {Form.TALL: 5, Form.NARROW: 3, Form.SLENDER: 5}[form]


def test_the_narrow_letters_and_figures_are_told_apart_however_they_are_shifted() -> None:
    """Two of three pixels of a stroke: E and F, I and L, I and T differ by as much as their names do."""
    signs = ascii_uppercase + digits
    assert sorted(NARROW_GLYPHS) == sorted(WANTED)
    assert [
        one + other
        for one, other in combinations(signs, 2)
        if least_difference_px(NARROW_GLYPHS[one], NARROW_GLYPHS[other]) < 2
    ] == []


@pytest.mark.parametrize("character", ascii_uppercase + digits)
def test_a_narrow_letter_reaches_all_four_sides_of_a_box_of_six_rows(character: str) -> None:
    rows = NARROW_GLYPHS[character]
    columns = list(zip(*rows, strict=True))
    assert len(rows) == NARROW_ROWS_PX == 6
    assert all("#" in side for side in (rows[0], rows[-1], columns[0], columns[-1]))


@pytest.mark.parametrize("form", Form)
@pytest.mark.parametrize("one", "AHIMTUVWY")
def test_a_stretched_letter_keeps_its_strokes(one: str, form: Form) -> None:
    """What is stretched shows each row of the letter in its order, and no other."""
    rows = form.glyph(one)
    told = [row for number, row in enumerate(rows) if number == 0 or rows[number - 1] != row]
    form_of = Form.NARROW if form in (Form.NARROW, Form.SLENDER) else Form.WIDE
    plain = form_of.glyph(one)
    assert told == [row for number, row in enumerate(plain) if number == 0 or plain[number - 1] != row]


@pytest.mark.parametrize("scale", [0, -1])
@pytest.mark.parametrize("text", ["", "A"])
def test_a_scale_below_one_is_refused(text: str, scale: int) -> None:
    for measure in (block_lines, width_cells, height_cells):
        with pytest.raises(ValueError, match="1 or more"):
            measure(text, scale)


def test_empty_text_is_empty_lines() -> None:
    assert can_draw("")
    assert width_cells("", 3) == 0
    assert block_lines("", 2) == ("",) * 7


@given(text=texts | accented_texts, scale=scales)
def test_lines_have_the_measures_announced_and_no_other_characters(text: str, scale: int) -> None:
    lines = block_lines(text, scale)

    assert len(lines) == height_cells(text, scale)
    assert {len(line) for line in lines} == {width_cells(text, scale)}
    assert set("".join(lines)) <= set(" ▀▄█")


@given(text=texts | accented_texts, scale=scales)
def test_scaling_repeats_every_pixel(text: str, scale: int) -> None:
    small = half_cells(block_lines(text, 1))
    large = half_cells(block_lines(text, scale))
    expected = ["".join(pixel * scale for pixel in row) for row in small for _ in range(scale)]

    shared = min(len(expected), len(large))
    assert large[:shared] == expected[:shared]
    assert not any("#" in row for row in large[shared:] + expected[shared:])
    assert width_cells(text, scale) == scale * width_cells(text, 1)


@given(one=texts.filter(bool), other=texts.filter(bool), scale=scales)
def test_joined_texts_are_as_wide_as_both_and_one_gap(one: str, other: str, scale: int) -> None:
    assert width_cells(one + other, scale) == width_cells(one, scale) + scale + width_cells(other, scale)


@given(text=st.text(max_size=40))
def test_any_text_is_either_drawn_or_refused(text: str) -> None:
    if can_draw(text):
        assert block_lines(text, 1)
    else:
        with pytest.raises(ValueError, match="no block letters"):
            block_lines(text, 1)
