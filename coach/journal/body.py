"""Events as the JSON text a journal stores, and back; older versions are brought up to date here."""

import hashlib
import json
import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Final

from coach.journal.compared import comparison_of, difference_of, plain_comparison
from coach.journal.events import COMPARING, Announced, Event, JournalError, Kind, LaidPaint, Turn
from coach.journal.reading import Reading
from coach.journal.stored_values import formed, safe_text, whole

VERSION: Final = 6
"""The newest version of a body."""

_BEFORE_COMPARING: Final = 5
"""The version of an event that says nothing of a comparison: a coach of that version can go on with the journal."""

_BEFORE_SHAPES: Final = 4
"""The version of an event that says nothing of checks or shapes: a coach of that version can go on with the journal."""

_SHAPE_ID: Final = re.compile("k[1-9][0-9]{0,6}")
_PATH_DATA: Final = re.compile("[MZ0-9eE.,+ -]*")

MOST_WALL_MS: Final = 253_370_764_800_000
"""The year 9999 in UTC, in milliseconds; later times cannot be shown."""

LEAST_WALL_MS: Final = -62_135_424_000_000
"""The second day of the year 1 in UTC, in milliseconds; earlier times cannot be shown."""

DAY_S: Final = 24 * 60 * 60

_MOST: Final = 2**63 - 1
_MOST_SPAN: Final = 10**12
"""Of milliseconds or seconds: longer than any commission, and short enough for every calendar."""

_KINDS: Final = {kind.value: kind for kind in Kind}
_TEXTS: Final = {
    Kind.GRANTED: re.compile(r"-?[0-9]{1,12}"),
    Kind.RETIMED: re.compile(r"-?[0-9]{1,12}"),
    Kind.UNDONE: re.compile(r"([0-9]{1,18}(,[0-9]{1,18})*)?"),
    Kind.WOKE: re.compile(r"([01][0-9]|2[0-3]):[0-5][0-9]"),
    Kind.NOT_TODAY: re.compile(r"[^,:]*:-?[0-9]{1,9}(,[^,:]*:-?[0-9]{1,9})*"),
}
"""The form of the text of a kind that has one; any other is damage."""


class NewerEventError(JournalError):
    """An event was written by a newer coach."""


def hash_of(before: bytes, row: Sequence[object]) -> bytes:
    """Return the hash that an event carries: over itself as it is stored, and over the hash of the event before.

    Args:
        before: Hash of the event before; empty for the first.
        row: What is stored of the event, without its hash.

    Source:
        BLAKE2b: RFC 7693. 16 bytes find every accident; they are no seal against a forger.
    """
    seq, wall_ms, offset_s, elapsed_ms, boot, kind, version, body = row
    text = f"{seq}\x1f{wall_ms}\x1f{offset_s}\x1f{elapsed_ms}\x1f{boot}\x1f{kind}\x1f{version}\x1f{body}"
    return hashlib.blake2b(before + text.encode(errors="surrogatepass"), digest_size=16).digest()


def check_clock(at: Reading) -> None:
    """Refuse to record what happens before 1970 or after 9999: the machine's clock is set wrong.

    Raises:
        JournalError: It is.
    """
    if not 0 <= at.wall_ms < MOST_WALL_MS:
        raise JournalError("not recorded: the clock of this machine is set before 1970 or after 9999; set it right")


def version_of(event: Event) -> int:
    """Return the version that the body of an event is written in: the oldest that can hold it."""
    if event.kind in COMPARING:
        return VERSION
    has_check = event.turn is not None and bool(event.turn.check)
    return _BEFORE_COMPARING if has_check or event.outlines else _BEFORE_SHAPES


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
    if event.announced is not None:
        body["announced"] = plain_announced(event.announced)
    if event.as_painted:
        body["as_painted"] = event.as_painted
    if event.outlines:
        body["outlines"] = event.outlines
    if event.comparison is not None:
        body["comparison"] = plain_comparison(event.comparison)
    if event.difference is not None:
        body["difference"] = event.difference
    return json.dumps(body, ensure_ascii=False, separators=(",", ":")) if body else "{}"


def event_of(seq: int, at: Reading, kind: str, version: int, body: str) -> Event:
    """Return the event that a row of the journal holds, its texts made safe to show; a plan's text is as it was.

    Raises:
        JournalError: The row is of a newer version, or is damaged.
    """
    try:
        if version > VERSION:
            raise NewerEventError(f"event {seq} was written by a newer coach; open it with that one")
        _check_reading(at)
        known = _KINDS[kind]
        if body == "{}":
            return Event(seq, at, known, text=_text(known, ""))
        held = json.loads(body)
        since, turn, announced = held.get("since"), held.get("turn"), held.get("announced")
        comparison, difference = held.get("comparison"), held.get("difference")
        return Event(
            seq,
            at,
            known,
            None if turn is None else turn_of(*turn),
            _text(known, held.get("text", "")),
            whole(held.get("target", 0), 0, _MOST),
            None if since is None else reading_of(*since),
            None if announced is None else announced_of(*announced),
            tuple(paint_of(*paint) for paint in held.get("as_painted", ())),
            {formed(_SHAPE_ID, id_): formed(_PATH_DATA, data) for id_, data in held.get("outlines", {}).items()},
            None if comparison is None else comparison_of(comparison),
            None if difference is None else difference_of(difference),
        )
    except (ValueError, TypeError, LookupError, AttributeError, RecursionError) as error:
        raise JournalError(f"event {seq} of the journal is damaged") from error


