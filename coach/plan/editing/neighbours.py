"""Runs joined and split: which passages meet wet."""

from coach.plan.commission import Plan
from coach.plan.editing.edited import Done, Edited, EditError, pass_named, passage_named, place_of, refuse_done
from coach.plan.editing.passage_edits import rejoined
from coach.plan.editing.references import detached
from coach.plan.editing.soundness import with_passages
from coach.plan.problems import quoted


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
