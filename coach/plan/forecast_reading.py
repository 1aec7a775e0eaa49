"""How delivery is foretold: chance, room, medium, film, and the journals that the pace is learned from."""

from typing import Final

from yaml.nodes import Node

from coach.plan import units
from coach.plan.commission import Forecast
from coach.plan.node_reading import Asker
from coach.plan.part_reading import optional
from coach.plan.problems import quoted
from coach.plan.value_reading import read_one_of, read_whole_number

_KEYS: Final = ("spread", "seed", "room", "medium", "film")
_ROOM_C: Final = (5.0, 40.0)
_FILM_UM: Final = (5.0, 3000.0)
_MOST_JOURNALS: Final = 20
_JOURNAL: Final = ".journal"


def read_forecast(ask: Asker, node: Node, where: str) -> Forecast:
    """Return how the day of delivery is foretold, the defaults where the plan states none."""
    fields = ask.fields(node, where, {}, _KEYS)
    usual = Forecast()
    return Forecast(
        is_spread=optional(ask, fields, where, "spread", _read_spread) != "none",
        seed=optional(ask, fields, where, "seed", _read_seed) or usual.seed,
        room_c=optional(ask, fields, where, "room", _read_room_c) or usual.room_c,
        medium=optional(ask, fields, where, "medium", _read_medium) or usual.medium,
        film_um=optional(ask, fields, where, "film", _read_film_um) or usual.film_um,
    )


def _read_spread(ask: Asker, node: Node, where: str) -> str | None:
    return read_one_of(ask, node, where, ("learned", "none"))


def _read_seed(ask: Asker, node: Node, where: str) -> int | None:
    return read_whole_number(ask, node, where, least=0, most=2**31 - 1)


def _read_medium(ask: Asker, node: Node, where: str) -> str | None:
    return read_one_of(ask, node, where, ("oil", "alkyd"))


def _read_room_c(ask: Asker, node: Node, where: str) -> float | None:
    text = ask.text(node, where)
    if text is None:
        return None
    low, high = _ROOM_C
    room_c = units.celsius(text)
    if room_c is None:
        meant = "write degrees Celsius, such as 18 C"
        ask.faults.note(node, where, f"{quoted(text)} is not a temperature", meant)
        return None
    if not low <= room_c <= high:
        what = f"{quoted(text)} is not between {low:g} and {high:g} C, where drying can be foretold"
        ask.faults.note(node, where, what, "write the warmth of the room it dries in, such as 18 C")
        return None
    return room_c


def _read_film_um(ask: Asker, node: Node, where: str) -> float | None:
    text = ask.text(node, where)
    if text is None:
        return None
    low, high = _FILM_UM
    film_um = units.micrometres(text)
    if film_um is None:
        number = units.number(text)
        meant = f"write {text} um" if number and low <= number <= high else "write micrometres, such as 100 um"
        ask.faults.note(node, where, f"{quoted(text)} is not a thickness", meant)
        return None
    if not low <= film_um <= high:
        what = f"{quoted(text)} is not between {low:g} and {high:g} um"
        ask.faults.note(node, where, what, "write the wet thickness of one layer, such as 100 um")
        return None
    return film_um


def read_learn_from(ask: Asker, node: Node, where: str) -> tuple[str, ...]:
    """Return the names of journals of earlier commissions, which lie beside the plan."""
    names: dict[str, str] = {}
    for number, item in enumerate(ask.items(node, where, most=_MOST_JOURNALS), start=1):
        place = f"{where}[{number}]"
        name = _read_journal_name(ask, item, place)
        if name is None:
            continue
        if name.casefold() in names:
            ask.faults.note(item, place, f"the name {quoted(name)} stands twice", "keep one of them")
        names.setdefault(name.casefold(), name)
    return tuple(names.values())


def _read_journal_name(ask: Asker, node: Node, where: str) -> str | None:
    name = ask.text(node, where, most=200)
    if name is None:
        return None
    if any(mark in name for mark in "/\\:") or name.startswith("."):
        what = f"{quoted(name)} is not the plain name of a journal beside the plan"
        ask.faults.note(node, where, what, "move the journal beside the plan and write evening-study.journal")
        return None
    if not name.endswith(_JOURNAL):
        ask.faults.note(node, where, f"{quoted(name)} does not end in {_JOURNAL}", f"write {name}{_JOURNAL}")
        return None
    return name
