"""`coach check`: everything that is wrong with a plan, and what a painter would advise."""

import argparse
from contextlib import suppress
from itertools import groupby
from pathlib import Path
from typing import Final

from coach.commands.log_of_plan import journal_state
from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.errors import CoachError, UsageError
from coach.forecast.layers import layer_warnings
from coach.journal.events import JournalError
from coach.plan.commission import Plan
from coach.plan.key_table import KeyReference, key_reference
from coach.plan.problems import PlanError
from coach.plan.reading import problems_on
from coach.review.advice import advice_on
from coach.review.check_table import advice_lines, summary_line
from coach.session.wet_and_dry import paint_on_canvases
from coach.store.plan_file import PlanFile
from coach.store.printing import print_json, print_lines, print_table
from coach.store.system_clock import SystemClock
from coach.text import sanitized

_HEADS: Final = ("key", "takes", "example", "what it is for")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's YAML file", is_optional=True)
    parser.add_argument("--keys", action="store_true", help="list every key a plan may hold; needs no PLAN")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")


def run(asked: argparse.Namespace) -> int:
    """Check the plan that the words name, or list what a plan may hold.

    Raises:
        UsageError: No plan is named.
        PlanError: The plan has faults.
    """
    if asked.keys:
        return _print_keys(as_json=asked.json)
    if asked.plan is None:
        raise UsageError("coach check: name the plan to check, or write --keys")
    name = PlanFile(asked.plan).name
    try:
        plan = plan_in(asked.plan)
    except PlanError as error:
        if asked.json:
            print_json({"problems": error.problems, "advice": (), "shapes": ()})
            return error.exit_code
        raise
    problems, advice = problems_on(plan, SystemClock().today()), advice_on(plan)
    shapes = _told_of_shapes(asked.plan, plan)
    if asked.json:
        print_json({"problems": problems, "advice": advice, "shapes": shapes})
    elif problems:
        raise PlanError(problems, where=name)
    else:
        painted = {}
        with suppress(JournalError):  # a check is of the plan; the other commands tell what is wrong with the journal
            painted = paint_on_canvases(plan, journal_state(asked.plan))
        print_lines([summary_line(plan, name), *layer_warnings(plan, painted), *advice_lines(advice), *shapes])
    return 1 if problems else 0


def _told_of_shapes(plan_path: Path, plan: Plan) -> list[str]:
    """Return what is wrong with the file of shapes, and what it and the plan say against each other."""
    if plan.shapes is None:
        return []
    from coach.review.shape_remarks import remarks_on  # noqa: PLC0415  loaded where there are shapes
    from coach.store.shape_file import load_shapes  # noqa: PLC0415  the same

    try:
        loaded = load_shapes(plan_path, plan.shapes, plan.photo)
    except CoachError as error:
        return [str(error)]
    where = sanitized(str(loaded.path))
    return [*loaded.problems, *(f"{where}: {remark}" for remark in remarks_on(plan, loaded.shape_map))]


def _print_keys(*, as_json: bool) -> int:
    keys = sorted(key_reference(), key=lambda row: row.where)
    if as_json:
        print_json({"keys": keys})
        return 0
    for where, rows in groupby(keys, key=lambda row: row.where):
        print_lines(["", f"In {where}:" if where else "In the plan:", ""])
        print_table(_HEADS, [_row(row) for row in rows], are_keys=False)
    print_lines(["", "* must be there; [] stands for each entry of a list. The plan is a YAML file."])
    return 0


def _row(row: KeyReference) -> tuple[str, str, str, str]:
    takes = f"{row.type}: {row.bounds}" if row.bounds else row.type
    return f"{row.key}{' *' if row.is_required else ''}", takes, row.example, row.sentence
