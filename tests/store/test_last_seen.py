"""The word of the running coach: it can be lost, garbled, cut or refused without harm."""

import os
from pathlib import Path

import pytest

from coach.journal.reading import Reading
from coach.store.last_seen import LastEvent, LastSeenFile
from tests.store.conftest import SmallDisk

AT = Reading(wall_ms=1_800_000_000_000, offset_s=-12_600, elapsed_ms=10**12, boot="0d5e-" * 7)
LAST = LastEvent(17, bytes(range(16)))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the word lies."""
    return tmp_path / "a.journal-seen"


@pytest.mark.parametrize("reading", [AT, AT._replace(boot=""), Reading(wall_ms=0, offset_s=0, elapsed_ms=0, boot="b")])
@pytest.mark.parametrize("last", [LAST, LastEvent(0, b"")])
def test_the_latest_word_is_read_back_by_the_next_coach(path: Path, reading: Reading, last: LastEvent) -> None:
    writer = LastSeenFile(path)
    writer.write(AT._replace(elapsed_ms=10**15), LAST, is_synced=False)
    writer.write(reading, last, is_synced=True)
    assert (LastSeenFile(path).read(), LastSeenFile(path).last()) == (reading, last)
    assert [found.name for found in path.parent.iterdir()] == [path.name]
    assert path.stat().st_mode & 0o777 == 0o600


def test_the_word_of_an_older_coach_has_a_reading_and_no_last_event(path: Path) -> None:
    path.write_bytes(b"1800000000000 -12600 1000 0d5e".ljust(128))
    file = LastSeenFile(path)
    assert file.read() == Reading(wall_ms=AT.wall_ms, offset_s=-12_600, elapsed_ms=1000, boot="0d5e")
    assert file.last() is None


@pytest.mark.parametrize(
    "data", [b"", b"x", b"1 2 3", b"1 2 3 b 5", b"1 2 three b", b"1.5 2 3 b", b"\xff\xfe 1 2 3", b"\0" * 128]
)
def test_a_garbled_word_is_no_word(path: Path, data: bytes) -> None:
    file = LastSeenFile(path)
    path.write_bytes(data)
    assert (file.read(), file.last()) == (None, None)
    file.write(AT, LAST, is_synced=True)
    assert (file.read(), file.last()) == (AT, LAST)


def test_no_bit_of_a_word_can_turn_unnoticed_and_no_part_of_it_passes_for_the_whole(path: Path) -> None:
    file = LastSeenFile(path)
    file.write(AT, LAST, is_synced=True)
    sound = path.read_bytes().rstrip()
    damaged = [
        bytes([*sound[:at], sound[at] ^ 1 << bit, *sound[at + 1 :]]) for at in range(len(sound)) for bit in (0, 4)
    ]
    for data in (*damaged, *(sound[:length] for length in range(len(sound)))):
        path.write_bytes(data)
        assert file.last() is None, data


@pytest.mark.parametrize("is_synced", [True, False])
def test_a_word_is_on_the_disk_before_it_takes_the_place_of_the_one_before(
    path: Path, monkeypatch: pytest.MonkeyPatch, *, is_synced: bool
) -> None:
    file = LastSeenFile(path)
    file.write(AT, LastEvent(1, b"one"), is_synced=True)
    synced: list[tuple[int, LastEvent | None]] = []
    sync = os.fsync

    def record(descriptor: int) -> None:
        sync(descriptor)
        synced.append((os.fstat(descriptor).st_size, file.last()))

    monkeypatch.setattr(os, "fsync", record)
    file.write(AT, LAST, is_synced=is_synced)
    size = path.stat().st_size
    assert synced[:1] == ([(size, LastEvent(1, b"one"))] if is_synced else [])


def test_where_no_word_can_be_left_none_is_found(small_disk: SmallDisk) -> None:
    small_disk.remount("ro")
    for path in (small_disk.path / "a.journal-seen", small_disk.path, Path("/nowhere/a.journal-seen")):
        file = LastSeenFile(path)
        file.write(AT, LAST, is_synced=True)
        assert (file.read(), file.last()) == (None, None)


@pytest.mark.parametrize("make", [Path.mkdir, os.mkfifo, lambda path: path.symlink_to(path.with_name("mine"))])
@pytest.mark.parametrize("ending", ["", "-new"])
def test_what_is_no_ordinary_file_is_neither_read_nor_written_nor_replaced(
    path: Path, make: object, ending: str
) -> None:
    assert callable(make)
    (path.parent / "mine").write_text("mine")
    make(path.with_name(path.name + ending))
    before = path.with_name(path.name + ending).lstat()
    file = LastSeenFile(path)
    file.write(AT, LAST, is_synced=True)
    assert file.last() is None
    assert path.with_name(path.name + ending).lstat().st_ino == before.st_ino
    assert (path.parent / "mine").read_text() == "mine"
