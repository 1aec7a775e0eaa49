"""The log as plain rows: the same for the screen, for JSON and for CSV."""

from collections.abc import Iterable
from typing import Final

from coach.journal.reading import local_time
from coach.review.painted import MS_PER_MIN, LedRun, Total, by_canvas, by_pass, by_session, deviation, led_runs, totals
from coach.session.journal_state import JournalState
from coach.session.records import TurnRecord
from coach.text import counted, joined

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

PRINTED: Final = ("when", "pass", "run", "passages and notes", "canvas", "place", "min", "planned")
"""Columns of the printed log, which fits 80 cells: what was noted stands with what was painted."""


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


def printed_row(record: TurnRecord) -> tuple[str, ...]:
    """Return one turn as texts under `PRINTED`."""
    row = dict(zip(COLUMNS, text_row(record), strict=True))
    said = [
        row["passages"],
        row["check"] and f"check: {row['check']}",
        row["deviation"],
        "marked for return" if record.is_marked else "",
    ]
    noted = "; ".join(text for text in (*said, *(f"“{note}”" for note in record.notes)) if text)
    figures = (row["canvas"], row["place"], row["minutes"], row["planned_minutes"])
    return (row["when"], row["pass"], row["run"], noted, *figures)


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
    lines = [
        _total_line(what, totals(rows, by))
        for what, by in (("canvas", by_canvas), ("pass", by_pass), ("session", by_session))
    ]
    leads = [f"{name} {led.count(name)}" for name in dict.fromkeys(led)]
    lines += [f"led: {joined(leads)} of {counted(len(led), 'run')}"] if led else []
    if painted.turn_ms:
        lines.append(f"turn in hand: {painted.turn_ms / MS_PER_MIN:.1f} min so far")
    return tuple(line for line in lines if not line.endswith(": "))


def _led(painted: JournalState, rows: Iterable[TurnRecord]) -> list[LedRun]:
    """Return who led the runs of these turns; of one canvas alone its turns do not tell who led."""
    shown = {(record.turn.pass_name, record.turn.run) for record in rows if record.is_painted}
    return [run for run in led_runs(painted.turns) if (run.pass_name, run.run) in shown]


def minutes(ms: int) -> float:
    """Return milliseconds as minutes to two places."""
    return round(ms / MS_PER_MIN, 2)


def _total_line(what: str, sums: tuple[Total, ...]) -> str:
    said = (
        f"{total.name} {total.worked_ms / MS_PER_MIN:.0f} min in {counted(total.turns, 'turn')}"
        f" (planned {total.planned_ms / MS_PER_MIN:.0f})"
        for total in sums
    )
    return f"by {what}: " + ", ".join(said)


def _plain_totals(sums: tuple[Total, ...]) -> dict[str, object]:
    return {
        total.name: {
            "turns": total.turns,
            "minutes": minutes(total.worked_ms),
            "planned_minutes": minutes(total.planned_ms),
        }
        for total in sums
    }
