"""`coach log`: what was painted, the newest first, whether it was fair, and which hours were kept."""

import argparse
import sys
from collections.abc import Sequence

from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.errors import CoachError, UsageError
from coach.plan.commission import Plan
from coach.review.comparison_history import comparison_history
from coach.review.fairness.out_by_place import out_by_place
from coach.review.fairness.report import all_runs, last_plan
from coach.review.fairness.sentences import out_sentences
from coach.review.log_table import COLUMNS, log_lines, painted_alone, plain_log, text_row, total_lines
from coach.review.painted import chosen
from coach.session.journal_state import JournalState, state_of
from coach.session.records import TurnRecord
from coach.store.journal_access import NoJournal, journal_path, open_to_read
from coach.store.plan_file import PlanFile
from coach.store.printing import print_csv, print_json, print_lines, print_table, terminal_columns
from coach.text import joined, sanitized


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's YAML file; its journal lies beside it")
    parser.add_argument("--pass", dest="pass_name", help="only this pass")
    parser.add_argument("--canvas", help="only this canvas")
    parser.add_argument("--fairness", action="store_true", help="say whether the canvases were treated alike")
    parser.add_argument("--hours", action="store_true", help="tell hours, rests, limits and pace of the whole work")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print rows and totals as JSON")
    form.add_argument("--csv", action="store_true", help="print the rows as CSV")


def run(asked: argparse.Namespace) -> int:
    """Print the log of the plan that the words name."""
    if asked.fairness and asked.csv:
        raise UsageError("--fairness is told in sentences or as --json, not as --csv")
    if asked.fairness and asked.canvas:
        raise UsageError("--fairness compares the canvases with each other; leave --canvas out")
    if asked.hours and (asked.fairness or asked.csv or asked.pass_name or asked.canvas):
        raise UsageError("--hours is told of the whole work, by itself or with --json")
    journal, plan = open_to_read(asked.plan), None
    if isinstance(journal, NoJournal) and not journal.damage:
        if not asked.fairness:
            PlanFile(asked.plan).read()  # a name that leads nowhere is said as such
            raise CoachError("nothing is painted yet: there is no journal", where=str(journal_path(asked.plan)))
        plan = plan_in(asked.plan)
    painted = state_of(journal.after(0))
    turns = chosen(painted.turns, pass_name=asked.pass_name, canvas=asked.canvas)
    if asked.hours:
        _print_hours(painted, as_json=asked.json)
    elif asked.fairness:
        _print_fairness(painted, plan, asked)
    else:
        _print_turns(painted, turns, asked)
    if journal.damage:
        raise CoachError(journal.damage)
    if journal.notice:
        sys.stderr.write(f"{sanitized(journal.notice)}\n")
    return 0


def _print_turns(painted: JournalState, turns: Sequence[TurnRecord], asked: argparse.Namespace) -> None:
    if asked.json:
        print_json(plain_log(painted, turns))
    elif asked.csv:
        print_csv(COLUMNS, map(text_row, turns))
    else:
        only = [f"{what} {name}" for what, name in (("pass", asked.pass_name), ("canvas", asked.canvas)) if name]
        plan = last_plan(painted)
        runs = all_runs(painted, plan)
        print_lines([*([f"Only {joined(only)}:"] if only else []), *total_lines(painted, turns, runs)])
        if not only:
            print_lines(comparison_history(plan, painted).sentences)
            print_lines(out_sentences(out_by_place(painted, runs)))
        for line in log_lines(painted, turns, painted_alone(painted, runs, plan), terminal_columns()):
            print_lines(["", line.text] if line.is_head else [line.text])


def _print_fairness(painted: JournalState, plan: Plan | None, asked: argparse.Namespace) -> None:
    from coach.review.fairness.report import report_painted  # noqa: PLC0415  numpy is loaded for it

    report, _ = report_painted(painted, asked.pass_name, plan)
    if asked.json:
        print_json(report)
    else:
        print_lines(report.sentences)


def _print_hours(painted: JournalState, *, as_json: bool) -> None:
    from coach.review.hours.report import hours_report  # noqa: PLC0415
    from coach.review.hours.sections import hours_sections  # noqa: PLC0415

    report = hours_report(painted)
    if as_json:
        print_json(report)
        return
    for section in hours_sections(report):
        print_lines([section.title, *section.sentences])
        if section.table:
            head, *rows = section.table
            print_table(head, rows, right=head[section.figures_from :], are_keys=False)
        else:
            print_lines([""])
