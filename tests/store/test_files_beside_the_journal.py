"""The word of the running coach: it can be lost, garbled or refused without harm."""

from pathlib import Path

import pytest

from coach.journal.reading import Reading
from coach.store.last_seen import LastSeenFile
from tests.store.conftest import SmallDisk

AT = Reading(wall_ms=1_800_000_000_000, offset_s=-12_600, elapsed_ms=10**12, boot="0d5e-" * 7)


@pytest.mark.parametrize("reading", [AT, AT._replace(boot=""), Reading(wall_ms=0, offset_s=0, elapsed_ms=0, boot="b")])
def test_the_latest_word_is_read_back_by_the_next_coach(tmp_path: Path, reading: Reading) -> None:
    writer = LastSeenFile(tmp_path / "a.journal-seen")
    writer.write(AT._replace(elapsed_ms=10**15))
    writer.write(reading)
    assert LastSeenFile(tmp_path / "a.journal-seen").read() == reading
    writer.close()
    writer.close()
    again = LastSeenFile(tmp_path / "a.journal-seen")
    again.write(AT)
    again.close()
    assert again.read() == AT


@pytest.mark.parametrize(
    "data", [b"", b"x", b"1 2 3", b"1 2 3 b 5", b"1 2 three b", b"1.5 2 3 b", b"\xff\xfe 1 2 3", b"\0" * 128]
)
def test_a_garbled_word_is_no_word(tmp_path: Path, data: bytes) -> None:
    file = LastSeenFile(tmp_path / "a.journal-seen")
    (tmp_path / "a.journal-seen").write_bytes(data)
    assert file.read() is None
    file.write(AT)
    file.close()
    assert file.read() == AT


def test_where_no_word_can_be_left_none_is_found(small_disk: SmallDisk) -> None:
    small_disk.remount("ro")
    for path in (small_disk.path / "a.journal-seen", small_disk.path, Path("/nowhere/a.journal-seen")):
        file = LastSeenFile(path)
        file.write(AT)
        file.close()
        assert file.read() is None
