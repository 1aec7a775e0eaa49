"""What the Easel asks the painter, and the moves that Enter and Esc make of the answer. Pure."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from coach.limits.exceeded import ExceededLimit
from coach.limits.rule_table import Grade, Key
from coach.screens.easel import wording
from coach.screens.easel.state import ENDED_BY_A_REST, EaselState, absence_asked, easel_state
from coach.screens.notice import Notice
from coach.session.records import Phase
from coach.session.situation import Situation
from coach.session.wet_and_dry import WetEdge

TAKE_AWAY: Final = "take away"
"""Answers by no move: the notice is not shown again."""


class Ask(NamedTuple):
    """A notice with the names of the moves that answer it.

    Attributes:
        notice: What is said.
        yes: The move of Enter; empty where Enter has its usual meaning.
        no: The move of Esc, or `TAKE_AWAY`; empty for none.
    """

    notice: Notice
    yes: str = ""
    no: str = ""


def asks_of(situation: Situation, replies: Sequence[str], later: Sequence[str]) -> Iterator[Ask]:
    """Return what is to be said, the gravest first.

    Args:
        situation: The situation.
        replies: What the coach says to the last move, and why nothing is recorded where it is not.
        later: What can wait: a plan that could not be read, work of last time that is not saved.
    """
    yield from (Ask(Notice(text)) for text in replies)
    if easel_state(situation) in (EaselState.SESSION_OVER, EaselState.FINISHED) and situation.day_ms:
        yield _told(wording.RAGS)
    absence = absence_asked(situation)
    if absence is not None:
        says = Notice(wording.absence_line(absence), wording.PAINTED, wording.DID_NOT_PAINT)
        yield Ask(says, "count_away_as_work", TAKE_AWAY)
    # A rest that has just begun answers what called for it.
    said = [one for one in situation.exceeded if situation.phase is not Phase.RESTING or one.key not in ENDED_BY_A_REST]
    yield from (_limit(passed) for passed in said if passed.grade > Grade.NOTICE)
    yield from (_limit(passed) for passed in said if passed.grade == Grade.NOTICE)
    yield from map(_edge, situation.edges)
    if situation.asked_dry is not None:
        says = Notice(wording.asked_line(situation.asked_dry), wording.DRY, wording.STILL_WET)
        yield Ask(says, "find_dry", "find_wet")
    if situation.forgotten is not None:
        yield _told(wording.forgotten_line(situation.forgotten), wording.RIGHT)
    yield from map(_told, later)


def _told(text: str, answer: str = wording.PUT_AWAY) -> Ask:
    return Ask(Notice(text, no=answer), no=TAKE_AWAY)


def _limit(passed: ExceededLimit) -> Ask:
    if passed.key is Key.BLOCK:
        return Ask(Notice(wording.limit_line(passed), no=wording.TEN_MORE), no="work_ten_more")
    return Ask(Notice(wording.limit_line(passed), no=wording.NOT_TODAY), no="silence_today")


def _edge(edge: WetEdge) -> Ask:
    says = wording.edge_line(edge)
    if edge.dry_from is None:
        return _told(says)
    return Ask(Notice(says, wording.ANOTHER_FIRST, wording.LEAVE_IT), "take_dry_run", TAKE_AWAY)
