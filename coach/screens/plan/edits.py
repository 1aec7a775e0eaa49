"""What the keys of the Plan edit at the row in hand: those that ask for nothing, and those that ask for a text."""

from collections.abc import Callable, Mapping
from typing import Final, NamedTuple

from coach.plan import units
from coach.plan.commission import Passage, Plan, Run
from coach.plan.editing import figures, moving, neighbours, pass_edits, passage_edits, sorting
from coach.plan.editing.edited import Done, Edited, EditError
from coach.plan.editing.new_names import cleaned
from coach.plan.problems import quoted
from coach.plan.units import area_text, minutes_text, number_text
from coach.screens.plan.tree import TreeRow


class EditTarget(NamedTuple):
    """Where an edit is made.

    Attributes:
        plan: The plan.
        row: The row in hand.
        done: What is done.
    """

    plan: Plan
    row: TreeRow
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


RowAddress = tuple[str, str | None]
"""Pass and passage (None for the whole pass) of the row that is in hand after an edit."""


_SORTED: Final = "Runs stay whole, go by their darkest passage, and come after what they lie over."
"""How a pass is sorted, in a sentence; the rules are those of `sort_dark_to_light`."""


def _move(at: EditTarget, by: int) -> Edited:
    row = at.row
    if row.run is None:
        return pass_edits.move_pass(at.plan, at.pass_name, by)
    if row.passage is None or len(row.run.passages) == 1:
        return moving.move_run(at.plan, at.pass_name, row.run.number, by)
    names = row.run.passage_names
    place = names.index(row.passage.name) + by
    if not 0 <= place < len(names):
        raise EditError(f"{quoted(row.passage.name)} stays in its run: move the whole run, or split it from it first")
    order = [passage.name for passage in row.one_pass.passages]
    steps = order.index(names[place]) - order.index(row.passage.name)
    return moving.move_passage(at.plan, at.pass_name, row.passage.name, steps)


def _split(at: EditTarget) -> Edited:
    return neighbours.split(at.plan, at.pass_name, at.single.name, done=at.done)


def _join(at: EditTarget) -> Edited:
    passage = at.passage
    return neighbours.join(at.plan, at.pass_name, passage.name, _above(at, passage).name)


def _above(at: EditTarget, passage: Passage) -> Passage:
    """Return the passage above in the same run, or the last one of the run above that stands before it in the plan."""
    run = at.row.run
    if run is not None and run.passages[0] is not passage:
        return run.passages[run.passages.index(passage) - 1]
    runs = at.row.one_pass.runs
    if run is None or run.number == 1:
        raise EditError(f"{quoted(passage.name)} opens its pass: there is no passage above to meet it")
    earlier = _before(at, passage, runs[run.number - 2])
    return earlier[-1]


def _before(at: EditTarget, passage: Passage, run: Run) -> list[Passage]:
    place_of = {one.name: number for number, one in enumerate(at.row.one_pass.passages)}
    return [one for one in run.passages if place_of[one.name] < place_of[passage.name]]


def _sort(at: EditTarget) -> Edited:
    found = sorting.sort_dark_to_light(at.plan, at.pass_name)
    return found if found.plan is at.plan else Edited(plan=found.plan, remark=f"{found.remark} {_SORTED}")


def _delete(at: EditTarget) -> Edited:
    if at.row.run is None:
        return pass_edits.delete_pass(at.plan, at.pass_name, done=at.done)
    return passage_edits.delete_passage(at.plan, at.pass_name, at.single.name, done=at.done)


EDITS: Final[Mapping[str, Callable[[EditTarget], Edited]]] = {
    "move_up": lambda at: _move(at, -1),
    "move_down": lambda at: _move(at, 1),
    "split": _split,
    "join": _join,
    "sort": _sort,
    "delete": _delete,
}
"""Edits that ask for nothing, by name."""


class AskedEdit(NamedTuple):
    """An edit that asks for a text.

    Attributes:
        prompt: What it asks for.
        before: Returns the text that stands there already.
        edit: Edits with the text.
        target: Returns the row in hand afterwards; None keeps it.
    """

    prompt: str
    before: Callable[[EditTarget], str]
    edit: Callable[[EditTarget, str], Edited]
    target: Callable[[EditTarget, str], RowAddress] | None = None


def _add(at: EditTarget, text: str) -> Edited:
    run, passage = at.row.run, at.row.passage
    last = passage or (run.passages[-1] if run else None)
    after = last.name if last else None
    return passage_edits.add_passage(at.plan, at.pass_name, Passage(text), after=after)


