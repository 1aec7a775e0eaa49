"""Answers that name things: sitters, the commission, the photo, and words from a list."""

import re
from collections.abc import Sequence
from typing import Final

from yaml.nodes import Node

from coach.composition.proposal.answers import MOST_SITTERS, Answers
from coach.composition.proposal.feature_table import FEATURE_NAMED, FINENESSES, USUAL_FEATURES
from coach.composition.proposal.palette_table import PALETTE_NAMED
from coach.composition.proposal.typed_text import AnswerFault, cleaned, read_typed
from coach.plan.commission import RETURN_TO
from coach.plan.node_reading import Asker
from coach.plan.photo_names import MOST_PHOTO_NAME, is_plain_name
from coach.plan.problems import quoted
from coach.plan.value_reading import read_one_of
from coach.text import sanitized

MOST_NAME: Final = 40
"""Most characters of a name of a sitter or a canvas."""

MOST_LINE: Final = 1000
"""Most characters of an answer."""

_MOST_TITLE: Final = 300
_AND: Final = re.compile(r",|\band\b")


def read_sitters(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take one sitter, or several parted by commas or "and"."""
    line = cleaned(text, most=MOST_LINE)
    if isinstance(line, AnswerFault):
        return line
    names = entries_of(line, _AND)
    if not names:
        return AnswerFault("nobody is named; write a name or a word such as elder")
    if len(names) > MOST_SITTERS:
        return AnswerFault(f"{len(names)} sitters are named; name at most {MOST_SITTERS}")
    return name_fault(names) or _return_fault(names) or answers._replace(sitters=tuple(names))


def read_title(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the name of the commission; the name that it has by its sitters follows them."""
    title = cleaned(text, most=_MOST_TITLE)
    if isinstance(title, AnswerFault):
        return title
    by_sitters = answers._replace(title="").commission
    return answers._replace(title="" if title == by_sitters else title)


def read_photo(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the name of the photo's file as it is typed; `none` where there is none yet."""
    name = cleaned(text, most=MOST_PHOTO_NAME)
    if isinstance(name, AnswerFault):
        return name
    if name != " ".join(text.split()):
        return AnswerFault(f"{quoted(name)} holds a character that cannot be shown; rename the file first")
    if not is_plain_name(name):
        return AnswerFault(f"{quoted(name)} is not the plain name of a file; put the photo beside the plan: sitter.jpg")
    return answers._replace(photo=None if name.lower() == "none" else name)


def read_palette(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the name of a limited palette."""
    name = _one_of(text, tuple(PALETTE_NAMED))
    return name if isinstance(name, AnswerFault) else answers._replace(palette=name)


def read_features(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take the features in the order in which they are to be painted; `all` and `usual` stand for several."""
    several = {"all": tuple(FEATURE_NAMED), "usual": USUAL_FEATURES}
    names: list[str] = []
    for entry in entries_of(sanitized(text), _AND):
        name = entry.lower() if entry.lower() in several else _one_of(entry, tuple(FEATURE_NAMED))
        if isinstance(name, AnswerFault):
            return name
        names += several.get(name, (name,))
    if not names:
        return AnswerFault("no feature is named; write usual, all, or some of: " + ", ".join(FEATURE_NAMED))
    return answers._replace(features=tuple(dict.fromkeys(names)))


def read_fineness(text: str, answers: Answers) -> Answers | AnswerFault:
    """Take coarse, middle or fine."""
    name = _one_of(text, FINENESSES)
    return name if isinstance(name, AnswerFault) else answers._replace(fineness=name)


def entries_of(line: str, parted_by: re.Pattern[str]) -> list[str]:
    """Return what stands between the marks that part a list, without empty entries."""
    return [entry for part in parted_by.split(line) if (entry := " ".join(part.split()))]


def name_fault(names: Sequence[str]) -> AnswerFault | None:
    """Return what is wrong with names that must differ, capitals aside; None where nothing is."""
    long = next((name for name in names if len(name) > MOST_NAME), None)
    if long:
        return AnswerFault(f"{quoted(long)} has {len(long)} characters; use at most {MOST_NAME}")
    twice = named_twice(names)
    return AnswerFault(f"the name {quoted(twice)} stands twice; give each its own name") if twice else None


def named_twice(names: Sequence[str]) -> str:
    """Return the first name that stood before, capitals aside; empty where all differ."""
    seen: set[str] = set()
    for name in names:
        if name.casefold() in seen:
            return name
        seen.add(name.casefold())
    return ""


def _one_of(text: str, words: tuple[str, ...]) -> str | AnswerFault:
    def read(ask: Asker, node: Node, where: str) -> str | None:
        return read_one_of(ask, node, where, words)

    return read_typed(read, text)


def _return_fault(names: Sequence[str]) -> AnswerFault | None:
    name = next((name for name in names if f"{name} ".casefold().startswith(RETURN_TO)), None)
    if name is None:
        return None
    return AnswerFault(f"{quoted(name)} would read as a pass of corrections; name the sitter in another way")
