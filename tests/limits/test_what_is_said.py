"""What the Log says of looser limits, the cautions, and the average week."""

import re

import pytest

from coach.limits.cautions import DEFER, END_OF_SESSION, relaxed_limits
from coach.plan.commission import Limits
from coach.text import span

MIN = 60_000
H = 60 * MIN
LEAST = {"rest_s", "long_rest_s", "between_days_s", "free_stretch_s"}


def test_a_plan_that_keeps_the_yardstick_is_not_spoken_of() -> None:
    assert relaxed_limits(Limits()) == ()


def test_a_longer_day_is_said_with_the_yardstick_and_its_source() -> None:
    (said,) = relaxed_limits(Limits(day_s=10 * 3600))

    assert said.startswith("The plan allows 10 h of work a day; the yardstick is 8 h (Salminen 2016, ")
    assert said.endswith(").")


@pytest.mark.parametrize("field", [field for field in Limits._fields if field not in ("press_s", "meal_s")])
def test_each_limit_is_said_where_it_is_looser_and_not_where_it_is_stricter(field: str) -> None:
    figure_s: int = getattr(Limits(), field)
    looser_s, stricter_s = (figure_s - 1, figure_s + 1) if field in LEAST else (figure_s + 1, figure_s - 1)

    (said,) = relaxed_limits(Limits()._replace(**{field: looser_s}))
    assert f"the yardstick is {span(figure_s * 1000)} (" in said
    assert re.search(r"\d+ s\b", said)  # a second is not lost in whole minutes
    assert relaxed_limits(Limits()._replace(**{field: stricter_s})) == ()


def test_several_looser_limits_are_each_said_once() -> None:
    own = Limits(block_s=90 * 60, rest_s=45, between_days_s=9 * 3600)

    assert [said.split(";")[0] for said in relaxed_limits(own)] == [
        "The plan allows blocks of 1 h 30 min",
        "The plan allows rests of 45 s",
        "The plan allows 9 h off between two days",
    ]


def test_the_cautions_of_the_studio_defer_too_and_name_where_they_come_from() -> None:
    for caution in END_OF_SESSION:
        assert caution.text.endswith(DEFER)
        assert "!" not in caution.text
        assert caution.source
    assert "oily rags" in END_OF_SESSION[0].text
