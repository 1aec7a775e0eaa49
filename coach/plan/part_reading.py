"""The parts of a plan that are lists of named things, and the small mappings beside them."""

from collections.abc import Callable, Collection, Mapping
from types import MappingProxyType
from typing import Final, Protocol, TypeVar

from yaml.nodes import MappingNode, Node

from coach.plan.commission import After, Canvas, Mixture, Paint
from coach.plan.node_reading import Asker, inside
from coach.plan.problems import did_you_mean, quoted
from coach.plan.value_reading import read_days, read_measured_days, read_one_of, read_parts, read_place, read_size


class _Named(Protocol):
    @property
    def name(self) -> str: ...


_NamedT = TypeVar("_NamedT", bound=_Named)
_T = TypeVar("_T")
_Read = Callable[[Asker, Node, str], _T]

_NOTHING: Final[Mapping[str, str]] = MappingProxyType({})


def optional(ask: Asker, found: Mapping[str, Node], where: str, key: str, read: _Read[_T | None]) -> _T | None:
    """Return what `read` makes of the value of `key`, or None where the key is absent."""
    node = found.get(key)
    return None if node is None else read(ask, node, inside(where, key))


def read_named(
    ask: Asker, node: Node, where: str, read: _Read[_NamedT | None], *, most: int | None = None
) -> tuple[_NamedT, ...]:
    """Return the entries of a list of 1 to `most` whose names all differ (capitals aside)."""
    entries: dict[str, _NamedT] = {}
    for number, item in enumerate(ask.items(node, where, most=most), start=1):
        place = f"{where}[{number}]"
        entry = read(ask, item, place)
        if entry is None:
            continue
        if entry.name.casefold() in entries:
            ask.faults.note(item, place, f"the name {quoted(entry.name)} stands twice", "give each its own name")
        else:
            entries[entry.name.casefold()] = entry
    return tuple(entries.values())


def named_fields(
    ask: Asker, node: Node, where: str, optional: tuple[str, ...], required: Mapping[str, str] = _NOTHING
) -> tuple[str, Mapping[str, Node]] | None:
    """Return name and fields of an entry that is a mapping, or just a name; None where it has no name.

    Args:
        ask: Asks the node.
        node: The entry.
        where: Its dotted place.
        optional: Keys that may stand beside the name.
        required: Keys that must stand beside it, each with an example.
    """
    if isinstance(node, MappingNode):
        fields = ask.fields(node, where, {"name": "name: ...", **required}, optional)
        name = ask.text(fields["name"], inside(where, "name")) if "name" in fields else None
        return None if name is None else (name, fields)
    name = ask.text(node, where)
    if name is None:
        return None
    for key, example in required.items():
        ask.faults.note(node, where, f"{quoted(name)} has no {key}", f"write {{name: ..., {example}}}")
    return name, {}


def read_canvas(ask: Asker, node: Node, where: str) -> Canvas | None:
    """Return one canvas."""
    named = named_fields(ask, node, where, ("place", "size"))
    if named is None:
        return None
    name, fields = named
    return Canvas(
        name=name,
        place=optional(ask, fields, where, "place", read_place),
        size=optional(ask, fields, where, "size", read_size),
    )


def read_paint(ask: Asker, node: Node, where: str) -> Paint | None:
    """Return one paint of the palette."""
    named = named_fields(ask, node, where, ("pigment", "dries"))
    if named is None:
        return None
    name, fields = named
    return Paint(
        name=name,
        pigment=optional(ask, fields, where, "pigment", Asker.text),
        dries_days=optional(ask, fields, where, "dries", read_measured_days),
    )


def read_mixture(ask: Asker, node: Node, where: str, paints: Collection[str]) -> Mixture | None:
    """Return one mixture; each of its paints is one of `paints`, the names on the palette."""
    named = named_fields(ask, node, where, ("oil",), {"parts": "parts: {a paint: 2, another paint: 1}"})
    if named is None or "parts" not in named[1]:
        return None
    name, fields = named
    place = inside(where, "parts")
    parts = read_parts(ask, fields["parts"], place)
    for paint, _ in parts:
        if paint not in paints:
            meant = did_you_mean(paint, paints) or "name it under palette"
            ask.faults.note(fields["parts"], place, f"the palette has no {quoted(paint)}", meant)
    return Mixture(name=name, parts=parts, oil=optional(ask, fields, where, "oil", _read_oil))


def _read_oil(ask: Asker, node: Node, where: str) -> str | None:
    return read_one_of(ask, node, where, ("lean", "middle", "fat"))


def read_after(ask: Asker, node: Node, where: str) -> After:
    """Return what comes after the last stroke."""
    fields = ask.fields(node, where, {}, ("drying", "framing", "transport"))

    def count(key: str, *, working: bool) -> int | None:
        value_node = fields.get(key)
        return None if value_node is None else read_days(ask, value_node, inside(where, key), working=working)

    return After(
        drying_days=count("drying", working=False),
        framing_working_days=count("framing", working=True),
        transport_working_days=count("transport", working=True),
    )
