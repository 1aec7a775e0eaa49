"""A chance in words and in percent."""

import datetime as dt

import pytest

from coach.forecast.sentences import chance_percent, chance_words, due_sentence, range_words
from coach.text import counted

DUE = dt.date(2027, 5, 1)


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (1.0, "as good as certain"),
        (0.98, "very likely"),
        (0.90, "very likely"),
        (0.83, "likely"),
        (0.66, "likely"),
        (0.5, "as likely as not"),
        (0.33, "as likely as not"),
        (0.2, "unlikely"),
        (0.05, "very unlikely"),
        (0.0, "as good as impossible"),
    ],
)
def test_words_change_at_the_bounds_of_the_published_scale(chance: float, words: str) -> None:
    """Likelihood scale of the IPCC guidance note of 2010 (from memory)."""
    assert chance_words(chance) == words


@pytest.mark.parametrize(
    ("chance", "percent"),
    [(1.0, "more than 99 %"), (0.99, "99 %"), (0.834, "83 %"), (0.01, "1 %"), (0.009, "less than 1 %")],
)
def test_no_chance_is_called_nothing_or_everything(chance: float, percent: str) -> None:
    assert chance_percent(chance) == percent


def test_the_headline_says_whether_the_due_day_holds() -> None:
    assert due_sentence(DUE, 0.83, DUE) == "2027-05-01 is likely to hold (83 %)."
    assert due_sentence(DUE, None, None).startswith("2027-05-01 does not hold: delivered not within ten years")


def test_days_and_ranges_are_counted_in_words() -> None:
    assert [counted(1, "day"), counted(2, "day")] == ["1 day", "2 days"]
    assert [range_words(9, 9), range_words(0.75, 1), range_words(4, 8)] == ["9 d", "0.75 to 1 d", "4 to 8 d"]
