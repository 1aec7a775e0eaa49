"""The answers that are kept: there after a kill, harmless when garbled, gone when deleted."""

import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.store.kept_answers_file import KeptAnswersError, KeptAnswersFile
from tests.store.conftest import SmallDisk

SAID: Final = {"sitters": "elder, younger", "count": "3"}
_NAME: Final = ".coach-new.json"


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@given(st.dictionaries(st.text(), st.text(st.characters(exclude_categories=["Cs"])), max_size=12))
def test_what_was_kept_comes_back_as_it_was(tmp_path_factory: pytest.TempPathFactory, said: dict[str, str]) -> None:
    folder = tmp_path_factory.getbasetemp()
    KeptAnswersFile(folder).save(said)
    assert KeptAnswersFile(folder).load() == said


def test_the_last_answers_are_kept_in_one_file_and_nothing_else_is_left(tmp_path: Path) -> None:
    file = KeptAnswersFile(tmp_path)
    file.save({"sitters": "elder"})
    file.save(SAID)
    assert file.load() == SAID
    assert names(tmp_path) == [_NAME]


def test_what_was_acknowledged_is_there_after_a_kill(tmp_path: Path) -> None:
    program = (
        "import sys, pathlib\n"
        "from coach.store.kept_answers_file import KeptAnswersFile\n"
        "file = KeptAnswersFile(pathlib.Path(sys.argv[1]))\n"
        "number = 0\n"
        "while True:\n"
        "    number += 1\n"
        "    file.save({'count': str(number), 'sitters': 'x' * number})\n"
        "    print(number, flush=True)\n"
    )
    with subprocess.Popen([sys.executable, "-c", program, str(tmp_path)], stdout=subprocess.PIPE, text=True) as coach:
        assert coach.stdout is not None
        said = [int(coach.stdout.readline()) for _ in range(40)]
        os.kill(coach.pid, signal.SIGKILL)
        said += map(int, coach.stdout.read().split())
    kept = KeptAnswersFile(tmp_path).load()
    assert isinstance(kept, dict)
    count = int(kept["count"])
    assert count in (said[-1], said[-1] + 1)
    assert kept["sitters"] == "x" * count


def test_a_lone_surrogate_is_kept_as_something_and_raises_nothing(tmp_path: Path) -> None:
    KeptAnswersFile(tmp_path).save({"photo": "a\ud800b"})
    assert KeptAnswersFile(tmp_path).load() == {"photo": "a?b"}


@pytest.mark.parametrize("content", [b"", b"{", b"\xff", b"[" * 100_000, b'"' + b"x" * 2**20 + b'"'])
def test_a_garbled_or_endless_file_holds_nothing_and_is_written_anew(tmp_path: Path, content: bytes) -> None:
    (tmp_path / _NAME).write_bytes(content)
    file = KeptAnswersFile(tmp_path)
    assert file.load() is None
    file.save(SAID)
    assert file.load() == SAID


def test_no_file_a_folder_or_a_pipe_of_that_name_holds_nothing(tmp_path: Path) -> None:
    assert KeptAnswersFile(tmp_path).load() is None
    assert KeptAnswersFile(tmp_path / "nowhere").load() is None
    os.mkfifo(tmp_path / _NAME)
    assert KeptAnswersFile(tmp_path).load() is None
    (tmp_path / _NAME).unlink()
    (tmp_path / _NAME).mkdir()
    assert KeptAnswersFile(tmp_path).load() is None


def test_deleted_answers_are_gone_and_deleting_nothing_is_no_fault(tmp_path: Path) -> None:
    file = KeptAnswersFile(tmp_path)
    file.delete()
    file.save(SAID)
    file.delete()
    assert file.load() is None
    assert names(tmp_path) == []


def test_a_folder_that_is_none_is_told_in_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(KeptAnswersError, match=r"\.coach-new\.json: the answers cannot be kept: No such file"):
        KeptAnswersFile(tmp_path / "nowhere").save(SAID)


def test_a_disk_that_takes_nothing_keeps_the_old_answers_and_says_so(small_disk: SmallDisk) -> None:
    file = KeptAnswersFile(small_disk.path)
    file.save(SAID)
    small_disk.remount("ro")
    with pytest.raises(KeptAnswersError, match="the answers cannot be kept"):
        file.save({"count": "4"})
    file.delete()
    assert file.load() == SAID
    small_disk.remount("rw")
    small_disk.fill()
    with pytest.raises(KeptAnswersError, match="No space left"):
        file.save({"photo": "x" * 9000})
    assert file.load() == SAID
    assert names(small_disk.path) == [_NAME, "filling"]
