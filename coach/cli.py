"""The command line: finds the command, turns an error into a sentence and an exit status."""

import argparse
import gc
import io
import sys
from collections.abc import Sequence
from difflib import get_close_matches
from importlib import import_module
from typing import Final, NoReturn

from coach.commands.plan_argument import plan_path
from coach.errors import CoachError, UsageError

_EASEL: Final = "easel"
_OF_ALL: Final = ("-h", "--help", "--version")

COMMANDS: Final = {
    _EASEL: "stand open beside the easel; `coach PLAN` does the same",
    "new": "begin a new commission: some questions, then the easel",
    "check": "say everything that is wrong with a plan; --keys lists all that a plan may hold",
    "order": "the order of work, turn by turn, and how evenly the lead is shared",
    "log": "what was painted, whether it was fair, and which hours were kept",
    "forecast": "whether the day of delivery holds, why, and what would help",
    "compose": "which canvas suits a photo, with the best crop and the transfer grid",
    "shapes": "the photo taken apart into the shapes a painter would lay in: values, areas, edges",
    "compare": "whether two canvases agree, by two photos in which they change places",
    "wall": "the plan for the wall: a page to print, with boxes to tick",
    "prepare": "what to lay out before the first stroke: paint, tubes, piles, cautions",
}
"""Each is a module of `coach.commands` with `add_arguments` and `run`, and a line of the help."""


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with the words of a command the way everything else is said."""

    def error(self, message: str) -> NoReturn:
        raise UsageError(f"{self.prog}: {message}")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command and return its exit status: 0 fine, 1 plan or data has a problem, 2 wrong usage."""
    if arguments is None:
        gc.disable()  # nothing made while a command runs is garbage; the easel turns it on behind its first screen
    words = list(sys.argv[1:] if arguments is None else arguments)
    sys.stdout, sys.stderr = sys.stdout or io.StringIO(), sys.stderr or io.StringIO()  # None where they are closed
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    try:
        status = _run(words)
        sys.stdout.flush()
    except CoachError as error:
        _say(str(error))
        return error.exit_code
    except KeyboardInterrupt:
        _say("stopped")
        return 130
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except OSError as error:
        _say(f"the system refuses: {error.strerror or error}")
        return 1
    return status


def _run(words: list[str]) -> int:
    words = _with_command(words)
    parser = _Parser(
        prog="coach",
        usage="coach [PLAN] | coach COMMAND ...",
        description="A coach beside the easel for matching oil portraits painted from one photograph.",
        epilog="`coach COMMAND --help` says what a command takes. `coach --demo` lets you try it with a plan of ours.",
    )
    parser.add_argument("--version", action="version", version=_version() if "--version" in words else "")
    commands = parser.add_subparsers(title="commands", metavar="COMMAND", prog="coach")
    for name, what in COMMANDS.items():
        own = commands.add_parser(name, help=what, description=f"{what[0].upper()}{what[1:]}.")
        if words[0] == name:  # only the command that is asked for is loaded, so that the easel stands at once
            command = import_module(f"coach.commands.{name}")
            command.add_arguments(own)
            own.set_defaults(run=command.run)
    asked = parser.parse_args(words)
    status: int = asked.run(asked)
    return status


def _with_command(words: list[str]) -> list[str]:
    """Return the words with their command in front: a plan, an option of the easel or nothing at all open the easel.

    Raises:
        UsageError: The first word names no file, and a command is spelt nearly so.
    """
    first = words[0] if words else ""
    if first in COMMANDS or first in _OF_ALL:
        return words
    alike = get_close_matches(first, COMMANDS, n=1)
    if alike and not plan_path(first).exists():
        raise UsageError(f"there is no command “{first}” and no plan of that name; did you mean coach {alike[0]}?")
    return [_EASEL, *words]


def _version() -> str:
    from importlib.metadata import PackageNotFoundError, version  # noqa: PLC0415  loaded where it is asked for

    try:
        return f"coach {version('portrait-coach')}"
    except PackageNotFoundError:
        return "coach, from a folder that is not installed"


def _say(sentences: str) -> None:
    """Write to standard error; whatever the words came from, they steer no terminal."""
    from coach.text import sanitized  # noqa: PLC0415  it measures cells, which the help need not wait for

    sys.stderr.writelines(f"{sanitized(line)}\n" for line in sentences.split("\n"))
