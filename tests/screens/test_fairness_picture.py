"""The picture of who led when: read back from its characters, at every width, with any names."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from coach.review.fairness.run_times import RunTimes
from coach.screens.log.fairness_picture import fairness_picture

HALL, SCHOOL = "Hall", "School"


def run(number: int, order: tuple[str, ...], minutes: tuple[float, ...], pass_name: str = "eyes") -> RunTimes:
    return RunTimes(pass_name=pass_name, run_no=number, order=order, minutes=minutes, planned_min=10)


def alternating(count: int) -> list[RunTimes]:
    orders = [(HALL, SCHOOL), (SCHOOL, HALL)]
    return [run(no + 1, orders[no % 2], (10, 8)) for no in range(count)]


def test_a_strip_shows_a_block_where_the_canvas_led_and_a_dot_where_it_followed() -> None:
    lines = fairness_picture(alternating(6), (HALL, SCHOOL), 80)

    assert "Hall         █  ·  █  ·  █  ·" in lines
    assert "School       ·  █  ·  █  ·  █" in lines


def test_a_run_without_a_canvas_leaves_its_mark_blank() -> None:
    runs = [run(1, ("North", "Mill"), (10, 9)), run(2, ("Mill", "Harbour", "North"), (10, 9, 9))]
    lines = fairness_picture(runs, ("North", "Harbour", "Mill"), 80)

    assert "Harbour    ·" in lines
    assert "North   █  ·" in lines


def test_many_runs_share_a_mark_whose_height_is_the_share_led() -> None:
    runs = [run(no + 1, (HALL, SCHOOL), (10, 8)) for no in range(200)]
    strips = [line for line in fairness_picture(runs, (HALL, SCHOOL), 40) if line.startswith((HALL, SCHOOL))]

    assert set(strips[0].removeprefix("Hall         ")) == {"█"}
    assert set(strips[1].removeprefix("School       ")) == {"·"}


def test_the_line_of_balance_rises_where_the_first_canvas_leads_and_falls_where_the_other_does() -> None:
    runs = [run(no + 1, (HALL, SCHOOL) if no < 4 else (SCHOOL, HALL), (10, 10)) for no in range(8)]
    lines = fairness_picture(runs, (HALL, SCHOOL), 80)
    at = next(no for no, line in enumerate(lines) if line.startswith("balance"))
    rows = lines[at + 1 : at + 8]
    height = {
        column // 3: no
        for no, row in enumerate(rows)
        for column, mark in enumerate(row[13:])  # behind the longest label, "School ahead "
        if mark in "▀▄"
    }

    assert rows[0].startswith("40 min")
    assert height[3] == 0
    assert rows[height[7]].startswith("0 ")
    assert height[3] < height[2] < height[0] < height[7]


def test_bars_are_as_long_as_the_minutes() -> None:
    lines = fairness_picture(alternating(6), (HALL, SCHOOL), 80)
    lead = next(line for line in lines if line.startswith("all lead"))
    follow = next(line for line in lines if "follow " in line and "─" in line)

    assert "10.0 min" in lead
    assert "8.0 min" in follow
    assert follow.count("─") == pytest.approx(0.8 * lead.count("━"), abs=1)


def test_nothing_is_drawn_while_no_run_was_shared() -> None:
    assert fairness_picture([run(1, (HALL,), (5,))], (HALL,), 80) == ()


@given(
    st.lists(st.permutations(["Attic", "会堂の長い名前の画布ですよ", "x" * 90]), min_size=1, max_size=120),
    st.integers(min_value=1, max_value=220),
)
def test_no_line_is_wider_than_the_screen(orders: list[list[str]], columns: int) -> None:
    runs = [run(no + 1, tuple(order), (9.0, 8.0, 300.0), f"pass {no // 9}") for no, order in enumerate(orders)]
    lines = fairness_picture(runs, ("Attic", "会堂の長い名前の画布ですよ", "x" * 90), columns)

    titles = {lines[0], *(line for line in lines if line.startswith("minutes "))}
    assert max(cell_len(line) for line in lines if line not in titles) <= max(40, columns)
    assert max(map(cell_len, titles)) <= 76
