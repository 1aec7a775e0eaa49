"""Files on the disk: all of one or nothing, never over anybody's file, and never through a link."""

import errno
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from coach.errors import CoachError
from coach.store.safe_files import create, open_ordinary, read_ordinary, replace, write_in_place, write_new
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


def test_a_kill_while_a_file_is_made_leaves_nothing_of_that_name(tmp_path: Path) -> None:
    """Killed at the last sync before the name is there, and at the first call after it."""
    script = (
        "import os, pathlib, signal, sys\n"
        "from coach.store import safe_files\n"
        "def die(*_): os.kill(os.getpid(), signal.SIGKILL)\n"
        "setattr(os, sys.argv[2], die)\n"
        "safe_files.create(pathlib.Path(sys.argv[1]), b'red')\n"
    )
    for name, held in (("fsync", None), ("link", None), ("_sync_folder", b"red")):
        target = tmp_path / name
        told = script.replace("setattr(os", "setattr(safe_files") if held else script
        subprocess.run([sys.executable, "-c", told, target, name], check=False)
        assert (target.read_bytes() if target.exists() else None) == held


def test_a_disk_without_hard_links_takes_new_files_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.EPERM, "no links here")

    monkeypatch.setattr(os, "link", refuse)
    create(tmp_path / "list", b"red")
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("list", b"red")]


@pytest.mark.parametrize("make", [Path.mkdir, os.mkfifo, lambda path: path.symlink_to(path.with_name("mine"))])
def test_what_is_no_ordinary_file_is_not_opened_read_or_replaced(tmp_path: Path, make: object) -> None:
    assert callable(make)
    (tmp_path / "mine").write_text("mine")
    path = tmp_path / "list"
    make(path)
    for attempt in (
        lambda: read_ordinary(path, 10),
        lambda: replace(path, b"red"),
        lambda: write_in_place(path, b"red"),
        lambda: os.close(open_ordinary(path, os.O_RDWR | os.O_CREAT)),
    ):
        with pytest.raises(OSError, match="not an ordinary file"):
            attempt()
    assert (tmp_path / "mine").read_text() == "mine"
    assert sorted(found.name for found in tmp_path.iterdir()) == ["list", "mine"]


def test_a_device_is_not_opened() -> None:
    with pytest.raises(OSError, match="not an ordinary file"):
        read_ordinary(Path("/dev/zero"), 10)


def test_what_a_kill_left_of_a_draft_is_cleared_away_by_the_next(tmp_path: Path) -> None:
    draft = tmp_path / "list-new"
    draft.write_text("half")
    replace(tmp_path / "list", b"red", draft=draft)
    assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("list", b"red")]
    assert (tmp_path / "list").stat().st_mode & 0o777 == 0o600


def test_a_file_written_in_place_stays_the_same_file(tmp_path: Path) -> None:
    path = tmp_path / "list"
    path.write_text("a longer list")
    number = path.stat().st_ino
    write_in_place(path, b"red")
    assert (path.stat().st_ino, path.read_bytes()) == (number, b"red")
