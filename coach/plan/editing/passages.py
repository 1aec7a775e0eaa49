"""Passages and runs added, renamed, moved, joined, split and deleted."""

from coach.plan.commission import Pass, Passage, Plan
from coach.plan.editing.edited import (
    Done,
    Edited,
    EditError,
    new_name,
    pass_named,
    passage_named,
    place_of,
    refuse_done,
)
from coach.plan.editing.figures import canvas_named, checked_figures, mixture_named
from coach.plan.editing.soundness import detached, followed, with_passages, without_layers
from coach.plan.problems import quoted


def add_passage(plan: Plan, pass_name: str, passage: Passage, *, after: str | None = None) -> Edited:
    """Return the plan with one more passage.

    Args:
        plan: The plan.
        pass_name: The pass it is added to.
        passage: The passage as it was typed; its name is cleaned, its figures are checked.
        after: Name of the passage it follows; None adds it at the end of the pass.

    Raises:
        EditError: The passage or its place cannot be.
    """
    one_pass = pass_named(plan, pass_name)
    place = len(one_pass.passages) if after is None else place_of(one_pass, after) + 1
    added = new_passage(plan, passage, tuple(other.name for other in one_pass.passages))
    passages = (*one_pass.passages[:place], added, *one_pass.passages[place:])
    where = quoted(one_pass.passages[place - 1].name)
    edited = with_passages(plan, {pass_name: passages})
    return Edited(plan=edited, remark=f"{quoted(added.name)} is added to {quoted(pass_name)}, after {where}.")


def new_passage(plan: Plan, passage: Passage, taken: tuple[str, ...]) -> Passage:
    """Return a typed passage as the plan can hold it.

    Raises:
        EditError: Its name, a figure, its mixture or its lead cannot be.
    """
    if passage.over and passage.into:
        raise EditError("a passage lies over a dry one or is painted into a wet one, not both")
    return checked_figures(passage)._replace(
        name=new_name(passage.name, taken),
        mixture=None if passage.mixture is None else mixture_named(plan, passage.mixture),
        lead=None if passage.lead is None else canvas_named(plan, passage.lead),
    )


def rename_passage(plan: Plan, pass_name: str, name: str, new: str, *, done: Done = frozenset()) -> Edited:
    """Return the plan with another name for a passage; what names it in `beside`, `over` and `into` follows.

    Raises:
        EditError: The passage is done, or the name cannot be.
    """
    one_pass = pass_named(plan, pass_name)
    old = passage_named(one_pass, name)
    others = (passage.name for passage in one_pass.passages if passage is not old)
    new = new_name(new, others)
    if new == name:
        return Edited(plan=plan, remark=f"{quoted(name)} keeps its name.")
    refuse_done("renamed", pass_name, (old,), done)
    passages = tuple(
        passage._replace(name=new)
        if passage is old
        else passage._replace(beside=new)
        if passage.beside == name
        else passage
        for passage in one_pass.passages
    )
    changes = followed(plan, {pass_name: passages}, {(pass_name, name): (pass_name, new)})
    return Edited(plan=with_passages(plan, changes), remark=f"{quoted(name)} is called {quoted(new)} now.")


def delete_passage(plan: Plan, pass_name: str, name: str, *, done: Done = frozenset()) -> Edited:
    """Return the plan without a passage; those that name it name what it named, or nothing, and the remark says so.

    Raises:
        EditError: The passage is done, or is the only one of its pass.
    """
    one_pass = pass_named(plan, pass_name)
    gone = passage_named(one_pass, name)
    refuse_done("deleted", pass_name, (gone,), done)
    if len(one_pass.passages) == 1:
        raise EditError(f"{quoted(name)} is the only passage of {quoted(pass_name)}: delete the pass")
    rest = tuple(passage for passage in detached(one_pass, name) if passage.name != name)
    changes = {pass_name: rest}
    for other in plan.passes:
        old = changes.get(other.name, other.passages)
        new = without_layers(old, {(pass_name, name): gone})
        if new != old:
            changes[other.name] = new
    told = [f"{quoted(name)} is deleted.", *rejoined(one_pass.passages, rest, name), *relaid(plan, changes)]
    return Edited(plan=with_passages(plan, changes), remark=" ".join(told))


