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


@pytest.mark.parametrize("count", range(1, 5))
def test_a_word_that_is_left_in_pieces_costs_no_more_than_that_word(path: Path, count: int) -> None:
    for seq in range(count + 1):
        LastSeenFile(path).write(AT, LastEvent(seq, b"x"), is_synced=False)
    before = path.read_bytes()
    LastSeenFile(path).write(AT, LAST, is_synced=False)
    after = path.read_bytes()
    changed = [at for at in range(len(after)) if before[at : at + 1] != after[at : at + 1]]
    for cut in range(changed[0] + 1, changed[-1] + 1):
        path.write_bytes(after[:cut] + before[cut:])
        assert LastSeenFile(path).last() in (LastEvent(count, b"x"), LAST)


def test_the_word_of_an_older_coach_gives_way_to_newer_ones(path: Path) -> None:
    path.write_bytes(b"1800000000000 -12600 1000 0d5e")
    for seq in (1, 2, 3):
        LastSeenFile(path).write(AT, LastEvent(seq, b"x"), is_synced=True)
        assert LastSeenFile(path).last() == LastEvent(seq, b"x")


def test_a_synced_word_is_on_the_disk(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    synced: list[LastEvent | None] = []
    monkeypatch.setattr(os, "fsync", lambda _: synced.append(LastSeenFile(path).last()))
    LastSeenFile(path).write(AT, LAST, is_synced=False)
    assert synced == []
    LastSeenFile(path).write(AT, LAST, is_synced=True)
    assert synced == [LAST]


def test_where_no_word_can_be_left_none_is_found(small_disk: SmallDisk) -> None:
    small_disk.remount("ro")
    for path in (small_disk.path / "a.journal-seen", small_disk.path, Path("/nowhere/a.journal-seen")):
        file = LastSeenFile(path)
        file.write(AT, LAST, is_synced=True)
        assert (file.read(), file.last()) == (None, None)


@pytest.mark.parametrize("make", [Path.mkdir, os.mkfifo, lambda path: path.symlink_to(path.with_name("mine"))])
def test_what_is_no_ordinary_file_is_neither_read_nor_written_nor_replaced(path: Path, make: object) -> None:
    assert callable(make)
    (path.parent / "mine").write_text("mine")
    make(path)
    before = path.lstat()
    file = LastSeenFile(path)
    file.write(AT, LAST, is_synced=True)
    assert file.last() is None
    assert path.lstat().st_ino == before.st_ino
    assert (path.parent / "mine").read_text() == "mine"
