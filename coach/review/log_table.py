"""The log as plain rows: the same for the screen, for JSON and for CSV."""

from collections.abc import Iterable, Sequence
from itertools import groupby
from typing import Final

from coach.forecast.sentences import day_words
from coach.journal.reading import local_time
from coach.review.painted import MS_PER_MIN, LedRun, Total, by_canvas, by_pass, by_session, deviation, led_runs, totals
from coach.session.journal_state import JournalState
from coach.session.records import TurnRecord
from coach.text import cells, counted, joined, padded, paragraphs, span, wrapped

COLUMNS: Final = (
    "session",
    "when",
    "pass",
    "run",
    "passages",
    "canvas",
    "place",
    "minutes",
    "planned_minutes",
    "notes",
    "return",
    "deviation",
    "check",
)
"""Keys of a row, in the order they are shown."""

_LEAST_TEXT_CELLS: Final = 24
"""A narrower column of text begins anew below the figures."""

_MOST_NAME_CELLS: Final = 16


def plain_row(record: TurnRecord) -> dict[str, object]:
    """Return one turn as plain values under the keys of `COLUMNS`; minutes to two places."""
    turn = record.turn
    return {
        "session": record.session,
        "when": local_time(record.begun).isoformat(),
        "pass": turn.pass_name,
        "run": turn.run,
        "passages": list(turn.passages),
        "canvas": turn.canvas,
        "place": turn.place,
        "minutes": minutes(record.worked_ms),
        "planned_minutes": minutes(turn.planned_s * 1000),
        "notes": list(record.notes),
        "return": record.is_marked,
        "deviation": deviation(record),
        "check": turn.check,
        "outlines": dict(record.outlines),
    }


def text_row(record: TurnRecord) -> tuple[str, ...]:
    """Return one turn as texts under `COLUMNS`."""
    row = plain_row(record)
    row["when"] = f"{local_time(record.begun):%Y-%m-%d %H:%M}"
    row["place"] = "check" if record.turn.check else row["place"]
    row["passages"] = " + ".join(record.turn.passages)
    row["minutes"] = f"{record.worked_ms / MS_PER_MIN:.1f}"
    row["planned_minutes"] = f"{record.turn.planned_s / 60:.1f}"
    row["notes"] = " | ".join(record.notes)
    row["return"] = "return" if record.is_marked else ""
    return tuple(str(row[key]) for key in COLUMNS)


def log_lines(turns: Iterable[TurnRecord], columns: int) -> list[str]:
    """Return the log as it is printed, in lines of at most `columns` cells: by day, by pass, a turn below the other.

    What was noted of a turn stands below it.
    """
    rows = tuple(turns)
    wide = min(_MOST_NAME_CELLS, max((cells(record.turn.canvas) for record in rows), default=0))
    lines: list[str] = []
    for (session, day), of_day in groupby(rows, key=lambda record: (record.session, local_time(record.begun).date())):
        lines += ["", f"{day_words(day)}, session {session}"] if lines else [f"{day_words(day)}, session {session}"]
        for name, of_pass in groupby(of_day, key=lambda record: record.turn.pass_name):
            lines += wrapped(f"  {name}", columns)
            lines += [line for record in of_pass for line in _turn_lines(record, wide, columns)]
    return lines


def what_in(passages: Sequence[str], check: str) -> str:
    """Return what a turn is about: its passages, and how the canvas is looked at where their names do not tell."""
    said = " + ".join(passages)
    return f"{said} ({check})" if check and check not in said else said


def _turn_lines(record: TurnRecord, wide: int, columns: int) -> list[str]:
    turn = record.turn
    role = "check" if turn.check else "leads" if turn.place == 1 else "follows"
    took = f"{record.worked_ms / MS_PER_MIN:3.0f} of {turn.planned_s / 60:3.0f} min"
    figures = f"    {local_time(record.begun):%H:%M}  {padded(turn.canvas, wide)}  {padded(role, 7)}  {took}"
    said = [
        what_in(turn.passages, turn.check),
        deviation(record),
        "to come back to" if record.is_marked else "",
        *(f"“{note}”" for note in record.notes),
    ]
    room = columns - cells(figures) - 2
    if room < _LEAST_TEXT_CELLS:
        return [*wrapped(figures, columns), *(f"      {row}" for row in paragraphs(filter(None, said), columns - 6))]
    first, *below = paragraphs(filter(None, said), room, indent="")
    return [f"{figures}  {first}", *(" " * (cells(figures) + 2) + row for row in below)]


def plain_log(painted: JournalState, turns: Iterable[TurnRecord]) -> dict[str, object]:
    """Return the whole log as plain values: the chosen turns, their totals, the sessions, who led each run."""
    rows = tuple(turns)
    return {
        "turns": [plain_row(record) for record in rows],
        "totals": {
            "canvas": _plain_totals(totals(rows, by_canvas)),
            "pass": _plain_totals(totals(rows, by_pass)),
            "session": _plain_totals(totals(rows, by_session)),
        },
        "sessions": [
            {
                "session": session.number,
                "begun": local_time(session.begun).isoformat(),
                "ended": local_time(session.ended).isoformat(),
                "minutes": minutes(session.worked_ms),
            }
            for session in painted.sessions
        ],
        "leads": [{"pass": run.pass_name, "run": run.run, "lead": run.lead} for run in _led(painted, rows)],
        "unfinished_minutes": minutes(painted.turn_ms),
    }


def total_lines(painted: JournalState, turns: Iterable[TurnRecord]) -> tuple[str, ...]:
    """Return the totals as sentences, one a line."""
    rows = tuple(turns)
    led = [run.lead for run in _led(painted, rows)]
    leads = [f"{name} {led.count(name)}" for name in dict.fromkeys(led)]
    lines = [f"Led: {joined(leads)} of {counted(len(led), 'run')}."] if led else []
    lines += [f"{total.name}: {counted(total.turns, 'turn')}, {_took(total)}." for total in totals(rows, by_canvas)]
    lines += [f"{total.name}: {_took(total)}." for total in totals(rows, by_pass)]
    if painted.turn_ms:
        lines.append(f"The turn in hand: {span(painted.turn_ms)} so far.")
    return tuple(lines)


def _took(total: Total) -> str:
    return f"{span(total.worked_ms)} of {span(total.planned_ms)} planned"


def _led(painted: JournalState, rows: Iterable[TurnRecord]) -> list[LedRun]:
    """Return who led the runs of these turns; of one canvas alone its turns do not tell who led."""
    shown = {(record.turn.pass_name, record.turn.run) for record in rows if record.is_painted}
    return [run for run in led_runs(painted.turns) if (run.pass_name, run.run) in shown]


def minutes(ms: int) -> float:
    """Return milliseconds as minutes to two places."""
    return round(ms / MS_PER_MIN, 2)


def _plain_totals(sums: tuple[Total, ...]) -> dict[str, object]:
    return {
        total.name: {
            "turns": total.turns,
            "minutes": minutes(total.worked_ms),
            "planned_minutes": minutes(total.planned_ms),
        }
        for total in sums
    }
