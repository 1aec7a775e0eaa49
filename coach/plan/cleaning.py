"""Text that is not ours, made harmless once, where it enters."""

from typing import Final

STAND_IN: Final = "\N{REPLACEMENT CHARACTER}"
"""What a character that could steer a terminal is replaced with."""

_LINE_SEPARATOR, _PARAGRAPH_SEPARATOR = 0x2028, 0x2029
_C0, _DEL_AND_C1 = range(0x20), range(0x7F, 0xA0)
_BIDIRECTIONAL_OVERRIDES = (*range(0x202A, 0x202F), *range(0x2066, 0x206A))
_SURROGATES = range(0xD800, 0xE000)

_REPLACED: Final = dict.fromkeys(
    (*_C0, *_DEL_AND_C1, _LINE_SEPARATOR, _PARAGRAPH_SEPARATOR, *_BIDIRECTIONAL_OVERRIDES, *_SURROGATES),
    STAND_IN,
) | dict.fromkeys(map(ord, "\t\n\r"), " ")


def harmless(text: str) -> str:
    """Return `text` on one line, without anything a terminal would obey.

    Tabs and line ends become spaces. Control characters (C0, DEL, C1), line and paragraph separators, the
    bidirectional overrides and lone surrogates become U+FFFD, so that it is seen that something stood there.

    Source:
        Control sets C0 and C1: ECMA-48. Bidirectional formatting characters: Unicode Standard Annex 9.
        (Titles from memory.)
    """
    return text if text.isalnum() else text.translate(_REPLACED)
