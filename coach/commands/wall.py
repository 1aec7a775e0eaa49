"""`coach wall`: the plan for the wall of the studio, a page to print with boxes to tick."""

import argparse
import sys
from pathlib import Path

from coach.commands.log_of_plan import journal_state
from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.errors import CoachError
from coach.review.order_table import order_report
from coach.review.wall_page import wall_page
from coach.session.work import work_of_journal
from coach.store.safe_files import write_new
from coach.store.system_clock import SystemClock


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's YAML file")
    parser.add_argument("--to", type=Path, metavar="HTML", help="write the page to this file, which is not there yet")


def run(asked: argparse.Namespace) -> int:
    """Write the page to a file, or print it."""
    plan = plan_in(asked.plan)
    state = journal_state(asked.plan)
    absent = plan.absent_on(SystemClock().today()) if state.session else frozenset[int]()
    page = wall_page(plan, order_report(work_of_journal(plan, state, absent=absent), state))
    if asked.to is None:
        sys.stdout.write(page)
    else:
        write_new(asked.to, page.encode(), error=CoachError)
    return 0
