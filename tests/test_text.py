"""Text fitted into cells: nothing is wider than asked, nothing is lost, nothing steers a terminal."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.text import chopped, clock, cut, first_shown, padded, sanitized, span, table, wrapped

SOME_TEXT = st.text(st.characters(exclude_categories=["Cs", "Cc", "Mn", "Me", "Cf", "Zl", "Zp"]), max_size=60)


@given(SOME_TEXT, st.integers(1, 40))
def test_a_cut_or_padded_text_takes_the_cells_it_was_given(text: str, columns: int) -> None:
    assert cell_len(cut(text, columns)) <= columns
    assert cell_len(padded(text, columns)) == columns
    assert cell_len(padded(text, columns, right=True)) == columns


@given(SOME_TEXT, st.integers(4, 40))
def test_broken_text_fits_its_lines_and_loses_no_letter(text: str, columns: int) -> None:
    rows = wrapped(text, columns)
    assert all(cell_len(row) <= columns for row in rows)
    assert "".join("".join(rows).split()) == "".join(text.split())


@given(SOME_TEXT, st.integers(4, 40), st.integers(1, 5))
def test_text_on_too_few_lines_says_that_it_goes_on(text: str, columns: int, most: int) -> None:
    rows = wrapped(text, columns, most)
    assert len(rows) <= most
    assert rows == wrapped(text, columns) or rows[-1].endswith("…")


def test_a_long_text_without_spaces_is_broken_by_cells() -> None:
    note = "光の方向を左から右へ確かめる" * 9
    rows = wrapped(note, 40)
    assert max(map(cell_len, rows)) <= 40
    assert "".join(row.strip() for row in rows) == note
    assert chopped(note, 40)[0] == note[:20]


@given(st.integers(0, 99), st.integers(1, 100), st.integers(1, 40))
def test_the_window_holds_the_line_in_hand(number: int, count: int, lines: int) -> None:
    number = min(number, count - 1)
    first = first_shown(number, count, lines)
    assert first <= number < first + lines
    assert 0 <= first <= max(0, count - lines)


def test_a_table_keeps_its_columns_apart_and_breaks_what_is_too_wide() -> None:
    lines = table(["pass", "minutes"], [["eyes", "9"], ["clothing " * 6, "12"]], right=["minutes"], width=30)
    assert lines[0].split() == ["pass", "minutes"]
    assert lines[2].split() == ["eyes", "9"]
    assert {cell_len(line) for line in lines[:3]} == {30}
    assert max(map(cell_len, lines)) <= 30
    assert " ".join(lines).count("clothing") == 6


@pytest.mark.parametrize("width", [10, 20, 30, 44, 60, 80, 200])
def test_a_table_breaks_no_word_however_narrow_it_must_be(width: int) -> None:
    """A column squeezed below its longest word once stood as a pillar of letters."""
    columns = ["when", "pass", "passages and notes", "canvas"]
    rows = [["2027-01-15", "clothing", "forehead under the hair", "School"], ["", "eyes", "iris", ""]]
    lines = table(columns, rows, width=width)
    assert max(map(cell_len, lines)) <= width
    assert {"2027-01-15", "clothing", "forehead", "School", "iris"} <= {word for line in lines for word in line.split()}


def test_text_that_would_steer_a_terminal_is_shown_and_not_obeyed() -> None:
    assert sanitized("a\x1b[2Jb\tc\u202ed") == "a\ufffd[2Jb c\ufffdd"


@pytest.mark.parametrize(
    ("ms", "text"),
    [
        (0, "0:00"),
        (999, "0:00"),
        (61_000, "1:01"),
        (3_599_000, "59:59"),
        (3_600_000, "1:00:00"),
        (90_061_000, "25:01:01"),
    ],
)
def test_a_clock_shows_minutes_and_seconds_and_hours_from_an_hour_on(ms: int, text: str) -> None:
    assert clock(ms) == text


@pytest.mark.parametrize(
    ("ms", "text"),
    [
        (0, "0 s"),
        (45_000, "45 s"),
        (60_000, "1 min"),
        (3_599_000, "59 min"),
        (3_600_000, "1 h"),
        (11_100_000, "3 h 05 min"),
    ],
)
def test_a_span_is_told_in_whole_units(ms: int, text: str) -> None:
    assert span(ms) == text
