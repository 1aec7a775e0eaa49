"""One press, one turn: which go-on keys count, so that a held key or a bouncing pedal paints nothing."""

from typing import Final, NamedTuple

QUIET_MS: Final = 1500
"""After two keys in a row that did not count, so much quiet must come before one that does. Source: ours."""

_HELD_FROM: Final = 2


class GoOnKeys(NamedTuple):
    """The go-on keys so far.

    Attributes:
        last_ms: When the last one came, whether it counted or not; None before the first.
        refused: How many in a row did not count.
    """

    last_ms: int | None = None
    refused: int = 0

    def pressed(self, at_ms: int, quiet_ms: int) -> "GoOnKeys":
        """Return the keys with one more; it counts where none is refused then.

        Args:
            at_ms: When it came, by a clock that only goes forward.
            quiet_ms: The quiet that must come before a key that counts; 0 lets every key count.
        """
        needed_ms = max(QUIET_MS, quiet_ms) if self.refused >= _HELD_FROM else quiet_ms
        counts = quiet_ms <= 0 or self.last_ms is None or at_ms - self.last_ms >= needed_ms
        return GoOnKeys(at_ms, 0 if counts else self.refused + 1)
