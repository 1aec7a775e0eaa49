"""Answers as painters might give them, for properties."""

import datetime as dt

from hypothesis import strategies as st

from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.feature_table import FEATURE_NAMED, FINENESSES
from coach.composition.proposal.palette_table import PALETTE_NAMED
from coach.composition.proposal.questions import QUESTIONS, AnswerFault, check_answer

TODAY = dt.date(2026, 11, 25)

NAMES = st.one_of(st.sampled_from(["no", "1", "1:30", "~", "# x", "Panel 1", "[a]", "ß"]), st.text(max_size=12))
TYPED = {
    "sitters": st.lists(NAMES, min_size=1, max_size=4).map(", ".join),
    "commission": NAMES,
    "count": st.integers(1, 12).map(str),
    "canvases": st.lists(NAMES, min_size=2, max_size=2).map(", ".join),
    "due": st.one_of(st.integers(1, 999).map(lambda days: f"{days} days"), st.dates(min_value=TODAY).map(str)),
    "week": st.one_of(st.integers(0, 120).map(lambda hours: f"{hours} h"), st.just("mon, tue: 1 min, sat-sun: 24 h")),
    "photo": NAMES,
    "heads": st.lists(st.lists(st.integers(0, 900), min_size=4, max_size=4), min_size=1, max_size=4).map(
        lambda boxes: "; ".join(",".join(map(str, box)) for box in boxes)
    ),
    "size": st.tuples(st.floats(2, 500), st.floats(2, 500)).map(lambda size: f"{size[0]:.3f} x {size[1]:.3f} cm"),
    "head": st.floats(1, 60).map(lambda height: f"{height:.2f} cm"),
    "palette": st.sampled_from(list(PALETTE_NAMED)),
    "features": st.lists(st.sampled_from(list(FEATURE_NAMED)), min_size=1).map(", ".join),
    "fineness": st.sampled_from(FINENESSES),
}
"""Texts that are often, but not always, taken, by the key of the question."""


@st.composite
def answers(draw: st.DrawFn) -> Answers:
    """Return what some texts leave, typed to some questions in some order."""
    said = default_answers(TODAY)
    for question in draw(st.permutations(QUESTIONS))[: draw(st.integers(0, len(QUESTIONS)))]:
        taken = check_answer(question, draw(TYPED[question.key]), said)
        said = said if isinstance(taken, AnswerFault) else taken
    return said
