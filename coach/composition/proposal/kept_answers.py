"""Answers as plain texts and back, so that leaving half way keeps what was said."""

import datetime as dt
from collections.abc import Mapping

from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.questions import QUESTIONS, check_answer
from coach.composition.proposal.typed_text import AnswerFault


def answers_plain(answers: Answers) -> dict[str, str]:
    """Return what was said, as it would be typed, by the key of its question; ready for JSON."""
    return {question.key: question.shown(answers) for question in QUESTIONS if question.key in answers.said}


def answers_of(plain: object, today: dt.date) -> Answers:
    """Return the answers that `answers_plain` made plain.

    Every text is checked as if it were typed today: one that cannot be taken any more, such as a day that is past,
    counts as not said.

    Args:
        plain: What was kept; anything that is not a mapping of texts counts as nothing said.
        today: Today.
    """
    answers = default_answers(today)
    for question in QUESTIONS:
        text = plain.get(question.key) if isinstance(plain, Mapping) else None
        taken = check_answer(question, text, answers) if isinstance(text, str) else None
        if taken is not None and not isinstance(taken, AnswerFault):
            answers = taken
    return answers
