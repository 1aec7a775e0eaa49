"""Paint that meets paint: met wet (trade facts B5.4 and B2.11), or painted over when dry (B5)."""

import datetime as dt

import pytest

from coach.forecast.calendar import day_after
from coach.forecast.drying import paint_of
from coach.forecast.layers import Openness, dry_days, layer_warnings, layers_of, open_time
from coach.plan.commission import Passage, Plan
from tests.forecast.made import plan_of

HOUR_S = 3600


def layered(below: str | None, above: str | None) -> Plan:
    return plan_of(
        ("face", (Passage("cheek", mixture=below),)),
        ("glaze", (Passage("blush", mixture=above, over=("face", "cheek")),)),
    )


def test_a_passage_may_be_painted_over_another_when_that_is_dry_by_the_slow_end() -> None:
    plan = layered("umber", "white")
    layer = layers_of(plan)[0]
    found = dry_days(paint_of(plan, layer.below[1]), dt.date(2026, 11, 30))
    assert found == (dt.date(2026, 12, 1), dt.date(2026, 12, 3))


def test_fast_over_slow_is_warned_of_by_name() -> None:
    """Trade facts B5.1: faster-drying paint goes under, never over, slower."""
    found = layer_warnings(layered("crimson", "umber"))[0]
    assert found.startswith("Fast over slow: blush (glaze) dries in up to 3 d and lies over cheek (face)")


def test_lean_over_fat_is_warned_of_by_name() -> None:
    """Trade facts B5.2: each layer at least as rich in oil as the one below."""
    found = layer_warnings(layered("white", "umber"))
    assert any(own.startswith("Lean over fat: the mixture of blush (glaze) is lean") for own in found)


def test_alkyd_written_today_goes_over_the_oil_that_lies_there() -> None:
    """Trade facts B5.1; B2.11: alkyd is dry within a day. Only the canvas that is painted has oil below."""
    plan = layered("white", "white")
    canvas = plan.canvases[0].name
    painted = {("face", "cheek", canvas): paint_of(plan, plan.passes[0].passages[0])}
    alkyd = plan._replace(forecast=plan.forecast._replace(medium="alkyd"))

    assert layer_warnings(alkyd) == ()
    (found,) = layer_warnings(alkyd, painted)
    assert found.startswith("Fast over slow: blush (glaze) dries in up to 1 d and lies over cheek (face)")
    assert found.endswith(f"may crack (on {canvas}).")


def test_a_mixture_that_was_fat_when_it_was_laid_stays_fat() -> None:
    """Trade facts B5.2."""
    plan = layered("white", "white")
    painted = {
        ("face", "cheek", canvas.name): paint_of(plan, plan.passes[0].passages[0])._replace(oil="fat")
        for canvas in plan.canvases
    }
    upper = plan.mixture_named("white")
    assert upper is not None
    lean = plan._replace(mixtures=(upper._replace(oil="lean"),))
    assert layer_warnings(lean) == ()
    assert [own[:14] for own in layer_warnings(lean, painted)] == ["Lean over fat:"]


@pytest.mark.parametrize(("below", "above"), [("umber", "white"), ("white", "crimson"), ("umber", None), (None, None)])
def test_slow_over_fast_and_fat_over_lean_are_left_alone(below: str | None, above: str | None) -> None:
    assert layer_warnings(layered(below, above)) == ()


def test_a_passage_painted_into_another_is_no_layer() -> None:
    plan = plan_of(
        ("face", (Passage("cheek", mixture="crimson"), Passage("blush", mixture="umber", into=("face", "cheek"))))
    )
    assert layers_of(plan) == ()
    assert layer_warnings(plan) == ()


def test_days_past_the_end_of_the_calendar_stay_on_its_last_day() -> None:
    assert day_after(dt.date(9999, 12, 30), 400) == dt.date.max
    assert day_after(dt.date(1, 1, 2), -400) == dt.date.min


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
