"""Unsaved work that is kept: there after a kill, harmless when garbled, gone when deleted."""

import os
import signal
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.store.drafts import Draft, DraftError, answers_file, draft_file
from tests.store.conftest import SmallDisk

SAID: Final = {"sitters": "elder, younger", "count": "3"}
_NAME: Final = ".coach-new.json"


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@given(st.dictionaries(st.text(), st.text(st.characters(exclude_categories=["Cs"])), max_size=12))
def test_what_was_kept_comes_back_as_it_was(tmp_path_factory: pytest.TempPathFactory, said: dict[str, str]) -> None:
    folder = tmp_path_factory.getbasetemp()
    answers_file(folder).save(said)
    assert answers_file(folder).load() == said


def test_the_last_answers_are_kept_in_one_file_and_nothing_else_is_left(tmp_path: Path) -> None:
    file = answers_file(tmp_path)
    file.save({"sitters": "elder"})
    file.save(SAID)
    assert file.load() == SAID
    assert names(tmp_path) == [_NAME]


def test_what_was_acknowledged_is_there_after_a_kill(tmp_path: Path) -> None:
    program = (
        "import sys, pathlib\n"
        "from coach.store.drafts import answers_file\n"
        "file = answers_file(pathlib.Path(sys.argv[1]))\n"
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
    kept = answers_file(tmp_path).load()
    count = int(kept["count"])
    assert count in (said[-1], said[-1] + 1)
    assert kept["sitters"] == "x" * count


def test_a_lone_surrogate_is_kept_as_something_and_raises_nothing(tmp_path: Path) -> None:
    answers_file(tmp_path).save({"photo": "a\ud800b"})
    assert answers_file(tmp_path).load() == {"photo": "a?b"}


@pytest.mark.parametrize(
    "content", [b"", b"{", b"\xff", b"[" * 100_000, b'"' + b"x" * 2**22 + b'"', b"[]", b'{"a": 1}']
)
def test_a_garbled_or_endless_file_holds_nothing_and_is_written_anew(tmp_path: Path, content: bytes) -> None:
    (tmp_path / _NAME).write_bytes(content)
    file = answers_file(tmp_path)
    assert file.load() == {}
    file.save(SAID)
    assert file.load() == SAID


def test_no_file_a_folder_or_a_pipe_of_that_name_holds_nothing(tmp_path: Path) -> None:
    assert answers_file(tmp_path).load() == {}
    assert answers_file(tmp_path / "nowhere").load() == {}
    os.mkfifo(tmp_path / _NAME)
    assert answers_file(tmp_path).load() == {}
    (tmp_path / _NAME).unlink()
    (tmp_path / _NAME).mkdir()
    assert answers_file(tmp_path).load() == {}


def test_deleted_answers_are_gone_and_deleting_nothing_is_no_fault(tmp_path: Path) -> None:
    file = answers_file(tmp_path)
    file.delete()
    file.save(SAID)
    file.delete()
    assert file.load() == {}
    assert names(tmp_path) == []


def test_a_folder_that_is_none_is_told_in_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(DraftError, match=r"\.coach-new\.json: what is not saved cannot be kept: No such file"):
        answers_file(tmp_path / "nowhere").save(SAID)


def test_a_disk_that_takes_nothing_keeps_the_old_answers_and_says_so(small_disk: SmallDisk) -> None:
    file = answers_file(small_disk.path)
    file.save(SAID)
    small_disk.remount("ro")
    with pytest.raises(DraftError, match="what is not saved cannot be kept"):
        file.save({"count": "4"})
    file.delete()
    assert file.load() == SAID
    small_disk.remount("rw")
    small_disk.fill()
    with pytest.raises(DraftError, match="No space left"):
        file.save({"photo": "x" * 9000})
    assert file.load() == SAID
    assert names(small_disk.path) == [_NAME, "filling"]


def test_the_drafts_of_a_plan_lie_beside_it_each_kind_by_itself(tmp_path: Path) -> None:
    file = draft_file(tmp_path / "plan.yaml")
    file.put(Draft.PLAN, "canvases: [Hall]\n")
    file.put(Draft.NOTE, "cooler in the sh")
    file.put(Draft.NOTE, "cooler in the shadow")
    assert file.load() == {"plan edits": "canvases: [Hall]\n", "note": "cooler in the shadow"}
    assert names(tmp_path) == ["plan.draft"]
    assert file.path.stat().st_mode & 0o777 == 0o600
    file.put(Draft.PLAN, "")
    assert file.load() == {"note": "cooler in the shadow"}
    file.put(Draft.NOTE, "")
    assert names(tmp_path) == []


def test_a_link_in_the_place_of_a_draft_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "mine").write_text('{"note": "mine"}')
    (tmp_path / "plan.draft").symlink_to(tmp_path / "mine")
    file = draft_file(tmp_path / "plan.yaml")
    assert file.load() == {}
    with pytest.raises(DraftError, match="not an ordinary file"):
        file.put(Draft.NOTE, "x")
    assert (tmp_path / "mine").read_text() == '{"note": "mine"}'
