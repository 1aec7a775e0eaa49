"""What must hold of a plan after any edit; the same rules as when a plan is read, said of the edit."""

from collections.abc import Mapping

from coach.plan.commission import Address, Pass, Passage, Plan, Run, runs_of
from coach.plan.editing.edited import EditError
from coach.plan.layers import LayerNames
from coach.plan.problems import quoted


def pass_of(name: str, passages: tuple[Passage, ...]) -> Pass:
    """Return a pass with its runs.

    Raises:
        EditError: A passage would stand before the one it is beside.
    """
    above: set[str] = set()
    for passage in passages:
        if passage.beside is not None and passage.beside not in above:
            what = f"{quoted(passage.name)} is beside {quoted(passage.beside)} and must come after it"
            raise EditError(f"{what}: split it from its run first")
        above.add(passage.name)
    return Pass(name=name, passages=passages, runs=runs_of(name, passages))


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
    """Return a plan with other passes.

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
    return plan._replace(passes=passes)


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
    above = LayerNames(passes)
    for one_pass in passes:
        for passage in one_pass.passages:
            layer = passage.over or passage.into
            if layer:
                _refuse_layer(one_pass.name, passage, layer, above)
            above.add((one_pass.name, passage.name))


def _refuse_layer(pass_name: str, passage: Passage, layer: Address, above: LayerNames) -> None:
    below = quoted(" / ".join(layer))
    if not above.holds(layer):
        how = "lies over" if passage.over else "is painted into"
        raise EditError(f"{quoted(passage.name)} {how} {below} and must come after it")
    if not above.can_write(layer, pass_name):
        what = f"{quoted(passage.name)} could no longer tell {below} from its namesakes"
        raise EditError(f"{what}: choose names that differ and have no /")
