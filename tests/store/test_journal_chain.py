"""Every event carries a hash over itself and all before it: no change, gap, reordering or cut goes unsaid."""

import os
import random
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path
from typing import Final

import pytest

from coach.journal.body import hash_of
from coach.journal.events import Event, JournalError
from coach.store.journal_access import Access, journal_path, open_to_read, open_to_work
from tests.store.conftest import made_journal
from tests.store.test_golden_journal import VERSION_1

Noted = Callable[[str], Event]

TEXTS: Final = [f"note {number} {'x' * 40}" for number in range(60)]


def texts(access: Access) -> list[str]:
    return [event.text for event in access.journal.after(0)]


@pytest.fixture
def plan(tmp_path: Path, noted: Noted) -> Path:
    """A plan with a journal of some notes."""
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        for text in TEXTS:
            access.journal.append(noted(text))
    return tmp_path / "a.yaml"


@pytest.fixture
def running(plan: Path) -> Iterator[Access]:
    """The coach on that journal, which has read it."""
    with closing(open_to_work(plan)) as access:
        assert texts(access) == TEXTS
        yield access


def change(path: Path, *steps: str) -> None:
    """Change a journal as a hand with the right tool might: its triggers are taken away and put back."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        triggers = connection.execute("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").fetchall()
        for name, _ in triggers:
            connection.execute(f"DROP TRIGGER {name}")
        for step in (*steps, *(sql for _, sql in triggers)):
            connection.execute(step)


@pytest.mark.parametrize(
    ("steps", "read", "said"),
    [
        (["UPDATE event SET body = replace(body, 'x', 'y') WHERE seq = 7"], 6, "event 7, or one before it, is not as"),
        (["UPDATE event SET wall_ms = wall_ms + 1 WHERE seq = 1"], 0, "event 1, or one before it, is not as"),
        (["DELETE FROM event WHERE seq = 30"], 29, "event 30 is missing"),
        (["DELETE FROM event WHERE seq < 3"], 0, "event 1 is missing"),
        (["DELETE FROM event WHERE seq > 50"], 50, "its end is missing: event 60 was the last"),
        (["DELETE FROM event"], 0, "its end is missing: event 60 was the last"),
        (["UPDATE event SET seq = 99 WHERE seq = 9", "UPDATE event SET seq = 9 WHERE seq = 10"], 8, "event 9, or one"),
        (["UPDATE event SET hash = NULL WHERE seq = 12"], 11, "event 12, or one before it, is not as"),
        (["UPDATE event SET hash = NULL WHERE seq = 60"], 59, "event 60, or one before it, is not as"),
        (["UPDATE event SET hash = NULL"], 60, "event 60, or one before it, is not as"),
        (["ALTER TABLE event DROP COLUMN hash"], 60, "event 60, or one before it, is not as"),
        (
            ["INSERT INTO event SELECT 61, 1, 0, 1, '', 'noted', 2, '{}', hash FROM event WHERE seq = 60"],
            60,
            "event 61",
        ),
    ],
)
def test_what_another_hand_has_changed_is_said_and_read_up_to_there(
    plan: Path, steps: list[str], read: int, said: str
) -> None:
    change(journal_path(plan), *steps)
    with closing(open_to_work(plan)) as access:
        found = texts(access)
        assert found == TEXTS[: len(found)]
        assert said in access.journal.damage
        assert access.journal.damage.endswith(f"; it is read up to event {len(found)}")
        assert len(found) == read
        assert access.can_go_on_beside


def test_without_the_word_beside_it_nobody_knows_whether_the_end_is_there_and_that_is_said(
    plan: Path, noted: Noted
) -> None:
    change(journal_path(plan), "DELETE FROM event WHERE seq > 50")
    plan.with_name("a.journal-seen").unlink()
    with closing(open_to_work(plan)) as access:
        assert texts(access) == TEXTS[:50]
        assert not access.journal.damage
        told = "whether its end is complete cannot be told, for a.journal-seen is missing"
        assert access.journal.notice == f"{journal_path(plan)}: {told}"
        access.journal.append(noted("on"))
    with closing(open_to_work(plan)) as access:
        assert texts(access) == [*TEXTS[:50], "on"]
        assert not access.journal.notice


def test_a_journal_put_in_the_place_of_another_is_found_out_though_each_is_sound(plan: Path) -> None:
    made_journal(plan.with_name("b.journal"), *(("noted", 2, '{"text":"other"}'),) * 60)
    plan.with_name("b.journal").replace(journal_path(plan))
    with closing(open_to_work(plan)) as access:
        assert len(texts(access)) == 59
        assert "event 60, or one before it, is not as it was recorded" in access.journal.damage


def test_of_many_flips_and_cuts_none_opens_with_other_events_and_says_nothing(plan: Path, tmp_path: Path) -> None:
    chance = random.Random(4)  # noqa: S311  the places need no secrecy
    sound, word = journal_path(plan).read_bytes(), plan.with_name("a.journal-seen").read_bytes()
    copy = tmp_path / "copy.journal"
    copy.with_name("copy.journal-seen").write_bytes(word)
    said = 0
    for number in range(150):
        data = bytearray(sound)
        if number % 3:
            data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
        else:
            del data[chance.randrange(len(data)) :]
        copy.write_bytes(data)
        try:
            with closing(open_to_read(copy.with_suffix(".yaml"))) as journal:
                found = [event.text for event in journal.after(0)]
                assert found == TEXTS[: len(found)]
                assert journal.damage or found == TEXTS
                said += bool(journal.damage)
        except JournalError:
            said += 1
    assert said > 50


def test_painting_goes_on_beside_a_damaged_journal_with_all_that_is_sound_and_leaves_it_as_it_is(
    plan: Path, noted: Noted
) -> None:
    change(journal_path(plan), "UPDATE event SET body = '{}' WHERE seq = 41")
    before = journal_path(plan).read_bytes()
    access = open_to_work(plan)
    assert texts(access) == TEXTS[:40]
    with pytest.raises(JournalError, match="not recorded"):
        access.journal.append(noted("refused"))
    with closing(access.go_on_beside()) as other:
        assert texts(other) == TEXTS[:40]
        assert other.journal.append(noted("on")).seq == 41
    assert plan.with_name("a.journal").read_bytes() == before
    assert journal_path(plan) == plan.with_name("a.journal-2")
    with closing(open_to_work(plan)) as again:
        assert texts(again) == [*TEXTS[:40], "on"]
        assert not again.read_only
        assert not again.journal.damage


def test_a_journal_of_a_newer_coach_is_not_gone_on_beside(tmp_path: Path) -> None:
    made_journal(tmp_path / "a.journal", ("noted", 1, "{}"), ("noted", 99, "{}"))
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        assert len(texts(access)) == 1
        assert not access.can_go_on_beside


@pytest.mark.parametrize("empties", [Path.unlink, lambda path: os.truncate(path, 0)])
def test_a_journal_that_is_gone_or_empty_while_its_word_lies_there_is_said(
    plan: Path, noted: Noted, empties: Callable[[Path], None]
) -> None:
    empties(journal_path(plan))
    with closing(open_to_read(plan)) as journal:
        assert "though it held 60 events" in journal.damage
    access = open_to_work(plan)
    assert access.read_only == f"nothing can be recorded: {access.journal.damage}"
    assert access.can_go_on_beside
    with closing(access.go_on_beside()) as other:
        assert other.journal.append(noted("anew")).seq == 1
    assert not journal_path(plan).with_name("a.journal").exists() or not plan.with_name("a.journal").stat().st_size


def _replaced(path: Path) -> None:
    other = path.with_name("other.journal")
    made_journal(other, ("noted", 2, "{}"))
    other.replace(path)


def _written_over(path: Path) -> None:
    made_journal(path.with_name("other.journal"), *(("noted", 2, '{"text":"other"}'),) * 99)
    path.write_bytes(path.with_name("other.journal").read_bytes())


def _log_deleted(path: Path) -> None:
    path.with_name(path.name + "-wal").unlink()


@pytest.mark.parametrize(
    "lose", [Path.unlink, lambda path: os.truncate(path, 0), _replaced, _written_over, _log_deleted]
)
@pytest.mark.parametrize("had_ticked", [False, True])
def test_a_journal_lost_under_the_running_coach_goes_on_beside_with_all_its_events(
    running: Access, noted: Noted, lose: Callable[[Path], None], *, had_ticked: bool
) -> None:
    if had_ticked:
        running.last_seen.write(noted("").at)
        running.journal.append(noted("before"))
    else:
        running.journal.append(noted("before"))
    lose(running.path)
    running.last_seen.write(noted("").at)
    assert running.journal.append(noted("after")).seq == 62
    assert texts(running) == [*TEXTS, "before", "after"]
    if running.journal.notice:
        assert running.journal.notice == (
            "a.journal was deleted or changed by another hand; painting goes on in a.journal-2"
        )
    running.close()
    with closing(open_to_work(running.path.with_name("a.yaml"))) as again:
        assert texts(again) == [*TEXTS, "before", "after"]
        assert not again.journal.damage


def test_a_journal_that_another_program_has_only_tidied_is_the_same(running: Access, noted: Noted) -> None:
    running.journal.append(noted("one"))
    with closing(sqlite3.connect(running.path)) as other:
        other.execute("PRAGMA wal_checkpoint(PASSIVE)")
    running.last_seen.write(noted("").at)
    running.journal.append(noted("two"))
    assert not running.journal.notice
    assert not running.path.with_name("a.journal-2").exists()


def test_another_program_that_writes_an_event_is_refused_the_next(running: Access, noted: Noted) -> None:
    with closing(sqlite3.connect(running.path, isolation_level=None)) as other:
        other.execute("INSERT INTO event VALUES (61, 1, 0, 1, '', 'noted', 2, '{}', NULL)")
    with pytest.raises(JournalError, match="another program has written to the journal"):
        running.journal.append(noted("x"))


def test_the_first_event_of_version_2_carries_the_hash_of_all_before_it(tmp_path: Path, noted: Noted) -> None:
    shutil.copy(VERSION_1, tmp_path / "a.journal")
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        old = len(texts(access))
        assert not access.journal.notice
        access.journal.append(noted("new"))
    with closing(sqlite3.connect(tmp_path / "a.journal")) as connection:
        rows = connection.execute("SELECT * FROM event ORDER BY seq").fetchall()
    expected = b""
    for row in rows:
        expected = hash_of(expected, row[:8])
    assert [row[8] for row in rows] == [None] * old + [expected]
    change(tmp_path / "a.journal", "UPDATE event SET elapsed_ms = elapsed_ms + 1 WHERE seq = 3")
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        texts(access)
        assert f"event {old + 1}, or one before it, is not as it was recorded" in access.journal.damage


def test_there_are_at_most_nine_journals(plan: Path) -> None:
    for number in range(2, 10):
        shutil.copy(journal_path(plan), plan.with_name(f"a.journal-{number}"))
    change(journal_path(plan), "DELETE FROM event WHERE seq = 5")
    access = open_to_work(plan)
    texts(access)
    with pytest.raises(JournalError, match="there are 9 journals beside the plan already"):
        access.go_on_beside()
    access.close()


@pytest.mark.parametrize("ending", ["", "-wal", "-shm", "-seen", "-lock"])
@pytest.mark.parametrize("kind", ["link", "pipe", "folder"])
def test_what_is_no_ordinary_file_beside_a_plan_is_neither_followed_nor_waited_for(
    plan: Path, noted: Noted, ending: str, kind: str
) -> None:
    (plan.parent / "mine").write_text("mine")
    path = plan.with_name("a.journal" + ending)
    path.unlink(missing_ok=True)
    if kind == "link":
        path.symlink_to("mine")
    elif kind == "pipe":
        os.mkfifo(path)
    else:
        path.mkdir()
    try:
        with closing(open_to_work(plan)) as access:
            texts(access)
            access.last_seen.write(noted("").at)
            if not access.read_only:
                access.journal.append(noted("x"))
            assert ending in {"-seen", "-lock"}
    except JournalError as error:
        assert str(error) == f"{path}: this is not an ordinary file"  # noqa: PT017  some are refused, some done without
    assert (plan.parent / "mine").read_text() == "mine"
    assert path.is_symlink() == (kind == "link")


def test_one_journal_under_two_names_would_be_written_under_two_locks_and_is_not(plan: Path, noted: Noted) -> None:
    os.link(journal_path(plan), plan.with_name("b.journal"))
    with closing(open_to_work(plan)) as access:
        assert access.read_only == f"nothing can be recorded: {journal_path(plan)}: the file has a second name"
        assert texts(access) == TEXTS
        with pytest.raises(JournalError):
            access.journal.append(noted("x"))
