"""Passes added, renamed, moved and deleted."""

from coach.plan.commission import Passage, Plan
from coach.plan.editing.edited import Done, Edited, EditError, pass_named, refuse_done
from coach.plan.editing.new_names import new_pass_name
from coach.plan.editing.passage_edits import new_passage, relaid
from coach.plan.editing.references import followed, without_layers
from coach.plan.editing.soundness import pass_of, with_passages, with_passes
from coach.plan.problems import quoted


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
    return Edited(plan=with_passes(plan, passes), remark=f"The pass {quoted(name)} is called {quoted(new)} now.")


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
