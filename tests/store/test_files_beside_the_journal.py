"""The word of the running coach and the memo: both can be lost, garbled or refused without harm."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.journal.reading import Reading
from coach.session.memo import Memo, plain_memo
from coach.session.moves import end_session, go_on, go_other_way, mark, noting, skip
from coach.store.last_seen import LastSeenFile
from coach.store.memo_file import MemoFile, _checksum
from tests.sittings import TWO_CANVASES, Easel
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


@pytest.fixture(scope="module")
def memo() -> Memo:
    """What a sitting keeps of a session with some of everything, once the next has begun."""
    easel = Easel()
    for minutes, move in (
        (0, go_on),
        (14, noting("kühler [red] \N{ARTIST PALETTE}")),
        (1, mark),
        (2, go_on),
        (3, skip),
        (1, go_other_way),
        (9, go_on),
        (5, noting("half done")),
        (1, mark),
        (1, end_session),
        (700, go_on),
    ):
        easel.pass_time(minutes)
        easel.sitting.make(move)
        assert not easel.sitting.remark
    kept = easel.sitting.memo
    assert kept is not None
    assert kept.base.records
    assert kept.base.notes == ("half done",)
    return kept


def test_a_memo_comes_back_as_it_was(tmp_path: Path, memo: Memo) -> None:
    file = MemoFile(tmp_path / "a.journal-memo")
    file.save(memo)
    found = file.load(TWO_CANVASES)
    assert found is not None
    assert plain_memo(found) == plain_memo(memo)
    assert found.plan == memo.plan
    assert found.base.places == memo.base.places
    assert found.base.records == memo.base.records
    assert [path.name for path in tmp_path.iterdir()] == ["a.journal-memo"]


def test_the_memo_of_another_plan_is_not_used(tmp_path: Path, memo: Memo) -> None:
    file = MemoFile(tmp_path / "a.journal-memo")
    file.save(memo)
    assert file.load(TWO_CANVASES + "\n") is None


def test_a_missing_memo_is_none(tmp_path: Path) -> None:
    assert MemoFile(tmp_path / "a.journal-memo").load(TWO_CANVASES) is None


def test_no_bit_of_a_memo_can_turn_unnoticed(tmp_path: Path, memo: Memo) -> None:
    file = MemoFile(tmp_path / "memo")
    file.save(memo)
    sound = (tmp_path / "memo").read_bytes()
    for position in range(0, len(sound), 7):
        turned = bytearray(sound)
        turned[position] ^= 1
        (tmp_path / "memo").write_bytes(turned)
        assert file.load(TWO_CANVASES) is None
    for length in range(0, len(sound), 7):
        (tmp_path / "memo").write_bytes(sound[:length])
        assert file.load(TWO_CANVASES) is None


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=9) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
    max_leaves=40,
)


def save_plain(path: Path, content: bytes) -> None:
    path.write_bytes(_checksum(content) + b"\n" + content)


@given(JSON)
def test_a_sound_file_of_something_else_is_not_used(
    tmp_path_factory: pytest.TempPathFactory, memo: Memo, held: object
) -> None:
    path = tmp_path_factory.getbasetemp() / "memo"
    save_plain(path, json.dumps(held).encode())
    assert MemoFile(path).load(TWO_CANVASES) is None
    plain = plain_memo(memo)
    for part in range(len(plain)):
        changed = [*plain[:part], held, *plain[part + 1 :]]
        save_plain(path, json.dumps(changed).encode())
        MemoFile(path).load("another plan")  # whatever fits or does not, nothing is raised


def test_a_memo_of_another_version_is_not_used(tmp_path: Path, memo: Memo) -> None:
    save_plain(tmp_path / "memo", json.dumps([0, *plain_memo(memo)[1:]]).encode())
    assert MemoFile(tmp_path / "memo").load(TWO_CANVASES) is None


@pytest.mark.parametrize("content", [b"[" * 100_000, b"\xff", b"", b"{}", b"null", b"[[], [], []]"])
def test_garbage_is_no_memo(tmp_path: Path, content: bytes) -> None:
    save_plain(tmp_path / "memo", content)
    assert MemoFile(tmp_path / "memo").load(TWO_CANVASES) is None
    (tmp_path / "memo").write_bytes(content)
    assert MemoFile(tmp_path / "memo").load(TWO_CANVASES) is None


def test_a_disk_that_takes_no_memo_keeps_the_old_one_and_no_draft(small_disk: SmallDisk, memo: Memo) -> None:
    file = MemoFile(small_disk.path / "memo")
    file.save(memo)
    small_disk.remount("ro")
    file.save(memo)
    assert file.load(TWO_CANVASES) is not None
    small_disk.remount("rw")
    small_disk.fill()
    file.save(memo)
    assert sorted(path.name for path in small_disk.path.iterdir()) == ["filling", "memo"]
    assert file.load(TWO_CANVASES) is not None
