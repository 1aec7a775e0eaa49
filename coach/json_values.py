"""What a command prints as JSON: one way from frozen data to values that JSON can hold."""

import datetime as dt
import enum
from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from fractions import Fraction

JsonValue = str | int | float | bool | list["JsonValue"] | dict[str, "JsonValue"] | None


def json_value(value: object) -> JsonValue:  # noqa: PLR0911  one return a kind of value
    """Return data as values that JSON can hold.

    A dataclass becomes a mapping whose keys are its fields in order, without an underscore at the end of a name that
    Python keeps for itself (`pass_`); a field that starts with an underscore is left out. Days and instants become
    ISO 8601, members of an enumeration their values, tuples and sets lists (sets sorted). Rounding is the business of
    whoever makes the data.

    Raises:
        TypeError: Something in it has no form in JSON.
    """
    match value:
        case enum.Enum():
            return json_value(value.value)
        case None | bool() | int() | float() | str():
            return value
        case Fraction():
            return float(value)
        case dt.date() | dt.time():
            return value.isoformat()
        case Mapping():
            return {str(json_value(key)): json_value(held) for key, held in value.items()}
        case list() | tuple():
            return [json_value(held) for held in value]
        case set() | frozenset():
            return [json_value(held) for held in sorted(value)]
    return _fields(value)


def _fields(value: object) -> JsonValue:
    if not is_dataclass(value) or isinstance(value, type):
        raise TypeError(f"{type(value).__name__} has no form in JSON")
    shown = [field.name for field in fields(value) if not field.name.startswith("_")]
    return {name.removesuffix("_"): json_value(getattr(value, name)) for name in shown}
