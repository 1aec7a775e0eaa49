"""The answer to `coach check` for a sound plan."""

from collections.abc import Iterable

from coach.plan.commission import Plan
from coach.review.advice import Advice
from coach.text import counted, span


def summary_line(plan: Plan, file_name: str) -> str:
    """Return what a sound plan holds, with what was assumed."""
    runs = [run for run in plan.runs if not run.is_check]
    passages = [passage for run in runs for passage in run.passages]
    untimed = sum(passage.planned_s is None for passage in passages)
    held = [
        counted(len(plan.canvases), "canvas", "canvases"),
        counted(len(plan.passes), "pass", "passes"),
        f"{counted(len(passages), 'passage')} in {counted(len(runs), 'run')}, each painted in one go",
        *([counted(checks, "check")] if (checks := len(plan.runs) - len(runs)) else ()),
        f"{span(sum(run.planned_s for run in plan.runs) * len(plan.canvases) * 1000)} planned on all canvases",
    ]
    said = f"{file_name} is sound: {', '.join(held)}."
    without = f"{counted(untimed, 'passage')} without minutes"
    return f"{said} {without}, counted as 15 min each." if untimed else said


def advice_lines(advice: Iterable[Advice]) -> list[str]:
    """Return what is advised, a line each."""
    return [f"Advice: {one.sentence}" for one in advice]
