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
        """The passage of the row.

        Raises:
            EditError: It is the row of a pass.
        """
        if self.row.passage is None:
            raise EditError("this is a whole pass: choose a passage of it first")
        return self.row.passage

    @property
    def run(self) -> Run:
        """The run of that passage.

        Raises:
            EditError: It is the row of a pass.
        """
        if self.row.run is None:
            raise EditError("this is a whole pass: choose a passage of it first")
        return self.row.run


RowAddress = tuple[str, str | None]
"""Pass and passage (None for the whole pass) of the row that is in hand after an edit."""


_SORTED: Final = "Runs stay whole, go by their darkest passage, and come after what they lie over."
"""How a pass is sorted, in a sentence; the rules are those of `sort_dark_to_light`."""


def _move(at: EditTarget, by: int) -> Edited:
    """Move a pass, a passage inside its run, or, from the end of the run, the whole run."""
    if at.row.run is None:
        return passes.move_pass(at.plan, at.pass_name, by)
    names = at.run.passage_names
    place = names.index(at.passage.name) + by
    if not 0 <= place < len(names):
        return passages.move_run(at.plan, at.pass_name, at.run.number, by)
    order = [passage.name for passage in at.row.one_pass.passages]
    steps = order.index(names[place]) - order.index(at.passage.name)
    return passages.move_passage(at.plan, at.pass_name, at.passage.name, steps)


def _split(at: EditTarget) -> Edited:
    return passages.split(at.plan, at.pass_name, at.passage.name, done=at.done)


def _join(at: EditTarget) -> Edited:
    return passages.join(at.plan, at.pass_name, at.passage.name, _above(at).name)


def _above(at: EditTarget) -> Passage:
    """Return the passage above in the same run, or the last one of the run above that stands before it in the plan."""
    run, passage = at.run, at.passage
    if run.passages[0] is not passage:
        return run.passages[run.passages.index(passage) - 1]
    if run.number == 1:
        raise EditError(f"{quoted(passage.name)} opens its pass: there is no passage above to meet it")
    place_of = {one.name: number for number, one in enumerate(at.row.one_pass.passages)}
    above = at.row.one_pass.runs[run.number - 2].passages
    return [one for one in above if place_of[one.name] < place_of[passage.name]][-1]


def _sort(at: EditTarget) -> Edited:
    found = passes.sort_dark_to_light(at.plan, at.pass_name)
    return found if found.plan is at.plan else Edited(plan=found.plan, remark=f"{found.remark} {_SORTED}")


def _delete(at: EditTarget) -> Edited:
    if at.row.run is None:
        return passes.delete_pass(at.plan, at.pass_name, done=at.done)
    return passages.delete_passage(at.plan, at.pass_name, at.passage.name, done=at.done)


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
    after = at.row.passage.name if at.row.passage else None
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
    return passages.rename_passage(at.plan, at.pass_name, at.passage.name, text, done=at.done)


def _renamed(at: EditTarget, text: str) -> RowAddress:
    return (cleaned(text), None) if at.row.run is None else (at.pass_name, cleaned(text))


def _figure(key: str, prompt: str) -> AskedEdit:
    return AskedEdit(
        prompt,
        lambda at: figures.stated(at.passage, key),
        lambda at, text: figures.change(at.plan, at.pass_name, at.passage.name, key, text),
    )


def _beside(at: EditTarget, text: str) -> Edited:
    if cleaned(text):
        return passages.join(at.plan, at.pass_name, at.passage.name, cleaned(text))
    if at.passage.beside:
        return _split(at)
    return Edited(plan=at.plan, remark=f"{quoted(at.passage.name)} meets none above it wet.")


def _to_pass(at: EditTarget, text: str) -> Edited:
    return passages.move_to_pass(at.plan, at.pass_name, at.passage.name, cleaned(text), done=at.done)


FIELDS: Final[Mapping[str, AskedEdit]] = {
    "add": AskedEdit("name of the new passage", lambda _: "", _add, lambda at, text: (at.pass_name, cleaned(text))),
    "add_pass": AskedEdit(
        "new pass below (ears: outer shadow)",
        lambda _: "",
        _add_pass,
        lambda _, text: (cleaned(_names(text)[0]), None),
    ),
    "rename": AskedEdit("name", lambda at: at.pass_name if at.row.run is None else at.passage.name, _rename, _renamed),
    "minutes": _figure("minutes", "minutes on a canvas"),
    "value": _figure("value", "value, 10 is white"),
    "area": _figure("area", "area, cm²"),
    "mixture": _figure("mixture", "mixture"),
    "brush": _figure("brush", "brush, mm wide"),
    "beside": AskedEdit("meets wet, above it", lambda at: at.passage.beside or "", _beside),
    "over": _figure("over", "lies over, once dry"),
    "into": _figure("into", "painted into, still wet"),
    "lead": AskedEdit(
        "canvas that leads",
        lambda at: at.run.lead or "",
        lambda at, text: figures.change(at.plan, at.pass_name, at.passage.name, "lead", text),
    ),
    "difficulty": _figure("difficulty", "how hard, 1 is usual"),
    "shapes": _figure("shapes", "shapes of the photo"),
    "check": _figure("check", "look without paint"),
    "to_pass": AskedEdit(
        "pass it belongs to", lambda at: at.pass_name, _to_pass, lambda at, text: (cleaned(text), at.passage.name)
    ),
}
"""Edits that ask for a text, by name; an empty text takes a figure away."""

_NOT_IN_FORM: Final = ("add", "add_pass")


def fields_of(row: TreeRow) -> tuple[str, ...]:
    """Return the names of the `FIELDS` in the form of a row, in order."""
    if row.passage is None:
        return ("rename", "add_pass")
    if row.passage.check:
        return ("rename", "check", "minutes", "to_pass")
    return tuple(name for name in FIELDS if name not in _NOT_IN_FORM)
