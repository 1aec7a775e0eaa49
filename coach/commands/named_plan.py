"""The plan that a command names."""

from pathlib import Path

from coach.plan.commission import Plan
from coach.plan.reading import read_plan
from coach.store.plan_file import PlanFile


def plan_in(path: Path) -> Plan:
    """Return the plan in a file.

    Raises:
        PlanError: The file cannot be read, or the plan has faults.
    """
    file = PlanFile(path)
    return read_plan(file.read(), file.name)
