"""The printed order of work: shape of the JSON, alternation, rotation, comparison of strategies."""

import datetime as dt
from collections import Counter
from pathlib import Path

import pytest

from coach.order.request import Strategy
from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.review.order_table import (
    COMPARED_COLUMNS,
    balance_lines,
    compared_line,
    compared_rows,
    plain_compared,
    plain_order,
    turn_rows,
    waiting_line,
)
from coach.session.work import work_of
from tests.sittings import TWO_CANVASES

PLANS = Path(__file__).parents[2] / "plans"


def plan_named(name: str, order: str | None = None) -> Plan:
    return read_plan((PLANS / name).read_text(encoding="utf-8"), name)._replace(order=order)


def test_json_has_canvases_turns_and_balance() -> None:
    order = plain_order(work_of(read_plan(TWO_CANVASES, "plan.yaml"), {}))

    assert order["canvases"] == ["Hall", "School"]
    assert order["turns"][0] == {  # type: ignore[index]
        "turn": 1,
        "pass": "eyes",
        "run": 1,
        "passages": ["socket shadow", "upper lid"],
        "canvas": "Hall",
        "place": 1,
        "minutes": 23.0,
    }
    balance = order["balance"]
    assert isinstance(balance, dict)
    assert balance["leads"] == {"Hall": 3, "School": 2}
    assert balance["lead_minutes"] == {"Hall": 37.0, "School": 22.0}
    assert (balance["longest_streak"], balance["moves"]) == (1, 5)
    assert balance["by_pass"]["nose"]["leads"] == {"Hall": 1, "School": 1}


def test_a_snake_alternates_the_lead_run_by_run() -> None:
    """AB/BA counterbalancing; Woodworth and Schlosberg, Experimental Psychology, 1954 (from memory)."""
    work = work_of(plan_named("orchard-keeper.yaml", "snake"), {})
    leads = [order[0] for order in work.orders]

    assert leads == [leads[0] if no % 2 == 0 else 1 - leads[0] for no in range(25)]


def test_a_rotation_gives_every_canvas_every_place_equally_often() -> None:
    """Cyclic Latin square: each canvas once in each row and column; Fisher and Yates, 1934 (from memory)."""
    work = work_of(plan_named("ferry-sisters.yaml", "rotation"), {})
    places = Counter((canvas, place) for order in work.orders for place, canvas in enumerate(order))

    assert set(places.values()) == {9}


@pytest.mark.parametrize("name", ["orchard-keeper.yaml", "ferry-sisters.yaml", "evening-study.yaml"])
@pytest.mark.parametrize("strategy", list(Strategy))
def test_every_strategy_paints_every_passage_once_on_every_canvas(name: str, strategy: Strategy) -> None:
    plan = plan_named(name, strategy.value)
    rows = turn_rows(work_of(plan, {}))
    painted = Counter((row[1], passage, row[4]) for row in rows for passage in row[3].split(" + "))

    expected = {
        (one.name, p.name, canvas.name) for one in plan.passes for p in one.passages for canvas in plan.canvases
    }
    assert set(painted) == expected
    assert set(painted.values()) == {1}


def test_the_default_is_balanced_better_than_a_fixed_lead_and_says_its_guarantee() -> None:
    plan = plan_named("orchard-keeper.yaml")
    works = ((strategy, work_of(plan._replace(order=strategy.value), {})) for strategy in Strategy)
    apart = {row[0]: float(row[4]) for row in compared_rows(works)}

    assert apart["fixed"] == 100
    assert apart["balanced snake"] <= 2
    assert any(
        line.startswith("balanced snake: The least possible excess") for line in balance_lines(work_of(plan, {}))
    )


def test_the_comparison_has_the_same_figures_as_values_and_as_texts() -> None:
    plan = read_plan(TWO_CANVASES, "plan.yaml")
    works = [(strategy, work_of(plan._replace(order=strategy.value), {})) for strategy in Strategy]
    rows = {row[0]: row for row in compared_rows(iter(works))}

    for plain in plain_compared(iter(works)):
        assert tuple(plain) == COMPARED_COLUMNS
        row = rows[str(plain["order"])]
        assert isinstance(plain["leads"], dict)
        assert row[1] == "/".join(map(str, plain["leads"].values()))
        assert (row[2], row[6], row[7]) == (str(plain["apart"]), str(plain["streak"]), str(plain["moves"]))


def test_a_run_on_one_canvas_has_no_lead() -> None:
    work = work_of(read_plan(TWO_CANVASES, "plan.yaml"), {}, absent=frozenset({1}))
    balance = plain_order(work)["balance"]

    assert isinstance(balance, dict)
    assert balance["leads"] == {"Hall": 0, "School": 0}
    assert balance["lead_minutes"] == {"Hall": 0.0, "School": 0.0}
    assert balance_lines(work)[0] == "whole work: nobody leads; 0 moves between canvases"


def test_a_plan_in_batches_says_what_its_guarantee_counts_as_a_run() -> None:
    plan = read_plan(TWO_CANVASES, "plan.yaml")._replace(batch=3)

    assert str(plain_order(work_of(plan, {}))["guarantee"]).endswith("up to 3, count as one run here.")


def test_the_comparison_ends_in_a_sentence_that_names_the_order_in_force_the_most_even_and_the_calmest() -> None:
    plan = plan_named("orchard-keeper.yaml", "fixed")
    works = [(strategy, work_of(plan._replace(order=strategy.value), {})) for strategy in Strategy]
    told = compared_line(plan, works)

    assert told.startswith("In force is fixed (100.0 % apart, 49 moves). Most even is balanced snake (0.8 % apart,")
    assert "the fewest moves has" in told
    assert "25 moves" in told


def test_a_canvas_that_is_away_is_said_to_wait() -> None:
    plan = plan_named("orchard-keeper.yaml", "snake")._replace(away=(("School", dt.date(2027, 2, 1)),))

    assert waiting_line(plan, dt.date(2027, 1, 31)).startswith("School is away until 2027-02-01: its turns wait")
    assert waiting_line(plan, dt.date(2027, 2, 1)) == ""
