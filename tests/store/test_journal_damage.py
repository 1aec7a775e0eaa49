"""Files that are not what they should be: one sentence, never a traceback, and nothing foreign is changed."""

import os
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coach.journal.body import VERSION
from coach.journal.events import Event, JournalError
from coach.store.journal_access import open_to_read, open_to_work
from coach.store.journal_database import APPLICATION_ID
from coach.store.sqlite_journal import SqliteJournal
from tests.store.conftest import made_journal

Noted = Callable[[str], Event]

PAGE = 4096


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed journal of 300 notes on some forty pages."""
    path = tmp_path_factory.mktemp("sound") / "a.journal"
    made_journal(path, *(("noted", 1, f'{{"text":"{no} {"x" * 500}"}}') for no in range(1, 301)))
    return path


@pytest.fixture
def copy(sound: Path, tmp_path: Path) -> Path:
    """Such a journal of one's own."""
    shutil.copy(sound, tmp_path / "a.journal")
    return tmp_path / "a.journal"


def leave_open(path: Path) -> None:
    """Give the journal a log, as if the coach had died."""
    with closing(sqlite3.connect(path, isolation_level=None)) as writer:
        writer.execute("PRAGMA journal_mode = WAL")
        writer.execute("BEGIN IMMEDIATE")
        writer.execute("PRAGMA user_version = 2")
        writer.execute("COMMIT")
        log = path.with_name(path.name + "-wal").read_bytes()
    path.with_name(path.name + "-wal").write_bytes(log)


def overwrite(path: Path, offset: int, data: bytes) -> None:
    with path.open("r+b") as file:
        file.seek(offset)
        file.write(data)


@pytest.mark.parametrize("page", [8, 20, 35])
@pytest.mark.parametrize("at", [0, 1000, PAGE - 200])
def test_the_events_before_damaged_bytes_are_read(copy: Path, noted: Noted, page: int, at: int) -> None:
    overwrite(copy, page * PAGE + at, b"\xff" * 200)
    with closing(open_to_work(copy.with_suffix(".yaml"))) as access:
        assert not access.read_only  # a closed journal is trusted until it is read
        numbers = [event.seq for event in access.journal.after(0)]
        assert 0 < len(numbers) < 300
        assert numbers == list(range(1, len(numbers) + 1))
        assert access.journal.damage.startswith(f"{copy}: ")
        assert access.journal.damage.endswith(f"; it is read up to event {len(numbers)}")
        assert "\n" not in access.journal.damage
        with pytest.raises(JournalError, match=r"not recorded: .*it is read up to event"):
            access.journal.append(noted("on top of what is not known"))


@pytest.mark.parametrize("pages", [5, 17.5, 30])
@pytest.mark.parametrize("was_left_open", [False, True])
def test_the_events_of_a_file_that_was_cut_off_are_read_up_to_the_cut(
    copy: Path, pages: float, *, was_left_open: bool
) -> None:
    os.truncate(copy, int(pages * PAGE))
    if was_left_open:
        copy.with_name("a.journal-wal").write_bytes(b"no log at all")
    with closing(open_to_work(copy.with_suffix(".yaml"))) as access:
        assert access.read_only == f"nothing can be recorded: {copy}: the journal is damaged"
        numbers = [event.seq for event in access.journal.after(0)]
        assert numbers == list(range(1, len(numbers) + 1))
        assert 0 < len(numbers) < 300
        assert "damaged" in access.journal.damage


def test_a_journal_that_no_coach_closed_is_looked_over_before_it_is_written(copy: Path) -> None:
    leave_open(copy)
    overwrite(copy, 20 * PAGE, b"\xff" * 200)
    with closing(open_to_work(copy.with_suffix(".yaml"))) as access:
        assert access.read_only == f"nothing can be recorded: {copy}: the journal is damaged"
        assert len(list(access.journal.after(0))) > 50


def test_a_sound_journal_that_no_coach_closed_is_written_on(copy: Path, noted: Noted) -> None:
    leave_open(copy)
    with closing(open_to_work(copy.with_suffix(".yaml"))) as access:
        assert access.journal.append(noted("x")).seq == 301


