"""A full disk and a disk that takes no writing: one sentence each, and what can be read is read."""

import shutil
import stat
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from coach.journal.events import Event, JournalError
from coach.store.journal_access import Access, open_to_work
from coach.store.sqlite_journal import SqliteJournal
from tests.store.conftest import SmallDisk

Noted = Callable[[str], Event]

FULL = "not recorded: the disk is full; make room and try again"


def texts(access: Access) -> list[str]:
    return [event.text for event in access.journal.after(0)]


def test_a_full_disk_is_said_in_one_sentence_and_recording_goes_on_once_there_is_room(
    small_disk: SmallDisk, noted: Noted
) -> None:
    with closing(open_to_work(small_disk.path / "a.yaml")) as access:
        access.journal.append(noted("before"))
        small_disk.fill()
        kept = ["before"]
        said = ""
        while not said:  # the log may have some room of its own
            try:
                access.journal.append(noted("x" * 2000))
                kept.append("x" * 2000)
            except JournalError as error:
                said = str(error)
        assert said == f"{small_disk.path / 'a.journal'}: {FULL}"
        assert texts(access) == kept
        with pytest.raises(JournalError, match=FULL):
            access.journal.append(noted("x" * 2000))
        (small_disk.path / "filling").unlink()
        assert access.journal.append(noted("after")).seq == len(kept) + 1
        assert not access.journal.damage
    with closing(open_to_work(small_disk.path / "a.yaml")) as access:
        assert texts(access) == [*kept, "after"]


def test_a_journal_closed_on_a_full_disk_keeps_everything(small_disk: SmallDisk, noted: Noted) -> None:
    with closing(open_to_work(small_disk.path / "a.yaml")) as access:
        kept = [access.journal.append(noted(f"{no} " + "x" * 900)).text for no in range(20)]
        small_disk.fill()
    assert (small_disk.path / "a.journal-wal").stat().st_size > 0
    with closing(open_to_work(small_disk.path / "a.yaml")) as access:
        assert texts(access) == kept


def test_a_journal_is_read_where_the_disk_is_full_at_opening(small_disk: SmallDisk, noted: Noted) -> None:
    with closing(open_to_work(small_disk.path / "a.yaml")) as access:
        access.journal.append(noted("before"))
    small_disk.fill()
    with closing(open_to_work(small_disk.path / "a.yaml")) as access:
        assert access.read_only.startswith("nothing can be recorded: ")
        assert "the disk is full" in access.read_only
        assert texts(access) == ["before"]


def test_a_new_journal_on_a_full_disk_gives_a_reason_and_an_empty_past(small_disk: SmallDisk) -> None:
    small_disk.fill()
    with closing(open_to_work(small_disk.path / "a.yaml")) as access:
        assert access.read_only.startswith("nothing can be recorded")
        assert texts(access) == []


def test_sqlite_full_without_a_small_disk(tmp_path: Path, noted: Noted) -> None:
    """SQLite documentation, PRAGMA max_page_count: exceeding it fails as a full disk does."""
    with closing(SqliteJournal(tmp_path / "a.journal", writes=True)) as journal:
        pages = journal._connection.execute("PRAGMA page_count").fetchone()[0]
        journal._connection.execute(f"PRAGMA max_page_count = {pages}")
        with pytest.raises(JournalError, match=FULL):
            journal.append(noted("x" * 9000))
        journal._connection.execute("PRAGMA max_page_count = 1000")
        assert journal.append(noted("y")).seq == 1


@pytest.mark.parametrize("ending", ["closed", "died", "died folded"])
def test_a_read_only_disk_is_a_reason_and_everything_is_read(small_disk: SmallDisk, noted: Noted, ending: str) -> None:
    plan = small_disk.path / "a.yaml"
    with closing(open_to_work(plan)) as access:
        access.journal.append(noted("kept"))
        if ending == "died":  # what a killed coach leaves: log and shared memory lie beside the journal
            for beside in ("", "-wal", "-shm"):
                shutil.copy(small_disk.path / f"a.journal{beside}", small_disk.path / f"b.journal{beside}")
            plan = small_disk.path / "b.yaml"
    if ending == "died folded":
        (small_disk.path / "a.journal-wal").touch()
    small_disk.remount("ro")
    with closing(open_to_work(plan)) as access:
        assert access.read_only == f"nothing can be recorded in {small_disk.path}: Read-only file system"
        assert texts(access) == ["kept"]
        assert not access.journal.damage
        with pytest.raises(JournalError, match="read-only"):
            access.journal.append(noted("x"))


@pytest.mark.parametrize(
    ("beside", "sentence"),
    [("-wal", "the file cannot be opened"), ("-journal", "the disk or the file is read-only")],
)
def test_a_log_that_cannot_be_read_is_not_passed_over(
    small_disk: SmallDisk, noted: Noted, beside: str, sentence: str
) -> None:
    """What is still in a log is missing from the main file: to read that alone would show a false past."""
    with closing(open_to_work(small_disk.path / "a.yaml")) as access:
        access.journal.append(noted("only in the log"))
        shutil.copy(small_disk.path / "a.journal", small_disk.path / "b.journal")
        shutil.copy(small_disk.path / "a.journal-wal", small_disk.path / f"b.journal{beside}")
    small_disk.remount("ro")
    with pytest.raises(JournalError, match=f"b.journal: {sentence}"):
        open_to_work(small_disk.path / "b.yaml")


def test_a_read_only_folder_without_a_journal_has_an_empty_past(small_disk: SmallDisk, noted: Noted) -> None:
    small_disk.remount("ro")
    with closing(open_to_work(small_disk.path / "a.yaml")) as access:
        assert "Read-only file system" in access.read_only
        assert texts(access) == []
        with pytest.raises(JournalError, match="not recorded: there is no journal for noted"):
            access.journal.append(noted("x"))


def test_a_lock_that_cannot_be_opened_is_a_reason_not_another_coach(tmp_path: Path) -> None:
    (tmp_path / "a.journal-lock").mkdir()
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        assert access.read_only == f"nothing can be recorded in {tmp_path}: this is not an ordinary file"


def test_a_disk_that_knows_no_locks_is_a_reason_not_another_coach(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(descriptor: int) -> None:
        assert stat.S_ISREG(Path(f"/proc/self/fd/{descriptor}").stat().st_mode)
        raise OSError(37, "No locks available")

    monkeypatch.setattr("coach.store.journal_access._take", refuse)
    with closing(open_to_work(tmp_path / "a.yaml")) as access:
        assert access.read_only == f"nothing can be recorded in {tmp_path}: No locks available"
