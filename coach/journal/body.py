"""Events as the JSON text a journal stores, and back; older versions are brought up to date here."""

import datetime as dt
import json
from collections.abc import Callable
from typing import Final

from coach.journal.events import Event, JournalError, Kind, Turn
from coach.journal.reading import Reading

VERSION: Final = 2
"""Version of the body of every event written today."""

MOST_WALL_MS: Final = 253_370_764_800_000
"""The year 9999 in UTC, in milliseconds; later times cannot be shown."""

DAY_S: Final = 24 * 60 * 60


def body_of(event: Event) -> str:
    """Return what an event holds beyond number, time and kind, as JSON; absent fields are left out."""
    body: dict[str, object] = {}
    if event.turn is not None:
        body["turn"] = plain_turn(event.turn)
    if event.text:
        body["text"] = event.text
    if event.target:
        body["target"] = event.target
    if event.since is not None:
        body["since"] = plain_reading(event.since)
    return json.dumps(body, ensure_ascii=False, separators=(",", ":")) if body else "{}"


def event_of(seq: int, at: Reading, kind: str, version: int, body: str) -> Event:
    """Return the event that a row of the journal holds.

    Raises:
        JournalError: The row is of a newer version, or is damaged.
    """
    try:
        _check_head(seq, at, version)
        held = json.loads(body) if body != "{}" else {}
        since = held.get("since")
        turn = held.get("turn")
        _check_text(Kind(kind), held.get("text", ""))
        return Event(
            seq=seq,
            at=at,
            kind=Kind(kind),
            turn=None if turn is None else turn_of(*turn),
            text=held.get("text", ""),
            target=held.get("target", 0),
            since=None if since is None else reading_of(*since),
        )
    except (ValueError, TypeError, AttributeError) as error:
        raise JournalError(f"event {seq} of the journal is damaged") from error


def _check_head(seq: int, at: Reading, version: int) -> None:
    """Refuse a newer version, and a time that no calendar has: what the disk has garbled are numbers too."""
    if version > VERSION:
        raise JournalError(f"event {seq} was written by a newer coach; open it with that one")
    if not (0 <= at.wall_ms < MOST_WALL_MS and abs(at.offset_s) < DAY_S and at.elapsed_ms >= 0):
        raise ValueError("not a date")


def _check_silenced(text: str) -> None:
    for pair in text.split(","):
        _, grade = pair.split(":")
        int(grade)


_CHECKS: Final[dict[Kind, Callable[[str], object]]] = {
    Kind.GRANTED: int,
    Kind.RETIMED: int,
    Kind.WOKE: dt.time.fromisoformat,
    Kind.NOT_TODAY: _check_silenced,
}
"""How the text of a kind is read; what it refuses with a ValueError is damaged."""


def _check_text(kind: Kind, text: str) -> None:
    check = _CHECKS.get(kind)
    if check:
        check(text)


def plain_turn(turn: Turn) -> list[object]:
    """Return a turn as a list, in the order of the arguments of `turn_of`."""
    return [turn.pass_name, turn.run, turn.passages, turn.canvas, turn.place, turn.planned_s]


def plain_reading(reading: Reading) -> list[object]:
    """Return a reading as a list, in the order of the arguments of `reading_of`."""
    return [reading.wall_ms, reading.offset_s, reading.elapsed_ms, reading.boot]


def turn_of(  # noqa: PLR0917  the order is that of the list
    pass_name: str, run: int, passages: list[str], canvas: str, place: int, planned_s: int
) -> Turn:
    """Return the turn that `plain_turn` made plain."""
    return Turn(
        pass_name=pass_name,
        run=run,
        passages=tuple(passages),
        canvas=canvas,
        place=place,
        planned_s=planned_s,
    )


def reading_of(wall_ms: int, offset_s: int, elapsed_ms: int, boot: str) -> Reading:
    """Return the reading that `plain_reading` made plain."""
    return Reading(wall_ms=wall_ms, offset_s=offset_s, elapsed_ms=elapsed_ms, boot=boot)
