"""YAML text into a tree of nodes that know their place, or one plain sentence why it cannot be; and texts into YAML."""

import re
from collections.abc import Iterable, Mapping
from typing import Final

import yaml
from yaml.nodes import Node

from coach.plan.problems import PlanError, Problem, quoted
from coach.text import sanitized

_Loader: type[yaml.BaseLoader | yaml.CBaseLoader] = yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader
"""Composes nodes without guessing what a text may mean: each is read by the rule of its place."""
_FORBIDDEN: Final = re.compile(
    r"(?!\A\ufeff)[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)
"""What may not stand in YAML text.

Source:
    YAML 1.1 section 5.1, c-printable; a byte order mark (U+FEFF) is allowed only where a text begins.
"""

_TOO_DEEP: Final = ("brackets or indents nest too deep", "a plan needs no more than six levels")
_TAB: Final = ("a tab stands where spaces belong", "indent with spaces")
_QUOTES: Final = 'put the text in quotes: "..."'
_NO_FIT: Final = ("what stands here does not fit what stands before it", "indent neighbours alike; close every quote")
_OPEN_QUOTE: Final = ("a quotation mark is opened and never closed", "close it where the text ends")
_BAD_START: Final = ("a text cannot begin like this", _QUOTES)
_BAD_CODE: Final = ("a backslash in double quotes begins a code, and there is no such code", "write \\\\ for \\")
_SENTENCES: Final = (
    ("another document", "a second document begins here", "keep one plan in a file, without a line ---"),
    ("depth", *_TOO_DEEP),
    ("tab character", *_TAB),
    (r"'\t'", *_TAB),
    ("mapping values", "a colon stands where none belongs", f"indent neighbours alike, or {_QUOTES}"),
    ("entries are not", "a list cannot begin here", "begin each entry on its own line with `- `"),
    ("node content", *_BAD_START),
    ("start any token", *_BAD_START),
    ("alphabetic or numeric", *_BAD_START),
    ("undefined alias", *_BAD_START),
    ("line break", *_BAD_START),
    ("chomping", *_BAD_START),
    ("document start", *_NO_FIT),
    ("expected key", *_NO_FIT),
    ("'-' indicator", *_NO_FIT),
    ("block end", *_NO_FIT),
    ("or ']'", "a comma or a closing ] is missing before this", "write [first, second]"),
    ("or '}'", "a comma or a closing } is missing before this", "write {name: iris, minutes: 12}"),
    ("end of stream", *_OPEN_QUOTE),
    ("document indicator", *_OPEN_QUOTE),
    ("document separator", *_OPEN_QUOTE),
    ("expected ':'", "a colon and a space are missing after a key", "write key: value"),
    ("escape", *_BAD_CODE),
    ("decimal number", *_BAD_CODE),
)
"""A part of what the parsers say, what a painter is told instead, and a way out; the first that fits counts."""


def tree_of(text: str, file_name: str) -> Node:
    """Return the root node of the only document in `text`.

    Raises:
        PlanError: The text is empty, is not YAML, or holds more than one document.
    """
    _refuse_characters(text, file_name)
    try:
        root = yaml.compose(text, Loader=_Loader)
    except yaml.MarkedYAMLError as error:
        raise PlanError([_problem_of(error, text)], where=file_name) from error
    except RecursionError as error:
        raise PlanError([_problem(0, 0, *_TOO_DEEP)], where=file_name) from error
    except (ValueError, OverflowError) as error:  # the loader in pure Python lets these through
        what = "this is not YAML: a number or a character code in it is too large"
        raise PlanError(
            [_problem(0, 0, what, "delete the line that begins with % or the code after a backslash")], where=file_name
        ) from error
    if root is None or not root.value:
        what = "the plan is empty"
        raise PlanError([_problem(0, 0, what, "write at least canvases and passes")], where=file_name)
    return root


def _refuse_characters(text: str, file_name: str) -> None:
    """Look before the loaders do: they count the place of such a character in different ways."""
    found = _FORBIDDEN.search(text)
    if found is None:
        return
    before = text[: found.start()]
    line, column = before.count("\n") + 1, len(before) - before.rfind("\n")
    what = f"the invisible character U+{ord(found[0]):04X} has no place in a plan"
    raise PlanError([_problem(line, column, what, "delete it")], where=file_name)


def _problem_of(error: yaml.MarkedYAMLError, text: str) -> Problem:
    problem = error.problem or ""
    what, suggestion = next(
        ((what, suggestion) for part, what, suggestion in _SENTENCES if part in problem),
        (f"this is not YAML: {sanitized(problem)}", _QUOTES),
    )
    mark = error.context_mark if what == _OPEN_QUOTE[0] else error.problem_mark
    row, column = (mark.line, mark.column) if mark else (0, 0)
    line = "".join(text.splitlines()[row : row + 1])
    if "\t" in line[: len(line) - len(line.lstrip())]:
        what, suggestion = _TAB
    here = sanitized(line[column:]).strip()
    return _problem(row + 1, column + 1, f"{what}, at {quoted(here)}" if here else what, suggestion)


def _problem(line: int, column: int, what: str, suggestion: str) -> Problem:
    return Problem(line=line, column=column, where="", what=what, suggestion=suggestion)


_PLAIN: Final = re.compile(r"[^\W\d_](?:[\w/-]| (?! ))*(?<! )")
_WORDS_OF_YAML: Final = frozenset(("y", "n", "yes", "no", "on", "off", "true", "false", "null"))
_LONGEST_KEY: Final = 1000
"""YAML takes a longer key only after a question mark. Source: YAML 1.1 section 7.2.2 allows 1024 (from memory)."""


def scalar_text(text: str) -> str:
    """Return a text of one line as YAML that stands anywhere, in quotes only where it needs them.

    Source:
        What needs quotes is decided by PyYAML's emitter; letters and spaces are let through before it, for it is slow.
    """
    if _PLAIN.fullmatch(text) and text.isprintable() and text.lower() not in _WORDS_OF_YAML:
        return text
    written: str = yaml.dump(
        [text], Dumper=yaml.SafeDumper, default_flow_style=True, allow_unicode=True, width=float("inf")
    )
    return written.strip().removeprefix("[").removesuffix("]")


def key_text(text: str) -> str:
    """Return a text as a key of YAML."""
    written = scalar_text(text)
    return written if len(written) <= _LONGEST_KEY else f"? {written} "


def mapping_text(fields: Mapping[str, str]) -> str:
    """Return keys with their written values as a mapping on one line."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in fields.items()) + "}"


def list_text(entries: Iterable[str]) -> str:
    """Return written entries as a list on one line."""
    return "[" + ", ".join(entries) + "]"


def entry_text(fields: Mapping[str, str]) -> str:
    """Return an entry of a list on one line: just its name where nothing else is said of it."""
    return fields["name"] if len(fields) == 1 else mapping_text(fields)
