"""The file of a new plan: its name, and writing it, with the shapes of its photo where there are any."""

import os
from pathlib import Path
from typing import TYPE_CHECKING, Final

from coach.commands.plan_argument import PLAN_ENDINGS
from coach.errors import UsageError
from coach.plan.commission import Plan
from coach.plan.problems import PlanError
from coach.plan.reading import problems_on, read_plan
from coach.plan.writing import plan_text
from coach.store.plan_file import save_plan
from coach.store.system_clock import SystemClock
from coach.text import sanitized

if TYPE_CHECKING:
    from coach.shapes.shape_map import ShapeMap

SHAPES_ENDING: Final = ".shapes.svg"

_TAKEN_BY: Final = (*PLAN_ENDINGS, ".journal", SHAPES_ENDING)
"""A plan must not come upon the journal or the shapes of another."""


def named_new(path: Path) -> Path:
    """Return the file for a new plan, with its ending.

    Raises:
        UsageError: No new plan can be there.
    """
    if path.is_dir():
        raise UsageError("this is a folder; name a file to write", where=sanitized(str(path)))
    named = path if path.suffix else path.with_suffix(PLAN_ENDINGS[0])
    where = sanitized(str(named))
    if named.suffix not in PLAN_ENDINGS:
        raise UsageError("a plan is a YAML file; name one that ends in .yaml", where=where)
    if not named.parent.is_dir():
        raise UsageError("there is no such folder to write it in", where=where)
    if is_taken(named):
        raise UsageError(
            "there is a plan, a journal or a file of shapes of that name already; name another", where=where
        )
    return named


def is_taken(path: Path) -> bool:
    """Return whether there is a plan of that name, or what belongs to one."""
    return any(os.path.lexists(path.with_suffix(ending)) for ending in _TAKEN_BY)


def is_same_folder(one: Path, other: Path) -> bool:
    """Return whether two files lie in one folder."""
    return one.parent.resolve() == other.parent.resolve()


def write_new(path: Path, plan: Plan, shape_map: "ShapeMap | None") -> Path:
    """Write a plan that `coach check` finds sound, with its shapes, and return where it lies.

    Args:
        path: Its file, which is not there yet.
        plan: The plan.
        shape_map: The shapes of its photo; None where it has none.

    Raises:
        CoachError: It cannot be written, or is no sound plan today.
    """
    shapes = None
    if shape_map is not None:
        from coach.store.shape_file import new_shapes  # noqa: PLC0415  loaded where there are shapes

        plan = plan._replace(shapes=f"{path.stem}{SHAPES_ENDING}")
        shapes = new_shapes(path, plan.shapes or "", shape_map)
    text, where = plan_text(plan), sanitized(path.name)
    problems = problems_on(read_plan(text, where), SystemClock().today())
    if problems:
        raise PlanError(problems, where=where)
    saved = save_plan(path, text, read_text=None, shapes=shapes)
    return saved.kept_beside or saved.path
