"""Journals that earlier coaches wrote are read for ever.

`version-1.journal` was written once by `write_version_1` and is never written again; so was its sister. When the
version of the events is raised, a file of that version is added beside them with its own writer and its own test.
"""

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Final

import pytest

from coach.journal.events import Announced, Event, Kind, LaidPaint, Turn
from coach.journal.reading import Reading
from coach.store.sqlite_journal import SqliteJournal

VERSION_1: Final = Path(__file__).parents[1] / "cases" / "journals" / "version-1.journal"

PLAN: Final = """\
commission: The orchard keeper
canvases: [Hall, School]
passes:
- {name: eyes, passages: [socket shadow, {name: upper lid, beside: socket shadow}, iris]}
"""


def at(minute: int) -> Reading:
    """Return 9 o'clock and so many minutes on 2027-03-27 in Berlin, an hour ahead of UTC."""
    ms = minute * 60_000
    return Reading(wall_ms=1_806_134_400_000 + ms, offset_s=3600, elapsed_ms=7_200_000 + ms, boot="0d5e-1")


LIDS: Final = Turn(
    pass_name="eyes",
    run=1,
    passages=("socket shadow", "upper lid"),
    canvas="Hall",
    place=1,
    planned_s=1380,
)
IRIS: Final = Turn(pass_name="eyes", run=2, passages=("iris",), canvas="School", place=1, planned_s=900)

EVENTS: Final = (
    Event(seq=1, at=at(0), kind=Kind.PLAN_READ, text=PLAN),
    Event(seq=2, at=at(1), kind=Kind.SESSION_BEGUN),
    Event(seq=3, at=at(5), kind=Kind.NOTED, turn=LIDS, text="küler — see 'left' \\ \N{ARTIST PALETTE}"),
    Event(seq=4, at=at(6), kind=Kind.MARKED, turn=LIDS),
    Event(seq=5, at=at(7), kind=Kind.PAUSED),
    Event(seq=6, at=at(9), kind=Kind.WORK_RESUMED),
    Event(seq=7, at=at(24), kind=Kind.TURN_DONE, turn=LIDS),
    Event(seq=8, at=at(25), kind=Kind.WENT_OTHER_WAY, turn=IRIS),
    Event(seq=9, at=at(26), kind=Kind.WENT_OTHER_WAY),
    Event(seq=10, at=at(27), kind=Kind.UNDONE, target=9),
    Event(seq=11, at=at(40)._replace(boot="0d5e-2", elapsed_ms=9), kind=Kind.CAME_BACK, since=at(30)),
    Event(seq=12, at=at(41)._replace(offset_s=-16_200), kind=Kind.AWAY_WORKED, target=11),
    Event(seq=13, at=at(42)._replace(boot=""), kind=Kind.REST_BEGUN),
    Event(seq=14, at=at(52), kind=Kind.WORK_RESUMED),
    Event(seq=15, at=at(53), kind=Kind.SKIPPED, turn=IRIS),
    Event(seq=16, at=at(54), kind=Kind.SESSION_ENDED),
)
"""Every kind of event that version 1 knows."""


VERSION_2: Final = VERSION_1.with_name("version-2.journal")

NEW_IN_2: Final = (
    Event(seq=1, at=at(0), kind=Kind.PLAN_READ, text=PLAN),
    Event(seq=2, at=at(1), kind=Kind.SESSION_BEGUN),
    Event(seq=3, at=at(2), kind=Kind.WOKE, text="06:30"),
    Event(seq=4, at=at(51), kind=Kind.GRANTED, text="600000"),
    Event(seq=5, at=at(62), kind=Kind.TURN_DONE, turn=LIDS),
    Event(seq=6, at=at(63), kind=Kind.RETIMED, turn=LIDS, text="1500000"),
    Event(seq=7, at=at(64), kind=Kind.NOT_TODAY, text="day:1,standing:1"),
    Event(seq=8, at=at(1500), kind=Kind.FOUND_WET, turn=LIDS),
    Event(seq=9, at=at(2940), kind=Kind.FOUND_DRY, turn=LIDS),
)
"""The kinds of event that came with version 2."""


VERSION_3: Final = VERSION_1.with_name("version-3.journal")

NEW_IN_3: Final = (
    Event(seq=1, at=at(0), kind=Kind.PLAN_READ, text=PLAN),
    Event(
        seq=2,
        at=at(1),
        kind=Kind.SESSION_BEGUN,
        announced=Announced(
            orders={("eyes", "socket shadow"): ("Hall", "School"), ("eyes", "iris"): ("School", "Hall")},
            held=(("eyes", "socket shadow"),),
            canvas="Hall",
            remark="even",
        ),
    ),
    Event(seq=3, at=at(30), kind=Kind.TURN_DONE, turn=LIDS),
)
"""What an event announces came with version 3."""


VERSION_4: Final = VERSION_1.with_name("version-4.journal")

NEW_IN_4: Final = (
    Event(seq=1, at=at(0), kind=Kind.PLAN_READ, text=PLAN),
    Event(seq=2, at=at(1), kind=Kind.SESSION_BEGUN),
    Event(
        seq=3,
        at=at(30),
        kind=Kind.TURN_DONE,
        turn=LIDS,
        as_painted=(LaidPaint("deep flesh", "oil", "lean", 1.5, 4.0), LaidPaint("", "oil", "", 0.75, 12.5)),
    ),
)
"""The paint as it was laid came with version 4."""


VERSION_5: Final = VERSION_1.with_name("version-5.journal")

