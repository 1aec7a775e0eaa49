"""The tired hours by hand, by their identity, and minute by minute."""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.limits.tired_hours import Stint, late_apart_frac, tired_hours, tired_sentences, tired_table

MIN = 60_000
BLOCK = 50 * MIN
STINTS = st.lists(
    st.tuples(st.sampled_from(["Hall", "School", "Mill"]), *[st.integers(0, 400)] * 2, st.integers(0, 200)), max_size=8
)


def stint(canvas: str, day_min: int, block_min: int, worked_min: int) -> Stint:
    return Stint(canvas=canvas, day_ms=day_min * MIN, block_ms=block_min * MIN, worked_ms=worked_min * MIN)


def whole(*figures: int) -> list[Fraction]:
    return [Fraction(figure) for figure in figures]


def test_hours_halves_and_exposure_by_hand() -> None:
    """Facts of the order, part 2 H2: 20 min from rested, then 30; their middles are at 10 and 35 min."""
    hall, school = tired_hours([stint("Hall", 50, 0, 20), stint("School", 230, 20, 30)], block_ms=BLOCK)

    assert hall.minutes_by_hour == (10, 10, 0, 0, 0)
    assert school.minutes_by_hour == (0, 0, 0, 10, 20)
    assert (hall.first_half_minutes, hall.second_half_minutes) == (20, 0)
    assert (school.first_half_minutes, school.second_half_minutes) == (5, 25)
    assert [hall.late_frac, school.late_frac] == [Fraction(0), Fraction(2, 3)]
    assert [hall.exposure_min2, hall.mean_worked_minutes] == whole(200, 10)
    assert [school.exposure_min2, school.mean_worked_minutes] == whole(1050, 35)


@settings(max_examples=50, deadline=None)
@given(st.lists(st.tuples(st.sampled_from([1, -1]), st.integers(1, 60)), min_size=1, max_size=20))
def test_runs_painted_back_to_back_differ_by_the_signed_squares_of_their_minutes(runs: list[tuple[int, int]]) -> None:
    """E_B - E_A = sum s_i * t_i^2, s_i = +1 where A leads (facts of the order, part 2 H2)."""
    stints, worked_min = [], 0
    for sign, minutes in runs:
        for canvas in "AB" if sign > 0 else "BA":
            stints.append(stint(canvas, worked_min, worked_min, minutes))
            worked_min += minutes
    found = {share.canvas: share.exposure_min2 for share in tired_hours(stints, block_ms=BLOCK)}

    assert found["B"] - found["A"] == sum(sign * minutes**2 for sign, minutes in runs)


@settings(max_examples=80, deadline=None)
@given(records=STINTS)
def test_every_figure_is_that_of_a_count_minute_by_minute(records: list[tuple[str, int, int, int]]) -> None:
    shares = tired_hours([stint(*record) for record in records], block_ms=BLOCK)

    for share in shares:
        mine = [(day, block, m) for name, day, block, worked in records if name == share.canvas for m in range(worked)]
        for hour, minutes in enumerate(share.minutes_by_hour):
            assert minutes == sum((day + m) // 60 == hour for day, _, m in mine)
        assert share.first_half_minutes == sum(block + m < 25 for _, block, m in mine)
        assert share.first_half_minutes + share.second_half_minutes == len(mine)
        assert share.late_frac == Fraction(sum(day + m >= 240 for day, _, m in mine), len(mine))
        assert share.exposure_min2 == sum(block + m + Fraction(1, 2) for _, block, m in mine)
    assert {share.canvas for share in shares} == {name for name, _, _, worked in records if worked}
    assert len({len(share.minutes_by_hour) for share in shares}) <= 1


def test_the_late_hours_are_as_far_apart_as_the_two_canvases_that_differ_most() -> None:
    stints = [stint("Hall", 0, 0, 100), stint("School", 220, 0, 40), stint("Mill", 230, 0, 40)]
    shares = tired_hours(stints, block_ms=BLOCK)

    assert [share.late_frac for share in shares] == [Fraction(0), Fraction(1, 2), Fraction(3, 4)]
    assert late_apart_frac(shares) == Fraction(3, 4)
    late, unbroken = tired_sentences(shares)
    assert late.endswith("the fourth hour of a day: Hall 0 %, School 50 %, Mill 75 % of a canvas's time.")
    assert unbroken.endswith("while a canvas was painted: Hall 50.0 min, School 20.0 min, Mill 20.0 min.")


def test_the_table_has_a_column_for_each_hour_and_half() -> None:
    shares = tired_hours([stint("Hall", 50, 0, 20), stint("School", 70, 20, 30)], block_ms=BLOCK)

    assert tired_table(shares) == (
        ("canvas", "hour 1", "hour 2", "first half of a block", "second half"),
        ("Hall", "10", "10", "20", "0"),
        ("School", "0", "30", "5", "25"),
    )


@pytest.mark.parametrize(
    ("stints", "said"),
    [
        ([], "Nothing is painted yet, so no canvas had the tired hours."),
        ([stint("Hall", 0, 0, 0)], "Nothing is painted yet, so no canvas had the tired hours."),
        ([stint("Hall", 0, 0, 240)], "No canvas was worked on after the fourth hour of a day."),
        ([stint("Hall", 0, 0, 480)], "Painted after the fourth hour of a day: Hall 50 % of a canvas's time."),
    ],
)
def test_where_there_is_nothing_to_share_that_is_said(stints: list[Stint], said: str) -> None:
    shares = tired_hours(stints, block_ms=BLOCK)

    assert tired_sentences(shares)[0] == said
    assert late_apart_frac(shares) == 0
    assert len(tired_table(shares)) == (2 if shares else 0)
