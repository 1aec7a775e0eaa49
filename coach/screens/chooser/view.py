"""The chooser as a page: the chosen commission in one word and one sentence, and all of them as bars. Pure."""

import datetime as dt
from collections.abc import Sequence
from typing import Final, NamedTuple

from coach.forecast.sentences import HOLDS_FROM, PERHAPS_FROM, chance_in_ten
from coach.screens.chips import HELP, chip
from coach.screens.page import LARGE_COLUMNS, Bar, Page
from coach.text import cut, first_shown

_SHOWN_AT_ONCE: Final = 5
_MOST_NAME_CELLS: Final = 28


class CommissionCard(NamedTuple):
    """What is known of a commission.

    Attributes:
        name: Its name, or that of its file.
        due: Its due day, or None.
        done_frac: How much of it is painted, 0 to 1; None while it is not known.
        last_painted: The day it was last painted on; None where it never was.
        chance: Chance of the due day; None where it is not known, or there is none.
        fault: Why it cannot be read; empty where it can.
    """

    name: str
    due: dt.date | None = None
    done_frac: float | None = None
    last_painted: dt.date | None = None
    chance: float | None = None
    fault: str = ""


def chooser_page(cards: Sequence[CommissionCard], chosen: int, columns: int, lines: int) -> Page:
    """Return the page of some commissions, one of them chosen.

    Args:
        cards: Every commission, one at least.
        chosen: Number of the chosen one, from 0.
        columns: Cells of a line; a wide window tells the due day of each.
        lines: Lines of the window; a tall one shows more of them.
    """
    card = cards[chosen]
    most = max(1, min(_SHOWN_AT_ONCE, lines - 8), lines - 20)
    first = first_shown(chosen, len(cards), most)
    bars = [
        Bar(
            f"{'→' if number == chosen else ' '} {_short(one.name)}",
            one.done_frac,
            _bar_says(one, columns),
            action=f"app.row({number})",
            is_chosen=number == chosen,
        )
        for number, one in enumerate(cards[first : first + most], start=first)
    ]
    word = _word(card)
    return Page(
        moment="Which commission?",
        commission="",
        word=word,
        plain=f"{_short(card.name)}: {word}",
        sentence=_sentence(card),
        bars=tuple(bars),
        chips=(chip("chooser.open"), chip("chooser.down", "next"), chip("chooser.add"), HELP),
    )


def nothing_page(chosen: int) -> Page:
    """Return the page of a folder without a commission: a new one, or the demo."""
    offers = ("begin a new commission", "try ours: The orchard keeper")
    bars = [
        Bar(
            f"{'→' if number == chosen else ' '} {text}",
            None,
            "",
            action=f"app.row({number})",
            is_chosen=number == chosen,
        )
        for number, text in enumerate(offers)
    ]
    return Page(
        moment="There is no commission in this folder yet.",
        commission="",
        word="begin",
        plain="begin",
        sentence="Answer some questions, or try a commission of ours first.",
        bars=tuple(bars),
        chips=(chip("chooser.open", "take"), chip("chooser.down", "next"), chip("chooser.quit"), HELP),
    )


def _short(name: str) -> str:
    return cut(" ".join(name.split()[:4]), _MOST_NAME_CELLS)


def _word(card: CommissionCard) -> str:
    """Return whether the day of a commission holds, else how much of it is painted."""
    if card.fault:
        return "faults"
    if card.done_frac is None:
        return "reading"
    if card.done_frac >= 1:
        return "painted"
    if card.chance is None:
        return f"{card.done_frac:.0%}"
    if card.chance >= HOLDS_FROM:
        return "in time"
    return "perhaps" if card.chance >= PERHAPS_FROM else "late"


def _sentence(card: CommissionCard) -> str:
    if card.fault:
        return "This plan has faults; Enter says which."
    if card.done_frac is None:
        return "The plan and its journal are being read."
    last = card.last_painted
    painted = "nothing painted yet" if last is None else f"last painted {last.day} {last:%b}"
    said = "; ".join(part for part in (_due(card), painted) if part)
    return f"{said[:1].upper()}{said[1:]}."


def _due(card: CommissionCard) -> str:
    if card.due is None:
        return ""
    chance = "" if card.chance is None else f", {chance_in_ten(card.chance).lower()}"
    return f"due {card.due.day} {card.due:%b %Y}{chance}"


def _bar_says(card: CommissionCard, columns: int) -> str:
    if card.fault:
        return "faults"
    if card.done_frac is None:
        return ""
    due = _due(card) if columns >= LARGE_COLUMNS else ""
    return f"{card.done_frac:>4.0%}  {due}".rstrip()
