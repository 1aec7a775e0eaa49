"""`coach check`: everything that is wrong with a plan."""

import argparse

from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.forecast.layers import layer_warnings
from coach.plan.problems import PlanError
from coach.plan.reading import problems_on
from coach.review.check_table import plain_problems, summary_line
from coach.store.plan_file import PlanFile
from coach.store.printing import print_json, print_lines
from coach.store.system_clock import SystemClock


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's YAML file")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def run(asked: argparse.Namespace) -> int:
    """Check the plan that the words name."""
    name = PlanFile(asked.plan).name
    try:
        plan = plan_in(asked.plan)
    except PlanError as error:
        if asked.json:
            print_json(plain_problems(error.problems))
            return error.exit_code
        raise
    problems = problems_on(plan, SystemClock().today())
    if asked.json:
        print_json(plain_problems(problems))
    elif problems:
        raise PlanError(problems, where=name)
    else:
        print_lines([summary_line(plan, name), *layer_warnings(plan)])
    return 1 if problems else 0
