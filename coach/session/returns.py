"""The corrections: a run for everything that was marked for return, on the canvases where it was marked."""

from collections.abc import Collection

from coach.plan.commission import RETURN_TO, Plan, Run
from coach.session.journal_state import Shape


def returns_of(plan: Plan, marks: Collection[Shape]) -> tuple[Run, ...]:
    """Return the runs of corrections, in the order they were first marked.

    A run that was marked on several canvases comes back as one run on these canvases, so that its lead is shared
    like any other. A return that is marked again comes back once more. What has vanished from the plan does not
    come back.
    """
    if not marks:
        return ()
    canvases = {canvas.name for canvas in plan.canvases}
    found = {(run.pass_name, passage.name): (run, passage) for run in plan.runs for passage in run.passages}
    returns: dict[tuple[str, int], Run] = {}
    for pass_name, name, canvas in marks:
        if (pass_name, name) not in found or canvas not in canvases:
            continue
        marked, passage = found[pass_name, name]
        key = (RETURN_TO + marked.pass_name, marked.number)
        run = returns.get(key, Run(pass_name=key[0], number=key[1], passages=()))
        if name not in run.passage_names:
            run = run._replace(passages=(*run.passages, passage._replace(lead=None)))
        if canvas not in run.canvases:
            run = run._replace(canvases=(*run.canvases, canvas))
        returns[key] = run
        found[key[0], name] = run, passage
    return tuple(returns.values())
