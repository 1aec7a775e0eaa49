"""`coach order`: the order of work of a plan, with its balance."""

import argparse

from coach.commands.log_of_plan import journal_state
from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.errors import UsageError
from coach.plan.commission import Plan
from coach.plan.strategy import ORDERS, Strategy
from coach.review import order_table
from coach.session.journal_state import JournalState
from coach.session.work import work_of, work_of_journal
from coach.store.printing import print_json, print_lines, print_table, terminal_columns
from coach.store.system_clock import SystemClock


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's YAML file")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    parser.add_argument("--strategy", help="try another order than the plan names; as with --afresh")
    parser.add_argument("--seed", type=int, help="try another seed than the plan names; as with --afresh")
    parser.add_argument("--afresh", action="store_true", help="the plan alone, as if nothing were painted or announced")
    parser.add_argument("--compare", action="store_true", help="set all strategies side by side")


def run(asked: argparse.Namespace) -> int:
    """Print the order of the plan that the words name, or all strategies side by side."""
    plan = _with(plan_in(asked.plan), asked.strategy, asked.seed)
    if asked.compare:
        _compare(plan, as_json=asked.json)
        return 0
    is_afresh = asked.afresh or asked.strategy is not None or asked.seed is not None
    state = JournalState() if is_afresh else journal_state(asked.plan)
    today = SystemClock().today()
    work = work_of_journal(plan, state, absent=plan.absent_on(today) if state.session else frozenset())
    waiting = order_table.waiting_line(plan, today)
    work = work._replace(remark=" ".join(said for said in (waiting, work.remark) if said))
    report = order_table.order_report(work, state)
    if asked.json:
        print_json(report)
    else:
        print_lines([*order_table.order_lines(report, terminal_columns()), "", *order_table.balance_lines(report)])
    return 0


def _with(plan: Plan, strategy: str | None, seed: int | None) -> Plan:
    if strategy not in (None, *ORDERS):
        raise UsageError(f"there is no order {strategy}; one of: {', '.join(known.value for known in Strategy)}")
    if seed is not None and seed < 0:
        raise UsageError("a seed is a whole number of 0 or more")
    return plan._replace(order=strategy or plan.order, seed=plan.seed if seed is None else seed)


def _compare(plan: Plan, *, as_json: bool) -> None:
    found = order_table.compared((one, work_of(plan._replace(order=one.value), {})) for one in Strategy)
    if as_json:
        print_json(found)
        return
    columns = order_table.COMPARED_COLUMNS
    print_table(columns, order_table.compared_rows(found), right=columns[1:])
    print_lines(order_table.compared_lines(plan, found))
