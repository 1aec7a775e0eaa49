"""Strip and curve of the leads, read back from their characters: any runs, up to 12 canvases, any names and widths."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.review.fairness.report import report
from coach.review.fairness.run_times import RunTimes
from coach.screens.leads import axis_of, curve_rows, ruler, strip_rows
from coach.screens.log.fairness_page import fairness_page
from tests.simulated_runs import THREE, TWO, Truth, one_run

LONG = ("Attic", "会堂の長い名前の画布ですよ", "x" * 90, *"ABCDEFGHI")


def shared(truth: Truth, seed: int = 3) -> tuple[RunTimes, ...]:
    return truth.painted(seed)


def cells_led(row: str, label: int) -> int:
    return row[label + 1 :].count("▀")


@given(st.integers(1, 200), st.integers(1, 15), st.integers(30, 190), st.integers(0, 99))
@settings(max_examples=40)
def test_every_column_belongs_to_one_canvas_and_bars_are_as_long_as_the_minutes_led(
    count: int, passes: int, width: int, seed: int
) -> None:
    runs = shared(Truth(runs=count, passes=passes, lead=lambda no: no % 2), seed)
    axis = axis_of(runs, TWO, width)
    hall, school = (row.ljust(width + 7) for row in strip_rows(axis, TWO, 6))

    assert len(axis) <= width
    assert all((top, bottom).count("▀") == (column is not None) for top, bottom, column in zip(
        hall[7:], school[7:], axis, strict=False))  # fmt: skip
    assert [column.run_no for column in axis if column is not None] == sorted(
        column.run_no for column in axis if column is not None
    )
    if width > 3 * count:
        minutes = sum(run.mean_min for run in runs if run.order[0] == "Hall")
        share = minutes / sum(run.mean_min for run in runs)
        assert cells_led(hall, 6) / (cells_led(hall, 6) + cells_led(school, 6)) == pytest.approx(share, abs=0.2)


def test_the_ruler_names_a_pass_where_it_begins_and_leaves_out_what_has_no_room() -> None:
    runs = [one_run(TWO, (10, 10), name) for name in ("eyes", "nose", "chin") for _ in range(3)]

    assert ruler(runs, axis_of(runs, TWO, 32), 6) == "       eyes       nose       chin"
    assert ruler(runs, axis_of(runs, TWO, 11), 6) == "       eyes nose"


def heights(rows: list[str], label: int) -> list[tuple[int, int]]:
    """Return how many half cells the lines lie above and below the rule at most, column by column."""
    rule = next(no for no, row in enumerate(rows) if row.startswith("even"))
    columns = list(zip(*(row[label + 1 :].ljust(80) for row in rows), strict=True))
    found = []
    for column in columns:
        halves = {2 * (rule - y) + half for y, sign in enumerate(column) for half in HALVES.get(sign, ())}
        far = [half + (half >= 0) for half in halves]
        found.append((max([0, *far]), -min([0, *far])))
    return found


HALVES = {"█": (0, -1), "▀": (0,), "▄": (-1,)}
"""Half cells that a sign fills, from the middle of its line up."""


def test_the_curve_rises_where_the_first_canvas_leads_and_falls_where_the_other_does() -> None:
    runs = [one_run(TWO if no < 4 else TWO[::-1], (10, 10)) for no in range(12)]
    rows = curve_rows(runs, axis_of(runs, TWO, 24), TWO, 11, 9)
    level = heights(rows, 11)[1:24:2]

    assert rows[0].startswith("Hall +40 ")
    assert rows[-1].startswith("School +40 ")
    assert [above for above, _ in level] == [2, 4, 7, 9, 7, 4, 2, 0, 0, 0, 0, 0]
    assert [below for _, below in level] == [0] * 8 + [2, 4, 7, 9]


def test_of_three_canvases_there_is_a_line_for_most_and_one_for_least() -> None:
    runs = [one_run((THREE[no % 3], *(n for n in THREE if n != THREE[no % 3])), (9, 9, 9)) for no in range(9)]
    level = heights(curve_rows(runs, axis_of(runs, THREE, 18), THREE, 12, 6), 12)[1:18:2]

    assert level[2] == level[5] == level[8] == (0, 0)
    assert min(above + below for above, below in (level[0], level[1], level[3])) > 6


def test_a_canvas_that_takes_no_part_in_a_run_leads_nothing_there() -> None:
    runs = [one_run(("North", "Mill"), (10, 9)), one_run(("Mill", "Harbour", "North"), (10, 9, 9))]

    assert [row[8:].strip() for row in strip_rows(axis_of(runs, THREE, 2), THREE, 7)] == ["▀", "", "▀"]


@given(
    st.lists(st.permutations(LONG), min_size=1, max_size=40),
    st.integers(2, 12),
    st.integers(1, 220),
    st.integers(1, 70),
)
@settings(max_examples=20, deadline=None)
def test_the_page_fits_any_screen(orders: list[list[str]], count: int, columns: int, lines: int) -> None:
    names = LONG[:count]
    runs = [
        RunTimes(
            pass_name=f"pass {no // 9} of 会堂",
            run_no=no + 1,
            order=tuple(name for name in order if name in names),
            minutes=tuple(range(1, count + 1)),
            planned_min=9,
        )
        for no, order in enumerate(orders)
    ]
    page = fairness_page(report(runs, to_come=3, canvases=names), runs, None, columns, lines)

    assert 1 <= len(page) <= lines
    assert max(cell_len(line.text) for line in page) <= max(columns, 2)
    if columns >= 80 and lines >= 40:
        texts = [line.text for line in page]
        assert any(text.startswith("minutes ") and text.endswith(", as you went") for text in texts)
        assert all(sum(text.startswith(name[:5]) for text in texts) for name in names)


def test_gaps_are_between_passes_only() -> None:
    runs = shared(Truth(runs=20, passes=4))
    axis = axis_of(runs, TWO, 60)
    around = [(axis[no - 1], axis[no + 1]) for no, column in enumerate(axis) if column is None]

    assert len(around) == 3
    assert all(
        one is not None and other is not None and runs[one.run_no].pass_name != runs[other.run_no].pass_name
        for one, other in around
    )
    inner = [(one, other) for one, other in pairwise(axis) if one is not None and other is not None]
    assert all(runs[one.run_no].pass_name == runs[other.run_no].pass_name for one, other in inner)
