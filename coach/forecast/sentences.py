"""The forecast in a painter's sentences."""

import datetime as dt
from typing import Final

_LIKELIHOODS: Final = (
    (0.99, "as good as certain"),
    (0.90, "very likely"),
    (0.66, "likely"),
    (0.33, "as likely as not"),
    (0.10, "unlikely"),
    (0.01, "very unlikely"),
)
"""From which chance on a word is used, the greatest first.

Source: the bounds of the likelihood scale of Mastrandrea et al., guidance note for authors of the IPCC Fifth
Assessment Report, 2010 (from memory); the words are partly ours.
"""


def chance_words(chance: float) -> str:
    """Return a chance between 0 and 1 in words: "very likely"."""
    return next((words for least, words in _LIKELIHOODS if chance >= least), "as good as impossible")


def chance_percent(chance: float) -> str:
    """Return a chance in whole percent: "83 %"; what is nearly sure either way is given no number."""
    if chance > 0.99:  # noqa: PLR2004  the last whole percent below all
        return "more than 99 %"
    return "less than 1 %" if chance < 0.01 else f"{chance * 100:.0f} %"  # noqa: PLR2004  the first above nothing


def due_sentence(due: dt.date | None, chance: float | None, delivered: dt.date | None) -> str:
    """Return whether the due day holds.

    Args:
        due: The due day, or None.
        chance: Its chance, or None in a forecast without chance.
        delivered: The day by which it is delivered with a chance of 80 %, or None where that is too far ahead.
    """
    when = "not within ten years" if delivered is None else f"on {delivered.isoformat()}"
    if due is None:
        foretold = "no day of delivery can be told" if delivered is None else f"delivered {when} with a chance of 80 %"
        return f"The plan states no due day; {foretold}."
    if chance is not None:
        return f"{due.isoformat()} is {chance_words(chance)} to hold ({chance_percent(chance)})."
    holds = delivered is not None and delivered <= due
    return f"{due.isoformat()} {'holds' if holds else 'does not hold'}: delivered {when} if all goes by the plan."


def range_words(low_days: float, high_days: float) -> str:
    """Return how long paint may take: "4 to 8 d", or "9 d" where both ends are the same."""
    low, high = (f"{days:.2g}" if days < 100 else f"{days:.0f}" for days in (low_days, high_days))  # noqa: PLR2004
    return f"{high} d" if low == high else f"{low} to {high} d"