@settings(max_examples=120, deadline=None, derandomize=True)
@given(
    patches=st.lists(st.tuples(st.integers(0, 45 * PAGE), st.binary(min_size=1, max_size=64)), min_size=1, max_size=4),
    cut=st.none() | st.integers(0, 45 * PAGE),
)
def test_no_damage_ends_in_anything_but_a_sentence(
    sound: Path, tmp_path_factory: pytest.TempPathFactory, patches: list[tuple[int, bytes]], cut: int | None
) -> None:
    copy = tmp_path_factory.mktemp("damaged") / "a.journal"
    shutil.copy(sound, copy)
    for offset, data in patches:
        overwrite(copy, offset, data)
    if cut is not None:
        os.truncate(copy, cut)
    try:
        with closing(open_to_work(copy.with_suffix(".yaml"))) as access:
            numbers = [event.seq for event in access.journal.after(0)]
            assert numbers == sorted(numbers)
    except JournalError as error:
        said = str(error)
        assert "\n" not in said


def test_bytes_that_damage_left_in_a_report_of_sqlite_are_damage(copy: Path) -> None:
    """One byte of the schema's text is turned; SQLite quotes it in a report that is then not UTF-8."""
    overwrite(copy, copy.read_bytes().index(b"CREATE TRIGGER") + 2, b"\x80")
    with closing(open_to_work(copy.with_suffix(".yaml"))) as access:
        assert access.read_only == f"nothing can be recorded: {copy}: the journal is damaged"
        assert [event.seq for event in access.journal.after(0)] in ([], list(range(1, 301)))


def make_foreign(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE recipe (name TEXT)")
        connection.execute("PRAGMA application_id = 1234")


def make_nameless(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("CREATE TABLE event (seq INTEGER PRIMARY KEY)")


def make_empty_foreign(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA application_id = 1234")


def make_newer(path: Path) -> None:
    SqliteJournal(path, writes=True).close()
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA journal_mode = DELETE")
        connection.execute("PRAGMA user_version = 3")


def make_text(path: Path) -> None:
    path.write_text("canvases: [Hall, School]\n" * 100, encoding="utf-8")


NOT_OURS = "this is not a journal of the coach"


@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (make_foreign, NOT_OURS),
        (make_nameless, NOT_OURS),
        (make_empty_foreign, NOT_OURS),
        (make_text, NOT_OURS),
        (make_newer, "the journal is of version 3, of a newer coach; this one knows version 2"),
        (Path.mkdir, "this is not an ordinary file"),
        (os.mkfifo, "this is not an ordinary file"),
    ],
)
def test_what_is_not_our_journal_is_refused_in_one_sentence_and_left_as_it_is(
    tmp_path: Path, make: Callable[[Path], None], sentence: str
) -> None:
    path = tmp_path / "a.journal"
    make(path)
    before = path.read_bytes() if path.is_file() else None
    for opening in (open_to_work, open_to_read):
        with pytest.raises(JournalError) as caught:
            opening(tmp_path / "a.yaml")
        assert str(caught.value) == f"{path}: {sentence}"
    assert (path.read_bytes() if path.is_file() else None) == before


@pytest.mark.parametrize(
    ("values", "sentence"),
    [
        (("noted", VERSION + 1, "{}"), "event 2 was written by a newer coach; open it with that one"),
        (("noted", 1, "{"), "event 2 of the journal is damaged"),
        (("danced", 1, "{}"), "event 2 of the journal is damaged"),
        (("noted", 1, '["text"]'), "event 2 of the journal is damaged"),
        (("turn_done", 1, '{"turn":["eyes",1]}'), "event 2 of the journal is damaged"),
    ],
)
def test_the_events_before_one_that_is_not_understood_are_read(
    tmp_path: Path, noted: Noted, values: tuple[str, int, str], sentence: str
) -> None:
    one = ("noted", 2, '{"text":"one"}')
    made_journal(tmp_path / "a.journal", one, values, one)
    with closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as journal:
        assert [event.text for event in journal.after(0)] == ["one"]
        assert journal.damage == f"{tmp_path / 'a.journal'}: {sentence}; it is read up to event 1"
        with pytest.raises(JournalError, match="not recorded"):
            journal.append(noted("four"))


def test_a_journal_without_its_table_is_said_to_be_unusable(tmp_path: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "a.journal")) as connection:
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        connection.execute("CREATE TABLE other (name TEXT)")
    with closing(open_to_read(tmp_path / "a.yaml")) as journal:
        assert list(journal.after(0)) == []
        assert "the journal cannot be used: no such table: event" in journal.damage


def test_an_empty_file_becomes_a_journal(tmp_path: Path, noted: Noted) -> None:
    (tmp_path / "a.journal").touch()
    with closing(open_to_read(tmp_path / "a.yaml")) as journal:
        assert list(journal.after(0)) == []
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        assert not access.read_only
        assert access.journal.append(noted("x")).seq == 1
