"""A plan as a new text: its keys and entries as a person would write them, only what differs from the defaults."""

from collections.abc import Callable, Mapping
from itertools import groupby
from typing import Any, Final

from coach.plan.commission import Address, MarkedBox, Pass, Passage, Plan
from coach.plan.delivery import DayRange, Days
from coach.plan.key_table import KEYS_INSIDE, PARTS, RECORD_TYPES, VALUE, Figures, ListOf, PlanKey, Records
from coach.plan.layers import layer_texts
from coach.plan.time_types import DAYS, weekday_text
from coach.plan.units import duration_text
from coach.plan.value_types import ValueType
from coach.plan.yaml_text import entry_text, key_text, list_text, mapping_text, scalar_text

Section = str | tuple[str, ...] | dict[str, str]
"""A written value: one text, the entries of a list, or keys with their texts."""


def plan_text(plan: Plan) -> str:
    """Return a new text of a plan, as a person would write it; the reader makes the same plan of it.

    Lists of things with names have a line for each, and so has each passage; what is as usual is left out.

    Args:
        plan: A plan that was read, or edited by `coach.plan.editing`.

    Raises:
        WritingError: A passage cannot name what it lies over, because its namesakes read alike.
    """
    written = sections(plan)
    groups: list[str] = [""]
    for key in KEYS_INSIDE[""].values():
        if key.opens_group and groups[-1]:
            groups.append("")
        if key.name in written:
            groups[-1] += _section_text(key.name, written[key.name])
    layers = layer_texts(plan)
    passes = ["".join(f"  {line}\n" for line in pass_lines(one_pass, layers)) for one_pass in plan.passes]
    return "\n".join((*filter(None, groups), "passes:\n" + "\n".join(passes)))


def _section_text(key: str, section: Section) -> str:
    if isinstance(section, tuple):
        return f"{key}:\n" + "".join(f"  - {entry}\n" for entry in section)
    return f"{key}: {section if isinstance(section, str) else mapping_text(section)}\n"


def sections(plan: Plan) -> dict[str, Section]:
    """Return what is written under each key of a plan, save `passes`; keys with nothing to say are left out."""
    keys = (key for key in KEYS_INSIDE[""].values() if key.name != "passes")
    found = ((key.name, _section(key, getattr(plan, key.data_field))) for key in keys if _is_said(key, plan))
    return {name: section for name, section in found if section}


def record_fields(section: str, record: object) -> dict[str, str]:
    """Return what is written of an entry of a list, or of a mapping of figures, by key."""
    keys = KEYS_INSIDE[section].values()
    found = ((key.name, _section(key, getattr(record, key.data_field))) for key in keys if _is_said(key, record))
    return {
        name: list_text(text) if isinstance(text, tuple) else text for name, text in found if not isinstance(text, dict)
    }


def passage_fields(passage: Passage, layer: str | None) -> dict[str, str]:
    """Return what is written of a passage.

    Args:
        passage: The passage.
        layer: The text by which it names what it lies over or is painted into; None where it names none.
    """
    written = scalar_text(layer) if layer is not None else None
    named = {"over": written if passage.over else None, "into": written if passage.into else None}
    fields = record_fields("passages", passage._replace(over=None, into=None))
    return fields | {key: text for key, text in named.items() if text is not None}


def pass_lines(one_pass: Pass, layers: Mapping[Address, str]) -> tuple[str, ...]:
    """Return a pass as the lines of an entry of a list, without an indent.

    Args:
        one_pass: The pass.
        layers: For each passage with a layer the text by which it names it.
    """
    entries = (f"    - {text}" for text in _passage_texts(one_pass, layers))
    return (f"- name: {scalar_text(one_pass.name)}", "  passages:", *entries)


def pass_on_one_line(one_pass: Pass, layers: Mapping[Address, str]) -> str:
    """Return a pass as one line."""
    return mapping_text({"name": scalar_text(one_pass.name), "passages": list_text(_passage_texts(one_pass, layers))})


def _passage_texts(one_pass: Pass, layers: Mapping[Address, str]) -> list[str]:
    return [
        entry_text(passage_fields(passage, layers.get((one_pass.name, passage.name)))) for passage in one_pass.passages
    ]


def _is_said(key: PlanKey, record: object) -> bool:
    """Return whether a record differs, under a key, from what stands for it where it is not written."""
    defaults = RECORD_TYPES[key.inside]._field_defaults
    return key.data_field not in defaults or getattr(record, key.data_field) != defaults[key.data_field]


def _section(key: PlanKey, value: Any) -> Section:  # noqa: ANN401  the data of that key
    match key.takes:
        case ValueType() as one:
            text: str = one.write(value)
            return text
        case ListOf() as several:
            return tuple(map(several.item.write, value))
        case Records():
            return tuple(entry_text(record_fields(key.name, record)) for record in value)
        case Figures():
            return record_fields(key.name, value)
    return _STRUCTURES[key.name](value)


def week_fields(week_s: tuple[int, ...]) -> dict[str, str]:
    """Return the hours of a week by spans of days with the same hours; days without work are left out."""
    if not any(week_s):
        return {weekday_text(0, len(week_s) - 1): duration_text(0)}
    spans = [(seconds, list(days)) for seconds, days in groupby(range(len(week_s)), key=week_s.__getitem__)]
    return {weekday_text(days[0], days[-1]): duration_text(seconds) for seconds, days in spans if seconds}


def _box_text(box: MarkedBox) -> str:
    return list_text(str(side_px) for side_px in box)


def _span_text(span: tuple[float, float]) -> str:
    return list_text(map(VALUE.write, span))


def _days_fields(days: Days) -> dict[str, str]:
    if isinstance(days, DayRange):
        return {"day": DAYS.write(days)}
    return {"every": scalar_text(days.rule), "from": days.start.isoformat()}


def _also_section(also: tuple[tuple[Days, int], ...]) -> Section:
    """Return days with their times as keys, or as a list where days come again or a day is named twice."""
    ranges = {DAYS.write(days): duration_text(seconds) for days, seconds in also if isinstance(days, DayRange)}
    if len(ranges) == len(also):
        return ranges
    return tuple(mapping_text({**_days_fields(days), "time": duration_text(seconds)}) for days, seconds in also)


_STRUCTURES: Final[Mapping[str, Callable[[Any], Section]]] = {
    "week": week_fields,
    "off": lambda off: tuple(
        DAYS.write(days) if isinstance(days, DayRange) else mapping_text(_days_fields(days)) for days in off
    ),
    "also": _also_section,
    "keep": lambda boxes: tuple(map(_box_text, boxes)),
    "box": _box_text,
    "crop": _box_text,
    "photo": _span_text,
    "paint": _span_text,
    "approval": lambda stops: tuple(mapping_text(record_fields("approval", stop)) for stop in stops),
    "parts": lambda parts: mapping_text({key_text(paint): PARTS.write(count) for paint, count in parts}),
}
"""How what has a form of its own is written."""
