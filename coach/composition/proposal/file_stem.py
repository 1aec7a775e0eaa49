"""A name for the file of a new commission."""

import unicodedata
from typing import Final

_MOST_STEM: Final = 60
_NO_NAME: Final = "commission"


def file_stem(name: str) -> str:
    """Return a name for a file, without its ending: letters, digits and hyphens only, at least one.

    Args:
        name: Any text; what is neither letter nor digit becomes a hyphen between words.
    """
    composed = unicodedata.normalize("NFC", name)
    words = "".join(letter if letter.isalpha() or letter.isdecimal() else " " for letter in composed).split()
    return "-".join(words)[:_MOST_STEM].strip("-") or _NO_NAME
