"""Reading the words of a command."""

import argparse
from typing import NoReturn

from coach.errors import UsageError


class _Parser(argparse.ArgumentParser):
    """Says what is wrong with the words of a command the way everything else is said."""

    def error(self, message: str) -> NoReturn:
        raise UsageError(f"{self.prog}: {message}")


def parser_of(name: str, what: str) -> argparse.ArgumentParser:
    """Return the parser of a command; its help says `what`."""
    return _Parser(prog=f"coach {name}".strip(), description=what)
