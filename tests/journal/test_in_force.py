"""Which events still count."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.journal.events import UNDOABLE, Event, Kind, in_force
from coach.journal.reading import Reading

AT = Reading(wall_ms=0, offset_s=0, elapsed_ms=0, boot="")

OTHERS = sorted(set(Kind) - {Kind.UNDONE, Kind.AWAY_WORKED})


def happened(*kinds_and_targets: tuple[Kind, int]) -> list[Event]:
    """Return events numbered from 1."""
    return [
        Event(seq=seq, at=AT, kind=kind, target=target) for seq, (kind, target) in enumerate(kinds_and_targets, start=1)
    ]


def numbers(events: list[Event]) -> list[int]:
    return [event.seq for event in in_force(events)]


def undone_from_the_end(kinds: list[Kind], depth: int) -> list[Event]:
    """Return events of these kinds, and `depth` undos of the last that can be undone and still counts."""
    events = happened(*((kind, 0) for kind in kinds))
    for _ in range(depth):
        last = [event.seq for event in in_force(events) if event.kind in UNDOABLE]
        if not last:
            break
        events.append(Event(seq=len(events) + 1, at=AT, kind=Kind.UNDONE, target=last[-1]))
    return events


KINDS = st.lists(st.sampled_from(OTHERS), max_size=30)


@given(KINDS, st.integers(0, 40))
def test_undo_of_any_depth_takes_back_the_latest_moves_and_nothing_else(kinds: list[Kind], depth: int) -> None:
    moves = [seq for seq, kind in enumerate(kinds, start=1) if kind in UNDOABLE]
    taken_back = set(moves[max(0, len(moves) - depth) :])
    assert numbers(undone_from_the_end(kinds, depth)) == [
        seq for seq in range(1, len(kinds) + 1) if seq not in taken_back
    ]


@given(KINDS, st.integers(0, 10), KINDS)
def test_what_follows_an_undo_counts(before: list[Kind], depth: int, after: list[Kind]) -> None:
    events = undone_from_the_end(before, depth)
    later = [Event(seq=len(events) + no, at=AT, kind=kind) for no, kind in enumerate(after, start=1)]
    assert in_force(events + later) == in_force(events) + later


@given(KINDS, st.integers(0, 10), st.randoms(use_true_random=False))
def test_it_does_not_matter_in_which_order_undos_were_recorded(kinds: list[Kind], depth: int, chance) -> None:  # type: ignore[no-untyped-def]  # noqa: ANN001
    events = undone_from_the_end(kinds, depth)
    targets = [event.target for event in events if event.kind is Kind.UNDONE]
    chance.shuffle(targets)
    shuffled = events[: len(kinds)] + [
        Event(seq=len(kinds) + no, at=AT, kind=Kind.UNDONE, target=target) for no, target in enumerate(targets, start=1)
    ]
    assert in_force(shuffled) == in_force(events)


@given(st.lists(st.tuples(st.sampled_from(Kind), st.integers(0, 25)), max_size=25))
def test_only_an_undo_of_a_session_s_end_is_returned_and_the_order_is_kept(rows: list[tuple[Kind, int]]) -> None:
    events = happened(*rows)
    left = in_force(events)
    ends = {event.seq for event in events if event.kind is Kind.SESSION_ENDED}
    assert all(event.target in ends for event in left if event.kind is Kind.UNDONE)
    assert [event.seq for event in left] == sorted(event.seq for event in left)


def test_an_undo_takes_back_several_events_at_once() -> None:
    events = happened(*[(Kind.TURN_DONE, 0)] * 4)
    undo = Event(seq=5, at=AT, kind=Kind.UNDONE, target=2, text="3,4")
    assert numbers([*events, undo]) == [1]


@pytest.mark.parametrize(
    ("undos", "left"),
    [
        pytest.param([], [1, 3], id="counted as work, the return is as if it had not been"),
        pytest.param([3], [1, 2], id="that undone, it was an absence again"),
        pytest.param([3, 1], [2], id="and the move before it undone"),
    ],
)
def test_an_absence_counted_as_work_can_be_undone(undos: list[int], left: list[int]) -> None:
    kept = happened((Kind.TURN_DONE, 0), (Kind.CAME_BACK, 0), (Kind.AWAY_WORKED, 2))
    undone = [Event(seq=3 + no, at=AT, kind=Kind.UNDONE, target=seq) for no, seq in enumerate(undos, start=1)]
    assert numbers(kept + undone) == left


def test_an_absence_undone_and_counted_again_counts_as_work() -> None:
    rows = [(Kind.CAME_BACK, 0)]
    for count in itertools.count(1):
        rows.append((Kind.AWAY_WORKED, 1))
        assert numbers(happened(*rows)) == [len(rows)]
        if count == 3:
            break
        rows.append((Kind.UNDONE, len(rows)))
        assert numbers(happened(*rows)) == [1]
