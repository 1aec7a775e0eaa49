"""What the journal stores for an event."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.journal.body import MOST_WALL_MS, VERSION, body_of, event_of
from coach.journal.events import Event, JournalError, Kind, Turn
from coach.journal.reading import Reading, local_time

AT = Reading(wall_ms=1_800_000_000_000, offset_s=0, elapsed_ms=1, boot="one")

READINGS = st.builds(
    Reading,
    wall_ms=st.integers(0, MOST_WALL_MS - 1),
    offset_s=st.integers(-86_399, 86_399),
    elapsed_ms=st.integers(0, 2**63 - 1),
    boot=st.text(),
)
TEXT = st.text(st.characters(exclude_categories=["Cs"]))
TURNS = st.builds(
    Turn,
    pass_name=TEXT,
    run=st.integers(1),
    passages=st.lists(TEXT).map(tuple),
    canvas=TEXT,
    place=st.integers(1),
    planned_s=st.integers(0),
)
WHOLE = st.integers(0, 10**12).map(str)
SILENCED = st.sampled_from(["day:1", "week:2", "day:1,standing:1", "of a newer coach:3"])
TEXTS = {
    Kind.GRANTED: WHOLE,
    Kind.RETIMED: WHOLE,
    Kind.WOKE: st.times().map(lambda time: time.isoformat("minutes")),
    Kind.NOT_TODAY: SILENCED,
}


def events_of(kind: Kind) -> st.SearchStrategy[Event]:
    return st.builds(
        Event,
        seq=st.integers(1),
        at=READINGS,
        kind=st.just(kind),
        turn=st.none() | TURNS,
        text=TEXTS.get(kind, TEXT),
        target=st.integers(0),
        since=st.none() | READINGS,
    )


EVENTS = st.sampled_from(Kind).flatmap(events_of)


@given(EVENTS)
def test_an_event_comes_back_as_it_was(event: Event) -> None:
    assert event_of(event.seq, event.at, event.kind.value, VERSION, body_of(event)) == event


@given(EVENTS)
def test_a_body_is_json_of_one_line_with_nothing_absent_in_it(event: Event) -> None:
    body = body_of(event)
    assert "\n" not in body
    held = json.loads(body)
    present = {"turn": event.turn, "text": event.text, "target": event.target, "since": event.since}
    assert set(held) == {name for name, value in present.items() if value not in (None, "", 0)}


@pytest.mark.parametrize(
    ("kind", "text"),
    [("granted", "soon"), ("retimed", ""), ("woke", "26:00"), ("not_today", "day"), ("not_today", "day:one")],
)
def test_a_text_that_its_kind_cannot_read_is_damage(kind: str, text: str) -> None:
    with pytest.raises(JournalError, match="event 3 of the journal is damaged"):
        event_of(3, AT, kind, VERSION, json.dumps({"text": text}))


def test_an_event_of_a_newer_version_is_said_to_be_one() -> None:
    with pytest.raises(JournalError, match="event 7 was written by a newer coach; open it with that one"):
        event_of(7, AT, "danced", VERSION + 1, "{}")


@pytest.mark.parametrize(
    "body",
    ["", "{", "[]", "3", '"text"', '{"turn":[]}', '{"turn":3}', '{"since":[1,2]}', '{"text":"a\0"}', "\x00" * 8],
)
def test_a_damaged_body_is_said_to_be_damaged(body: str) -> None:
    with pytest.raises(JournalError, match="event 7 of the journal is damaged"):
        event_of(7, AT, "noted", VERSION, body)


def test_an_unknown_kind_is_damage() -> None:
    with pytest.raises(JournalError, match="event 7 of the journal is damaged"):
        event_of(7, AT, "danced", VERSION, "{}")


@pytest.mark.parametrize(
    "at",
    [
        AT._replace(wall_ms=-1),
        AT._replace(wall_ms=MOST_WALL_MS),
        AT._replace(offset_s=86_400),
        AT._replace(offset_s=-86_400),
        AT._replace(elapsed_ms=-1),
    ],
)
def test_a_time_that_no_calendar_has_is_damage(at: Reading) -> None:
    with pytest.raises(JournalError, match="event 7 of the journal is damaged"):
        event_of(7, at, "noted", VERSION, "{}")


@pytest.mark.parametrize("wall_ms", [0, MOST_WALL_MS - 1])
@pytest.mark.parametrize("offset_s", [-86_399, 86_399])
def test_every_time_that_is_let_in_can_be_shown(wall_ms: int, offset_s: int) -> None:
    at = AT._replace(wall_ms=wall_ms, offset_s=offset_s)
    assert event_of(7, at, "noted", VERSION, "{}").at == at
    assert local_time(at).timestamp() == wall_ms // 1000
