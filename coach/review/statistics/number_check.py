"""Refusing numbers that no statistic can be made from."""

from collections.abc import Sequence

from coach.errors import CoachError

LARGEST = 1e100
"""Largest size a measurement may have: its square still fits a float (our own limit)."""


def check_finite(values: Sequence[float], *, where: str, at_least: int = 0) -> None:
    """Refuse too few values, or a value that is not a finite number.

    Args:
        values: Measurements, any unit.
        where: What the values are called, for the message.
        at_least: Smallest number of values that is enough.

    Raises:
        CoachError: Fewer values than asked; a value is no number, NaN, infinite or beyond LARGEST.
    """
    if len(values) < at_least:
        raise CoachError(f"{len(values)} values where at least {at_least} are needed", where=where)
    for value in values:
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise CoachError(f"{value!r} is not a number", where=where)
        if not abs(value) <= LARGEST:  # written this way round so that NaN is refused
            raise CoachError(f"{value!r} is not a usable number", where=where)


def check_positive(values: Sequence[float], *, where: str, at_least: int = 0) -> None:
    """Refuse what `check_finite` refuses, and values of zero or less.

    Args:
        values: Measurements, any unit.
        where: What the values are called, for the message.
        at_least: Smallest number of values that is enough.

    Raises:
        CoachError: As `check_finite`, or a value is not greater than 0.
    """
    check_finite(values, where=where, at_least=at_least)
    for value in values:
        if not value > 0:
            raise CoachError(f"{value!r} is not greater than 0", where=where)


def check_confidence(confidence_frac: float) -> None:
    """Refuse a confidence that is not strictly between 0 and 1.

    Args:
        confidence_frac: Confidence asked for, 0 to 1, both excluded.

    Raises:
        CoachError: The confidence is outside that range or NaN.
    """
    if not 0 < confidence_frac < 1:
        raise CoachError(f"a confidence of {confidence_frac!r}", where="confidence_frac")
