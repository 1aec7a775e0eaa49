"""What was said outlasts leaving half way."""

import datetime as dt
import json

import pytest
from hypothesis import given

from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.kept_answers import answers_of, answers_plain
from coach.composition.proposal.questions import QUESTIONS, check_answer
from tests.composition.proposal.said import TODAY, answers

HALF_WAY = {"sitters": "elder, younger", "count": "3", "canvases": "North (1), Harbour (2), Mill (3)"}


@given(answers())
def test_what_was_said_comes_back_from_json(said: Answers) -> None:
    assert answers_of(json.loads(json.dumps(answers_plain(said))), TODAY) == said


@given(answers())
def test_what_is_shown_may_be_typed_again(said: Answers) -> None:
    for question in QUESTIONS:
        assert check_answer(question, question.shown(said), said) == said._replace(said=said.said | {question.key})


def test_leaving_half_way_keeps_what_was_said_and_nothing_else() -> None:
    back = answers_of(HALF_WAY, TODAY)

    assert answers_plain(back) == HALF_WAY
    assert [one.name for one in back.canvases] == ["North", "Harbour", "Mill"]
    assert back.fineness == default_answers(TODAY).fineness


def test_a_day_that_passed_meanwhile_counts_as_not_said() -> None:
    kept = HALF_WAY | {"due": "2026-12-24"}
    later = dt.date(2027, 1, 8)

    assert answers_of(kept, TODAY).due == dt.date(2026, 12, 24)
    assert answers_of(kept, later).due == dt.date(2027, 3, 5)
    assert "due" not in answers_of(kept, later).said


@pytest.mark.parametrize("plain", [None, [], "sitters", {"sitters": 3, "count": None, "week": "?", "else": "x"}])
def test_what_was_damaged_counts_as_not_said(plain: object) -> None:
    assert answers_of(plain, TODAY) == default_answers(TODAY)
