"""Which limits are passed, the gravest first, and what the painter's answers do to them."""

from typing import Final, NamedTuple

from coach.limits.hours import Hours
from coach.limits.rule_table import RULES, Grade, Key, Rule
from coach.plan.commission import Limits

MORE_MS: Final = 10 * 60 * 1000
"""What the answer "ten more minutes" grants."""

_ONLY_AT_WORK: Final = (Key.BETWEEN_DAYS, Key.FREE_STRETCH)
"""Time off is not too short while it still lasts."""


class Passed(NamedTuple):
    """A limit that is passed.

    Attributes:
        key: What it is about.
        grade: How gravely it speaks.
        so_far_ms: What it has come to, in milliseconds.
        limit_ms: Where the limit of this grade lies, in milliseconds.
    """

    key: Key
    grade: Grade
    so_far_ms: int
    limit_ms: int


class Answers(NamedTuple):
    """What the painter has answered; each answer lapses by itself.

    Attributes:
        granted_ms: How much later the end of the block is said, in milliseconds.
        block_no: The block it was granted in.
        silenced: What is not to be said again today, each with the grade up to which it is silent.
        day_no: The day it was silenced on.
    """

    granted_ms: int = 0
    block_no: int = 0
    silenced: frozenset[tuple[Key, Grade]] = frozenset()
    day_no: int = 0


NO_ANSWERS: Final = Answers()


def reached(limits: Limits, hours: Hours, answers: Answers = NO_ANSWERS) -> tuple[Passed, ...]:
    """Return the limits that are passed, each in its gravest grade, the gravest first.

    Args:
        limits: The plan's limits.
        hours: The account so far.
        answers: What the painter has answered; what is silenced or put off is left out.
    """
    gravest: dict[Key, Passed] = {}
    for rule in RULES:
        passed = _passed(rule, limits, hours)
        if passed and _speaks(passed, hours, answers):
            gravest[rule.key] = passed
    return tuple(sorted(gravest.values(), key=lambda passed: -passed.grade))


def ten_more(answers: Answers, limits: Limits, hours: Hours) -> Answers:
    """Return the answers with ten more minutes for the block, from its end or, where that is past, from now."""
    granted_ms = block_granted_ms(hours, answers)
    over_ms = hours.block_ms - limits.block_s * 1000
    return answers._replace(granted_ms=max(granted_ms, over_ms) + MORE_MS, block_no=hours.block_no)


def not_today(answers: Answers, passed: Passed, hours: Hours) -> Answers:
    """Return the answers with one limit silent for today up to the grade it has now."""
    before = answers.silenced if answers.day_no == hours.day_no else frozenset()
    return answers._replace(silenced=before | {(passed.key, passed.grade)}, day_no=hours.day_no)


def block_granted_ms(hours: Hours, answers: Answers) -> int:
    """Return how much later the end of this block is said, in milliseconds."""
    return answers.granted_ms if answers.block_no == hours.block_no else 0


def limit_ms(rule: Rule, limits: Limits) -> int:
    """Return where a rule's limit lies, in milliseconds."""
    figures_s: list[int] = [getattr(limits, field) for field in rule.fields]
    if rule.at_s is not None:
        figures_s.append(rule.at_s)
    return 1000 * (min(figures_s) if rule.is_least else max(figures_s))


def _passed(rule: Rule, limits: Limits, hours: Hours) -> Passed | None:
    so_far_ms: int | None = getattr(hours, rule.so_far)
    if so_far_ms is None or (hours.is_off and rule.key in _ONLY_AT_WORK):
        return None
    at_ms = limit_ms(rule, limits)
    is_passed = so_far_ms < at_ms if rule.is_least else so_far_ms >= at_ms
    return Passed(key=rule.key, grade=rule.grade, so_far_ms=so_far_ms, limit_ms=at_ms) if is_passed else None


def _speaks(passed: Passed, hours: Hours, answers: Answers) -> bool:
    if passed.key is Key.BLOCK and passed.so_far_ms < passed.limit_ms + block_granted_ms(hours, answers):
        return False
    return answers.day_no != hours.day_no or not any(
        passed.key is key and passed.grade <= grade for key, grade in answers.silenced
    )
