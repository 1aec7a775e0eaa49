"""A new file on the disk: all of it or nothing, and never over anybody's file."""

import os
import stat
from pathlib import Path

import pytest

from coach.errors import CoachError
from coach.store.new_file import create, replace, write_new
from tests.store.conftest import SmallDisk


class ListError(CoachError):
    """A list cannot be written."""


def write(target: Path) -> None:
    """Write a short list."""
    write_new(target, b"red\n", error=ListError)


def test_a_new_file_holds_the_content_and_has_the_mode_of_any_new_file(tmp_path: Path) -> None:
    write(tmp_path / "list")
    (tmp_path / "other").touch()

    assert (tmp_path / "list").read_bytes() == b"red\n"
    assert stat.S_IMODE((tmp_path / "list").stat().st_mode) == stat.S_IMODE((tmp_path / "other").stat().st_mode)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["list", "other"]


def test_what_is_there_is_left_alone_be_it_a_file_or_a_link(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    (tmp_path / "link").symlink_to(tmp_path / "file")
    (tmp_path / "dangling").symlink_to(tmp_path / "nowhere")
    (tmp_path / "circle").symlink_to(tmp_path / "circle")
    before = sorted(tmp_path.iterdir())

    for name in ("file", "link", "dangling", "circle"):
        with pytest.raises(ListError, match=f"/{name}: there is such a file already; name another"):
            write(tmp_path / name)
    assert (tmp_path / "file").read_text() == "mine"
    assert sorted(tmp_path.iterdir()) == before


def test_where_nothing_can_be_written_one_sentence_says_so_and_nothing_is_left(tmp_path: Path) -> None:
    refused = {
        tmp_path: "this is a folder; name a file to write",
        tmp_path / "none" / "list": "the file cannot be written: No such file",
        tmp_path / ("n" * 300): "the file cannot be written: File name too long",
        tmp_path / "nul\0": "no file can have this name",
        tmp_path / "lone \ud83d": "no file can have this name",
        tmp_path / "two\nlines\x1b" / "list": "the file cannot be written: No such file",
    }
    for target, sentence in refused.items():
        with pytest.raises(ListError, match=sentence) as said:
            write(target)
        assert not {"\n", "\0", "\x1b", "\ud83d"} & set(str(said.value))
    assert list(tmp_path.iterdir()) == []


def test_a_disk_that_takes_no_writing_is_said_and_nothing_is_left(small_disk: SmallDisk) -> None:
    small_disk.remount("ro")
    with pytest.raises(ListError, match="the file cannot be written: Read-only file system"):
        write(small_disk.path / "list")
    small_disk.remount("rw")
    small_disk.fill()
    with pytest.raises(ListError, match="the file cannot be written: No space left on device"):
        write(small_disk.path / "list")
    assert [path.name for path in small_disk.path.iterdir()] == ["filling"]


def test_a_full_disk_keeps_the_file_that_was_to_be_replaced(small_disk: SmallDisk) -> None:
    target = small_disk.path / "list"
    target.write_text("mine")
    small_disk.fill()

    with pytest.raises(OSError, match="No space left on device"):
        replace(target, b"red\n")
    assert target.read_text() == "mine"
    assert sorted(path.name for path in small_disk.path.iterdir()) == ["filling", "list"]


def test_a_file_that_comes_while_the_draft_is_written_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "list"
    sync = os.fsync

    def meanwhile(descriptor: int) -> None:
        sync(descriptor)
        assert not target.exists()  # nothing is to be seen of it before all of it is on the disk
        target.write_text("mine")

    monkeypatch.setattr(os, "fsync", meanwhile)
    with pytest.raises(FileExistsError):
        create(target, b"red\n")
    assert target.read_text() == "mine"
    assert list(tmp_path.iterdir()) == [target]


def test_a_replaced_file_keeps_its_mode(tmp_path: Path) -> None:
    target = tmp_path / "list"
    target.write_text("old")
    target.chmod(0o640)
    replace(target, b"red\n")

    assert (target.read_bytes(), stat.S_IMODE(target.stat().st_mode)) == (b"red\n", 0o640)


@pytest.mark.skipif(os.name == "nt", reason="a folder's rights are another matter there")
def test_a_folder_that_takes_no_writing_is_named(tmp_path: Path) -> None:
    if os.geteuid() == 0:
        pytest.skip("the superuser may write everywhere")
    tmp_path.chmod(0o500)
    with pytest.raises(ListError, match="cannot be written: Permission denied"):
        write(tmp_path / "list")
    tmp_path.chmod(0o700)
