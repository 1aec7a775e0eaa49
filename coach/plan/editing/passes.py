"""Passes added, renamed, moved and deleted, and sorted from dark to light: a small seriation.

Source:
    Dark to light: common practice, no source. The order under constraints is Kahn's topological sort with a heap in
    place of his queue (A. B. Kahn, Communications of the ACM 5, 1962; from memory).
"""

import heapq
from collections.abc import Mapping, Sequence

from coach.plan.commission import Pass, Passage, Plan, Run
from coach.plan.editing.edited import Done, Edited, EditError, new_pass_name, pass_named, refuse_done
from coach.plan.editing.passages import new_passage, relaid
from coach.plan.editing.soundness import followed, pass_of, with_passages, with_passes, without_layers
from coach.plan.problems import quoted

_FIRST = -1.0
"""Darker than black: what has no value and nothing before it keeps the first place."""


def add_pass(plan: Plan, name: str, first: Passage, *, after: str | None = None) -> Edited:
    """Return the plan with one more pass.

    Args:
        plan: The plan.
        name: Its name as it was typed.
        first: Its first passage; a pass is never empty.
        after: Name of the pass it follows; None adds it at the end.

    Raises:
        EditError: The name, the passage or the place cannot be.
    """
    name = new_pass_name(name, (one.name for one in plan.passes))
    place = len(plan.passes) if after is None else plan.passes.index(pass_named(plan, after)) + 1
    added = pass_of(name, (new_passage(plan, first, ()),))
    passes = (*plan.passes[:place], added, *plan.passes[place:])
    where = f", after {quoted(passes[place - 1].name)}" if place else ""
    return Edited(plan=with_passes(plan, passes), remark=f"The pass {quoted(name)} is added{where}.")


def rename_pass(plan: Plan, name: str, new: str, *, done: Done = frozenset()) -> Edited:
    """Return the plan with another name for a pass; what lies over or is painted into its passages follows.

    Raises:
        EditError: A passage of it is done, or the name cannot be.
    """
    old = pass_named(plan, name)
    new = new_pass_name(new, (one.name for one in plan.passes if one is not old))
    if new == name:
        return Edited(plan=plan, remark=f"{quoted(name)} keeps its name.")
    refuse_done("given to a pass of another name", name, old.passages, done)
    new_of = {(name, passage.name): (new, passage.name) for passage in old.passages}
    changes = followed(plan, {name: old.passages}, new_of)
    passes = tuple(
        pass_of(new if one is old else one.name, changes[one.name]) if one.name in changes else one
        for one in plan.passes
    )
    stops = tuple(stop._replace(after=new) if stop.after == name else stop for stop in plan.approval)
    renamed = with_passes(plan._replace(approval=stops), passes)
    return Edited(plan=renamed, remark=f"The pass {quoted(name)} is called {quoted(new)} now.")


def move_pass(plan: Plan, name: str, by: int) -> Edited:
    """Return the plan with a pass so many places further down, or up where `by` is below 0; it stops at the ends.

    Raises:
        EditError: A passage would stand before what it lies over or is painted into.
    """
    moved = pass_named(plan, name)
    rest = [one for one in plan.passes if one is not moved]
    place = plan.passes.index(moved)
    target = min(max(place + by, 0), len(rest))
    if target == place:
        return Edited(plan=plan, remark=f"The pass {quoted(name)} stays where it is.")
    rest.insert(target, moved)
    where = f"after {quoted(rest[target - 1].name)}" if target else "at the beginning"
    return Edited(plan=with_passes(plan, tuple(rest)), remark=f"The pass {quoted(name)} stands {where} now.")


def delete_pass(plan: Plan, name: str, *, done: Done = frozenset()) -> Edited:
    """Return the plan without a pass and its passages; layers over them are re-pointed or cut, as the remark says.

    Raises:
        EditError: A passage of it is done, or it is the only pass.
    """
    gone = pass_named(plan, name)
    refuse_done("deleted", name, gone.passages, done)
    if len(plan.passes) == 1:
        raise EditError(f"{quoted(name)} is the only pass of the plan, and a plan has at least one")
    shapes = {(name, passage.name): passage for passage in gone.passages}
    rest = plan._replace(passes=tuple(one for one in plan.passes if one is not gone))
    relaid_passages = {one.name: without_layers(one.passages, shapes) for one in rest.passes}
    changes = {one.name: new for one in rest.passes if (new := relaid_passages[one.name]) != one.passages}
    count = len(gone.passages)
    what = f"The pass {quoted(name)} is deleted with its {count} {'passage' if count == 1 else 'passages'}."
    return Edited(plan=with_passages(rest, changes), remark=" ".join((what, *relaid(plan, changes))))


