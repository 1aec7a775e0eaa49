"""A new commission as text: the question, what was said, the plan as it grows and the file at the end."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final, NamedTuple

from coach.composition.life_size import LIFE_MM
from coach.composition.photo_boxes import PhotoSize
from coach.composition.proposal.answers import Answers
from coach.composition.proposal.proposal import agreed, proposed_plan
from coach.composition.proposal.questions import QUESTIONS
from coach.composition.setup_cautions import STANDING, cautions_of
from coach.plan.commission import MarkedBox, Plan
from coach.plan.units import number_text, size_text
from coach.plan.writing import plan_text
from coach.screens.commission.repository import MadePlan
from coach.text import cells, counted, joined, padded

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Dots = NDArray[np.uint8]

LAST: Final = len(QUESTIONS)
"""Number of the step after the questions, at which the file is shown; the first question is step 0."""

_MOST_NAME_CELLS: Final = 36
_WORDS: Final = {
    "sitters": "who?",
    "photo": "photo?",
    "heads": "head?",
    "commission": "title?",
    "count": "how many?",
    "canvases": "names?",
    "due": "when?",
    "week": "hours?",
    "size": "size?",
    "head": "how tall?",
    "palette": "palette?",
    "features": "features?",
    "fineness": "how fine?",
}
"""Each question in a word or two that block letters can draw."""


class CommissionView(NamedTuple):
    """What stands on the screen at one step.

    Attributes:
        step: How far one is.
        share: The same as a share of all questions, 0 to 1.
        word: What is asked, in a word.
        asks: The question.
        hint: How it may be answered.
        said: Every answer, said or proposed, a line each; a mark stands before the one that is asked for.
        below: The plan as it grows, or the cautions and the whole text of the file.
    """

    step: str
    share: float
    word: str
    asks: str
    hint: str
    said: str
    below: str


def commission_view(answers: Answers, step: int, made: MadePlan | None = None, shows: str = "") -> CommissionView:
    """Return what stands on the screen.

    Args:
        answers: What is known.
        step: Number of a question from 0, or `LAST`.
        made: The plan, once it is made at the last step.
        shows: What is asked for at the last step: "figures" for the cautions with their sources, "text" for the text of
            the plan; else the cautions are named.
    """
    said = "\n".join(_said_lines(answers, step))
    if step == LAST:
        return CommissionView(
            step="new commission: the file",
            share=1.0,
            word="wait" if made is None else "ready",
            asks="Write the plan under this name?",
            hint="",
            said=said,
            below="the plan is being made" if made is None else "\n".join(_last_lines(made, shows)),
        )
    question = QUESTIONS[step]
    asked = [one.key for one in QUESTIONS if one.is_asked(answers)]
    return CommissionView(
        step=f"new commission: question {asked.index(question.key) + 1} of {len(asked)}",
        share=asked.index(question.key) / len(asked),
        word=_WORDS[question.key],
        asks=question.asks,
        hint=question.hint,
        said=said,
        below="\n".join(_plan_lines(answers, agreed(answers) if answers.is_seen else proposed_plan(answers))),
    )


def progress(share: float, columns: int) -> str:
    """Return the bar of the questions that are answered."""
    full = round(share * columns)
    return "█" * full + "░" * (columns - full)


def first_unsaid(answers: Answers) -> int:
    """Return the step at which one goes on: the first question without an answer, else `LAST`."""
    open_ = (number for number, one in enumerate(QUESTIONS) if one.key not in answers.said and one.is_asked(answers))
    return next(open_, LAST)


def next_step(answers: Answers, step: int, by: int) -> int:
    """Return the step after one, or before it with `by` -1, that is asked about."""
    step += by
    while 0 < step < LAST and not QUESTIONS[step].is_asked(answers):
        step += by
    return step


def with_boxes(dots: "Dots", size: PhotoSize, boxes: Sequence[MarkedBox]) -> "Dots":
    """Return a photo with white lines along boxes that are in its pixels.

    Args:
        dots: sRGB of its dots, shape (down, across, 3).
        size: Its size.
        boxes: Boxes in pixels of the photo.
    """
    shown = dots.copy()
    down, across = dots.shape[:2]
    for box in boxes:
        left, right = (min(across - 1, round(x * across / size.width_px)) for x in (box.left_px, box.right_px))
        top, bottom = (min(down - 1, round(y * down / size.height_px)) for y in (box.top_px, box.bottom_px))
        shown[top : bottom + 1, [left, right]] = 255
        shown[[top, bottom], left : right + 1] = 255
    return shown


def _said_lines(answers: Answers, step: int) -> Iterator[str]:
    width = max(cells(question.key) for question in QUESTIONS)
    for heading, is_said in (("said", True), ("proposed, until you answer", False)):
        rows = [
            f"{'>' if number == step else ' '} {padded(question.key, width)}  {question.shown(answers)}"
            for number, question in enumerate(QUESTIONS)
            if (question.key in answers.said) is is_said and question.is_asked(answers)
        ]
        if rows:
            yield from (heading, *rows)


def _plan_lines(answers: Answers, plan: Plan) -> Iterator[str]:
    yield plan.commission
    names = ", ".join(f"{one.name} ({one.place})" if one.place else one.name for one in plan.canvases)
    yield f"{counted(len(plan.canvases), 'canvas', 'canvases')} of {size_text(answers.size)}: {names}"
    days = (answers.due - answers.asked_on).days
    yield f"due {answers.due:%a} {answers.due.isoformat()}, in {counted(days, 'day', 'days')}"
    if answers.is_seen:
        yield "the passages are made from the shapes of the photo, at the end"
    else:
        yield from _size_lines(answers, plan)
    if answers.photo:
        yield f"photo {answers.photo}"
    if plan.passes:
        yield ""
        yield from _pass_lines(plan)


def _size_lines(answers: Answers, plan: Plan) -> Iterator[str]:
    yield _work_line(answers, plan)
    yield _counts(plan)
    life = f"{100 * answers.painted_head_mm / LIFE_MM:.0f} % of life size"
    how = "estimate" if answers.head_mm is None else "stated"
    yield f"head {answers.painted_head_mm / 10:.1f} cm, {life} ({how})"
    paints = f"{counted(len(plan.palette), 'paint', 'paints')}, {counted(len(plan.mixtures), 'mixture', 'mixtures')}"
    yield f"palette {answers.palette}: {paints}"


def _counts(plan: Plan) -> str:
    painted = [run for run in plan.runs if not run.is_check]
    passages = sum(len(run.passages) for run in painted)
    return ", ".join(
        (
            counted(len(plan.passes), "pass", "passes"),
            counted(passages, "passage"),
            counted(len(painted), "run"),
            counted(len(plan.runs) - len(painted), "check"),
        )
    )


def _work_line(answers: Answers, plan: Plan) -> str:
    canvas_s = sum(run.planned_s for run in plan.runs)
    all_h, week_h = canvas_s * len(plan.canvases) / 3600, sum(answers.week_s) / 3600
    weeks = f"{all_h / week_h:.1f} weeks of {number_text(round(week_h, 1))} h, then drying and framing"
    on_all = "" if len(plan.canvases) == 1 else f", {all_h:.1f} h on all canvases"
    return f"{number_text(canvas_s / 60)} min a canvas{on_all}: {weeks}"


def _pass_lines(plan: Plan) -> Iterator[str]:
    width = min(_MOST_NAME_CELLS, max(cells(one.name) for one in plan.passes))
    for one in plan.passes:
        minutes = sum(run.planned_s for run in one.runs) / 60
        passages = counted(len(one.passages), "passage", "passages")
        yield f"{padded(one.name, width)}  {passages:>11}  {number_text(minutes):>4} min"


def _last_lines(made: MadePlan, shows: str) -> Iterator[str]:
    if shows == "text":
        yield plan_text(made.plan).rstrip("\n")
        return
    yield made.holds
    cautions = cautions_of(made.plan)
    if not shows:
        yield ""
        yield f"Take care: {joined([one.about.partition(':')[0] for one in cautions])}. Follow labels and local rules."
        return
    canvas_h = sum(run.planned_s for run in made.plan.runs) / 3600
    yield f"{_counts(made.plan)}; {canvas_h:.1f} h a canvas"
    yield ""
    for caution in cautions:
        yield f"{caution.about}: {caution.says} (Source: {caution.source}.)"
    yield STANDING
