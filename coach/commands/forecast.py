"""`coach forecast`: whether the due day holds, why, and what would help."""

import argparse
import datetime as dt
from pathlib import Path

from coach.commands.log_of_plan import earlier_states, journal_state
from coach.commands.named_plan import plan_in
from coach.commands.plan_argument import add_plan
from coach.errors import UsageError
from coach.forecast.answer import ForecastAnswer, forecast_of
from coach.journal.reading import local_time
from coach.plan.commission import Plan
from coach.review import forecast_table
from coach.review.forecast_input import forecast_input
from coach.store.printing import print_json, print_lines, print_table
from coach.store.system_clock import SystemClock


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Add what the command takes."""
    add_plan(parser, "the plan's YAML file; its journal lies beside it")
    parser.add_argument("--json", action="store_true", help="print the answer as JSON")
    parser.add_argument("--today", metavar="DATE", help="ask as if on this day, such as 2027-03-01")
    parser.add_argument("--calendar", type=Path, metavar="FILE", help="also write the days as an iCalendar file (.ics)")


def run(asked: argparse.Namespace) -> int:
    """Print the forecast of the plan that the words name."""
    today = _day(asked.today) if asked.today is not None else SystemClock().today()
    stated = plan_in(asked.plan)
    state = journal_state(asked.plan)
    about = forecast_input(stated, state, today, earlier_states(asked.plan, stated))
    plan, answer = about.plan, forecast_of(about.plan, about.outlook)
    if asked.calendar:
        _write_calendar(asked.calendar, plan, answer, sequence=state.seq)
    if asked.json:
        print_json(answer)
        return 0
    print_lines([answer.headline])
    if answer.last_stroke.p50 is not None:  # else no day can be told, and the sentences say why
        print_table(forecast_table.DAY_COLUMNS, forecast_table.day_rows(answer))
    print_lines([*forecast_table.why_lines(answer), *forecast_table.latest_lines(answer.latest)])
    helps = forecast_table.help_lines(answer)
    print_lines(["What would help most:", *(f"- {line}" for line in helps)] if helps else [])
    return 0


def _write_calendar(target: Path, plan: Plan, answer: ForecastAnswer, *, sequence: int) -> None:
    from coach.forecast.calendar_entries import calendar_entries  # noqa: PLC0415  loaded where a calendar is written
    from coach.store.exports import write_calendar  # noqa: PLC0415

    entries = calendar_entries(plan, answer, answer.today)
    write_calendar(target, entries, name=plan.commission, stamp=local_time(SystemClock().read()), sequence=sequence)


def _day(text: str) -> dt.date:
    try:
        return dt.date.fromisoformat(text)
    except ValueError:
        raise UsageError(f"--today {text}: write the day as 2027-03-01") from None
