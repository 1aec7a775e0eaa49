"""Answers about the canvases: how many, their names and their places."""

import re
from collections.abc import Sequence
from typing import Final

from yaml.nodes import Node

from coach.composition.proposal.answers import Answers, NamedPlace, so_many_canvases, usual_places
from coach.composition.proposal.name_reading import MOST_LINE, entries_of, name_fault, named_twice
from coach.composition.proposal.typed_text import AnswerFault, cleaned, read_typed
from coach.plan.commission import MOST_CANVASES
from coach.plan.node_reading import Asker
from coach.plan.value_reading import read_place, read_whole_number

_COMMA: Final = re.compile(",")
_IN_BRACKETS: Final = re.compile(r"(.+?)\s*\(([^()]*)\)")
_SIDE: Final = re.compile(r"(.+?)\s+(left|right)", re.IGNORECASE)
_NUMBER: Final = re.compile(r"(.+?)\s+(\d{1,2})", re.ASCII)


def read_count(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take how many canvases there are; those that have a name keep it."""

    def read(ask: Asker, node: Node, where: str) -> int | None:
        return read_whole_number(ask, node, where, least=1, most=MOST_CANVASES)

    count = read_typed(read, text)
    if isinstance(count, AnswerFault):
        return AnswerFault(f"write how many canvases there are, 1 to {MOST_CANVASES}")
    if count == len(answers.canvases):
        return answers
    return answers._replace(canvases=so_many_canvases(answers.canvases, count))


def read_canvases(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the names of all canvases, each with its place or none: `Hall (left), School (right)` or `Hall, School`."""
    line = cleaned(text, most=MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    entries = entries_of(line, _COMMA)
    count = len(answers.canvases)
    if len(entries) != count:
        were = "1 canvas was" if count == 1 else f"{count} canvases were"
        return AnswerFault(f"{were} said and {len(entries)} named; name {count}, or go back and change the number")
    written = _names_and_places(entries)
    names = [name for name, _ in written]
    places = _places([place for _, place in written])
    if isinstance(places, AnswerFault):
        return places
    return name_fault(names) or answers._replace(canvases=tuple(map(NamedPlace, names, places)))


def _names_and_places(entries: Sequence[str]) -> list[tuple[str, str]]:
    """Part names from places, which are empty where none is written.

    A number at the end without brackets is a place only if all have one and the names still differ: it is part of
    the name in "Panel 1, Panel 2".
    """
    numbered = [found for entry in entries if (found := _NUMBER.fullmatch(entry))]
    if len(numbered) == len(entries) and not named_twice([found[1] for found in numbered]):
        return [(found[1], found[2]) for found in numbered]
    placed = [_IN_BRACKETS.fullmatch(entry) or _SIDE.fullmatch(entry) for entry in entries]
    return [(found[1], found[2]) if found else (entry, "") for entry, found in zip(entries, placed, strict=True)]


def _places(written: Sequence[str]) -> Sequence[str] | AnswerFault:
    if not any(written):
        return usual_places(len(written))
    if not all(written):
        return AnswerFault("some canvases have a place and some have none; give each one, or none")
    places: list[str] = []
    for text in written:
        place = read_typed(read_place, text)
        if isinstance(place, AnswerFault):
            return place
        places.append(place)
    twice = named_twice(places)
    return AnswerFault(f"two canvases stand in place {twice}; give each its own place") if twice else places
