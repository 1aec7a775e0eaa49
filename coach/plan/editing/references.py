"""Passages that name another one: what becomes of `beside`, `over` and `into` when it leaves or gets a new name."""

from collections.abc import Mapping

from coach.plan.commission import Address, Pass, Passage, Plan

Passages = dict[str, tuple[Passage, ...]]
"""Passages by the name of their pass."""


def detached(one_pass: Pass, name: str) -> tuple[Passage, ...]:
    """Return the passages of a pass with one taken out of its run; those beside it stay a run without it.

    They are beside what it was beside; where it opened the run, the first of them opens it now and the others are
    beside that one. Where it alone said who leads, the first of the rest says it too.
    """
    run = next(run for run in one_pass.runs if name in run.passage_names)
    rest = [passage for passage in run.passages if passage.name != name]
    leader = rest[0].name if rest and run.lead and not any(passage.lead for passage in rest) else None
    heir = next(passage.beside for passage in run.passages if passage.name == name)
    found: list[Passage] = []
    for passage in one_pass.passages:
        kept = passage._replace(lead=run.lead) if passage.name == leader else passage
        if kept.name == name:
            kept = kept._replace(beside=None)
        elif kept.beside == name:
            kept, heir = kept._replace(beside=heir), heir or kept.name
        found.append(kept)
    return tuple(found)


def readdressed(passage: Passage, new_of: Mapping[Address, Address]) -> Passage:
    """Return a passage whose `over` or `into` follows the passages that have a new pass or name."""
    if passage.over and passage.over in new_of:
        return passage._replace(over=new_of[passage.over])
    if passage.into and passage.into in new_of:
        return passage._replace(into=new_of[passage.into])
    return passage


def followed(plan: Plan, passages_of: Passages, new_of: Mapping[Address, Address]) -> Passages:
    """Return the passes that change: `passages_of`, and those with a passage over or into one that is readdressed."""
    changes = dict(passages_of)
    for one_pass in plan.passes:
        old = changes.get(one_pass.name, one_pass.passages)
        new = tuple(readdressed(passage, new_of) if passage.over or passage.into else passage for passage in old)
        if new != old:
            changes[one_pass.name] = new
    return changes


def without_layers(passages: tuple[Passage, ...], gone: Mapping[Address, Passage]) -> tuple[Passage, ...]:
    """Return passages in which none lies over or is painted into one of `gone`.

    What lay over a gone passage lies over what that one lay over or was painted into; what was painted into it is
    painted into, or lies over, the same as it was. Where there is no such passage the reference is cut.
    """
    return tuple(
        _relaid(passage, gone) if passage.over in gone or passage.into in gone else passage for passage in passages
    )


def _relaid(passage: Passage, gone: Mapping[Address, Passage]) -> Passage:
    while (layer := passage.over or passage.into) and layer in gone:
        below = gone[layer]
        if passage.over:
            passage = passage._replace(over=below.over or below.into)
        else:
            passage = passage._replace(over=below.over, into=below.into)
    return passage
