"""What a plan says of one passage: changed by what is typed, as the table of keys allows it."""

from itertools import takewhile
from typing import Any, Final

from coach.plan import units
from coach.plan.commission import Address, Passage, Plan
from coach.plan.editing.edited import Edited, EditError, pass_named, passage_named, typed
from coach.plan.editing.soundness import with_figures, with_passages
from coach.plan.key_table import KEYS_INSIDE
from coach.plan.layers import EarlierPassages
from coach.plan.problems import did_you_mean, quoted
from coach.plan.value_types import SHAPE_ID, TEXT, ValueType, cleaned

_KEYS: Final = KEYS_INSIDE["passages"]
_FIGURES: Final = {
    key.data_field: key.takes for key in _KEYS.values() if isinstance(key.takes, ValueType) and key.takes is not TEXT
}

_LAYERS: Final = {"over": "lies over", "into": "is painted into"}


def change(plan: Plan, pass_name: str, name: str, key: str, text: str) -> Edited:
    """Return the plan with something else under a key of a passage.

    Args:
        plan: The plan.
        pass_name: The pass.
        name: The passage.
        key: minutes, value, area, mixture, brush, shapes, check, difficulty, lead, over or into.
        text: What is typed, as it would be written in the plan; a plain number has the usual unit, ids of shapes stand
            with commas between them, and an empty text takes away what stands there. A passage lies over another or is
            painted into one: what is given last holds.

    Raises:
        EditError: There is no such passage, or the text cannot be.
    """
    if key == "lead":
        return _led(plan, pass_name, name, canvas_named(plan, text) if cleaned(text) else None)
    if key in _LAYERS:
        return _laid(plan, pass_name, name, key, cleaned(text))
    one_pass = pass_named(plan, pass_name)
    old = passage_named(one_pass, name)
    field, value = _KEYS[key].data_field, _value(plan, key, cleaned(text))
    said = _said(key, value)
    if getattr(old, field) == value:
        return Edited(plan=plan, remark=f"{quoted(name)} has {said} already.")
    new = old._replace(**{field: value})
    passages = tuple(new if passage is old else passage for passage in one_pass.passages)
    changed = with_passages(plan, {pass_name: passages}) if key == "check" else with_figures(plan, pass_name, passages)
    return Edited(plan=changed, remark=f"{quoted(name)} has {said} now.")


def stated(passage: Passage, key: str) -> str:
    """Return what a passage says under a key, as it may be typed; empty where it says nothing."""
    field = _KEYS[key].data_field
    value = getattr(passage, field)
    if value is None:
        return ""
    if key == "shapes":
        return ", ".join(value)
    if key in _LAYERS:
        return " / ".join(value)
    return str(_FIGURES[field].write(value) if field in _FIGURES else value)


def _value(plan: Plan, key: str, text: str) -> Any:  # noqa: ANN401  what the key takes
    if not text:
        return Passage._field_defaults[_KEYS[key].data_field]
    if key == "mixture":
        return mixture_named(plan, text)
    if key == "shapes":
        return tuple(dict.fromkeys(typed(SHAPE_ID.read, shape) for shape in text.replace(",", " ").split()))
    figure = _FIGURES[_KEYS[key].data_field]
    is_bare = figure.unit and units.number(text) is not None
    return typed(figure.read, f"{text} {figure.unit}" if is_bare else text)


def _said(key: str, value: Any) -> str:  # noqa: ANN401  what the key takes
    if not value and value != 0:
        return f"no {key}"
    if key == "shapes":
        return f"the shapes {', '.join(value)}"
    if key == "mixture":
        return f"the mixture {quoted(value)}"
    return units.duration_text(value) if key == "minutes" else f"{key} {_FIGURES[_KEYS[key].data_field].write(value)}"


def _led(plan: Plan, pass_name: str, name: str, lead: str | None) -> Edited:
    """Return the plan in which a canvas is to lead the run of a passage; None lets any lead.

    The whole run is led, so that other passages of it give up a lead of their own.
    """
    one_pass = pass_named(plan, pass_name)
    passage_named(one_pass, name)
    run = next(run for run in one_pass.runs if name in run.passage_names)
    passages = tuple(
        passage._replace(lead=lead if passage.name == name else None) if passage.name in run.passage_names else passage
        for passage in one_pass.passages
    )
    together = quoted(" + ".join(run.passage_names))
    remark = f"{together} is led by {quoted(lead)}." if lead else f"{together} may be led by any canvas."
    return Edited(plan=with_figures(plan, pass_name, passages), remark=remark)


def _laid(plan: Plan, pass_name: str, name: str, key: str, text: str) -> Edited:
    """Return the plan in which a passage lies over, or is painted into, the earlier one of that name; empty for none.

    Raises:
        EditError: No earlier passage is called so, or the plan would not be sound.
    """
    one_pass = pass_named(plan, pass_name)
    old = passage_named(one_pass, name)
    below = typed(lambda given: _earlier(plan, (pass_name, name)).named(given, pass_name), text) if text else None
    kept = (old.over, old.into) if below is None else (None, None)
    over, into = (below, kept[1]) if key == "over" else (kept[0], below)
    new = old._replace(over=over, into=into)
    said = f"{quoted(name)} {_LAYERS[key]} {quoted(' / '.join(below)) if below else 'none'} now."
    if new == old:
        return Edited(plan=plan, remark=f"{quoted(name)} keeps what it {_LAYERS[key]}.")
    passages = tuple(new if passage is old else passage for passage in one_pass.passages)
    return Edited(plan=with_passages(plan, {pass_name: passages}), remark=said)


def _earlier(plan: Plan, here: Address) -> EarlierPassages:
    """Return the passages that stand before one."""
    every = ((one.name, passage.name) for one in plan.passes for passage in one.passages)
    earlier = EarlierPassages()
    for address in takewhile(lambda address: address != here, every):
        earlier.add(address)
    return earlier


def checked_figures(passage: Passage) -> Passage:
    """Return a passage whose figures a plan can hold, cut to the decimals it can hold.

    A figure can be held if its text is read.

    Raises:
        EditError: A figure cannot be.
    """
    for field, figure in _FIGURES.items():
        value = getattr(passage, field)
        if value is not None:
            passage = passage._replace(**{field: typed(figure.read, figure.write(value))})
    return passage


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
