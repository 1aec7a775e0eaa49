"""The hours of the body: the painter's own figures in place of the usual ones."""

from collections.abc import Mapping
from itertools import pairwise
from typing import Final

from yaml.nodes import Node

from coach.plan import units
from coach.plan.commission import Limits
from coach.plan.node_reading import Asker, inside, text_of
from coach.plan.part_reading import optional
from coach.plan.problems import quoted
from coach.plan.value_reading import DAY_S, WEEK_S, read_duration_s

LIMIT_KEYS: Final = {
    "block": "block_s",
    "rest": "rest_s",
    "long-rest": "long_rest_s",
    "long-rest-within": "long_rest_within_s",
    "day": "day_s",
    "long-day": "caution_day_s",
    "longest-day": "strong_day_s",
    "between-days": "between_days_s",
    "week": "week_s",
    "free-stretch": "free_stretch_s",
    "awake": "awake_s",
    "standing": "standing_s",
    "press": "press_s",
}
"""Keys under `limits`, each with its figure in `Limits`."""

_LONGEST_PRESS_S: Final = 3
_OF_A_WEEK: Final = ("week", "free-stretch")
_RISING: Final = (("day", "long-day", "longest-day"), ("rest", "long-rest"))
"""Keys of which a later one is never less than an earlier one."""


def read_limits(ask: Asker, node: Node, where: str) -> Limits:
    """Return the hours of the body; where figures must rise, one that is not stated gives way to those that are."""
    fields = ask.fields(node, where, {}, LIMIT_KEYS)
    stated: dict[str, int] = {}
    press_s = optional(ask, fields, where, "press", _read_press_s)
    for key, value_node in fields.items():
        if key == "press":
            continue
        most_s = WEEK_S if key in _OF_A_WEEK else DAY_S
        seconds = read_duration_s(ask, value_node, inside(where, key), bare_minutes=False, most_s=most_s)
        if seconds is not None:
            stated[key] = seconds
    usual = Limits()._asdict()
    for keys in _RISING:
        _note_falls(ask, fields, where, [key for key in keys if key in stated], stated)
        usual |= {LIMIT_KEYS[key]: _giving_way(key, keys, usual[LIMIT_KEYS[key]], stated) for key in keys}
    if press_s is not None:
        usual["press_s"] = press_s
    return Limits(**usual | {LIMIT_KEYS[key]: seconds for key, seconds in stated.items()})


def _read_press_s(ask: Asker, node: Node, where: str) -> float | None:
    text = ask.text(node, where)
    seconds = None if text is None else units.seconds(text)
    if text is not None and (seconds is None or seconds > _LONGEST_PRESS_S):
        what = f"{quoted(text)} is not a time from 0 s to {_LONGEST_PRESS_S} s"
        ask.faults.note(node, where, what, "write 0.7 s, or 0 s so that every press counts")
        return None
    return seconds


def _giving_way(key: str, keys: tuple[str, ...], usual_s: int, stated: Mapping[str, int]) -> int:
    number = keys.index(key)
    least = max((stated[other] for other in keys[:number] if other in stated), default=0)
    most = min((stated[other] for other in keys[number:] if other in stated), default=WEEK_S)
    return min(max(usual_s, least), most)


def _note_falls(ask: Asker, fields: Mapping[str, Node], where: str, keys: list[str], stated: Mapping[str, int]) -> None:
    for less, more in pairwise(keys):
        if stated[more] < stated[less]:
            written, other = (text_of(fields[key]) for key in (more, less))
            what = f"{more}, {quoted(written)}, is shorter than {less}, {quoted(other)}"
            ask.faults.note(fields[more], inside(where, more), what, f"write {more}: {other} or longer")
