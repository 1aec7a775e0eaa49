"""The questions about a new commission, in a painter's order, and what their answers mean."""

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from typing import Final, NamedTuple

from coach.composition.proposal import answer_reading as reading
from coach.composition.proposal.answers import Answers, default_answers
from coach.composition.proposal.feature_table import FEATURE_NAMED
from coach.composition.proposal.palette_table import PALETTES
from coach.errors import UsageError
from coach.plan.commission import MarkedBox
from coach.plan.units import size_text
from coach.plan.value_types import WrongValueError
from coach.plan.writing import week_fields


class AnswerFault(NamedTuple):
    """Why an answer cannot be taken, in one sentence with a way out."""

    sentence: str


class Question(NamedTuple):
    """One question.

    Attributes:
        key: Its name.
        asks: The question, as a painter would ask it.
        hint: How it may be answered.
        read: Takes a text into the answers, or raises why it cannot.
        shown: The answer as it stands, as a text that may be typed.
        is_asked: Whether it is asked at all, by what was said before.
    """

    key: str
    asks: str
    hint: str
    read: Callable[[str, Answers], Answers]
    shown: Callable[[Answers], str]
    is_asked: Callable[[Answers], bool] = lambda _: True


def boxes_text(boxes: Iterable[MarkedBox]) -> str:
    """Return boxes as they may be typed; `none` for none."""
    return "; ".join(",".join(map(str, box)) for box in boxes) or "none"


def canvases_text(answers: Answers) -> str:
    """Return the canvases as they may be typed: without their places where those are the usual ones."""
    names = ", ".join(one.name for one in answers.canvases)
    try:
        is_usual = reading.read_canvases(names, answers).canvases == answers.canvases
    except WrongValueError:
        is_usual = False
    return names if is_usual else ", ".join(f"{one.name} ({one.place})" for one in answers.canvases)


QUESTIONS: Final = (
    Question(
        key="sitters",
        asks="Who sits for it?",
        hint="a name, or several with commas: elder, younger",
        read=reading.read_sitters,
        shown=lambda answers: ", ".join(answers.sitters),
    ),
    Question(
        key="photo",
        asks="Which photo do you paint from?",
        hint="name of its file, or none for now",
        read=reading.read_photo,
        shown=lambda answers: answers.photo or "none",
    ),
    Question(
        key="heads",
        asks="Where is the head of each, from crown to chin?",
        hint="draw round it with the mouse, or type left,top,right,bottom in pixels; or none",
        read=reading.read_heads,
        shown=lambda answers: boxes_text(head.box for head in answers.heads),
        is_asked=lambda answers: answers.photo is not None,
    ),
    Question(
        key="commission",
        asks="What is the commission called?",
        hint="any name",
        read=reading.read_title,
        shown=lambda answers: answers.commission,
    ),
    Question(
        key="count",
        asks="How many canvases?",
        hint="1 to 12",
        read=reading.read_count,
        shown=lambda answers: str(len(answers.canvases)),
    ),
    Question(
        key="canvases",
        asks="What are they called, and where do they stand?",
        hint="names with commas, from left to right; or each with its place: Hall (left), School (right)",
        read=reading.read_canvases,
        shown=canvases_text,
    ),
    Question(
        key="due",
        asks="When must they be handed over?",
        hint="a day such as 20 March 2027, or 8 weeks",
        read=reading.read_due,
        shown=lambda answers: f"{answers.due.day} {answers.due:%B %Y}",
    ),
    Question(
        key="week",
        asks="How many hours a week do you paint?",
        hint="25 h, or day by day: mon-fri: 5 h, sat: 3 h",
        read=reading.read_week,
        shown=lambda answers: ", ".join(f"{days}: {hours}" for days, hours in week_fields(answers.week_s).items()),
    ),
    Question(
        key="size",
        asks="How large is each canvas?",
        hint="width x height: 50 x 60 cm, 16 x 20 in; or 30 figure, 30 figure lying",
        read=reading.read_size,
        shown=lambda answers: size_text(answers.size),
    ),
    Question(
        key="head",
        asks="How tall is a head on the canvas, chin to crown?",
        hint="16 cm, 75 % of life, or estimate",
        read=reading.read_head,
        shown=lambda answers: "estimate" if answers.head_mm is None else f"{answers.head_mm:g} mm",
        is_asked=lambda answers: not answers.is_seen,
    ),
    Question(
        key="palette",
        asks="Which palette?",
        hint="; ".join(f"{palette.name}: {palette.holds}" for palette in PALETTES),
        read=reading.read_palette,
        shown=lambda answers: answers.palette,
    ),
    Question(
        key="features",
        asks="Which features, in which order?",
        hint="usual, all, or some of: " + ", ".join(FEATURE_NAMED),
        read=reading.read_features,
        shown=lambda answers: ", ".join(answers.features),
        is_asked=lambda answers: not answers.is_seen,
    ),
    Question(
        key="fineness",
        asks="How finely do you divide the work?",
        hint="coarse, middle or fine: the finer, the smaller the passages",
        read=reading.read_fineness,
        shown=lambda answers: answers.fineness,
    ),
)
"""Every question; each default is what `Question.shown` makes of `default_answers`."""


def check_answer(question: Question, text: str, answers: Answers) -> Answers | AnswerFault:
    """Return the answers with this one taken in, or why it cannot be taken.

    Args:
        question: What was asked.
        text: What was typed; nothing but spaces takes the answer as it stands.
        answers: What was said before.
    """
    try:
        taken = question.read(text if text.strip() else question.shown(answers), answers)
    except (WrongValueError, UsageError) as wrong:
        return AnswerFault(str(wrong))
    return taken._replace(said=taken.said | {question.key})


def kept_texts(answers: Answers) -> dict[str, str]:
    """Return what was said, as it would be typed, by the key of its question; ready for JSON."""
    return {question.key: question.shown(answers) for question in QUESTIONS if question.key in answers.said}


def answers_of(plain: object, today: dt.date) -> Answers:
    """Return the answers whose texts were kept.

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
