"""The account of hours, and the painter's answers, as lists, texts and numbers ready for JSON, and back."""

from typing import Any

from coach.limits.exceeded import Deferrals
from coach.limits.hours import Hours
from coach.limits.rule_table import Grade, Key


def plain_hours(hours: Hours) -> dict[str, Any]:
    """Return an account as plain values."""
    return dict(vars(hours))


def hours_of(plain: dict[str, Any]) -> Hours:
    """Return the account that `plain_hours` made plain.

    Raises:
        ValueError, TypeError, KeyError: It is not what `plain_hours` makes.
    """
    hours = Hours()
    for name in vars(hours):
        setattr(hours, name, plain[name])
    hours.stints = [(begin, end) for begin, end in plain["stints"]]
    return hours


def plain_answers(answers: Deferrals) -> list[Any]:
    """Return answers as plain values."""
    silenced = sorted((key.value, grade.value) for key, grade in answers.silenced)
    return [answers.granted_ms, answers.block_no, silenced, answers.day_no]


def answers_of(plain: list[Any]) -> Deferrals:
    """Return the answers that `plain_answers` made plain.

    Raises:
        ValueError, TypeError: They are not what `plain_answers` makes.
    """
    granted_ms, block_no, silenced, day_no = plain
    return Deferrals(
        granted_ms=granted_ms,
        block_no=block_no,
        silenced=frozenset((Key(key), Grade(grade)) for key, grade in silenced),
        day_no=day_no,
    )
