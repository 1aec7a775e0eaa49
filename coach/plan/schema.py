"""The published JSON Schema of a plan, made from the table of keys: `python -m coach.plan.schema` prints it."""

import json
import sys
from typing import Any

from coach.plan.commission import RETURN_TO
from coach.plan.key_table import KEYS_INSIDE, Figures, ListOf, PlanKey, Records
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
    keys = KEYS_INSIDE[section].values()
    required = [key.name for key in keys if key.is_required]
    schema: Json = {
        "type": "object",
        "properties": {key.name: {"description": key.sentence, **_taken(key)} for key in keys},
        "additionalProperties": False,
    }
    if required:
        schema["required"] = required
    if section == "passages":
        schema["not"] = {"required": ["over", "into"]}
    return schema


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
            return dict(structure.schema)


def _entry(section: str) -> Json:
    """Return the schema of an entry, which may be just a name where it needs no more."""
    mapping = _mapping(section)
    return {"anyOf": [{"$ref": _TEXT_NAME}, mapping]} if mapping["required"] == ["name"] else mapping


def _array(items: Json, most: int | None) -> Json:
    bounds = {"minItems": 1} if most is None else {"minItems": 1, "maxItems": most}
    return {"type": "array", **bounds, "items": items}


if __name__ == "__main__":
    sys.stdout.write(schema_text())
