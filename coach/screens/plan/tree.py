"""The plan as a tree of rows: a pass, its runs, their passages; after an edit only the passes that changed are new."""

from bisect import bisect_right
from typing import NamedTuple

from coach.plan.commission import DEFAULT_PLANNED_S, Pass, Passage, Plan, Run


class Row(NamedTuple):
    """One row: a passage, a run of several passages, or a pass.

    Attributes:
        one_pass: The pass, or the one it belongs to.
        planned_s: Time planned on one canvas, in seconds.
        run: The run, or the one it belongs to; None on the row of a pass.
        passage: The passage; None on the row of a pass or a run.
    """

    one_pass: Pass
    planned_s: int
    run: Run | None = None
    passage: Passage | None = None


class Tree(NamedTuple):
    """The rows of a plan.

    Attributes:
        plan: The plan.
        branches: The rows of each pass, that of the pass itself first.
        starts: At which row each pass begins, from 0.
        row_count: How many rows there are.
    """

    plan: Plan
    branches: tuple[tuple[Row, ...], ...]
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


def row_at(tree: Tree, number: int) -> Row:
    """Return the row of a number from 0 to below `tree.row_count`."""
    pass_no = pass_no_at(tree, number)
    return tree.branches[pass_no][number - tree.starts[pass_no]]


def pass_no_at(tree: Tree, number: int) -> int:
    """Return the number of the pass to which the row of a number belongs, from 0."""
    return bisect_right(tree.starts, number) - 1


def rows_from(tree: Tree, first: int, count: int) -> list[Row]:
    """Return at most so many rows, from the row of a number on."""
    rows: list[Row] = []
    pass_no = pass_no_at(tree, first)
    skipped = first - tree.starts[pass_no]
    for branch in tree.branches[pass_no:]:
        rows += branch[skipped : skipped + count - len(rows)]
        skipped = 0
        if len(rows) >= count:
            break
    return rows


def number_of(tree: Tree, pass_name: str, passage_name: str | None, *, is_run: bool = False) -> int | None:
    """Return the number of the row of a pass, of a passage in it, or (`is_run`) of the run of that passage.

    A run of one passage has no row but that passage's. None where the tree has no such row.
    """
    for branch, start in zip(tree.branches, tree.starts, strict=True):
        if branch[0].one_pass.name == pass_name:
            if passage_name is None:
                return start
            found = (no for no, row in enumerate(branch) if _is_of(row, passage_name, is_run=is_run))
            number = next(found, None)
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


def _is_of(row: Row, passage_name: str, *, is_run: bool) -> bool:
    if is_run and row.run is not None and len(row.run.passages) > 1:
        return row.passage is None and passage_name in row.run.passage_names
    return row.passage is not None and row.passage.name == passage_name


def _branch(one_pass: Pass) -> tuple[Row, ...]:
    rows: list[Row] = []
    total_s = 0
    for run in one_pass.runs:
        run_s = 0
        first = len(rows)
        for passage in run.passages:
            time_s = DEFAULT_PLANNED_S if passage.planned_s is None else passage.planned_s
            run_s += time_s
            rows.append(Row(one_pass, time_s, run, passage))
        if len(run.passages) > 1:
            rows.insert(first, Row(one_pass, run_s, run))
        total_s += run_s
    return (Row(one_pass, total_s), *rows)
