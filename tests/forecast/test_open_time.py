"""How long a neighbour can be met wet (trade facts B5.4 and B2.11; common practice)."""

import pytest

from coach.forecast.open_time import Openness, left_open_s, open_time

HOUR_S = 3600


@pytest.mark.parametrize(
    ("hours", "medium", "expected"),
    [
        (-1, "oil", Openness.WET),
        (0, "oil", Openness.WET),
        (7.99, "oil", Openness.WET),
        (8, "oil", Openness.SETS_SOON),
        (23.99, "oil", Openness.SETS_SOON),
        (24, "oil", Openness.SET),
        (3.99, "alkyd", Openness.WET),
        (4, "alkyd", Openness.SETS_SOON),
        (8, "alkyd", Openness.SET),
    ],
)
def test_oil_stays_open_for_the_day_and_alkyd_for_half_of_it(hours: float, medium: str, expected: Openness) -> None:
    assert open_time(hours * HOUR_S, medium) is expected


def test_what_is_left_of_the_open_time_ends_where_the_neighbour_is_set() -> None:
    assert left_open_s(20 * HOUR_S) == 4 * HOUR_S
    assert left_open_s(-HOUR_S, "alkyd") == 8 * HOUR_S
    assert left_open_s(30 * HOUR_S) == 0
