"""Passages added, renamed and deleted."""

from coach.plan.commission import Passage, Plan
from coach.plan.editing.edited import (
    Done,
    Edited,
    EditError,
    pass_named,
    passage_named,
    place_of,
    refuse_done,
)
from coach.plan.editing.figures import canvas_named, checked_figures, mixture_named
from coach.plan.editing.new_names import new_name
from coach.plan.editing.references import detached, followed, without_layers
from coach.plan.editing.soundness import with_passages
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
