"""Runs taken while others dry, on calendars worked by hand."""

import pytest

from coach.forecast.answer import forecast_of
from coach.forecast.dry_first import dry_first
from coach.forecast.outlook import Outlook
from coach.plan.commission import Passage, Plan
from coach.plan.delivery import Approval, Forecast
from tests.forecast.made import HOUR_S, MONDAY, plan_of, turns_of


def layered(*others: Passage) -> Plan:
    """Return a plan with a layer over burnt umber (1 to 3 d, trade facts B3), and other work after it."""
    return plan_of(
        ("face", (Passage("cheek", 3 * HOUR_S, mixture="umber"),)),
        ("glaze", (Passage("blush", 3 * HOUR_S, mixture="white", over=("face", "cheek")),)),
        *((("hair", others),) if others else ()),
    )._replace(forecast=Forecast(is_spread=False))


HAIR = tuple(Passage(name, 3 * HOUR_S, mixture="white") for name in ("fringe", "crown", "nape"))


def test_other_runs_fill_the_days_of_drying() -> None:
    """Six hours a day.

    As planned: cheek on Monday, blush on Thursday, hair on Friday, Monday and Tuesday. Else: hair on Tuesday and
    Wednesday, then, since the cheek is dry, blush on Thursday, and the last of the hair on Friday.
    """
    plan = layered(*HAIR)
    found = dry_first(plan, Outlook(MONDAY, turns_of(plan)))

    assert found is not None
    assert found.saved_days == 2
    assert found.sentence == (
        "Painting other runs first while layers dry saves 2 working days: fringe (hair) before blush (glaze), "
        "and so on; who leads each run stays as it is."
    )


def test_the_forecast_says_so_and_changes_nothing() -> None:
    plan = layered(*HAIR)
    outlook = Outlook(MONDAY, turns_of(plan))
    answer = forecast_of(plan, outlook)

    assert any(
        own.startswith("Painting other runs first while layers dry saves 2 working days") for own in answer.remarks
    )
    assert answer.last_stroke.p80 is not None
    assert (answer.last_stroke.p80 - MONDAY).days == 8


@pytest.mark.parametrize(
    "plan",
    [
        layered(),
        layered(Passage("shine", HOUR_S, over=("glaze", "blush"))),
        layered(Passage("shine", HOUR_S, into=("glaze", "blush"))),
        layered(*HAIR)._replace(approval=(Approval("face", 3),)),
        layered(*HAIR)._replace(batch=2),
        plan_of(("face", HAIR)),
    ],
    ids=["nothing else", "over the layer", "into the layer", "the client answers", "batches", "no layers"],
)
def test_nothing_is_offered_where_nothing_can_be_taken_earlier(plan: Plan) -> None:
    assert dry_first(plan, Outlook(MONDAY, turns_of(plan))) is None


def test_a_run_is_never_begun_before_what_it_lies_over_is_painted() -> None:
    plan = layered(*HAIR, Passage("shine", HOUR_S, mixture="white", over=("hair", "fringe")))
    found = dry_first(plan, Outlook(MONDAY, turns_of(plan)))
    assert found is not None
    assert found.taken.passages == ("fringe",)
