"""Journals made by hand or by another program: an answer or one sentence from every command, never a traceback."""

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing
from functools import partial
from pathlib import Path
from typing import Final

import pytest

from coach.cli import main
from coach.commands.opening import open_session
from coach.journal.events import Kind
from coach.session.moves import go_on, undo
from coach.store.journal_database import APPLICATION_ID
from coach.store.system_clock import SystemClock
from tests.store.conftest import made_journal

PLAN: Final = """\
canvases: [{name: Hall, size: 40 x 50 cm}, School]
due: 2031-05-01
week: {mon-fri: 5 h}
passes:
- name: eyes
  passages: [{name: socket shadow, minutes: 14}, {name: upper lid, beside: socket shadow}, iris]
"""

COMMANDS: Final = (
    ("log",),
    ("log", "--json"),
    ("log", "--csv"),
    ("log", "--hours"),
    ("log", "--hours", "--json"),
    ("log", "--fairness"),
    ("order",),
    ("forecast",),
)

TURN: Final = ["eyes", 1, ["socket shadow", "upper lid"], "Hall", 1, 1380]
SINCE: Final = [1_790_000_000_000, 0, 5, "b"]


def body(**fields: object) -> str:
    return json.dumps(fields)


def every_kind_with(**fields: object) -> list[tuple[str, int, str]]:
    """Return an event of every kind, each with the same body; a text suits its kind."""
    texts = {Kind.GRANTED: "600000", Kind.RETIMED: "1500000", Kind.WOKE: "06:30", Kind.NOT_TODAY: "day:1,week:99"}
    return [
        (kind.value, 2, body(**{**fields, **({"text": texts[kind]} if kind in texts else {})}))
        for kind in Kind
        if kind is not Kind.PLAN_READ
    ]


def a_session_with(*events: tuple[str, str]) -> list[tuple[str, int, str]]:
    """Return a session with these kinds and bodies."""
    return [("session_begun", 2, "{}"), *((kind, 2, text) for kind, text in events)]


def turn(*fields: object) -> str:
    return body(turn=fields)


STRANGE: Final = {
    "every kind with nothing": every_kind_with(),
    "every kind with a turn": every_kind_with(turn=TURN),
    "every kind with everything": every_kind_with(turn=TURN, text="x", target=3, since=SINCE),
    "every kind twice, backwards": [*reversed(every_kind_with(turn=TURN)), *every_kind_with(turn=TURN)],
    "undone before it is done": [("undone", 2, body(target=target)) for target in (1, 2, 3, 99, 2**62)],
    "a turn of another plan": a_session_with(("turn_done", turn("nose", 9, [], "Mill", 7, 0))),
    "a huge turn": a_session_with(("turn_done", turn("eyes", 10**12, ["iris"], "Hall", 10**12, 10**12))),
    "huge grants": a_session_with(("granted", body(text="9" * 12)), ("retimed", body(turn=TURN, text="9" * 12))),
    "grants below nothing": a_session_with(
        ("turn_done", body(turn=TURN)), ("granted", body(text="-99999999999")), ("retimed", body(turn=TURN, text="-9"))
    ),
    "a return from long ago": a_session_with(("came_back", body(since=[-62_135_424_000_000, 86_399, 0, ""]))),
    "a return from far ahead": a_session_with(
        ("came_back", body(since=[253_370_764_799_999, -86_399, 2**63 - 1, "b"]))
    ),
    "deep nesting": [("noted", 2, "[" * 100_000)],
    "deep nesting in an object": [("noted", 2, '{"text":' * 50_000)],
    "a plan that is none": [("plan_read", 2, body(text="[" * 1000)), ("session_begun", 2, "{}")],
    "steering characters": a_session_with(
        ("noted", body(turn=TURN, text="\x1b[2J\x07\n")),
        ("turn_done", turn("\x1b[2J", 1, ["\x9b31m"], "\u202e", 1, 60)),
    ),
    "formulas": a_session_with(("turn_done", turn("=1+1", 1, ["@x"], "+y", 1, 60))),
    "numbers without end": [("turn_done", 2, '{"turn":["eyes",' + "9" * 5000 + ',[],"Hall",1,1]}')],
    "not a number": [("turn_done", 2, '{"turn":["eyes",NaN,[],"Hall",1,Infinity]}')],
    "notes without a turn done": a_session_with(*[("noted", body(turn=TURN, text="x"))] * 200),
}


def without_strictness(path: Path) -> None:
    """Make a journal whose table takes anything, with something of every type in every column."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(
            "CREATE TABLE event (seq INTEGER PRIMARY KEY, wall_ms, offset_s, elapsed_ms, boot, kind, version, body)"
        )
        connection.execute("INSERT INTO event VALUES (1, 1790000000000, 0, 1, 'b', 'session_begun', 2, '{}')")
        connection.execute("INSERT INTO event VALUES (2, 'soon', 1.5, NULL, x'ff', 7, 'two', x'7b7d')")


def endless_view(path: Path) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute(
            "CREATE VIEW event AS WITH RECURSIVE n(seq) AS (SELECT 1 UNION ALL SELECT seq + 1 FROM n)"
            " SELECT seq, 1 AS wall_ms, 0 AS offset_s, 1 AS elapsed_ms, '' AS boot, 'noted' AS kind, 1 AS version,"
            " '{}' AS body FROM n"
        )


def _made(events: list[tuple[str, int, str]], path: Path) -> None:
    made_journal(path, *events)


MADE: Final[dict[str, Callable[[Path], None]]] = {
    **{name: partial(_made, events) for name, events in STRANGE.items()},
    "no strict types": without_strictness,
    "an endless view": endless_view,
}


@pytest.mark.parametrize("name", MADE)
def test_a_strange_journal_is_an_answer_or_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    plan = tmp_path / "plan.yaml"
    plan.write_text(PLAN)
    MADE[name](tmp_path / "plan.journal")
    for command, *options in COMMANDS:
        status = main([command, str(plan), *options])
        said = capsys.readouterr()
        assert status in {0, 1}, said.err
        assert not {"\x1b", "\x07", "\x9b", "\u202e"} & set(said.out + said.err)
        assert len(said.err.splitlines()) == status or "cannot be told" in said.err


@pytest.mark.parametrize("name", STRANGE)
def test_a_strange_journal_is_opened_at_the_easel(tmp_path: Path, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("coach.commands.opening._agrees", lambda *_: True)
    plan = tmp_path / "plan.yaml"
    plan.write_text(PLAN)
    MADE[name](tmp_path / "plan.journal")
    session, access = open_session(plan, SystemClock())
    with closing(access):
        for move in (go_on, go_on, undo, go_on):
            session.make(move)
            session.tick()
            assert session.situation()


@pytest.mark.parametrize(
    "name", ["x" * 280 + ".journal", "é" * 140 + ".journal", "a\\0b.journal", "nowhere/else.journal"]
)
def test_a_journal_to_learn_from_that_no_disk_can_hold_is_not_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    (tmp_path / "plan.yaml").write_text(PLAN + f'learn-from: ["{name}"]\n')
    assert main(["forecast", str(tmp_path / "plan.yaml")]) == 1
    said = capsys.readouterr().err
    assert len(said.splitlines()) == 1
    assert "learn-from" in said