MIRROR: Final = Turn("eyes", 3, ("mirror",), "Hall", 1, 120, "mirror")

NEW_IN_5: Final = (
    Event(seq=1, at=at(0), kind=Kind.PLAN_READ, text=PLAN),
    Event(seq=2, at=at(1), kind=Kind.SESSION_BEGUN),
    Event(seq=3, at=at(30), kind=Kind.TURN_DONE, turn=LIDS, outlines={"k7": "M1,2 3.5,4 5,6Z", "k12": ""}),
    Event(seq=4, at=at(33), kind=Kind.TURN_DONE, turn=MIRROR),
)
"""Checks, and the outlines of what is painted, came with version 5."""


def write_version_1(path: Path) -> None:
    """Write the file; only a coach that writes version 1 can."""
    with closing(SqliteJournal(path, writes=True)) as journal:
        for event in EVENTS:
            journal.append(event)


def write_version_2(path: Path) -> None:
    """Write the file; only a coach that writes version 2 can."""
    with closing(SqliteJournal(path, writes=True)) as journal:
        for event in NEW_IN_2:
            journal.append(event)


HASHED: Final = VERSION_1.with_name("hashed.journal")
"""A journal of version 1 with more events, which carry hashes; the word of the coach that wrote them lies beside it."""

NEW_IN_HASHED: Final = tuple(event._replace(seq=event.seq + 15) for event in NEW_IN_2[1:])


def write_hashed(path: Path) -> None:
    """Write the file; only a coach that writes these hashes can."""
    shutil.copy(VERSION_1, path)
    with closing(SqliteJournal(path, writes=True)) as journal:
        for event in NEW_IN_HASHED:
            journal.append(event)


def test_a_journal_whose_events_carry_hashes_is_read_as_it_was_written(tmp_path: Path) -> None:
    for ending in ("", "-seen"):
        shutil.copy(HASHED.with_name(HASHED.name + ending), tmp_path / f"old.journal{ending}")
    with closing(SqliteJournal(tmp_path / "old.journal", writes=True)) as journal:
        assert tuple(journal.after(0)) == (*EVENTS, *NEW_IN_HASHED)
        assert (journal.damage, journal.notice) == ("", "")
        assert journal.last_word() == NEW_IN_HASHED[-1].at
        assert journal.append(Event(seq=0, at=at(3000), kind=Kind.SESSION_ENDED)).seq == 25


def write_version_3(path: Path) -> None:
    """Write the file; only a coach that writes version 3 can."""
    with closing(SqliteJournal(path, writes=True)) as journal:
        for event in NEW_IN_3:
            journal.append(event)


def write_version_4(path: Path) -> None:
    """Write the file; only a coach that writes version 4 can, or a newer one where nothing in it is newer."""
    with closing(SqliteJournal(path, writes=True)) as journal:
        for event in NEW_IN_4:
            journal.append(event)


def write_version_5(path: Path) -> None:
    """Write the file; only a coach that writes version 5 can, or a newer one where nothing in it is newer."""
    with closing(SqliteJournal(path, writes=True)) as journal:
        for event in NEW_IN_5:
            journal.append(event)


@pytest.mark.parametrize(
    ("old", "write", "events"), [(VERSION_4, write_version_4, NEW_IN_4), (VERSION_5, write_version_5, NEW_IN_5)]
)
def test_a_journal_of_an_older_version_is_read_as_it_was_written_and_written_so_to_this_day(
    old: Path, write: Callable[[Path], None], events: tuple[Event, ...], tmp_path: Path
) -> None:
    shutil.copy(old, tmp_path / "old.journal")
    write(tmp_path / "new.journal")
    rows = []
    for name in ("old.journal", "new.journal"):
        with closing(SqliteJournal(tmp_path / name, writes=False)) as journal:
            assert tuple(journal.after(0)) == events
            assert not journal.damage
        with closing(sqlite3.connect(tmp_path / name)) as connection:
            rows.append(connection.execute("SELECT * FROM event ORDER BY seq").fetchall())
    assert rows[0] == rows[1]


def test_a_journal_of_version_3_is_read_as_it_was_written(tmp_path: Path) -> None:
    shutil.copy(VERSION_3, tmp_path / "old.journal")
    with closing(SqliteJournal(tmp_path / "old.journal", writes=False)) as journal:
        assert tuple(journal.after(0)) == NEW_IN_3
        assert not journal.damage


def test_a_journal_of_version_2_is_read_as_it_was_written(tmp_path: Path) -> None:
    shutil.copy(VERSION_2, tmp_path / "old.journal")
    with closing(SqliteJournal(tmp_path / "old.journal", writes=False)) as journal:
        assert tuple(journal.after(0)) == NEW_IN_2
        assert not journal.damage


def test_a_journal_of_version_1_is_read_as_it_was_written(tmp_path: Path) -> None:
    shutil.copy(VERSION_1, tmp_path / "old.journal")
    with closing(SqliteJournal(tmp_path / "old.journal", writes=False)) as journal:
        assert tuple(journal.after(0)) == EVENTS
        assert not journal.damage


def test_a_journal_of_version_1_is_written_on(tmp_path: Path) -> None:
    shutil.copy(VERSION_1, tmp_path / "old.journal")
    with closing(SqliteJournal(tmp_path / "old.journal", writes=True)) as journal:
        kept = journal.append(Event(seq=0, at=at(100), kind=Kind.SESSION_BEGUN))
        assert kept.seq == 17
        assert tuple(journal.after(0)) == (*EVENTS, kept)
