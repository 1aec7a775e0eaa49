"""What each key edits at a row of the tree."""

from collections.abc import Callable, Mapping
from typing import Final, NamedTuple

from coach.plan import units
from coach.plan.commission import Passage, Plan, Run
from coach.plan.editing import figures, moving, neighbours, pass_edits, passage_edits, sorting
from coach.plan.editing.edited import Done, Edited, EditError
from coach.plan.editing.new_names import cleaned
from coach.plan.problems import quoted
from coach.plan.writing_values import area_text, minutes_text, number_text
from coach.screens.plan.tree import Row


class Spot(NamedTuple):
    """Where an edit is made.

    Attributes:
        plan: The plan.
        row: The row in hand.
        done: What is done.
    """

    plan: Plan
    row: Row
    done: Done

    @property
    def pass_name(self) -> str:
        """Name of the pass of the row."""
        return self.row.one_pass.name

    @property
    def passage(self) -> Passage:
        """The passage of the row, or the first of its run.

        Raises:
            EditError: It is the row of a pass.
        """
        if self.row.run is None:
            raise EditError("this is a whole pass: choose a passage of it first")
        return self.row.passage or self.row.run.passages[0]

    @property
    def single(self) -> Passage:
        """The passage of the row.

        Raises:
            EditError: It is the row of a pass or a run.
        """
        if self.row.passage is None:
            what = "pass" if self.row.run is None else "run"
            raise EditError(f"this is a whole {what}: choose a passage of it first")
        return self.row.passage


Target = tuple[str, str | None]
"""Pass and passage (None for the whole pass) of the row that is in hand after an edit."""

Edit = Callable[[Spot], Edited]


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


def _move(spot: Spot, by: int) -> Edited:
    row = spot.row
    if row.run is None:
        return pass_edits.move_pass(spot.plan, spot.pass_name, by)
    if row.passage is None or len(row.run.passages) == 1:
        return moving.move_run(spot.plan, spot.pass_name, row.run.number, by)
    names = row.run.passage_names
    place = names.index(row.passage.name) + by
    if not 0 <= place < len(names):
        raise EditError(f"{quoted(row.passage.name)} stays in its run: move the whole run, or split it from it first")
    order = [passage.name for passage in row.one_pass.passages]
    steps = order.index(names[place]) - order.index(row.passage.name)
    return moving.move_passage(spot.plan, spot.pass_name, row.passage.name, steps)


def _split(spot: Spot) -> Edited:
    return neighbours.split(spot.plan, spot.pass_name, spot.single.name, done=spot.done)


def _join(spot: Spot) -> Edited:
    passage = spot.passage
    return neighbours.join(spot.plan, spot.pass_name, passage.name, _above(spot, passage).name)


def _above(spot: Spot, passage: Passage) -> Passage:
    """Return the passage above in the same run, or the last one of the run above that stands before it in the plan."""
    run = spot.row.run
    if run is not None and run.passages[0] is not passage:
        return run.passages[run.passages.index(passage) - 1]
    runs = spot.row.one_pass.runs
    if run is None or run.number == 1:
        raise EditError(f"{quoted(passage.name)} opens its pass: there is no passage above to meet it")
    earlier = _before(spot, passage, runs[run.number - 2])
    return earlier[-1]


def _before(spot: Spot, passage: Passage, run: Run) -> list[Passage]:
    place_of = {one.name: number for number, one in enumerate(spot.row.one_pass.passages)}
    return [one for one in run.passages if place_of[one.name] < place_of[passage.name]]


def _sort(spot: Spot) -> Edited:
    return sorting.sort_dark_to_light(spot.plan, spot.pass_name)


def _delete(spot: Spot) -> Edited:
    if spot.row.run is None:
        return pass_edits.delete_pass(spot.plan, spot.pass_name, done=spot.done)
    return passage_edits.delete_passage(spot.plan, spot.pass_name, spot.single.name, done=spot.done)


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


EDITS: Final[Mapping[str, Edit]] = {
    "move_up": lambda spot: _move(spot, -1),
    "move_down": lambda spot: _move(spot, 1),
    "split": _split,
    "join": _join,
    "sort": _sort,
    "delete": _delete,
}
"""Edits that ask for nothing, by name."""

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
