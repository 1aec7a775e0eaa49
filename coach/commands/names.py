"""The names of the commands that print and exit."""

from typing import Final

COMMANDS: Final = ("check", "order", "log", "forecast", "compose", "prepare")
"""Each is a module of `coach.commands`; anything else opens the easel."""
