"""What a key that asks for nothing edits at a row of the tree."""

from collections.abc import Callable, Mapping
from typing import Final

from coach.plan.commission import Passage, Run
from coach.plan.editing import moving, neighbours, pass_edits, passage_edits, sorting
from coach.plan.editing.edited import Edited, EditError
from coach.plan.problems import quoted
from coach.screens.plan.spot import Spot

_SORTED: Final = "Runs stay whole, go by their darkest passage, and come after what they lie over."
"""How a pass is sorted, in a sentence; the rules are those of `sort_dark_to_light`."""


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
    found = sorting.sort_dark_to_light(spot.plan, spot.pass_name)
    return found if found.plan is spot.plan else Edited(plan=found.plan, remark=f"{found.remark} {_SORTED}")


def _delete(spot: Spot) -> Edited:
    if spot.row.run is None:
        return pass_edits.delete_pass(spot.plan, spot.pass_name, done=spot.done)
    return passage_edits.delete_passage(spot.plan, spot.pass_name, spot.single.name, done=spot.done)


EDITS: Final[Mapping[str, Callable[[Spot], Edited]]] = {
    "move_up": lambda spot: _move(spot, -1),
    "move_down": lambda spot: _move(spot, 1),
    "split": _split,
    "join": _join,
    "sort": _sort,
    "delete": _delete,
}
"""Edits that ask for nothing, by name."""
