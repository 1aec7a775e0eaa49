"""A new commission as text: the question, what was said, the plan as it grows and the file at the end."""

from collections.abc import Iterator
from typing import Final, NamedTuple

from coach.composition.life_size import LIFE_MM
from coach.composition.proposal.answers import Answers
from coach.composition.proposal.proposal import proposed_plan
from coach.composition.proposal.questions import QUESTIONS
from coach.composition.setup_cautions import STANDING, cautions_of
from coach.plan.commission import Plan
from coach.plan.units import number_text, size_text
from coach.plan.writing import plan_text
from coach.text import cells, counted, padded

LAST: Final = len(QUESTIONS)
"""Number of the step after the questions, at which the file is shown; the first question is step 0."""

_MOST_NAME_CELLS: Final = 36


class CommissionView(NamedTuple):
    """What stands on the screen at one step.

    Attributes:
        step: How far one is.
        asks: The question.
        hint: How it may be answered.
        said: Every answer, said or proposed, a line each; a mark stands before the one that is asked for.
        below: The plan as it grows, or the cautions and the whole text of the file.
    """

    step: str
    asks: str
    hint: str
    said: str
    below: str


def commission_view(answers: Answers, step: int) -> CommissionView:
    """Return what stands on the screen.

    Args:
        answers: What is known.
        step: Number of a question from 0, or `LAST`.
    """
    said = "\n".join(_said_lines(answers, step))
    plan = proposed_plan(answers)
    if step == LAST:
        return CommissionView(
            step="new commission: the file",
            asks="Write the plan under this name?",
            hint="Enter writes it and opens the easel; below: the cautions, then the whole text",
            said=said,
            below="\n".join(_file_lines(answers, plan)),
        )
    question = QUESTIONS[step]
    return CommissionView(
        step=f"new commission: question {step + 1} of {LAST}",
        asks=question.asks,
        hint=question.hint,
        said=said,
        below="\n".join(_plan_lines(answers, plan)),
    )


def first_unsaid(answers: Answers) -> int:
    """Return the step at which one goes on: the first question without an answer, else `LAST`."""
    return next((number for number, one in enumerate(QUESTIONS) if one.key not in answers.said), LAST)


def _said_lines(answers: Answers, step: int) -> Iterator[str]:
    width = max(cells(question.key) for question in QUESTIONS)
    for heading, is_said in (("said", True), ("proposed, until you answer", False)):
        rows = [
            f"{'>' if number == step else ' '} {padded(question.key, width)}  {question.shown(answers)}"
            for number, question in enumerate(QUESTIONS)
            if (question.key in answers.said) is is_said
        ]
        if rows:
            yield from (heading, *rows)


def _plan_lines(answers: Answers, plan: Plan) -> Iterator[str]:
    yield plan.commission
    names = ", ".join(f"{one.name} ({one.place})" if one.place else one.name for one in plan.canvases)
    yield f"{counted(len(plan.canvases), 'canvas', 'canvases')} of {size_text(answers.size)}: {names}"
    days = (answers.due - answers.asked_on).days
    yield f"due {answers.due:%a} {answers.due.isoformat()}, in {counted(days, 'day', 'days')}"
    yield _work_line(answers, plan)
    passages = sum(len(one.passages) for one in plan.passes)
    counts = (
        counted(len(plan.passes), "pass", "passes"),
        counted(passages, "passage", "passages"),
        counted(len(plan.runs), "run", "runs"),
    )
    yield ", ".join(counts)
    life = f"{100 * answers.painted_head_mm / LIFE_MM:.0f} % of life size"
    how = "estimate" if answers.head_mm is None else "stated"
    yield f"head {answers.painted_head_mm / 10:.1f} cm, {life} ({how})"
    paints = f"{counted(len(plan.palette), 'paint', 'paints')}, {counted(len(plan.mixtures), 'mixture', 'mixtures')}"
    yield f"palette {answers.palette}: {paints}"
    if answers.photo:
        yield f"photo {answers.photo}"
    yield ""
    yield from _pass_lines(plan)


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


def _file_lines(answers: Answers, plan: Plan) -> Iterator[str]:
    yield "Before the first stroke"
    for caution in cautions_of(plan):
        yield f"{caution.about}: {caution.says} (Source: {caution.source}.)"
    yield STANDING
    yield ""
    yield "The file"
    yield plan_text(proposed_plan(answers)).rstrip("\n")
