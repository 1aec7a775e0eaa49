"""The journal on a sound disk: what goes in comes out, in order, and stays."""

import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from coach.journal.events import Event, JournalError, Kind, Turn
from coach.journal.reading import Reading
from coach.store.sqlite_journal import SqliteJournal

Noted = Callable[[str], Event]

AT = Reading(wall_ms=1_790_000_000_123, offset_s=-18_000, elapsed_ms=987_654_321, boot="0d5e")
TURN = Turn(
    pass_name="the nose",
    run=3,
    passages=("wing", 'light "edge"'),
    canvas="Hall",
    place=2,
    planned_s=1380,
)


TEXTS = {
    Kind.GRANTED: "600000",
    Kind.RETIMED: "1500000",
    Kind.WOKE: "06:30",
    Kind.NOT_TODAY: "day:1,week:2",
    Kind.UNDONE: "2,3",
}
"""Texts of the kinds that have a form to keep."""


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize(
    "extra",
    [
        {},
        {"turn": TURN},
        {"text": "canvases: [Hall, School] \N{OIL DRUM} ümläut 'quotes' \\"},
        {"target": 17},
        {"since": AT._replace(boot="")},
        {"turn": TURN, "text": "cooler", "target": 1, "since": AT},
    ],
)
def test_every_kind_of_event_is_read_back_as_it_was_appended(tmp_path: Path, kind: Kind, extra: dict[str, Any]) -> None:
    event = Event(seq=0, at=AT, kind=kind, **(extra | {"text": TEXTS[kind]} if kind in TEXTS else extra))
    with closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as journal:
        kept = journal.append(event)
    with closing(SqliteJournal(tmp_path / "a.journal", writes=False)) as journal:
        assert list(journal.after(0)) == [kept] == [event._replace(seq=1)]


def test_numbers_rise_by_one_over_closing_and_opening(tmp_path: Path, noted: Noted) -> None:
    numbers = []
    for _ in range(3):
        with closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as journal:
            numbers += [journal.append(noted("x")).seq for _ in range(2)]
            assert [event.seq for event in journal.after(numbers[-1] - 1)] == [numbers[-1]]
    assert numbers == [1, 2, 3, 4, 5, 6]


@pytest.mark.parametrize("change", ["UPDATE event SET body = '{}'", "DELETE FROM event WHERE seq = 1"])
def test_what_is_recorded_can_be_neither_changed_nor_deleted(tmp_path: Path, noted: Noted, change: str) -> None:
    with closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as journal:
        journal.append(noted("stays"))
    with (
        closing(sqlite3.connect(tmp_path / "a.journal")) as other,
        pytest.raises(sqlite3.IntegrityError, match="append-only"),
    ):
        other.execute(change)
    with closing(SqliteJournal(tmp_path / "a.journal", writes=False)) as journal:
        assert [event.text for event in journal.after(0)] == ["stays"]


def test_the_pragmas_are_in_force(tmp_path: Path) -> None:
    """SQLite documentation, PRAGMA synchronous: 2 is FULL; application_id and user_version lie in the head."""
    with closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as journal:
        held = {
            name: journal._connection.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "synchronous", "trusted_schema", "cell_size_check", "busy_timeout")
        }
    safe = {"journal_mode": "wal", "synchronous": 2, "trusted_schema": 0, "cell_size_check": 1}
    assert held == safe | {"busy_timeout": 2000}
    head = (tmp_path / "a.journal").read_bytes()[:100]
    # SQLite documentation, Database File Format 1.3: user version at offset 60, application id at 68.
    assert head[60:64] == (2).to_bytes(4, "big")
    assert head[68:72] == b"easl"


def test_a_disk_without_shared_memory_is_synced_all_the_same(
    tmp_path: Path, noted: Noted, monkeypatch: pytest.MonkeyPatch
) -> None:
    """SQLite documentation, PRAGMA synchronous: 3 is EXTRA. The dot-file VFS has no shared memory."""
    plain: Callable[..., sqlite3.Connection] = sqlite3.connect

    def connect(path: Path | str, **options: Any) -> sqlite3.Connection:
        if isinstance(path, str):
            return plain(path, **options)
        return plain(f"{path.as_uri()}?vfs=unix-dotfile", uri=True, **options)

    monkeypatch.setattr("coach.store.journal_database.sqlite3.connect", connect)
    with closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as journal:
        journal.append(noted("kept"))
        assert journal._connection.execute("PRAGMA journal_mode").fetchone()[0] == "delete"
        assert journal._connection.execute("PRAGMA synchronous").fetchone()[0] == 3
        assert [event.text for event in journal.after(0)] == ["kept"]


def test_a_closed_journal_is_one_file(tmp_path: Path, noted: Noted) -> None:
    journal = SqliteJournal(tmp_path / "a.journal", writes=True)
    journal.append(noted("x"))
    assert (tmp_path / "a.journal-wal").stat().st_size > 0
    journal.close()
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a.journal", "a.journal-seen"]
    assert {path.stat().st_mode & 0o777 for path in tmp_path.iterdir()} == {0o600}


def test_what_cannot_be_folded_in_at_closing_is_there_at_the_next_opening(tmp_path: Path, noted: Noted) -> None:
    journal = SqliteJournal(tmp_path / "a.journal", writes=True)
    for text in ("one", "two", "three"):
        journal.append(noted(text))
    with closing(SqliteJournal(tmp_path / "a.journal", writes=False)) as reader:
        events = reader.after(0)
        assert next(events).text == "one"  # it has begun to read, and holds on
        journal.append(noted("four"))
        journal.close()
        assert (tmp_path / "a.journal-wal").stat().st_size > 0
    with closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as again:
        assert [event.text for event in again.after(0)] == ["one", "two", "three", "four"]


def test_an_event_that_cannot_be_written_leaves_no_open_transaction(tmp_path: Path, noted: Noted) -> None:
    with closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as journal:
        with pytest.raises(UnicodeEncodeError):
            journal.append(noted("\ud800"))
        assert journal.append(noted("next")).seq == 1


def test_a_journal_opened_to_read_takes_nothing(tmp_path: Path, noted: Noted) -> None:
    SqliteJournal(tmp_path / "a.journal", writes=True).close()
    with (
        closing(SqliteJournal(tmp_path / "a.journal", writes=False)) as journal,
        pytest.raises(JournalError, match="not recorded: the disk or the file is read-only"),
    ):
        journal.append(noted("x"))


@pytest.mark.parametrize("name", ["a b", "what?", "no#1", "100%41", "\N{ARTIST PALETTE}", "[red]", "ü'\""])
def test_any_name_of_a_file_serves(tmp_path: Path, noted: Noted, name: str) -> None:
    folder = tmp_path / name
    folder.mkdir()
    path = folder / f"{name}.journal"
    with closing(SqliteJournal(path, writes=True)) as journal:
        journal.append(noted("x"))
    with closing(SqliteJournal(path, writes=False)) as journal:
        assert [event.text for event in journal.after(0)] == ["x"]
    assert all(found.name.startswith(path.name) for found in folder.iterdir())


def test_another_program_that_holds_the_journal_is_named_as_the_cause(tmp_path: Path, noted: Noted) -> None:
    with (
        closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as journal,
        closing(sqlite3.connect(tmp_path / "a.journal", isolation_level=None)) as other,
    ):
        journal._connection.execute("PRAGMA busy_timeout = 1")
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(JournalError, match="another program is writing to the journal"):
            journal.append(noted("x"))
        other.execute("ROLLBACK")
        assert journal.append(noted("x")).seq == 1
