"""The plan that a command names."""

import sys
from pathlib import Path

from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.store.plan_file import PlanFile, beyond_size


def plan_in(path: Path) -> Plan:
    """Return the plan in a file.

    Raises:
        PlanError: The file cannot be read, or the plan has faults.
    """
    file = PlanFile(path)
    text = file.read()
    say_where_beyond_size(text)
    return read_plan(text, file.name)


def say_where_beyond_size(text: str) -> None:
    """Say that a plan is far longer than the coach is built for, before the work on it begins."""
    warning = beyond_size(text)
    if warning:
        sys.stderr.write(f"{warning}\n")
        sys.stderr.flush()
