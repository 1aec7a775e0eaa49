"""The published JSON Schema of a plan, made from the table of keys: `python -m coach.plan.schema` prints it."""

import json
import sys
from collections.abc import Iterable
from typing import Any

from coach.plan.commission import RETURN_TO
from coach.plan.key_table import (
    KEYS_INSIDE,
    MOST_DAYS,
    MOST_STOPS,
    NOT_OF_A_CHECK,
    Figures,
    ListOf,
    PlanKey,
    Records,
    described,
)
from coach.plan.time_types import DAYS
from coach.plan.value_types import TEXT, ValueType

Json = dict[str, Any]
_TEXT_NAME = "#/$defs/text"


def schema_text() -> str:
    """Return the schema as the file `plan.schema.json` holds it."""
    return json.dumps(plan_schema(), indent=1, ensure_ascii=False) + "\n"


def plan_schema() -> Json:
    """Return what a JSON Schema can say of a plan; days, sums, references and repeated names only the reader sees."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Plan of a commission",
        "description": "Two or more matching oil portraits painted from one photograph by a fixed day.",
        **_mapping(""),
        "$defs": {"text": dict(TEXT.schema)},
    }


def _mapping(section: str) -> Json:
    schema = _object(KEYS_INSIDE[section].values())
    if section == "passages":
        excluding = (("over", "into"), *(("check", key) for key in NOT_OF_A_CHECK))
        schema["not"] = {"anyOf": [{"required": list(keys)} for keys in excluding]}
    return schema


def _object(keys: Iterable[PlanKey]) -> Json:
    keys = tuple(keys)
    required = [key.name for key in keys if key.is_required]
    properties = {key.name: {"description": described(key), **_taken(key)} for key in keys}
    schema: Json = {"type": "object", "properties": properties, "additionalProperties": False}
    return {**schema, "required": required} if required else schema


def _taken(key: PlanKey) -> Json:
    match key.takes:
        case ValueType() as one:
            schema = {"$ref": _TEXT_NAME} if one is TEXT else dict(one.schema)
            return (
                {**schema, "not": {"pattern": f"^{RETURN_TO}"}}
                if (key.inside, key.name) == ("passes", "name")
                else schema
            )
        case ListOf() as several:
            item = dict(several.item.schema)
            items = _array(item, several.most)
            return {"anyOf": [item, items]} if several.is_one_bare else items
        case Records() as entries:
            return _array(_entry(key.name), entries.most)
        case Figures():
            return _mapping(key.name)
        case structure:
            return dict(structure.schema) or _calendar(key.name)


def _entry(section: str) -> Json:
    """Return the schema of an entry, which may be just a name where it needs no more."""
    mapping = _mapping(section)
    return {"anyOf": [{"$ref": _TEXT_NAME}, mapping]} if mapping["required"] == ["name"] else mapping


def _calendar(section: str) -> Json:
    """Return the schema of a list of stops, or of days and rules, under `also` each with hours of its own."""
    keys = KEYS_INSIDE[section]
    if section == "approval":
        return _array(_object(keys.values()), MOST_STOPS)
    rules = _object(keys[name] for name in keys if name != "day")
    if "day" not in keys:
        return _array({"anyOf": [dict(DAYS.schema), rules]}, MOST_DAYS)
    days = {str(DAYS.schema["pattern"]): _taken(keys["time"])}
    by_day = {"type": "object", "maxProperties": MOST_DAYS, "patternProperties": days, "additionalProperties": False}
    return {"anyOf": [by_day, _array({"anyOf": [_object([keys["day"], keys["time"]]), rules]}, MOST_DAYS)]}


def _array(items: Json, most: int | None) -> Json:
    bounds = {"minItems": 1} if most is None else {"minItems": 1, "maxItems": most}
    return {"type": "array", **bounds, "items": items}


if __name__ == "__main__":
    sys.stdout.write(schema_text())
