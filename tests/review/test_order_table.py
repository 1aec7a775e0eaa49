"""The printed order of work: shape of the JSON, names, figures, comparison of strategies."""

import datetime as dt
from collections import Counter
from pathlib import Path

import pytest

from coach.json_values import json_value
from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.plan.strategy import Strategy
from coach.review.order_table import (
    COMPARED_COLUMNS,
    ComparedOrder,
    balance_lines,
    compared,
    compared_lines,
    compared_rows,
    order_lines,
    order_report,
    waiting_line,
)
from coach.session.work import work_of
from coach.text import cells
from tests.sessions import TWO_CANVASES

PLANS = Path(__file__).parents[1] / "cases" / "plans"


def plan_named(name: str, order: str | None = None) -> Plan:
    return read_plan((PLANS / name).read_text(encoding="utf-8"), name)._replace(order=order)


def compared_of(plan: Plan) -> list[ComparedOrder]:
    return compared((strategy, work_of(plan._replace(order=strategy.value), {})) for strategy in Strategy)


def test_json_has_canvases_turns_and_balance() -> None:
    order = json_value(order_report(work_of(read_plan(TWO_CANVASES, "plan.yaml"), {})))

    assert isinstance(order, dict)
    assert list(order) == [
        "canvases",
        "order",
        "older_name",
        "seed",
        "guarantee",
        "turns",
        "balance",
        "remarks",
    ]
    assert (order["canvases"], order["order"], order["older_name"]) == (["Hall", "School"], "there and back", "snake")
    assert isinstance(order["turns"], list)
    assert order["turns"][0] == {
        "turn": 1,
        "pass": "eyes",
        "run": 1,
        "passages": ["socket shadow", "upper lid"],
        "canvas": "Hall",
        "place": 1,
        "minutes": 23.0,
        "painted": False,
        "check": "",
    }
    balance = order["balance"]
    assert isinstance(balance, dict)
    assert balance["leads"] == {"Hall": 3, "School": 2}
    assert balance["lead_minutes"] == {"Hall": 37.0, "School": 22.0}
    assert (balance["longest_streak"], balance["moves"]) == (1, 5)
    assert list(balance)[-3:] == ["apart_percent", "trend_percent", "by_pass"]
    assert balance["by_pass"]["nose"]["leads"] == {"Hall": 1, "School": 1}  # type: ignore[index,call-overload]


@pytest.mark.parametrize(
    ("written", "name", "older"),
    [(None, "even turns", None), ("by lot", "by lot", None), ("nested mirror", "even turns", "nested mirror")],
)
def test_the_order_is_called_by_its_present_name(written: str | None, name: str, older: str | None) -> None:
    report = order_report(work_of(plan_named("orchard-keeper.yaml", written), {}))

    assert (report.order, report.older_name) == (name, older)
    assert ('"nested mirror" is painted as even turns now.' in report.remarks) is (older == "nested mirror")


def test_there_and_back_alternates_the_lead_run_by_run() -> None:
    """AB/BA counterbalancing; Woodworth and Schlosberg, Experimental Psychology, 1954 (from memory)."""
    work = work_of(plan_named("orchard-keeper.yaml", "there and back"), {})
    leads = [order[0] for order in work.orders]

    assert leads == [leads[0] if no % 2 == 0 else 1 - leads[0] for no in range(len(leads))]


@pytest.mark.parametrize("name", ["orchard-keeper.yaml", "ferry-sisters.yaml", "evening-study.yaml"])
@pytest.mark.parametrize("strategy", list(Strategy))
def test_every_strategy_paints_every_passage_once_on_every_canvas(name: str, strategy: Strategy) -> None:
    plan = plan_named(name, strategy.value)
    report = order_report(work_of(plan, {}))
    painted = Counter((turn.pass_, passage, turn.canvas) for turn in report.turns for passage in turn.passages)

    expected = {
        (one.name, p.name, canvas.name) for one in plan.passes for p in one.passages for canvas in plan.canvases
    }
    assert set(painted) == expected
    assert set(painted.values()) == {1}


def test_the_default_ends_within_two_percent_and_says_what_it_is_good_for() -> None:
    plan = plan_named("orchard-keeper.yaml")
    apart = {one.order: one.apart_percent for one in compared_of(plan)}

    assert apart["always the same"] == 100
    assert apart["even turns"] <= 2
    assert any(
        line.startswith("even turns: For nearly every") for line in balance_lines(order_report(work_of(plan, {})))
    )


def test_the_comparison_has_the_same_figures_as_values_and_as_texts() -> None:
    found = compared_of(read_plan(TWO_CANVASES, "plan.yaml"))

    for one, row in zip(found, compared_rows(found), strict=True):
        assert len(row) == len(COMPARED_COLUMNS)
        assert row[:2] == (one.order, "/".join(map(str, one.leads.values())))
        assert row[2:] == (f"{one.apart_minutes:.0f}", f"{one.apart_percent:.1f}", str(one.streak), str(one.moves))
    assert list(found[0].__dataclass_fields__) == [
        "order",
        "leads",
        "apart",
        "apart_minutes",
        "apart_percent",
        "trend_percent",
        "streak",
        "moves",
    ]


@pytest.mark.parametrize("columns", [40, 80, 200])
def test_the_printed_order_fits_shows_every_run_once_and_breaks_no_word(columns: int) -> None:
    plan = plan_named("ferry-sisters.yaml")
    report = order_report(work_of(plan, {}))
    lines = order_lines(report, columns)
    assert max(map(cells, lines)) <= columns
    words = [word.strip(":,()+") for line in lines for word in line.split()]
    names = {word for turn in report.turns for name in (turn.canvas, *turn.passages) for word in name.split()}
    assert names <= set(words)
    assert sum(" min  " in line for line in lines) == len({(turn.pass_, turn.run) for turn in report.turns})


def test_the_leads_are_told_in_times() -> None:
    said = balance_lines(order_report(work_of(read_plan(TWO_CANVASES, "plan.yaml"), {})))
    assert said[0] == (
        "The whole work: Hall leads 3 times (37 min) and School leads 2 times (22 min), 15 min apart. "
        "No canvas leads more than 1 time on end; the palette changes canvas 5 times."
    )


def test_a_run_on_one_canvas_has_no_lead() -> None:
    report = order_report(work_of(read_plan(TWO_CANVASES, "plan.yaml"), {}, absent=frozenset({1})))

    assert report.balance.leads == {"Hall": 0, "School": 0}
    assert report.balance.lead_minutes == {"Hall": 0.0, "School": 0.0}
    assert balance_lines(report)[0] == "The whole work: nobody leads."


def test_the_comparison_ends_in_a_sentence_that_names_the_order_in_force_the_most_even_and_the_calmest() -> None:
    plan = plan_named("orchard-keeper.yaml", "fixed")
    said = compared_lines(plan, compared_of(plan))

    assert said[0].startswith("The plan is painted by always the same (")
    assert "Most even: even turns (" in said[0]
    assert "Fewest changes: there and back (" in said[0]
    assert len(said) == 6


def test_a_canvas_that_is_away_is_said_to_wait() -> None:
    plan = plan_named("orchard-keeper.yaml", "snake")._replace(away=(("School", dt.date(2027, 2, 1)),))

    assert waiting_line(plan, dt.date(2027, 1, 31)).startswith("School is away until 2027-02-01: its turns wait")
    assert waiting_line(plan, dt.date(2027, 2, 1)) == ""
