"""The fonts of this computer, for names that are not plain English letters."""

from collections.abc import Iterable
from contextlib import suppress
from typing import TYPE_CHECKING, Final, cast

from PIL import ImageFont

from coach.drawing.lettering import Lettering

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

_FILES: Final = (
    "DejaVuSans.ttf",
    "NotoSans-Regular.ttf",
    "LiberationSans-Regular.ttf",
    "arial.ttf",
    "Arial.ttf",
    "NotoSansCJK-Regular.ttc",
    "NotoSansCJKsc-Regular.otf",
    "wqy-zenhei.ttc",
    "DroidSansFallbackFull.ttf",
    "unifont.otf",
    "msyh.ttc",
    "YuGothM.ttc",
    "msgothic.ttc",
    "malgun.ttf",
    "PingFang.ttc",
    "Hiragino Sans GB.ttc",
    "AppleSDGothicNeo.ttc",
    "Arial Unicode.ttf",
)
"""Files of fonts that systems bring along, those for European letters first. Source: from memory."""


def lettering(texts: Iterable[str]) -> Lettering:
    """Return the letters to write texts in: the image library's own, and where they do not do those of the system."""
    found = [cast("FreeTypeFont", ImageFont.load_default(10))]
    own = Lettering(found)
    if not own.missing(texts):
        return own
    for name in _FILES:
        with suppress(OSError):
            found.append(ImageFont.truetype(name, 10))
    return Lettering(found)
