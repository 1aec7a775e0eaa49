"""Passages and runs moved in their pass, and passages moved to another pass."""

from coach.plan.commission import Pass, Passage, Plan
from coach.plan.editing.edited import (
    Done,
    Edited,
    EditError,
    pass_named,
    passage_named,
    place_of,
    refuse_done,
)
from coach.plan.editing.passage_edits import rejoined
from coach.plan.editing.references import detached, followed
from coach.plan.editing.soundness import with_passages
from coach.plan.problems import quoted


def move_passage(plan: Plan, pass_name: str, name: str, by: int) -> Edited:
    """Return the plan with a passage so many places further down its pass, or up where `by` is below 0.

    It stops at the ends of the pass and stays in its run.

    Raises:
        EditError: A passage would stand before the one it is beside, lies over or is painted into.
    """
    one_pass = pass_named(plan, pass_name)
    place = place_of(one_pass, name)
    rest = [passage for passage in one_pass.passages if passage.name != name]
    target = min(max(place + by, 0), len(rest))
    if target == place:
        return Edited(plan=plan, remark=f"{quoted(name)} stays where it is.")
    rest.insert(target, one_pass.passages[place])
    where = f"after {quoted(rest[target - 1].name)}" if target else f"at the beginning of {quoted(pass_name)}"
    return Edited(plan=with_passages(plan, {pass_name: tuple(rest)}), remark=f"{quoted(name)} stands {where} now.")


def move_run(plan: Plan, pass_name: str, number: int, by: int) -> Edited:
    """Return the plan with a run so many runs further down its pass, or up where `by` is below 0.

    It stops at the ends of the pass. The passages of every run stand one after the other then.

    Args:
        plan: The plan.
        pass_name: The pass.
        number: Number of the run in its pass, from 1.
        by: How many runs it passes on its way.

    Raises:
        EditError: There is no such run, or a passage would stand before what it lies over or is painted into.
    """
    one_pass = pass_named(plan, pass_name)
    runs = list(one_pass.runs)
    if not 1 <= number <= len(runs):
        raise EditError(f"{quoted(pass_name)} has no run {number}; its runs go from 1 to {len(runs)}")
    moved = runs.pop(number - 1)
    target = min(max(number - 1 + by, 0), len(runs))
    together = quoted(" + ".join(moved.passage_names))
    if target == number - 1:
        return Edited(plan=plan, remark=f"{together} stays where it is.")
    runs.insert(target, moved)
    passages = tuple(passage for run in runs for passage in run.passages)
    edited = with_passages(plan, {pass_name: passages})
    return Edited(plan=edited, remark=f"{together} is run {target + 1} of {quoted(pass_name)} now.")


def move_to_pass(
    plan: Plan, pass_name: str, name: str, to_pass: str, *, after: str | None = None, done: Done = frozenset()
) -> Edited:
    """Return the plan with a passage in another pass, where it is a run of its own; the rest of its run stays a run.

    Args:
        plan: The plan.
        pass_name: The pass it leaves.
        name: The passage.
        to_pass: The pass it goes to.
        after: Name of the passage it follows there; None puts it at the end.
        done: What is done; the journal knows a passage by its pass, so that what is done stays in it.

    Raises:
        EditError: The passage is done, the only one of its pass, has a namesake there, or would come before what it
            lies over or is painted into.
    """
    source, target = pass_named(plan, pass_name), pass_named(plan, to_pass)
    moved = passage_named(source, name)
    if source is target:
        raise EditError(f"{quoted(name)} belongs to {quoted(to_pass)} already")
    refuse_done("moved to another pass", pass_name, (moved,), done)
    if len(source.passages) == 1:
        raise EditError(f"{quoted(name)} is the only passage of {quoted(pass_name)}, and a pass is never empty")
    _refuse_namesake(target, moved)
    rest = detached(source, name)
    place = len(target.passages) if after is None else place_of(target, after) + 1
    arrived = moved._replace(beside=None)
    changes = followed(
        plan,
        {
            pass_name: tuple(passage for passage in rest if passage.name != name),
            to_pass: (*target.passages[:place], arrived, *target.passages[place:]),
        },
        {(pass_name, name): (to_pass, name)},
    )
    told = [f"{quoted(name)} belongs to {quoted(to_pass)} now."]
    if moved.beside:
        told.append(f"It is beside {quoted(moved.beside)} no more.")
    told += rejoined(source.passages, changes[pass_name], name)
    return Edited(plan=with_passages(plan, changes), remark=" ".join(told))


def _refuse_namesake(target: Pass, moved: Passage) -> None:
    folded = moved.name.casefold()
    twin = next((passage.name for passage in target.passages if passage.name.casefold() == folded), None)
    if twin is not None:
        raise EditError(f"{quoted(target.name)} has a passage {quoted(twin)} already: rename one of them first")
