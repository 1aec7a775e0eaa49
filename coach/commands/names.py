"""The names of the commands."""

from typing import Final

PRINTING: Final = ("check", "order", "log", "forecast", "compose", "prepare")
"""Those that print and exit."""

COMMANDS: Final = (*PRINTING, "new")
"""Each is a module of `coach.commands`; anything else opens the easel."""
