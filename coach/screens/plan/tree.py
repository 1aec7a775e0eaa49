"""The plan as a tree of rows (a pass, its passages), and how far each row is on each canvas."""

import enum
from bisect import bisect_right
from collections.abc import Iterable
from typing import NamedTuple

from coach.plan.commission import RETURN_TO, Pass, Passage, Plan, Run
from coach.screens.plan.repository import PlanProgress, corrected_pass
from coach.session.records import SKIPPED


class TreeRow(NamedTuple):
    """One row: a passage, or a pass.

    Attributes:
        one_pass: The pass, or the one it belongs to.
        planned_s: Time planned on one canvas, in seconds.
        run: The run it belongs to; None on the row of a pass.
        passage: The passage; None on the row of a pass.
    """

    one_pass: Pass
    planned_s: int
    run: Run | None = None
    passage: Passage | None = None

    @property
    def bracket(self) -> str:
        """One character that holds the passages of a run together; a space where it has no other."""
        if self.run is None or self.passage is None or len(self.run.passages) == 1:
            return " "
        if self.passage is self.run.passages[0]:
            return "┌"
        return "└" if self.passage is self.run.passages[-1] else "│"


class Tree(NamedTuple):
    """The rows of a plan.

    Attributes:
        plan: The plan.
        branches: The rows of each pass, that of the pass itself first.
        starts: At which row each pass begins, from 0.
        row_count: How many rows there are.
    """

    plan: Plan
    branches: tuple[tuple[TreeRow, ...], ...]
    starts: tuple[int, ...]
    row_count: int


def tree_of(plan: Plan, before: Tree | None = None) -> Tree:
    """Return the rows of a plan; those of a pass that stands in `before` too are taken from there."""
    known = {id(branch[0].one_pass): branch for branch in before.branches} if before else {}
    branches = tuple(known.get(id(one_pass)) or _branch(one_pass) for one_pass in plan.passes)
    starts, count = [], 0
    for branch in branches:
        starts.append(count)
        count += len(branch)
    return Tree(plan, branches, tuple(starts), count)


def row_at(tree: Tree, number: int) -> TreeRow:
    """Return the row of a number from 0 to below `tree.row_count`."""
    pass_no = pass_no_at(tree, number)
    return tree.branches[pass_no][number - tree.starts[pass_no]]


def pass_no_at(tree: Tree, number: int) -> int:
    """Return the number of the pass to which the row of a number belongs, from 0."""
    return bisect_right(tree.starts, number) - 1


def rows_from(tree: Tree, first: int, count: int) -> list[TreeRow]:
    """Return at most so many rows, from the row of a number on."""
    rows: list[TreeRow] = []
    pass_no = pass_no_at(tree, first)
    skipped = first - tree.starts[pass_no]
    for branch in tree.branches[pass_no:]:
        rows += branch[skipped : skipped + count - len(rows)]
        skipped = 0
        if len(rows) >= count:
            break
    return rows


def number_of(tree: Tree, pass_name: str, passage_name: str | None) -> int | None:
    """Return the number of the row of a pass, or of a passage in it; None where the tree has no such row."""
    for branch, start in zip(tree.branches, tree.starts, strict=True):
        if branch[0].one_pass.name == pass_name:
            names = (row.passage.name if row.passage else None for row in branch)
            number = next((no for no, name in enumerate(names) if name == passage_name), None)
            return None if number is None else start + number
    return None


def first_difference(before: Plan, after: Plan) -> tuple[str, str | None] | None:
    """Return pass and passage (None for the whole pass) in which `after` first differs from `before`; None if nowhere.

    Passes that both plans share are not looked into.
    """
    for old, new in zip(before.passes, after.passes, strict=False):
        if old is not new and old != new:
            if old.name != new.name:
                return new.name, None
            pairs = zip(old.passages, new.passages, strict=False)
            return new.name, next((two.name for one, two in pairs if one != two), new.passages[-1].name)
    return (after.passes[-1].name, None) if len(before.passes) != len(after.passes) else None


def _branch(one_pass: Pass) -> tuple[TreeRow, ...]:
    rows = [TreeRow(one_pass, passage.time_s, run, passage) for run in one_pass.runs for passage in run.passages]
    return (TreeRow(one_pass, sum(row.planned_s for row in rows)), *rows)


class PassageState(enum.Enum):
    """How far a passage is on a canvas; the value is its sign and its word."""

    TO_COME = ("·", "to come")
    IN_HAND = ("»", "now")
    DONE = ("√", "done")
    SKIPPED = ("-", "skipped")
    MARKED = ("↺", "look again")
    PARTLY = ("+", "partly")

    @property
    def sign(self) -> str:
        """One character, one cell wide."""
        return self.value[0]

    @property
    def word(self) -> str:
        """The word for it."""
        return self.value[1]


LEGEND = "  ".join(f"{state.sign} {state.word}" for state in PassageState)
"""What the signs mean."""


class PassageStates:
    """Answers how far the rows of a plan are; what it has said of a pass it need not reckon again."""

    def __init__(self, plan: Plan, progress: PlanProgress) -> None:
        """Answer for the canvases of a plan."""
        self._progress = progress
        self._canvases = tuple(canvas.name for canvas in plan.canvases)
        self._of_pass: dict[int, tuple[TreeRow, tuple[PassageState, ...]]] = {}

    def of(self, row: TreeRow) -> tuple[PassageState, ...]:
        """Return how far a row is on each canvas."""
        if row.passage is not None:
            return tuple(self._state(row.one_pass.name, row.passage.name, canvas) for canvas in self._canvases)
        if id(row) not in self._of_pass:  # the row is kept with the answer, so that its id stays its own
            names = [passage.name for passage in row.one_pass.passages]
            self._of_pass[id(row)] = (row, self._together(row.one_pass.name, names))
        return self._of_pass[id(row)][1]

    def _together(self, pass_name: str, names: Iterable[str]) -> tuple[PassageState, ...]:
        known = tuple(names)
        return tuple(_together({self._state(pass_name, name, canvas) for name in known}) for canvas in self._canvases)

    def _state(self, pass_name: str, name: str, canvas: str) -> PassageState:
        places, marks, turn = self._progress.places, self._progress.marks, self._progress.in_hand
        is_there = turn is not None and turn.canvas == canvas and corrected_pass(turn.pass_name) == pass_name
        if is_there and turn is not None and name in turn.passages:
            return PassageState.IN_HAND
        shape = (pass_name, name, canvas)
        while shape in places:
            if shape not in marks:
                return PassageState.SKIPPED if places[shape] == SKIPPED else PassageState.DONE
            shape = (RETURN_TO + shape[0], name, canvas)
        return PassageState.MARKED if shape[0] != pass_name else PassageState.TO_COME


def _together(states: set[PassageState]) -> PassageState:
    if len(states) == 1:
        return next(iter(states))
    if states == {PassageState.DONE, PassageState.SKIPPED}:
        return PassageState.DONE
    return next(
        (state for state in (PassageState.IN_HAND, PassageState.MARKED) if state in states), PassageState.PARTLY
    )
