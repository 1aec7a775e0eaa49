"""The letters of a picture: which font has the signs of a text, and what stands for a sign that none has."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

_NO_SIGN: Final = "\U0010fffe"
"""A code point that is no character: a font draws it as it draws whatever it does not have."""

STAND_IN: Final = "?"
"""Stands for a sign that no font has."""


class Lettering:
    """The fonts there are; each text is written in the one that has most of its signs."""

    def __init__(self, fonts: "Sequence[FreeTypeFont]") -> None:
        """Write in these fonts, one at least; of equals in the first."""
        self._fonts = fonts
        self._known: dict[tuple[int, str], bool] = {}

    def written(self, text: str, size_px: float) -> "tuple[str, FreeTypeFont]":
        """Return a text as it can be written, and the font to write it in."""
        place = max(range(len(self._fonts)), key=lambda no: sum(self._has(no, sign) for sign in text))
        signs = (sign if self._has(place, sign) else STAND_IN for sign in text)
        return "".join(signs), self._fonts[place].font_variant(size=size_px)

    def missing(self, texts: Iterable[str]) -> list[str]:
        """Return the texts of which a sign is missing."""
        return [text for text in texts if self.written(text, 10)[0] != text]

    def _has(self, place: int, sign: str) -> bool:
        key = (place, sign)
        if key not in self._known:
            font = self._fonts[place]
            drawn, none = font.getmask(sign), font.getmask(_NO_SIGN)
            is_other = drawn.size != none.size or bytes(drawn) != bytes(none)
            self._known[key] = sign.isspace() or sign == STAND_IN or is_other
        return self._known[key]
