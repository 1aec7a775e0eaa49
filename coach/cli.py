"""The command line: finds the command, turns an error into a sentence and an exit status."""

import gc
import io
import sys
from collections.abc import Sequence
from importlib import import_module

from coach.commands.names import COMMANDS
from coach.errors import CoachError
from coach.text import sanitized


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
    except BrokenPipeError:
        sys.stderr.close()
        return 0
    except OSError as error:
        _say(f"the system refuses: {error.strerror or error}")
        return 1
    return status


def _run(words: list[str]) -> int:
    name, rest = (words[0], words[1:]) if words and words[0] in COMMANDS else ("easel", words)
    # Only the command that is asked for is loaded, so that the easel stands at once.
    status: int = import_module(f"coach.commands.{name}").run(rest)
    return status


def _say(sentences: str) -> None:
    """Write to standard error; whatever the words came from, they steer no terminal."""
    sys.stderr.writelines(f"{sanitized(line)}\n" for line in sentences.split("\n"))
