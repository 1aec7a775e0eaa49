"""What a glance takes in of a page at 80 x 24: a word in block letters, a sentence, at most 60 words, four keys."""

import re
from typing import Final

from coach.screens.chips import MOST as MOST_CHIPS
from coach.screens.page import MOST_WORDS
from tests.pages import Shown, Stop

MOST_SENTENCE: Final = 14
LETTERS: Final = frozenset(" ▀▄█")
CAUTION: Final = re.compile(r"(Oily rags|Take care|Caution): .*|And \d+ more\.")
NOTICE_LINES: Final = 3
FULL_LINE: Final = 60
"""From so many cells on a sentence may go on in the next line."""

LEAST_LETTER_ROWS, MOST_INDENT = 3, 2
"""Block letters stand at least so many rows tall, and begin at the left; a curve does not."""


def words(text: str) -> list[str]:
    return [word for word in text.split() if any(map(str.isalnum, word))]


def read_at_a_glance(stop: Stop, text: str) -> list[str]:
    """Return the lines of a page without its list, its keys and what is typed."""
    lines = text.split("\n")
    first = next((no for no, line in enumerate(lines) if stop.listed_from and stop.listed_from in line), len(lines))
    typed = [no for no, line in enumerate(lines) if line.startswith(" │")]
    return [line for no, line in enumerate(lines[:-1]) if no < first and no not in typed]


def words_in_letters(lines: list[str]) -> int:
    rows = "".join("b" if line.strip() and set(line) <= LETTERS else " " for line in lines)
    groups = [lines[found.start() : found.end()] for found in re.finditer(f"b{{{LEAST_LETTER_ROWS},}}", rows)]
    return sum(min(len(row) - len(row.lstrip()) for row in group) <= MOST_INDENT for group in groups)


def sentences(lines: list[str]) -> list[str]:
    """Return the sentences of a page below its word; a caution is not shortened, and what waits is counted."""
    found, begun = [], ""
    word = next((no for no, line in enumerate(lines) if line.strip() and set(line) <= LETTERS), 0)
    for line in lines[word + 1 :]:
        text = " ".join(line.split())
        begun = f"{begun} {text}".strip() if begun and text else text
        *ended, rest = re.split(r"(?<=[a-z0-9)][.?])(?:\s+|$)", begun)
        found += ended
        begun = rest if len(line) > FULL_LINE else ""
    return re.split(r"(?<=\?)", CAUTION.sub("", " ".join(found)))


def too_much(stop: Stop, shown: Shown) -> list[str]:
    """Return in what a page asks more than a glance."""
    lines = read_at_a_glance(stop, shown.text)
    keys = shown.text.split("\n")[-1]
    below = lines[-NOTICE_LINES:] if stop.words_in_letters > 1 else lines  # two columns of the Easel are no sentence
    said = words(" ".join([*lines, keys]))
    told = {
        f"{words_in_letters(lines)} words in letters": words_in_letters(lines) > stop.words_in_letters,
        f"{len(said)} words": len(said) > MOST_WORDS + stop.own_words,
        f"{shown.chips} chips": shown.chips > MOST_CHIPS,
        f"sentences: {sentences(below)}": any(len(words(one)) > MOST_SENTENCE for one in sentences(below)),
    }
    return [what for what, is_so in told.items() if is_so]