def _names(text: str) -> tuple[str, str]:
    pass_name, _, first = text.partition(":")
    if not first.strip():
        raise EditError("a pass has at least one passage: write both, such as ears: outer shadow")
    return pass_name, first


def _add_pass(at: EditTarget, text: str) -> Edited:
    pass_name, first = _names(text)
    return pass_edits.add_pass(at.plan, pass_name, Passage(first), after=at.pass_name)


def _rename(at: EditTarget, text: str) -> Edited:
    if at.row.run is None:
        return pass_edits.rename_pass(at.plan, at.pass_name, text, done=at.done)
    return passage_edits.rename_passage(at.plan, at.pass_name, at.single.name, text, done=at.done)


def _renamed(at: EditTarget, text: str) -> RowAddress:
    return (cleaned(text), None) if at.row.run is None else (at.pass_name, cleaned(text))


def _minutes(at: EditTarget, text: str) -> Edited:
    minutes = units.number(text)
    seconds = units.duration_s(text) if minutes is None else round(minutes * 60)
    if text and seconds is None:
        raise EditError(f"{quoted(text)} is no time: write minutes such as 14, or 1 h 30 min")
    return figures.change_minutes(at.plan, at.pass_name, at.single.name, seconds)


def _value(at: EditTarget, text: str) -> Edited:
    value = units.number(text)
    if text and value is None:
        raise EditError(f"{quoted(text)} is no value: write a number from 0, black, to 10, white")
    return figures.change_value(at.plan, at.pass_name, at.single.name, value)


def _area(at: EditTarget, text: str) -> Edited:
    bare = units.number(text)
    area_cm2 = units.area_cm2(text) if bare is None else bare
    if text and area_cm2 is None:
        raise EditError(f"{quoted(text)} is no area: write square centimetres such as 12, or 2 in2")
    return figures.change_area(at.plan, at.pass_name, at.single.name, area_cm2)


def _difficulty(at: EditTarget, text: str) -> Edited:
    difficulty = units.number(text or "1")
    if difficulty is None:
        raise EditError(f"{quoted(text)} is no difficulty: write a number such as 1.5; 1 is the usual one")
    return figures.change_difficulty(at.plan, at.pass_name, at.single.name, difficulty)


def _mixture(at: EditTarget, text: str) -> Edited:
    return figures.change_mixture(at.plan, at.pass_name, at.single.name, text or None)


def _lead(at: EditTarget, text: str) -> Edited:
    return figures.change_lead(at.plan, at.pass_name, at.passage.name, text or None)


def _to_pass(at: EditTarget, text: str) -> Edited:
    return moving.move_to_pass(at.plan, at.pass_name, at.single.name, cleaned(text), done=at.done)


def _stated(figure: float | None, written: Callable[[float], str]) -> str:
    return "" if figure is None else written(figure)


def _planned(at: EditTarget) -> str:
    seconds = at.single.planned_s
    return "" if seconds is None else minutes_text(seconds)


def _led_by(at: EditTarget) -> str:
    at.passage  # noqa: B018  a pass has no lead of its own
    return (at.row.run.lead if at.row.run else None) or ""


FIELDS: Final[Mapping[str, AskedEdit]] = {
    "add": AskedEdit("name of the new passage", lambda _: "", _add, lambda at, text: (at.pass_name, cleaned(text))),
    "add_pass": AskedEdit(
        "new pass: its first passage",
        lambda _: "",
        _add_pass,
        lambda _, text: (cleaned(_names(text)[0]), None),
    ),
    "rename": AskedEdit("name", lambda at: at.pass_name if at.row.run is None else at.single.name, _rename, _renamed),
    "minutes": AskedEdit("minutes on one canvas", _planned, _minutes),
    "value": AskedEdit("value, 0 black to 10 white", lambda at: _stated(at.single.value, number_text), _value),
    "area": AskedEdit("area in cm2", lambda at: _stated(at.single.area_cm2, area_text), _area),
    "mixture": AskedEdit("mixture", lambda at: at.single.mixture or "", _mixture),
    "difficulty": AskedEdit("difficulty, 1 is usual", lambda at: number_text(at.single.difficulty), _difficulty),
    "lead": AskedEdit("canvas that leads the run; none lets any", _led_by, _lead),
    "to_pass": AskedEdit(
        "pass to move it to",
        lambda at: at.single.name[:0],
        _to_pass,
        lambda at, text: (cleaned(text), at.single.name),
    ),
}
"""Edits that ask for a text, by name; an empty text takes a figure away."""
