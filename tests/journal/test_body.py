"""What the journal stores for an event."""

import datetime as dt
import hashlib
import json
from typing import Any, cast

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coach.journal.body import LEAST_WALL_MS, MOST_WALL_MS, VERSION, body_of, check_clock, event_of, hash_of, version_of
from coach.journal.compared import (
    KeptAllOver,
    KeptComparison,
    KeptPassage,
    KeptPhoto,
    KeptShift,
    KeptValue,
    LeftOut,
    difference_between,
)
from coach.journal.events import Announced, Event, JournalError, Kind, LaidPaint, Turn
from coach.journal.reading import Reading, local_time
from coach.text import sanitized

AT = Reading(wall_ms=1_800_000_000_000, offset_s=0, elapsed_ms=1, boot="one")

ANY_TEXT = st.text(st.characters(exclude_categories=["Cs"]))
TEXT = ANY_TEXT.map(sanitized)
SPAN = 10**12
READINGS = st.builds(
    Reading,
    wall_ms=st.integers(LEAST_WALL_MS, MOST_WALL_MS - 1),
    offset_s=st.integers(-86_399, 86_399),
    elapsed_ms=st.integers(0, 2**63 - 1),
    boot=TEXT,
)
TURNS = st.builds(
    Turn,
    pass_name=TEXT,
    run=st.integers(1, SPAN),
    passages=st.lists(TEXT).map(tuple),
    canvas=TEXT,
    place=st.integers(1, SPAN),
    planned_s=st.integers(0, SPAN),
    check=st.sampled_from(["", "", "mirror", "of a newer coach"]),
)
ANNOUNCED = st.builds(
    Announced,
    orders=st.dictionaries(st.tuples(TEXT, TEXT), st.lists(TEXT).map(tuple), max_size=5),
    held=st.lists(st.tuples(TEXT, TEXT), max_size=3).map(tuple),
    canvas=TEXT,
    remark=TEXT,
)
DAYS = st.floats(0, 400)
PAINT = st.builds(
    lambda mixture, medium, oil, days: LaidPaint(mixture, medium, oil, *sorted(days)),
    TEXT,
    st.sampled_from(["oil", "alkyd"]),
    st.sampled_from(["lean", "middle", "fat", ""]),
    st.tuples(DAYS, DAYS),
)
OUTLINES = st.sampled_from(["", "M1,2 3.5,4 5,6Z", "M0,0 9,0 9,9Z M1e-05,1 2,1 -2,2Z"])
FIGURE = st.floats(allow_nan=False, allow_infinity=False)
TWO = st.tuples(TEXT, TEXT)
SHIFTS = st.lists(st.builds(KeptShift, TEXT, TEXT, FIGURE, FIGURE, TEXT, TEXT, TEXT), max_size=2).map(tuple)
TAKEN = st.datetimes(timezones=st.timezones()).map(
    lambda at: at.replace(tzinfo=dt.timezone(dt.timedelta(hours=at.minute % 14))).isoformat(timespec="seconds")
)
COMPARISONS = st.builds(
    KeptComparison,
    canvases=TWO,
    photos=st.lists(
        st.builds(KeptPhoto, TEXT, st.binary(min_size=32, max_size=32).map(bytes.hex), st.just("") | TAKEN), max_size=2
    ).map(tuple),
    light_ratio=st.none() | FIGURE,
    passages=st.lists(
        st.builds(
            KeptPassage, TEXT, TEXT, FIGURE, FIGURE, FIGURE, st.tuples(FIGURE, FIGURE, FIGURE), st.booleans(), TEXT
        ),
        max_size=2,
    ).map(tuple),
    all_over=st.none() | st.builds(KeptAllOver, FIGURE, st.tuples(FIGURE, FIGURE, FIGURE), st.booleans(), TEXT),
    moved=SHIFTS,
    landmarks=SHIFTS,
    off_values=st.lists(st.builds(KeptValue, TEXT, TEXT, TEXT, FIGURE, TEXT), max_size=2).map(tuple),
    left_out=st.lists(st.builds(LeftOut, TEXT, TEXT, TEXT), max_size=2).map(tuple),
    remarks=st.lists(TEXT, max_size=2).map(tuple),
)
WHOLE = st.integers(0, SPAN - 1).map(str)
SILENCED = st.sampled_from(["day:1", "week:2", "day:1,standing:1", "of a newer coach:3"])
TEXTS = {
    Kind.GRANTED: WHOLE,
    Kind.RETIMED: WHOLE,
    Kind.WOKE: st.times().map(lambda time: time.isoformat("minutes")),
    Kind.NOT_TODAY: SILENCED,
    Kind.PLAN_READ: ANY_TEXT,
    Kind.UNDONE: st.lists(WHOLE).map(",".join),
}


