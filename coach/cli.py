"""The command line: reads arguments, wires store and screens, turns errors into a sentence and an exit status."""

import argparse
import gc
import io
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from coach.errors import CoachError, UsageError
from coach.plan.cleaning import harmless
from coach.store.plan_file import PlanFile

if TYPE_CHECKING:
    from coach.plan.commission import Plan
    from coach.review.painted import Painted
    from coach.session.progress import TurnRecord


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command and return its exit status: 0 fine, 1 plan or data has a problem, 2 wrong usage."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    command = _COMMANDS.get(words[0]) if words else None
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        status = command(words[1:]) if command else _open(words)
        sys.stdout.flush()
    except CoachError as error:
        _say(str(error))
        return error.exit_code
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except OSError as error:
        _say(f"the system refuses: {error.strerror or error}")
        return 1
    return status


def _say(sentences: str) -> None:
    """Write to standard error; whatever the words came from, they steer no terminal."""
    sys.stderr.writelines(f"{harmless(line)}\n" for line in sentences.split("\n"))


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with the words of a command the way everything else is said."""

    def error(self, message: str) -> NoReturn:
        raise UsageError(f"{self.prog}: {message}")


def _parser(name: str, what: str) -> argparse.ArgumentParser:
    return _Parser(prog=f"coach {name}".strip(), description=what)


def _plan_of(path: Path) -> "tuple[Plan, PlanFile, str]":
    file = PlanFile(path)
    text = file.read()
    return _read(text, file), file, text


def _read(text: str, file: PlanFile) -> "Plan":
    from coach.plan.reading import read_plan  # noqa: PLC0415  a plan that was read before needs no YAML

    return read_plan(text, file.name)


def _check(words: list[str]) -> int:
    parser = _parser("check", "Read a plan and say everything that is wrong with it.")
    parser.add_argument("plan", type=Path, help="the plan's YAML file")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    asked = parser.parse_args(words)
    from coach.plan.problems import PlanError  # noqa: PLC0415
    from coach.plan.reading import problems_on  # noqa: PLC0415
    from coach.review.check_table import plain_problems, summary_line  # noqa: PLC0415
    from coach.store.printing import print_json, print_lines  # noqa: PLC0415
    from coach.store.system_clock import SystemClock  # noqa: PLC0415

    name = PlanFile(asked.plan).name
    try:
        plan, _, _ = _plan_of(asked.plan)
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
        print_lines([summary_line(plan, name)])
    return 1 if problems else 0


def _order(words: list[str]) -> int:
    parser = _parser("order", "Print the order of work of a plan, with its balance.")
    parser.add_argument("plan", type=Path, help="the plan's YAML file")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    parser.add_argument("--strategy", help="try another order than the plan names")
    parser.add_argument("--seed", type=int, help="try another seed than the plan names")
    parser.add_argument("--compare", action="store_true", help="set all strategies side by side")
    asked = parser.parse_args(words)
    from coach.order.request import Strategy  # noqa: PLC0415
    from coach.review import order_table  # noqa: PLC0415
    from coach.session.work import work_of  # noqa: PLC0415
    from coach.store.printing import print_json, print_lines, print_table  # noqa: PLC0415

    plan, _, _ = _plan_of(asked.plan)
    names = [strategy.value for strategy in Strategy]
    if asked.strategy not in (None, *names):
        raise UsageError(f"there is no order {asked.strategy}; one of: {', '.join(names)}")
    if asked.seed is not None and asked.seed < 0:
        raise UsageError("a seed is a whole number of 0 or more")
    plan = plan._replace(order=asked.strategy or plan.order, seed=plan.seed if asked.seed is None else asked.seed)
    if asked.compare:
        works = ((strategy, work_of(plan._replace(order=strategy.value), {})) for strategy in Strategy)
        if asked.json:
            print_json(order_table.plain_compared(works))
        else:
            columns = order_table.COMPARED_COLUMNS
            print_table(columns, order_table.compared_rows(works), right=columns[1:])
        return 0
    work = work_of(plan, {})
    if asked.json:
        print_json(order_table.plain_order(work))
        return 0
    print_table(order_table.TURN_COLUMNS, order_table.turn_rows(work), right=("turn", "run", "place", "minutes"))
    print_lines(order_table.balance_lines(work))
    return 0


def _log(words: list[str]) -> int:
    parser = _parser("log", "Print what was painted, in the order it was painted.")
    parser.add_argument("plan", type=Path, help="the plan's YAML file; its journal lies beside it")
    parser.add_argument("--pass", dest="pass_name", help="only this pass")
    parser.add_argument("--canvas", help="only this canvas")
    parser.add_argument("--fairness", action="store_true", help="say whether the canvases were treated alike")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--json", action="store_true", help="print rows and totals as JSON")
    form.add_argument("--csv", action="store_true", help="print the rows as CSV")
    asked = parser.parse_args(words)
    from coach.review.log_table import COLUMNS, plain_log, text_row, total_lines  # noqa: PLC0415
    from coach.review.painted import chosen, painted_of  # noqa: PLC0415
    from coach.store.journal_access import open_to_read  # noqa: PLC0415
    from coach.store.plan_file import journal_path  # noqa: PLC0415
    from coach.store.printing import print_csv, print_json, print_lines, print_table  # noqa: PLC0415

    if not journal_path(asked.plan).exists():
        raise CoachError("nothing is painted yet: there is no journal", where=str(journal_path(asked.plan)))
    journal = open_to_read(asked.plan)
    painted = painted_of(journal.after(0))
    turns = chosen(painted.turns, pass_name=asked.pass_name, canvas=asked.canvas)
    if asked.fairness:
        _print_fairness(turns, as_json=asked.json)
    elif asked.json:
        print_json(plain_log(painted, turns))
    elif asked.csv:
        print_csv(COLUMNS, map(text_row, turns))
    else:
        print_table(COLUMNS, map(text_row, turns), right=("run", "place", "minutes", "planned_minutes"))
        print_lines(total_lines(painted, turns))
    if journal.damage:
        raise CoachError(journal.damage)
    return 0


def _print_fairness(turns: "Sequence[TurnRecord]", *, as_json: bool) -> None:
    from coach.review.fairness.fair_review import review_fairness  # noqa: PLC0415
    from coach.review.fairness.fairness_plain import fairness_as_plain  # noqa: PLC0415
    from coach.review.fairness.from_painted import balance_sentences, runs_painted  # noqa: PLC0415
    from coach.store.printing import print_json, print_lines  # noqa: PLC0415

    runs = runs_painted(turns)
    review, balance = review_fairness(runs), balance_sentences(runs)
    if as_json:
        print_json(fairness_as_plain(review) | {"balance": list(balance)})
    else:
        print_lines([*review.sentences, *balance])


def _open(words: list[str]) -> int:
    gc.disable()  # nothing made while loading is garbage; the app turns it on again behind the first screen
    parser = _parser("", "Open the coach beside the easel. Other commands: check, order, log.")
    parser.add_argument("plan", type=Path, nargs="?", help="the plan's YAML file; without it, choose one")
    parser.add_argument("--light", action="store_true", help="dark ink on a light ground")
    asked = parser.parse_args(words)
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        raise UsageError("the easel needs a terminal; check, order and log do not")
    plan_path = asked.plan or _chosen_plan()
    return _paint(plan_path, light=asked.light) if plan_path else 0


def _chosen_plan() -> Path | None:
    from coach.screens.chooser import ChooserApp  # noqa: PLC0415

    plans = sorted(found for pattern in ("*.yaml", "*.yml", "plans/*.yaml") for found in Path().glob(pattern))
    if not plans:
        raise UsageError("there is no plan in this folder; name one: coach PLAN")
    if len(plans) == 1:
        return plans[0]
    chosen = ChooserApp([harmless(str(path)) for path in plans]).run()
    return None if chosen is None else plans[chosen]


def _paint(plan_path: Path, *, light: bool) -> int:
    from coach.screens.app import CoachApp  # noqa: PLC0415
    from coach.session.sitting import Sitting  # noqa: PLC0415
    from coach.store.journal_access import open_to_work  # noqa: PLC0415
    from coach.store.system_clock import SystemClock  # noqa: PLC0415

    file = PlanFile(plan_path)
    text = file.read()
    access, clock = open_to_work(plan_path), SystemClock()
    try:
        memo = access.memo_file.load(text)
        if memo is not None and not access.journal.holds(memo.base.seq, memo.base.at):
            memo = None
        sitting = Sitting(
            plan=_read(text, file) if memo is None else memo.plan,
            memo=memo,
            journal=access.journal,
            clock=clock,
            source=file,
            last_seen=access.last_seen,
            read_only=access.read_only,
        )
        sitting.read_only = sitting.read_only or access.journal.damage
        sitting.open(text)
        due = sitting.plan.due
        if due is not None and due < clock.today():
            sitting.remark = sitting.remark or f"the due day {due.isoformat()} is past; painting can go on"

        def painted() -> "Painted":
            from coach.review.painted import painted_of  # noqa: PLC0415

            return painted_of(access.journal.after(0))

        def keep() -> None:
            if sitting.memo is not None and not sitting.read_only:
                access.memo_file.save(sitting.memo)

        if memo is None:
            keep()
        CoachApp(sitting, painted, light=light).run()
        keep()
    finally:
        access.close()
    return 0


_COMMANDS: dict[str, Callable[[list[str]], int]] = {"check": _check, "order": _order, "log": _log}
