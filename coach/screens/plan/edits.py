"""What the keys of the Plan edit at the row in hand: those that ask for nothing, and those that ask for a text."""

from collections.abc import Callable, Mapping
from typing import Final, NamedTuple

from coach.plan.commission import Passage, Plan, Run
from coach.plan.editing import figures, passages, passes
from coach.plan.editing.edited import Done, Edited, EditError
from coach.plan.problems import quoted
from coach.plan.value_types import cleaned
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
        return passes.move_pass(at.plan, at.pass_name, by)
    if row.passage is None or len(row.run.passages) == 1:
        return passages.move_run(at.plan, at.pass_name, row.run.number, by)
    names = row.run.passage_names
    place = names.index(row.passage.name) + by
    if not 0 <= place < len(names):
        raise EditError(f"{quoted(row.passage.name)} stays in its run: move the whole run, or split it from it first")
    order = [passage.name for passage in row.one_pass.passages]
    steps = order.index(names[place]) - order.index(row.passage.name)
    return passages.move_passage(at.plan, at.pass_name, row.passage.name, steps)


def _split(at: EditTarget) -> Edited:
    return passages.split(at.plan, at.pass_name, at.single.name, done=at.done)


def _join(at: EditTarget) -> Edited:
    passage = at.passage
    return passages.join(at.plan, at.pass_name, passage.name, _above(at, passage).name)


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
    found = passes.sort_dark_to_light(at.plan, at.pass_name)
    return found if found.plan is at.plan else Edited(plan=found.plan, remark=f"{found.remark} {_SORTED}")


def _delete(at: EditTarget) -> Edited:
    if at.row.run is None:
        return passes.delete_pass(at.plan, at.pass_name, done=at.done)
    return passages.delete_passage(at.plan, at.pass_name, at.single.name, done=at.done)


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
    return passages.add_passage(at.plan, at.pass_name, Passage(text), after=after)


def _names(text: str) -> tuple[str, str]:
    pass_name, _, first = text.partition(":")
    if not first.strip():
        raise EditError("a pass has at least one passage: write both, such as ears: outer shadow")
    return pass_name, first


def _add_pass(at: EditTarget, text: str) -> Edited:
    pass_name, first = _names(text)
    return passes.add_pass(at.plan, pass_name, Passage(first), after=at.pass_name)


def _rename(at: EditTarget, text: str) -> Edited:
    if at.row.run is None:
        return passes.rename_pass(at.plan, at.pass_name, text, done=at.done)
    return passages.rename_passage(at.plan, at.pass_name, at.single.name, text, done=at.done)


def _renamed(at: EditTarget, text: str) -> RowAddress:
    return (cleaned(text), None) if at.row.run is None else (at.pass_name, cleaned(text))


def _figure(key: str, prompt: str) -> AskedEdit:
    return AskedEdit(
        prompt,
        lambda at: figures.stated(at.single, key),
        lambda at, text: figures.change(at.plan, at.pass_name, at.single.name, key, text),
    )


def _lead(at: EditTarget, text: str) -> Edited:
    return figures.change(at.plan, at.pass_name, at.passage.name, "lead", text)


def _to_pass(at: EditTarget, text: str) -> Edited:
    return passages.move_to_pass(at.plan, at.pass_name, at.single.name, cleaned(text), done=at.done)


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
    "minutes": _figure("minutes", "minutes on one canvas"),
    "value": _figure("value", "value, 0 black to 10 white"),
    "area": _figure("area", "area in cm2"),
    "mixture": _figure("mixture", "mixture"),
    "difficulty": _figure("difficulty", "difficulty, 1 is usual"),
    "lead": AskedEdit("canvas that leads the run; none lets any", _led_by, _lead),
    "to_pass": AskedEdit(
        "pass to move it to",
        lambda at: at.single.name[:0],
        _to_pass,
        lambda at, text: (cleaned(text), at.single.name),
    ),
}
"""Edits that ask for a text, by name; an empty text takes a figure away."""
