"""What the Easel asks the painter, and the moves that Enter and Esc make of the answer. Pure."""

from collections.abc import Iterator
from typing import NamedTuple

from coach.limits.cautions import BODY, fact_of
from coach.limits.exceeded import ExceededLimit
from coach.limits.rule_table import Grade, Key
from coach.screens.easel import wording
from coach.screens.notice import Notice
from coach.session.situation import Situation

_GRADES = {Grade.NOTICE: "", Grade.CAUTION: "Caution: ", Grade.STRONG: "Strong caution: "}


class Ask(NamedTuple):
    """A notice with the names of the moves that answer it.

    Attributes:
        notice: What is said.
        yes: The move of Enter; empty takes the notice away.
        no: The move of Esc; empty takes the notice away.
    """

    notice: Notice
    yes: str = ""
    no: str = ""


def asks_of(situation: Situation) -> Iterator[Ask]:
    """Return what is asked, the gravest first."""
    for passed in situation.exceeded[:1]:
        yield _limit(passed)
    absence = situation.absence
    if absence is not None and (absence.ended_session or not absence.away_ms):
        yield Ask(Notice(wording.absence_line(absence), no="understood"))
    elif absence is not None:
        yield Ask(Notice(wording.absence_line(absence), "it was work", "it was not"), "count_away_as_work")
    for edge in situation.edges:
        says = wording.edge_line(edge)
        if edge.dry_from is not None:
            yield Ask(Notice(says, "another run first", "leave it"), "take_dry_run")
        else:
            yield Ask(Notice(says, no="understood"))
    if situation.forgotten is not None:
        yield Ask(Notice(wording.forgotten_line(situation.forgotten), "real minutes", "it is right"), "minutes")
    if situation.asked_dry is not None:
        yield Ask(Notice(wording.asked_line(situation.asked_dry), "dry", "still wet"), "find_dry", "find_wet")


def _limit(passed: ExceededLimit) -> Ask:
    said = f"{_GRADES[passed.grade]}{fact_of(passed)}"
    if passed.key is Key.BLOCK:
        return Ask(Notice(said, "rest", "ten more minutes"), "rest", "work_ten_more")
    return Ask(Notice(f"{said} {BODY}", no="not today"), no="silence_today")