def _check_reading(at: Reading) -> None:
    """Refuse a time that no calendar has, with a ValueError: what the disk has garbled are numbers too."""
    wall_ms, offset_s, elapsed_ms, boot = at
    if not (
        type(wall_ms) is type(offset_s) is type(elapsed_ms) is int
        and LEAST_WALL_MS <= wall_ms < MOST_WALL_MS
        and -DAY_S < offset_s < DAY_S
        and 0 <= elapsed_ms <= _MOST
        and type(boot) is str
    ):
        raise ValueError("not a reading of clocks")


def _text(kind: Kind, value: object) -> str:
    if kind is Kind.PLAN_READ and isinstance(value, str):
        return value
    form = _TEXTS.get(kind)
    return safe_text(value) if form is None else formed(form, value)


def plain_turn(turn: Turn) -> list[object]:
    """Return a turn as a list, in the order of the arguments of `turn_of`."""
    plain: list[object] = [turn.pass_name, turn.run, turn.passages, turn.canvas, turn.place, turn.planned_s]
    return [*plain, turn.check] if turn.check else plain


def plain_announced(announced: Announced) -> list[object]:
    """Return what was announced as a list, in the order of the arguments of `announced_of`.

    Canvases are named once, and each order is their numbers, so that a thousand runs take little room.
    """
    canvases = list(dict.fromkeys(name for order in announced.orders.values() for name in order))
    orders: dict[str, dict[str, list[int]]] = {}
    for (pass_name, passage), order in announced.orders.items():
        orders.setdefault(pass_name, {})[passage] = [canvases.index(name) for name in order]
    return [canvases, orders, announced.held, announced.canvas, announced.remark]


def plain_reading(reading: Reading) -> list[object]:
    """Return a reading as a list, in the order of the arguments of `reading_of`."""
    return [reading.wall_ms, reading.offset_s, reading.elapsed_ms, reading.boot]


def turn_of(  # noqa: PLR0917  the order is that of the list
    pass_name: str, run: int, passages: list[str], canvas: str, place: int, planned_s: int, check: str = ""
) -> Turn:
    """Return the turn that `plain_turn` made plain; a ValueError for what is none."""
    if not (
        type(passages) is list
        and type(run) is type(place) is type(planned_s) is int
        and 1 <= run <= _MOST_SPAN
        and 1 <= place <= _MOST_SPAN
        and 0 <= planned_s <= _MOST_SPAN
    ):
        raise ValueError("not a turn")
    return _turn(pass_name, run, tuple(passages), canvas, place, planned_s, check)


@lru_cache(maxsize=64)
def _turn(  # noqa: PLR0917  the order is that of the list
    pass_name: str, run: int, passages: tuple[str, ...], canvas: str, place: int, planned_s: int, check: str
) -> Turn:
    """Return a turn with names made safe; that of a few events ago is the same turn still."""
    return Turn(
        safe_text(pass_name),
        run,
        tuple(map(safe_text, passages)),
        safe_text(canvas),
        place,
        planned_s,
        safe_text(check),
    )


def announced_of(canvases: object, orders: object, held: object, canvas: object, remark: object) -> Announced:
    """Return what `plain_announced` made plain; a ValueError for what is none."""
    if not (isinstance(canvases, list) and isinstance(orders, dict) and isinstance(held, list)):
        raise ValueError("not announced so")  # noqa: TRY004  caught with the others as damage
    names = tuple(map(safe_text, canvases))
    return Announced(
        orders={
            (safe_text(pass_name), safe_text(passage)): tuple(
                names[whole(number, 0, len(names) - 1)] for number in order
            )
            for pass_name, of_pass in orders.items()
            for passage, order in of_pass.items()
        },
        held=tuple((safe_text(pass_name), safe_text(passage)) for pass_name, passage in held),
        canvas=safe_text(canvas),
        remark=safe_text(remark),
    )


def paint_of(mixture: object, medium: object, oil: object, low_days: object, high_days: object) -> LaidPaint:
    """Return paint as it was laid, from a list in this order; a ValueError for what is none."""
    for days in (low_days, high_days):
        if type(days) not in {int, float}:
            raise ValueError("not a number of days")
    low, high = float(str(low_days)), float(str(high_days))
    if not 0 <= low <= high <= _MOST_SPAN:
        raise ValueError("not such a range of days")
    return LaidPaint(safe_text(mixture), safe_text(medium), safe_text(oil), low, high)


def reading_of(wall_ms: int, offset_s: int, elapsed_ms: int, boot: str) -> Reading:
    """Return the reading that `plain_reading` made plain; a ValueError for what is none."""
    reading = Reading(wall_ms, offset_s, elapsed_ms, safe_text(boot))
    _check_reading(reading)
    return reading