def sort_dark_to_light(plan: Plan, pass_name: str) -> Edited:
    """Return the plan with the passages of a pass sorted from dark to light.

    1. Runs stay whole: the passages of a run stand one after the other.
    2. Runs are ordered by the value of their darkest passage. The darkest counts, and not the mean, because it is
       what the run opens with and what would soil lights laid before it; a mean would send a run of one dark line
       and a large light behind half-tones.
    3. In a run the darkest passage comes first of those whose neighbour under `beside` stands already.
    4. Nothing comes before what it lies over or is painted into, however dark it is.
    5. What is equal keeps its order. A passage without a value stays right behind the passage it stood behind in its
       run, and a run without any value right behind the run it stood behind; with nothing before it, it stays first.

    Raises:
        EditError: There is no such pass, or runs of it lie over each other both ways.
    """
    one_pass = pass_named(plan, pass_name)
    runs = [one_pass.runs[number] for number in _run_order(one_pass)]
    passages = tuple(passage for run in runs for passage in _sorted_run(run))
    moved = sum(new is not old for new, old in zip(passages, one_pass.passages, strict=True))
    if not moved:
        return Edited(plan=plan, remark=f"{quoted(pass_name)} goes from dark to light already.")
    edited = with_passages(plan, {pass_name: passages})
    count = f"{moved} passages have" if moved > 1 else "1 passage has"
    return Edited(plan=edited, remark=f"{quoted(pass_name)} goes from dark to light now; {count} another place.")


def _run_order(one_pass: Pass) -> list[int]:
    run_of = {name: number for number, run in enumerate(one_pass.runs) for name in run.passage_names}
    darkest = [min((p.value for p in run.passages if p.value is not None), default=None) for run in one_pass.runs]
    order = _ordered(darkest, [_runs_below(run, run_of) for run in one_pass.runs])
    if len(order) < len(one_pass.runs):
        raise EditError(f"runs of {quoted(one_pass.name)} lie over each other both ways: split one of them first")
    return order


def _runs_below(run: Run, run_of: Mapping[str, int]) -> set[int]:
    layers = (passage.over or passage.into for passage in run.passages)
    return {run_of[layer[1]] for layer in layers if layer and layer[0] == run.pass_name}


def _sorted_run(run: Run) -> list[Passage]:
    number_of = {name: number for number, name in enumerate(run.passage_names)}
    needs: list[set[int]] = []
    for passage in run.passages:
        wet = passage.into[1] if passage.into and passage.into[0] == run.pass_name else None
        needs.append({number_of[name] for name in (passage.beside, wet) if name in number_of})
    return [run.passages[number] for number in _ordered([passage.value for passage in run.passages], needs)]


def _ordered(values: Sequence[float | None], needs: Sequence[set[int]]) -> list[int]:
    """Return the numbers of entries from dark to light, each behind those it needs; circles are left out.

    An entry without a value and those before it up to one with a value are one block, which stays whole.
    """
    blocks = _blocks(values)
    block_of = {number: block_no for block_no, block in enumerate(blocks) for number in block}
    before = [
        {block_of[other] for number in block for other in needs[number]} - {no} for no, block in enumerate(blocks)
    ]
    behind: list[list[int]] = [[] for _ in blocks]
    for block_no, needed in enumerate(before):
        for other in needed:
            behind[other].append(block_no)
    darkness = [_FIRST if (value := values[block[0]]) is None else value for block in blocks]
    missing = [len(needed) for needed in before]
    free = [(darkness[no], no) for no in range(len(blocks)) if not missing[no]]
    heapq.heapify(free)
    order: list[int] = []
    while free:
        _, block_no = heapq.heappop(free)
        order += blocks[block_no]
        for other in behind[block_no]:
            missing[other] -= 1
            if not missing[other]:
                heapq.heappush(free, (darkness[other], other))
    return order


def _blocks(values: Sequence[float | None]) -> list[list[int]]:
    blocks: list[list[int]] = []
    for number, value in enumerate(values):
        if value is None and blocks:
            blocks[-1].append(number)
        else:
            blocks.append([number])
    return blocks
