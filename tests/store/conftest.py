"""A disk of our own that can be filled and locked, and events to put on it."""

import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import pytest

from coach.journal.body import hash_of
from coach.journal.events import Event, Kind
from coach.journal.reading import Reading
from coach.store.journal_database import make


@dataclass(frozen=True, slots=True, kw_only=True)
class SmallDisk:
    """A file system in memory."""

    path: Path

    def remount(self, options: str) -> None:
        """Change its size (`size=...`) or whether it takes writing (`ro`, `rw`)."""
        subprocess.run(["/bin/mount", "-o", f"remount,{options}", self.path], check=True)

    def fill(self) -> None:
        """Write a file `filling` until the disk takes no more."""
        with (self.path / "filling").open("wb", buffering=0) as file, suppress(OSError):
            while file.write(b"x" * 512):
                pass
        assert shutil.disk_usage(self.path).free == 0


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[SmallDisk]:
    """A disk of 256 KiB; the test is skipped where mounting is not permitted."""
    path = tmp_path / "disk"
    path.mkdir()
    try:
        mounted = subprocess.run(
            ["/bin/mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", path], check=False, capture_output=True
        )
    except OSError as error:
        pytest.skip(f"there is no mount here: {error}")
    if mounted.returncode:
        pytest.skip(f"mounting is not permitted here: {mounted.stderr.decode().strip()}")
    yield SmallDisk(path=path)
    subprocess.run(["/bin/umount", "--lazy", path], check=True)


def made_journal(path: Path, *events: tuple[str, int, str]) -> None:
    """Make a journal by hand of kinds, versions and bodies; its hashes are right, whatever it holds."""
    rows: list[tuple[object, ...]] = []
    before = b""
    for number, event in enumerate(events, start=1):
        row = (number, 1_790_000_000_000, 0, number, "b", *event)
        before = hash_of(before, row)
        rows.append((*row, before))
    make(path, rows)


@pytest.fixture
def noted() -> Callable[[str], Event]:
    """Make a note, still without a number."""

    def make(text: str) -> Event:
        at = Reading(wall_ms=1_790_000_000_000, offset_s=7200, elapsed_ms=5_000, boot="0d5e")
        return Event(seq=0, at=at, kind=Kind.NOTED, text=text)

    return make
