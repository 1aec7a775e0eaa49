"""How the values of the photo are fitted into what paint reaches."""

from typing import Final, NamedTuple

PAINT_REACH: Final = (2.0, 9.5)
"""The darkest and the lightest value that oil paint reaches, 0 black to 10 white (Munsell value).

Source: ultramarine at 1.86, bone black at 2.13 and lead white at 9.5, worked out by ASTM D1535 from the oil films
measured for Geldof et al., Heritage Science 6:17 (2018).
"""


class ValueRange(NamedTuple):
    """The value range of a commission, one for all canvases; in each pair the second is greater than the first.

    Attributes:
        photo: The values of the photo that are told apart, darkest and lightest, 0 to 10.
        paint: The values in which they are painted.
    """

    photo: tuple[float, float]
    paint: tuple[float, float]

    def paint_value(self, photo_value: float) -> float:
        """Return the value in which a value of the photo is painted; a darker one is never painted lighter."""
        (dark, light), (darkest, lightest) = self.photo, self.paint
        share = min(max((photo_value - dark) / (light - dark), 0.0), 1.0)
        return darkest + share * (lightest - darkest)
