"""The one root of every error that a person can act on."""


class CoachError(Exception):
    """Something the painter can put right, said in one plain sentence.

    Attributes:
        what: The sentence; plain text, never markup.
        where: File, line or key it is about, or None.
        exit_code: Status with which a command ends: 1 data or plan, 2 wrong usage.
    """

    exit_code = 1

    def __init__(self, what: str, *, where: str | None = None) -> None:
        """Keep the sentence and its place."""
        super().__init__(what)
        self.what = what
        self.where = where

    def __str__(self) -> str:
        """Return the sentence, with its place in front where there is one."""
        return f"{self.where}: {self.what}" if self.where else self.what


class UsageError(CoachError):
    """The command was called in a way it does not know."""

    exit_code = 2
