"""The answer to `coach check` for a sound plan."""

from coach.plan.commission import Plan
from coach.text import counted


def summary_line(plan: Plan, file_name: str) -> str:
    """Return what a sound plan holds, with what was assumed."""
    runs = plan.runs
    passages = [passage for run in runs for passage in run.passages]
    untimed = sum(passage.planned_s is None for passage in passages)
    hours = sum(run.planned_s for run in runs) * len(plan.canvases) / 3600
    said = (
        f"{file_name}: sound: {counted(len(plan.canvases), 'canvas', 'canvases')}, "
        f"{counted(len(plan.passes), 'pass', 'passes')}, {counted(len(passages), 'passage', 'passages')} in "
        f"{counted(len(runs), 'run', 'runs')}, {hours:.1f} h planned on all canvases"
    )
    return f"{said}; passages without minutes, counted as 15 min: {untimed}" if untimed else said
