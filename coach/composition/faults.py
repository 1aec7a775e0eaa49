"""What can be wrong with a photo, a box in it or a size."""

from coach.errors import CoachError


class CompositionError(CoachError):
    """The photo, a box in it, a canvas or a grid cannot be as stated."""


class CompositionUsageError(CompositionError):
    """A size, a head or a box was written in a way that cannot be read."""

    exit_code = 2
