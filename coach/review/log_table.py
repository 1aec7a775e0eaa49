"""The log as plain rows for JSON and CSV, and as lines for the screen and for print."""

from collections import Counter
from collections.abc import Container, Iterable, Sequence
from itertools import groupby
from typing import Final, NamedTuple

from coach.forecast.sentences import day_words
from coach.journal.events import STAGE_WORDS
from coach.journal.reading import local_time
from coach.plan.commission import Plan, pass_words
from coach.review.comparison_history import comparison_history
from coach.review.fairness.report import last_plan
from coach.review.fairness.run_times import RunTimes
from coach.review.painted import MS_PER_MIN, LedRun, Total, by_canvas, by_pass, by_session, deviation, led_runs, totals
from coach.session.journal_state import JournalState
from coach.session.records import TurnRecord
from coach.text import cells, counted, cut, joined, padded, span, wrapped

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


_NARROWEST: Final = 16
_MOST_NAME: Final = 16
_PLACE_CELLS: Final = len("followed")
_TOOK_CELLS: Final = len("120 of 120 min")
_LEAST_WHAT: Final = 16
_BELOW: Final = " " * 7
"""What is said of a turn begins below its canvas."""


RunKey = tuple[str, int]
"""A run by the name of its pass and its number."""


class LogLine(NamedTuple):
    """A line of the log; `is_head` where it names the day and the pass of the lines below."""

    text: str
    is_head: bool = False


def painted_alone(painted: JournalState, runs: Iterable[RunTimes], plan: Plan | None) -> frozenset[RunKey]:
    """Return the runs that one canvas painted and that are for no other: there nobody led.

    Args:
        painted: What the journal adds up to.
        runs: The runs painted.
        plan: The plan; None where it is not known, so that a follower may still come.
    """
    if plan is None:
        return frozenset()
    followed = {(run.pass_name, run.run_no) for run in runs if len(run.order) > 1}
    to_share = {
        (run.pass_name, tuple(passage.name for passage in run.passages))
        for run in plan.runs
        if sum(run.is_for(canvas.name) for canvas in plan.canvases) > 1
    }
    turns = (record.turn for record in painted.turns if record.is_painted)
    return frozenset(
        (turn.pass_name, turn.run) for turn in turns if (turn.pass_name, turn.passages) not in to_share
    ) - frozenset(followed)


def log_lines(
    painted: JournalState, turns: Iterable[TurnRecord], alone: Container[RunKey], columns: int
) -> tuple[LogLine, ...]:
    """Return turns and what followed the last stroke, the newest first, on lines of at most `columns` cells.

    Args:
        painted: What the journal adds up to.
        turns: The turns to show, in the order painted.
        alone: The runs that nobody led.
        columns: Cells of a line; less than 16 are taken as 16.
    """
    rows = tuple(turns)
    columns = max(_NARROWEST, columns)
    name_cells = min(_MOST_NAME, max((cells(record.turn.canvas) for record in rows), default=0))
    entries = [
        (
            local_time(one.begun),
            f" · {pass_words(one.turn.pass_name)}",
            _entry(one, _place(one, alone), name_cells, columns),
        )
        for one in rows
    ]
    names = {record.turn.canvas for record in rows}
    for (canvas, kind), reading in painted.stages.items():
        if canvas in names:
            at = local_time(reading)
            entries.append((at, "", wrapped(f"{at:%H:%M}  {canvas} {STAGE_WORDS[kind]}", columns)))
    # Turns of the same minute keep the order of the journal, turned round.
    entries = sorted(entries, key=lambda entry: entry[0])[::-1]
    lines: list[LogLine] = []
    for (day, about), group in groupby(entries, key=lambda entry: (entry[0].date(), entry[1])):
        head = cut(f"{day_words(day)}{about}", columns)
        lines.append(LogLine(head, is_head=True))
        lines += [LogLine(text) for _, _, texts in group for text in texts]
    return tuple(lines)


def _entry(record: TurnRecord, place: str, name_cells: int, columns: int) -> list[str]:
    """Return a turn: when, canvas, place, passages, minutes; below it what was marked, done otherwise or noted."""
    turn, time = record.turn, f"{local_time(record.begun):%H:%M}"
    passages = what_in(turn.passages, turn.check)
    took = "" if record.is_skipped else f"{record.worked_ms / MS_PER_MIN:.0f} of {turn.planned_s / 60:.0f} min"
    head = f"{time}  {padded(turn.canvas, name_cells)}  {padded(place, _PLACE_CELLS)}"
    room = columns - cells(head) - 4 - _TOOK_CELLS
    if room >= _LEAST_WHAT:
        first, *others = wrapped(passages, room, indent="")
        lines = [f"{head}  {padded(first, room)}  {padded(took, _TOOK_CELLS, right=True)}".rstrip()]
        lines += [" " * (cells(head) + 2) + other for other in others]
    else:
        short = " ".join(text for text in (turn.canvas, place, took) if text)
        lines = [*wrapped(f"{time}  {short}", columns, indent=_BELOW), *_below(passages, columns)]
    said = ["look again"] * record.is_marked + ["went the other way"] * record.went_other_way
    said += [f"“{note}”" for note in record.notes]
    return [*lines, *(row for text in said for row in _below(text, columns))]


def what_in(passages: Sequence[str], check: str) -> str:
    """Return what a turn is about: its passages, and how the canvas is looked at where their names do not tell."""
    said = " + ".join(passages)
    return f"{said} ({check})" if check and check not in said else said


def _below(text: str, columns: int) -> list[str]:
    return [f"{_BELOW}{row}" for row in wrapped(text, columns - len(_BELOW), indent="")]


def _place(record: TurnRecord, alone: Container[RunKey]) -> str:
    """Return whether a turn led or followed; a check did neither, nor did a turn on one canvas alone."""
    turn = record.turn
    if record.is_skipped or turn.check:
        return "skipped" if record.is_skipped else "check"
    if not turn.is_lead:
        return "followed"
    return "alone" if (turn.pass_name, turn.run) in alone else "led"


def plain_log(painted: JournalState, turns: Iterable[TurnRecord]) -> dict[str, object]:
    """Return the whole log as plain values: the chosen turns with totals, sessions, leads, every difference found."""
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
        "comparisons": comparison_history(last_plan(painted), painted).differences,
    }


def total_lines(painted: JournalState, turns: Iterable[TurnRecord], runs: Iterable[RunTimes]) -> tuple[str, ...]:
    """Return the totals as sentences, one a line.

    Args:
        painted: What the journal adds up to.
        turns: The turns to add up.
        runs: The runs painted, as the fairness report has them: so the two never disagree on who led.
    """
    rows = tuple(turns)
    in_view = {(record.turn.pass_name, record.turn.run) for record in rows if record.is_painted}
    led = [run.order for run in runs if len(run.order) > 1 and (run.pass_name, run.run_no) in in_view]
    leads = Counter(order[0] for order in led)
    said = [f"{name} {leads[name]}" for name in dict.fromkeys(name for order in led for name in order)]
    lines = [f"Led: {joined(said)} of {counted(len(led), 'run')}."] if led else []
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