def rejoined(before: tuple[Passage, ...], after: tuple[Passage, ...], name: str) -> list[str]:
    """Return in sentences what passages that were beside the one of that name are beside now."""
    new_of = {passage.name: passage for passage in after}
    told: list[str] = []
    for old in before:
        if old.beside == name and old.name in new_of:
            beside = new_of[old.name].beside
            told.append(f"{quoted(old.name)} is beside {quoted(beside) if beside else 'none'} now.")
    return told


def relaid(plan: Plan, changes: dict[str, tuple[Passage, ...]]) -> list[str]:
    """Return in sentences what passages lie over or are painted into now, where that differs from `plan`."""
    told: list[str] = []
    for one_pass in plan.passes:
        old_of = {passage.name: passage for passage in one_pass.passages}
        for new in changes.get(one_pass.name, ()):
            old = old_of.get(new.name, new)
            if (old.over, old.into) != (new.over, new.into):
                told.append(_layer_said(new))
    return told


def _layer_said(passage: Passage) -> str:
    layer = passage.over or passage.into
    if layer is None:
        return f"{quoted(passage.name)} lies over none now."
    how = "lies over" if passage.over else "is painted into"
    return f"{quoted(passage.name)} {how} {quoted(' / '.join(layer))} now."


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
    above = runs[target - 1].passages[-1].name if target else ""
    where = f"after {quoted(above)}" if above else f"at the beginning of {quoted(pass_name)}"
    return Edited(plan=edited, remark=f"{together} stands {where} now.")


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


def join(plan: Plan, pass_name: str, name: str, neighbour: str) -> Edited:
    """Return the plan with two passages of a pass as neighbours; their runs are one run then.

    The one that comes later is written as beside the other, whichever is named first here.

    Raises:
        EditError: One is missing, both are the same, the later one is beside a passage of another run, or the run
            would contradict itself.
    """
    one_pass = pass_named(plan, pass_name)
    first, later = sorted((place_of(one_pass, name), place_of(one_pass, neighbour)))
    if first == later:
        raise EditError(f"{quoted(name)} cannot be beside itself")
    above, below = one_pass.passages[first], one_pass.passages[later]
    if below.beside == above.name:
        return Edited(plan=plan, remark=f"{quoted(below.name)} is beside {quoted(above.name)} already.")
    run = next(run for run in one_pass.runs if below.name in run.passage_names)
    if below.beside is not None and above.name not in run.passage_names:
        what = f"{quoted(below.name)} is beside {quoted(below.beside)} in another run"
        raise EditError(f"{what}: split it from that run first")
    joined = below._replace(beside=above.name)
    passages = (*one_pass.passages[:later], joined, *one_pass.passages[later + 1 :])
    remark = f"{quoted(below.name)} is beside {quoted(above.name)} now: they are painted one after the other."
    return Edited(plan=with_passages(plan, {pass_name: passages}), remark=remark)


def split(plan: Plan, pass_name: str, name: str, *, done: Done = frozenset()) -> Edited:
    """Return the plan with a passage taken out of its run, to be a run of its own; the rest stays a run.

    Raises:
        EditError: The passage is done, or stands alone.
    """
    one_pass = pass_named(plan, pass_name)
    passage = passage_named(one_pass, name)
    run = next(run for run in one_pass.runs if passage in run.passages)
    if len(run.passages) == 1:
        raise EditError(f"{quoted(name)} has no neighbour: it is a run of its own already")
    refuse_done("split from its run", pass_name, (passage,), done)
    passages = detached(one_pass, name)
    told = [f"{quoted(name)} is a run of its own now.", *rejoined(one_pass.passages, passages, name)]
    return Edited(plan=with_passages(plan, {pass_name: passages}), remark=" ".join(told))