def events_of(kind: Kind) -> st.SearchStrategy[Event]:
    return st.builds(
        Event,
        seq=st.integers(1),
        at=READINGS,
        kind=st.just(kind),
        turn=st.none() | TURNS,
        text=TEXTS.get(kind, TEXT),
        target=st.integers(0, 2**63 - 1),
        since=st.none() | READINGS,
        announced=st.none() | ANNOUNCED,
        as_painted=st.lists(PAINT, max_size=3).map(tuple),
        outlines=st.dictionaries(st.integers(1, 9999).map("k{}".format), OUTLINES, max_size=3),
        comparison=st.none() | COMPARISONS,
        difference=st.none() | st.builds(difference_between, TEXT, TEXT, TWO),
    )


EVENTS = st.sampled_from(Kind).flatmap(events_of)


@given(EVENTS)
def test_an_event_comes_back_as_it_was(event: Event) -> None:
    assert event_of(event.seq, event.at, event.kind.value, version_of(event), body_of(event)) == event


def test_an_event_is_of_the_oldest_version_that_can_hold_it() -> None:
    """A coach of version 4 goes on with a journal in which nothing is checked."""
    turn = Turn("eyes", 1, ("iris",), "Hall", 1, 60)
    done = Event(seq=1, at=AT, kind=Kind.TURN_DONE, turn=turn)
    assert (version_of(done), body_of(done)) == (4, '{"turn":["eyes",1,["iris"],"Hall",1,60]}')
    assert version_of(done._replace(outlines={"k1": ""})) == 5
    assert version_of(done._replace(turn=turn._replace(check="mirror"))) == 5
    assert version_of(done._replace(kind=Kind.MARKED_FOR_RETURN)) == VERSION == 6


NAMES = ("turn", "text", "target", "since", "announced", "as_painted", "outlines", "comparison", "difference")


@given(EVENTS)
def test_a_body_is_json_of_one_line_with_nothing_absent_in_it(event: Event) -> None:
    body = body_of(event)
    assert "\n" not in body
    held = json.loads(body)
    present = {name: getattr(event, name) for name in NAMES}
    assert set(held) == {name for name, value in present.items() if value not in (None, "", 0, (), {})}


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("granted", "soon"),
        ("retimed", ""),
        ("woke", "26:00"),
        ("not_today", "day"),
        ("not_today", "day:one"),
        ("granted", "1" * 13),
        ("granted", "1_0"),
        ("retimed", " 1"),
        ("woke", "06:30:00"),
        ("woke", "06:30+01:00"),
    ],
)
def test_a_text_that_its_kind_cannot_read_is_damage(kind: str, text: str) -> None:
    with pytest.raises(JournalError, match="event 3 of the journal is damaged"):
        event_of(3, AT, kind, VERSION, json.dumps({"text": text}))


def test_an_event_of_a_newer_version_is_said_to_be_one() -> None:
    with pytest.raises(JournalError, match="event 7 was written by a newer coach; open it with that one"):
        event_of(7, AT, "danced", VERSION + 1, "{}")


