"""What must hold of a plan after any edit, and what becomes of passages that name others."""

from collections.abc import Mapping

from coach.plan.commission import Address, Pass, Passage, Plan, Run, runs_of
from coach.plan.editing.edited import EditError
from coach.plan.key_table import KEYS_INSIDE, NOT_OF_A_CHECK
from coach.plan.layers import EarlierPassages
from coach.plan.problems import quoted

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


def pass_of(name: str, passages: tuple[Passage, ...]) -> Pass:
    """Return a pass with its runs.

    Raises:
        EditError: A passage would stand before the one it is beside, a check would lay paint, or a shape would stand
            in two of them.
    """
    above: set[str] = set()
    for passage in passages:
        if passage.beside is not None and passage.beside not in above:
            what = f"{quoted(passage.name)} is beside {quoted(passage.beside)} and must come after it"
            raise EditError(f"{what}: split it from its run first")
        above.add(passage.name)
    _refuse_paint_of_checks(passages)
    _refuse_shared_shapes(passages)
    return Pass(name=name, passages=passages, runs=runs_of(name, passages))


def _refuse_paint_of_checks(passages: tuple[Passage, ...]) -> None:
    checks = {passage.name for passage in passages if passage.check}
    for passage in passages if checks else ():
        if passage.beside in checks:
            raise EditError(f"{quoted(passage.beside)} is a check and lays no paint: none can be beside it")
        if passage.check:
            keys = ((key, KEYS_INSIDE["passages"][key].data_field) for key in NOT_OF_A_CHECK)
            laid = [key for key, field in keys if getattr(passage, field) != Passage._field_defaults[field]]
            if laid:
                raise EditError(f"{quoted(passage.name)} is a check and lays no paint: it has no {' or '.join(laid)}")


def _refuse_shared_shapes(passages: tuple[Passage, ...]) -> None:
    owner: dict[str, str] = {}
    for passage in passages:
        for shape in () if passage.check else passage.shapes:
            if shape in owner:
                what = f"{quoted(shape)} belongs to {quoted(owner[shape])} in this pass"
                raise EditError(f"{what}: a shape stands in one passage of a pass only")
            owner[shape] = passage.name


def with_figures(plan: Plan, pass_name: str, passages: tuple[Passage, ...]) -> Plan:
    """Return a plan in which a pass holds the same passages with other figures, which cannot make it unsound."""
    passes = (pass_of(one.name, passages) if one.name == pass_name else one for one in plan.passes)
    return plan._replace(passes=tuple(passes))


def with_passages(plan: Plan, changes: Mapping[str, tuple[Passage, ...]]) -> Plan:
    """Return a plan in which the passes of these names hold these passages.

    Raises:
        EditError: The plan would not be sound.
    """
    passes = (pass_of(one.name, changes[one.name]) if one.name in changes else one for one in plan.passes)
    return with_passes(plan, tuple(passes))


def with_passes(plan: Plan, passes: tuple[Pass, ...]) -> Plan:
    """Return a plan with other passes; the client no longer answers after one that is gone.

    Args:
        plan: A sound plan.
        passes: All passes, made by `pass_of` where they are new.

    Raises:
        EditError: The plan would not be sound.
    """
    kept = set(map(id, plan.passes))
    for one_pass in passes:
        if id(one_pass) not in kept:
            for run in one_pass.runs:
                _refuse_contradictions(run)
    _refuse_layers(passes)
    names = {one.name for one in passes}
    return plan._replace(passes=passes, approval=tuple(stop for stop in plan.approval if stop.after in names))


def _refuse_contradictions(run: Run) -> None:
    if len(run.passages) == 1:
        return
    leads = list(dict.fromkeys(passage.lead for passage in run.passages if passage.lead))
    if len(leads) > 1:
        together = quoted(" + ".join(run.passage_names))
        raise EditError(f"{together} would form one run with two leads, {quoted(leads[0])} and {quoted(leads[1])}")
    names = set(run.passage_names)
    for passage in run.passages:
        if passage.over and passage.over[0] == run.pass_name and passage.over[1] in names:
            wet = quoted(passage.over[1])
            raise EditError(f"{quoted(passage.name)} lies over {wet}, which would still be wet in the same run")


def _refuse_layers(passes: tuple[Pass, ...]) -> None:
    if not any(passage.over or passage.into for one_pass in passes for passage in one_pass.passages):
        return
    above = EarlierPassages()
    checks: set[Address] = set()
    for one_pass in passes:
        for passage in one_pass.passages:
            layer = passage.over or passage.into
            if layer in checks:
                raise EditError(f"{quoted(' / '.join(layer))} is a check and lays no paint: none can lie over it")
            if layer:
                _refuse_layer(one_pass.name, passage, layer, above)
            above.add((one_pass.name, passage.name))
            if passage.check:
                checks.add((one_pass.name, passage.name))


def _refuse_layer(pass_name: str, passage: Passage, layer: Address, above: EarlierPassages) -> None:
    below = quoted(" / ".join(layer))
    if not above.holds(layer):
        how = "lies over" if passage.over else "is painted into"
        raise EditError(f"{quoted(passage.name)} {how} {below} and must come after it")
    if not above.can_write(layer, pass_name):
        what = f"{quoted(passage.name)} could no longer tell {below} from its namesakes"
        raise EditError(f"{what}: choose names that differ and have no /")
