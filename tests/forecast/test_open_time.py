"""How long a neighbour can be met wet (trade facts B5.4 and B2.11; common practice)."""

import pytest

from coach.forecast.layers import Openness, open_time

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
