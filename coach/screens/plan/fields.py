"""What a key that asks for a text edits at a row of the tree."""

from collections.abc import Callable, Mapping
from typing import Final, NamedTuple

from coach.plan import units
from coach.plan.commission import Passage
from coach.plan.editing import figures, moving, pass_edits, passage_edits
from coach.plan.editing.edited import Edited, EditError
from coach.plan.editing.new_names import cleaned
from coach.plan.problems import quoted
from coach.plan.units import area_text, minutes_text, number_text
from coach.screens.plan.spot import Spot, Target


class Field(NamedTuple):
    """An edit that asks for a text.

    Attributes:
        prompt: What it asks for.
        before: Returns the text that stands there already.
        edit: Edits with the text.
        target: Returns the row in hand afterwards; None keeps it.
    """

    prompt: str
    before: Callable[[Spot], str]
    edit: Callable[[Spot, str], Edited]
    target: Callable[[Spot, str], Target] | None = None


def _add(spot: Spot, text: str) -> Edited:
    run, passage = spot.row.run, spot.row.passage
    last = passage or (run.passages[-1] if run else None)
    after = last.name if last else None
    return passage_edits.add_passage(spot.plan, spot.pass_name, Passage(text), after=after)


def _names(text: str) -> tuple[str, str]:
    pass_name, _, first = text.partition(":")
    if not first.strip():
        raise EditError("a pass has at least one passage: write both, such as ears: outer shadow")
    return pass_name, first


def _add_pass(spot: Spot, text: str) -> Edited:
    pass_name, first = _names(text)
    return pass_edits.add_pass(spot.plan, pass_name, Passage(first), after=spot.pass_name)


def _rename(spot: Spot, text: str) -> Edited:
    if spot.row.run is None:
        return pass_edits.rename_pass(spot.plan, spot.pass_name, text, done=spot.done)
    return passage_edits.rename_passage(spot.plan, spot.pass_name, spot.single.name, text, done=spot.done)


def _renamed(spot: Spot, text: str) -> Target:
    return (cleaned(text), None) if spot.row.run is None else (spot.pass_name, cleaned(text))


def _minutes(spot: Spot, text: str) -> Edited:
    minutes = units.number(text)
    seconds = units.duration_s(text) if minutes is None else round(minutes * 60)
    if text and seconds is None:
        raise EditError(f"{quoted(text)} is no time: write minutes such as 14, or 1 h 30 min")
    return figures.change_minutes(spot.plan, spot.pass_name, spot.single.name, seconds)


def _value(spot: Spot, text: str) -> Edited:
    value = units.number(text)
    if text and value is None:
        raise EditError(f"{quoted(text)} is no value: write a number from 0, black, to 10, white")
    return figures.change_value(spot.plan, spot.pass_name, spot.single.name, value)


def _area(spot: Spot, text: str) -> Edited:
    bare = units.number(text)
    area_cm2 = units.area_cm2(text) if bare is None else bare
    if text and area_cm2 is None:
        raise EditError(f"{quoted(text)} is no area: write square centimetres such as 12, or 2 in2")
    return figures.change_area(spot.plan, spot.pass_name, spot.single.name, area_cm2)


def _difficulty(spot: Spot, text: str) -> Edited:
    difficulty = units.number(text or "1")
    if difficulty is None:
        raise EditError(f"{quoted(text)} is no difficulty: write a number such as 1.5; 1 is the usual one")
    return figures.change_difficulty(spot.plan, spot.pass_name, spot.single.name, difficulty)


def _mixture(spot: Spot, text: str) -> Edited:
    return figures.change_mixture(spot.plan, spot.pass_name, spot.single.name, text or None)


def _lead(spot: Spot, text: str) -> Edited:
    return figures.change_lead(spot.plan, spot.pass_name, spot.passage.name, text or None)


def _to_pass(spot: Spot, text: str) -> Edited:
    return moving.move_to_pass(spot.plan, spot.pass_name, spot.single.name, cleaned(text), done=spot.done)


def _stated(figure: float | None, written: Callable[[float], str]) -> str:
    return "" if figure is None else written(figure)


def _planned(spot: Spot) -> str:
    seconds = spot.single.planned_s
    return "" if seconds is None else minutes_text(seconds)


def _led_by(spot: Spot) -> str:
    spot.passage  # noqa: B018  a pass has no lead of its own
    return (spot.row.run.lead if spot.row.run else None) or ""


FIELDS: Final[Mapping[str, Field]] = {
    "add": Field("name of the new passage", lambda _: "", _add, lambda spot, text: (spot.pass_name, cleaned(text))),
    "add_pass": Field(
        "new pass: its first passage",
        lambda _: "",
        _add_pass,
        lambda _, text: (cleaned(_names(text)[0]), None),
    ),
    "rename": Field(
        "name", lambda spot: spot.pass_name if spot.row.run is None else spot.single.name, _rename, _renamed
    ),
    "minutes": Field("minutes on one canvas", _planned, _minutes),
    "value": Field("value, 0 black to 10 white", lambda spot: _stated(spot.single.value, number_text), _value),
    "area": Field("area in cm2", lambda spot: _stated(spot.single.area_cm2, area_text), _area),
    "mixture": Field("mixture", lambda spot: spot.single.mixture or "", _mixture),
    "difficulty": Field("difficulty, 1 is usual", lambda spot: number_text(spot.single.difficulty), _difficulty),
    "lead": Field("canvas that leads the run; none lets any", _led_by, _lead),
    "to_pass": Field(
        "pass to move it to",
        lambda spot: spot.single.name[:0],
        _to_pass,
        lambda spot, text: (cleaned(text), spot.single.name),
    ),
}
"""Edits that ask for a text, by name; an empty text takes a figure away."""
