"""The answer to `coach check` for a sound plan."""

from collections.abc import Iterable

from coach.plan.commission import Plan
from coach.review.advice import Advice
from coach.text import counted


def summary_line(plan: Plan, file_name: str) -> str:
    """Return what a sound plan holds, with what was assumed."""
    runs = [run for run in plan.runs if not run.is_check]
    passages = [passage for run in runs for passage in run.passages]
    untimed = sum(passage.planned_s is None for passage in passages)
    held = [
        counted(len(plan.canvases), "canvas", "canvases"),
        counted(len(plan.passes), "pass", "passes"),
        f"{counted(len(passages), 'passage')} in {counted(len(runs), 'run')}",
        *([counted(checks, "check")] if (checks := len(plan.runs) - len(runs)) else ()),
        f"{sum(run.planned_s for run in plan.runs) * len(plan.canvases) / 3600:.1f} h planned on all canvases",
    ]
    said = f"{file_name}: sound: {', '.join(held)}"
    return f"{said}; passages without minutes, counted as 15 min: {untimed}" if untimed else said


def advice_lines(advice: Iterable[Advice]) -> list[str]:
    """Return what is advised, a line each."""
    return [f"Advice: {one.sentence}" for one in advice]
