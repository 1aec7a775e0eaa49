"""A new commission as text: the question, what was said, the plan as it grows and the file at the end."""

from collections.abc import Iterator
from typing import Final, NamedTuple

from coach.composition.life_size import LIFE_MM
from coach.composition.marking import Marking
from coach.composition.photo_boxes import PhotoSize, read_box
from coach.composition.proposal.answers import Answers
from coach.composition.proposal.proposal import agreed, proposed_plan
from coach.composition.proposal.questions import QUESTIONS, canvases_text
from coach.composition.setup_cautions import STANDING, cautions_of, photo_notes
from coach.errors import UsageError
from coach.plan.commission import MarkedBox, MarkedHead, Plan
from coach.plan.units import number_text, size_text
from coach.plan.writing import plan_text
from coach.screens.commission.repository import MadePlan
from coach.text import cells, counted, joined, padded

LAST: Final = len(QUESTIONS)
"""Number of the step after the questions, at which the plan is shown; the first question is step 0."""

CARE: Final = LAST + 1
"""Number of the step at which the cautions stand; then the plan is written."""

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
        below: The plan as it grows; at the end its facts, its text or the cautions.
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
        step: Number of a question from 0, `LAST` or `CARE`.
        made: The plan, once it is made after the questions.
        shows: What is asked for after the questions: "facts" or "text", the text of the plan; else neither.
    """
    said = "\n".join(_said_lines(answers, step))
    if step >= LAST:
        below = "" if made is None else "\n".join(_last_lines(made, step, shows))
        if step == CARE:
            heading, word, asks, hint = (
                "before you begin",
                "care",
                "Take care of yourself, the studio and the sitter.",
                "",
            )
        elif made is None:
            heading, word, asks, hint = "the plan", "wait", "The plan is being made.", ""
        else:
            heading, word, asks, hint = "the plan", made.word, made.holds, "The file of the plan:"
        return CommissionView(f"new commission: {heading}", 1.0, word, asks, hint, said, below)
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


def marking_in(typed: str, answers: Answers, size: PhotoSize) -> Marking:
    """Return the heads whose boxes are typed, as far as they can be read, with the names of the sitters."""
    boxes = []
    for entry in typed.split(";"):
        try:
            box = read_box(entry.rpartition(":")[2])
        except UsageError:
            continue
        boxes += [box] if box.width_px > 0 and box.height_px > 0 else []
    return Marking(size, tuple(map(MarkedHead, answers.sitters, boxes)))


def boxes_of(marking: Marking, sitters: int) -> tuple[MarkedBox, ...]:
    """Return the boxes of as many heads as there are sitters: one drawn beyond them takes the place of the nearest."""
    *others, last = [head.box for head in marking.heads]
    if len(others) < sitters:
        return (*others, last)
    middle = last.left_px + last.right_px, last.top_px + last.bottom_px
    far = [
        (one.left_px + one.right_px - middle[0]) ** 2 + (one.top_px + one.bottom_px - middle[1]) ** 2 for one in others
    ]
    others[far.index(min(far))] = last
    return tuple(others)


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
    count = counted(len(plan.canvases), "canvas", "canvases")
    yield f"{count} of {size_text(answers.size)}: {canvases_text(answers)}"
    days = (answers.due - answers.asked_on).days
    yield f"due {answers.due:%a} {answers.due.day} {answers.due:%B %Y}, in {counted(days, 'day', 'days')}"
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


def _last_lines(made: MadePlan, step: int, shows: str) -> Iterator[str]:
    plan = made.plan
    if shows == "text":
        yield plan_text(plan).rstrip("\n")
    elif step == LAST and shows:
        canvas_h = sum(run.planned_s for run in plan.runs) / 3600
        yield made.headline
        yield f"{_counts(plan)}; {canvas_h:.1f} h a canvas"
        yield ""
        yield from _pass_lines(plan)
    elif step == CARE and shows:
        for caution in cautions_of(plan):
            yield f"{caution.about}: {caution.says} (Source: {caution.source}.)"
        if plan.photo is not None:
            yield from photo_notes(plan)
        yield STANDING
    elif step == CARE:
        yield from _care_lines(plan)


def _care_lines(plan: Plan) -> Iterator[str]:
    """Yield the cautions in a few words each; all of them stand behind f with their sources."""
    yield "Oily rags: spread apart outdoors, never piled."
    yield "Solvent: lids on, fresh air, no flames."
    named = [one.about.partition(":")[0] for one in cautions_of(plan) if ":" in one.about]
    if named:
        yield f"{joined(named).capitalize()}: never sand dry; wash before meals."
    if plan.photo is not None:
        yield "Photo: its darks and lights are not the sitter's."
        yield "Agree rights and consent before you paint."
    yield "Follow labels and local rules."
