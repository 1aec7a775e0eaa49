"""What a plan says of one passage: minutes, value, area, mixture, difficulty, lead."""

import math
from typing import Final

from coach.plan.commission import Passage, Plan
from coach.plan.editing.edited import Edited, EditError, pass_named, passage_named
from coach.plan.editing.new_names import cleaned
from coach.plan.editing.soundness import with_figures
from coach.plan.problems import did_you_mean, quoted
from coach.plan.units import area_text, duration_text, number_text

_DAY_S: Final = 24 * 3600
_WHITE: Final = 10.0
_HARDEST: Final = 10.0
_LARGEST_CM2: Final = 9_999_999.0
_DECIMALS: Final = 6
"""Decimals that a plan can hold; the reader takes no more."""


def change_minutes(plan: Plan, pass_name: str, name: str, planned_s: int | None) -> Edited:
    """Return the plan with another time for a passage on one canvas, 1 s to 24 h; None takes the time away.

    Raises:
        EditError: There is no such passage, or the time cannot be.
    """
    said = "no time of its own" if planned_s is None else duration_text(planned_s)
    return _changed(plan, pass_name, Passage(name, planned_s=planned_s), "planned_s", said)


def change_value(plan: Plan, pass_name: str, name: str, value: float | None) -> Edited:
    """Return the plan with another value for a passage, 0 black to 10 white; None takes it away.

    Raises:
        EditError: There is no such passage, or the value cannot be.
    """
    passage = checked_figures(Passage(name, value=value))
    said = "no value" if passage.value is None else f"value {number_text(passage.value)}"
    return _changed(plan, pass_name, passage, "value", said)


def change_area(plan: Plan, pass_name: str, name: str, area_cm2: float | None) -> Edited:
    """Return the plan with another area for a passage on one canvas, in square centimetres; None takes it away.

    Raises:
        EditError: There is no such passage, or the area cannot be.
    """
    passage = checked_figures(Passage(name, area_cm2=area_cm2))
    said = "no area" if passage.area_cm2 is None else area_text(passage.area_cm2)
    return _changed(plan, pass_name, passage, "area_cm2", said)


def change_difficulty(plan: Plan, pass_name: str, name: str, difficulty: float) -> Edited:
    """Return the plan with another weight for a minute of a passage, above 0 and at most 10; 1 is the usual one.

    Raises:
        EditError: There is no such passage, or the difficulty cannot be.
    """
    passage = checked_figures(Passage(name, difficulty=difficulty))
    return _changed(plan, pass_name, passage, "difficulty", f"difficulty {number_text(passage.difficulty)}")


def change_mixture(plan: Plan, pass_name: str, name: str, mixture: str | None) -> Edited:
    """Return the plan with another mixture for a passage; None takes it away.

    Raises:
        EditError: There is no such passage, or the plan gives recipes and none of that name.
    """
    passage = Passage(name, mixture=None if mixture is None else mixture_named(plan, mixture))
    said = f"the mixture {quoted(passage.mixture)}" if passage.mixture else "no mixture"
    return _changed(plan, pass_name, passage, "mixture", said)


def change_lead(plan: Plan, pass_name: str, name: str, lead: str | None) -> Edited:
    """Return the plan in which a canvas is to lead the run of a passage; None lets any lead.

    The whole run is led, so that other passages of it give up a lead of their own.

    Raises:
        EditError: There is no such passage or canvas.
    """
    one_pass = pass_named(plan, pass_name)
    passage_named(one_pass, name)
    if lead is not None:
        lead = canvas_named(plan, lead)
    run = next(run for run in one_pass.runs if name in run.passage_names)
    others = set(run.passage_names) - {name}
    passages = tuple(
        passage._replace(lead=lead if passage.name == name else None)
        if passage.name == name or (passage.lead and passage.name in others)
        else passage
        for passage in one_pass.passages
    )
    together = quoted(" + ".join(run.passage_names))
    remark = f"{together} is led by {quoted(lead)}." if lead else f"{together} may be led by any canvas."
    return Edited(plan=with_figures(plan, pass_name, passages), remark=remark)


def checked_figures(passage: Passage) -> Passage:
    """Return a passage whose figures a plan can hold, cut to the decimals it can hold.

    Raises:
        EditError: A figure cannot be.
    """
    seconds, value, area_cm2 = passage.planned_s, passage.value, passage.area_cm2
    if seconds is not None and not 0 < seconds <= _DAY_S:
        raise EditError("the time of a passage is from 1 s to 24 h: write a time such as 14 min")
    if value is not None and not 0 <= value <= _WHITE:
        raise EditError("a value is from 0, black, to 10, white: write a number such as 3 or 2.5")
    area_cm2 = None if area_cm2 is None else _rounded(area_cm2)
    if area_cm2 is not None and not 0 < area_cm2 <= _LARGEST_CM2:
        raise EditError("an area is greater than 0: write square centimetres, such as 12")
    difficulty = _rounded(passage.difficulty)
    if not 0 < difficulty <= _HARDEST:
        raise EditError("a difficulty is above 0 and at most 10: write a number such as 1.5")
    value = None if value is None else _rounded(value)
    return passage._replace(value=value, area_cm2=area_cm2, difficulty=difficulty)


def mixture_named(plan: Plan, mixture: str) -> str:
    """Return the name of a mixture as the plan gives it; any name where it gives no recipes.

    Raises:
        EditError: The plan gives recipes and none of that name, or the name is empty.
    """
    name = cleaned(mixture)
    known = [recipe.name for recipe in plan.mixtures]
    if not name or (known and name not in known):
        meant = did_you_mean(name, known)
        raise EditError("; ".join(filter(None, (f"there is no mixture {quoted(name)}", meant))))
    return name


def canvas_named(plan: Plan, canvas: str) -> str:
    """Return the name of a canvas of the plan.

    Raises:
        EditError: There is none of that name.
    """
    name = cleaned(canvas)
    known = [one.name for one in plan.canvases]
    if name not in known:
        meant = did_you_mean(name, known)
        raise EditError("; ".join(filter(None, (f"there is no canvas {quoted(name)}", meant))))
    return name


def _rounded(figure: float) -> float:
    return round(figure, _DECIMALS) if math.isfinite(figure) else figure


def _changed(plan: Plan, pass_name: str, wanted: Passage, field: str, said: str) -> Edited:
    """Return the plan with one field of a passage as it is in `wanted`."""
    one_pass = pass_named(plan, pass_name)
    old = passage_named(one_pass, wanted.name)
    new = old._replace(**{field: getattr(checked_figures(wanted), field)})
    if new == old:
        return Edited(plan=plan, remark=f"{quoted(old.name)} has {said} already.")
    passages = tuple(new if passage is old else passage for passage in one_pass.passages)
    return Edited(plan=with_figures(plan, pass_name, passages), remark=f"{quoted(old.name)} has {said} now.")