@pytest.mark.parametrize(
    "body",
    [
        "",
        "{",
        "[]",
        "3",
        '"text"',
        "\x00" * 8,
        "[" * 100_000,
        '{"turn":[]}',
        '{"turn":3}',
        '{"turn":["eyes",1,["iris"],"Hall",1,60,7]}',
        '{"turn":["eyes",1,["iris"],"Hall",1,60,"mirror",7]}',
        '{"outlines":[]}',
        '{"difference":["eyes","iris",["Hall"]]}',
        '{"difference":["eyes",3,["Hall","School"]]}',
        '{"comparison":{}}',
        '{"comparison":{"canvases":["Hall","School"],"light_ratio":NaN}}',
        '{"comparison":{"canvases":["Hall","School"],"passages":[["eyes","iris",1,1,1,[0,0,0],1,""]]}}',
        '{"comparison":{"canvases":["Hall","School"],"photos":[["one.jpg","00",""]]}}',
        '{"comparison":{"canvases":["Hall","School"],"photos":[["one.jpg","%s","2027-13-01T10:15:00+01:00"]]}}'
        % ("0" * 64),
        '{"outlines":{"k1":7}}',
        '{"outlines":{"iris":"M1,1Z"}}',
        '{"outlines":{"k1":"M1,1\\u001b[2J"}}',
        '{"turn":{}}',
        '{"turn":"abcdef"}',
        '{"turn":["eyes",1,"iris","Hall",1,60]}',
        '{"turn":["eyes",1,["iris",2],"Hall",1,60]}',
        '{"turn":[7,1,[],"Hall",1,60]}',
        '{"turn":["eyes",0,[],"Hall",1,60]}',
        '{"turn":["eyes",1,[],"Hall",1,1e400]}',
        '{"turn":["eyes",true,[],"Hall",1,60]}',
        '{"turn":["eyes",1,[],"Hall",1,-1]}',
        '{"turn":["eyes",1,[],"Hall",1,1000000000001]}',
        '{"since":[1,2]}',
        '{"since":[1e99,0,0,"b"]}',
        '{"since":[NaN,0,0,"b"]}',
        '{"since":[0,0,0,7]}',
        '{"since":[-99999999999999999,0,0,"b"]}',
        '{"text":"a\0"}',
        '{"text":7}',
        '{"text":null}',
        '{"target":"1"}',
        '{"target":-1}',
        '{"target":1.5}',
        '{"target":true}',
    ],
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
        AT._replace(wall_ms=LEAST_WALL_MS - 1),
        AT._replace(wall_ms=MOST_WALL_MS),
        AT._replace(offset_s=86_400),
        AT._replace(offset_s=-86_400),
        AT._replace(elapsed_ms=-1),
    ],
)
def test_a_time_that_no_calendar_has_is_damage(at: Reading) -> None:
    with pytest.raises(JournalError, match="event 7 of the journal is damaged"):
        event_of(7, at, "noted", VERSION, "{}")


@pytest.mark.parametrize("wall_ms", [LEAST_WALL_MS, -1, 0, MOST_WALL_MS - 1])
@pytest.mark.parametrize("offset_s", [-86_399, 86_399])
def test_every_time_that_is_let_in_can_be_shown(wall_ms: int, offset_s: int) -> None:
    at = AT._replace(wall_ms=wall_ms, offset_s=offset_s)
    assert event_of(7, at, "noted", VERSION, "{}").at == at
    assert local_time(at).timestamp() == wall_ms // 1000


@pytest.mark.parametrize(
    "head", [(1, AT._replace(boot=cast("Any", 7)), 1), (1, AT._replace(wall_ms=cast("Any", 1.5)), 1), (1, AT, "1")]
)
def test_a_head_of_wrong_types_is_damage(head: tuple[Any, Any, Any]) -> None:
    seq, at, version = head
    with pytest.raises(JournalError, match="event 1 of the journal is damaged"):
        event_of(seq, at, "noted", version, "{}")


def test_what_a_foreign_journal_says_steers_no_terminal_but_a_plan_is_as_it_was() -> None:
    turn = ["\x1b[2J", 1, ["\u202e", "a\nb"], "\x9b31m", 1, 60]
    body = json.dumps({"turn": turn, "text": "bell \x07\n", "since": [1, 0, 0, "\x1b"]})
    event = event_of(1, AT, "noted", VERSION, body)
    assert (event.turn, event.text) == (
        Turn(pass_name="�[2J", run=1, passages=("�", "a b"), canvas="�31m", place=1, planned_s=60),
        "bell � ",
    )
    assert event.since == Reading(wall_ms=1, offset_s=0, elapsed_ms=0, boot="�")
    assert event_of(1, AT, "plan_read", VERSION, body).text == "bell \x07\n"


@pytest.mark.parametrize("wall_ms", [-1, MOST_WALL_MS])
def test_a_clock_that_is_set_wrong_is_refused_as_a_clock(wall_ms: int) -> None:
    with pytest.raises(JournalError, match="not recorded: the clock of this machine is set before 1970 or after 9999"):
        check_clock(AT._replace(wall_ms=wall_ms))
    check_clock(AT)


def test_a_hash_depends_on_everything_that_is_stored_and_on_the_event_before() -> None:
    """RFC 7693: BLAKE2b, here of the fields joined by the unit separator of ECMA-48."""
    row = (1, 2, 3, 4, "boot", "noted", 2, '{"text":"küler"}')
    text = '1\x1f2\x1f3\x1f4\x1fboot\x1fnoted\x1f2\x1f{"text":"küler"}'.encode()
    assert hash_of(b"", row) == hashlib.blake2b(text, digest_size=16).digest()
    others = [(*row[:at], "x", *row[at + 1 :]) for at in range(len(row))]
    found = {hash_of(b"", row), hash_of(b"before", row), *(hash_of(b"", other) for other in others)}
    assert len(found) == len(row) + 2
