"""One press, one turn: which go-on keys count, so that a held key or a bouncing pedal paints nothing."""

from typing import Final, NamedTuple

from coach.journal.reading import Reading, passed_ms

QUIET_MS: Final = 1500
"""After two keys in a row that did not count, so much quiet must come before one that does. Source: ours."""

_HELD_FROM: Final = 2


class GoOnKeys(NamedTuple):
    """The go-on keys so far.

    Attributes:
        last: The clocks when the last one came, whether it counted or not; None before the first.
        refused: How many in a row did not count.
    """

    last: Reading | None = None
    refused: int = 0

    def pressed(self, at: Reading, quiet_ms: int) -> "GoOnKeys":
        """Return the keys with one more; it counts where none is refused then.

        Args:
            at: The clocks when it came.
            quiet_ms: The quiet that must come before a key that counts; 0 lets every key count.
        """
        needed_ms = max(QUIET_MS, quiet_ms) if self.refused >= _HELD_FROM else quiet_ms
        counts = quiet_ms <= 0 or self.last is None or passed_ms(self.last, at) >= needed_ms
        return GoOnKeys(at, 0 if counts else self.refused + 1)
