"""What is wrong with a plan: every fault with its place and a way out."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from coach.errors import CoachError

_MOST_COMPARED: Final = 500
"""Names that a mistyped one is compared with, the last ones: each costs some microseconds for each fault."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One fault in a plan's text.

    Attributes:
        line: Line in the file, from 1; 0 where the whole file is meant.
        column: Column in the line, from 1; 0 where the whole file is meant.
        where: Dotted place in the plan, such as `passes[2].passages[1].minutes`; may be empty.
        what: What is wrong, with the offending text.
        suggestion: What would be right; may be empty.
    """

    line: int
    column: int
    where: str
    what: str
    suggestion: str = ""

    def sentence(self, file_name: str) -> str:
        """Return the fault as one line of text that names the file, the place and a way out."""
        place = ":".join([file_name, *(str(n) for n in (self.line, self.column) if n)])
        said = f"{self.where}: {self.what}" if self.where else self.what
        return f"{place}: {said}; {self.suggestion}" if self.suggestion else f"{place}: {said}"


class PlanError(CoachError):
    """The plan cannot be used as it is written.

    Attributes:
        problems: Every fault that was found, in the order of the file.
    """

    def __init__(self, problems: Iterable[Problem], *, where: str) -> None:
        """Keep the faults and the name of the file they are in."""
        self.problems = tuple(sorted(problems, key=lambda problem: (problem.line, problem.column)))
        super().__init__("\n".join(problem.sentence(where) for problem in self.problems))


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return "did you mean NAME" for the nearest of `known`, or all of them, or "" where there are none."""
    from difflib import get_close_matches  # noqa: PLC0415  costs milliseconds that a sound plan never needs

    names = list(known)[-_MOST_COMPARED:]
    by_folded = {name.casefold(): name for name in names}
    near = get_close_matches(word.casefold(), by_folded, n=1)
    if near:
        return f"did you mean {quoted(by_folded[near[0]])}"
    few = 16
    return "write one of: " + ", ".join(map(shortened, names)) if 0 < len(names) <= few else ""


def quoted(text: str) -> str:
    """Return `text` in double quotes, cut to a length that fits in a sentence."""
    return f'"{shortened(text)}"'


def shortened(text: str) -> str:
    """Return `text` cut to a length that fits in a sentence."""
    most = 60
    return text if len(text) <= most else f"{text[: most - 1]}…"
