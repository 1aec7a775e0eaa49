"""The file of a plan: whatever lies there, a text or one sentence with its place."""

import os
import subprocess
import sys
import tracemalloc
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.store.journal_access import journal_path
from coach.store.plan_file import MOST_BYTES, PlanFile, PlanFileError

PLAN = "canvases: [Hall, School]\npasses: []\n"

READING = """
import sys
from pathlib import Path
from coach.store.plan_file import PlanFile
PlanFile(Path(sys.argv[1])).read()
"""


def kept(tmp_path: Path, data: bytes) -> PlanFile:
    (tmp_path / "plan.yaml").write_bytes(data)
    return PlanFile(tmp_path / "plan.yaml")


def fault(file: PlanFile) -> str:
    """Return what is said instead of a text, after the name of the file."""
    with pytest.raises(PlanFileError) as caught:
        file.read()
    said = str(caught.value)
    assert said.startswith(file.name)
    assert "\n" not in said
    return said.removeprefix(file.name)


@pytest.mark.parametrize(
    "data",
    [
        PLAN.encode(),
        PLAN.encode("utf-8-sig"),
        PLAN.replace("\n", "\r\n").encode(),
        PLAN.replace("\n", "\r").encode(),
        PLAN.replace("\n", "\r\n", 1).encode("utf-8-sig"),
    ],
)
def test_every_usual_way_of_saving_a_text_reads_the_same(tmp_path: Path, data: bytes) -> None:
    assert kept(tmp_path, data).read() == PLAN


def test_an_empty_file_is_an_empty_text(tmp_path: Path) -> None:
    assert not kept(tmp_path, b"").read()


def test_the_largest_plan_is_read_whole(tmp_path: Path) -> None:
    assert len(kept(tmp_path, b"#" * MOST_BYTES).read()) == MOST_BYTES


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (PLAN.encode("utf-16"), ": the file is saved as UTF-16; save it as UTF-8"),
        (b"\xfe\xff" + PLAN.encode("utf-16-be"), ": the file is saved as UTF-16; save it as UTF-8"),
        (PLAN.encode("utf-16-le"), ": this is not a text file; a plan is YAML text"),
        (b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", ": this is not a text file; a plan is YAML text"),
        pytest.param(b"#" * (MOST_BYTES + 1), ": the file is larger than 2 MiB; a plan is text", id="large"),
        (b"a: 1\nb: \xfcber\n", ":2:4: byte 0xFC is not UTF-8; save the file as UTF-8"),
        ("ä: ö".encode() + b"\xff", ":1:5: byte 0xFF is not UTF-8; save the file as UTF-8"),
        (b"\xef\xbb\xbfa: \xe4", ":1:4: byte 0xE4 is not UTF-8; save the file as UTF-8"),
        (b"a: 1\r\nb: 2\rc: \xe4", ":3:4: byte 0xE4 is not UTF-8; save the file as UTF-8"),
        (b"a: \xc3", ":1:4: byte 0xC3 is not UTF-8; save the file as UTF-8"),
    ],
)
def test_what_is_not_utf_8_text_is_said_with_its_place(tmp_path: Path, data: bytes, said: str) -> None:
    assert fault(kept(tmp_path, data)) == said


def test_a_missing_file_is_said_to_be_missing(tmp_path: Path) -> None:
    file = PlanFile(tmp_path / "plan.yaml")
    assert fault(file) == ": there is no such file"
    assert file.stamp() is None


def test_a_folder_and_a_device_are_not_files(tmp_path: Path) -> None:
    for path in (tmp_path, Path("/dev/zero"), Path("/dev/null")):
        assert fault(PlanFile(path)) == ": this is not a file; name the plan's YAML file"


def test_a_pipe_does_not_make_the_coach_wait(tmp_path: Path) -> None:
    """In a process of its own, so that a coach that waits fails the test instead of stopping it."""
    os.mkfifo(tmp_path / "plan.yaml")
    asked = subprocess.run(
        [sys.executable, "-c", READING, str(tmp_path / "plan.yaml")],
        check=False,
        capture_output=True,
        text=True,
        timeout=30,
    )
    assert "this is not a file" in asked.stderr


def test_a_link_to_itself_and_a_name_too_long_are_said(tmp_path: Path) -> None:
    (tmp_path / "plan.yaml").symlink_to(tmp_path / "plan.yaml")
    assert fault(PlanFile(tmp_path / "plan.yaml")).startswith(": the file cannot be read: ")
    assert fault(PlanFile(tmp_path / ("x" * 300))) == ": the file cannot be read: File name too long"


def test_a_file_of_100_mb_is_refused_without_being_read(tmp_path: Path) -> None:
    file = kept(tmp_path, b"")
    os.truncate(file.path, 100 * 2**20)
    tracemalloc.start()
    said = fault(file)
    _, most_bytes = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert said == ": the file is larger than 2 MiB; a plan is text"
    assert most_bytes < 3 * MOST_BYTES


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read every file")
def test_a_file_that_may_not_be_read_is_said(tmp_path: Path) -> None:
    file = kept(tmp_path, PLAN.encode())
    file.path.chmod(0)
    assert fault(file) == ": the file cannot be read: Permission denied"


def test_a_name_that_would_steer_the_terminal_is_shown_harmless(tmp_path: Path) -> None:
    file = PlanFile(tmp_path / "a\x1b[2J\nb\u202ec.yaml")
    said = file.name + fault(file)
    assert not {"\x1b", "\n", "\u202e"} & set(said)
    assert said.endswith("a\ufffd[2J b\ufffdc.yaml: there is no such file")


def test_the_stamp_changes_with_the_file(tmp_path: Path) -> None:
    file = kept(tmp_path, PLAN.encode())
    stamp = file.stamp()
    assert file.stamp() == stamp
    assert kept(tmp_path, b"longer" + PLAN.encode()).stamp() != stamp
    other = tmp_path / "other"
    other.write_bytes(PLAN.encode())
    other.replace(file.path)
    assert file.stamp() != stamp


@given(st.binary(max_size=200))
def test_any_bytes_are_a_text_or_a_sentence(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    file = kept(tmp_path_factory.getbasetemp(), data)
    try:
        assert "\r" not in file.read()
    except PlanFileError as error:
        said = str(error)
        assert "\n" not in said


@pytest.mark.parametrize(
    ("plan", "journal"),
    [
        ("plan.yaml", "plan.journal"),
        ("plan.yml", "plan.journal"),
        ("the plan", "the plan.journal"),
        ("a/b.v2.yaml", "a/b.v2.journal"),
    ],
)
def test_the_journal_lies_beside_the_plan(plan: str, journal: str) -> None:
    assert journal_path(Path(plan)) == Path(journal)


@pytest.mark.parametrize("path", ["/", "."])
def test_a_path_without_a_name_has_no_journal(path: str) -> None:
    with pytest.raises(PlanFileError, match="this is not a file"):
        journal_path(Path(path))
