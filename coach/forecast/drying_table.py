"""Days to touch-dry by pigment, for a thin film near 20 degrees Celsius.

Source:
    Trade facts, section B3. The ranges are planning ranges of our own, drawn from the rows named by the marks; no
    single one is printed anywhere. Colour index names from memory. Marks: G a maker's present guide, L its older
    list as quoted in 2012, W an art web magazine of 1999, H Saitzyk, Art Hardware (1987/98), T swatch tests, N
    another maker's laboratory note.
"""

from typing import Final, NamedTuple


class DaysRange(NamedTuple):
    """Days from the fast end to the slow end; 0 or more, `high_days` not below `low_days`."""

    low_days: float
    high_days: float


class PigmentRow(NamedTuple):
    """A pigment of the table.

    Attributes:
        name: The usual name of the paint.
        indexes: Its colour index names.
        dries: Days to touch-dry.
        marks: Letters of the sources that have it; see the module.
        note: How far the sources agree.
    """

    name: str
    indexes: tuple[str, ...]
    dries: DaysRange
    marks: str
    note: str = ""


def _row(name: str, indexes: str, dries: tuple[float, float], marks: str, note: str = "") -> PigmentRow:
    return PigmentRow(name, tuple(indexes.split()), DaysRange(*dries), marks, note)


PIGMENTS: Final = (
    _row("lead white", "PW1", (1.5, 4), "GLWN", "sources agree"),
    _row("titanium white", "PW6", (4, 8), "GLWN", "sources differ"),
    _row("zinc white", "PW4", (4, 8), "GLWH"),
    _row("ivory black", "PBk9", (4, 9), "GLWHT"),
    _row("lamp black", "PBk6 PBk7", (5, 10), "GLWN"),
    _row("iron oxide black", "PBk11", (2, 5), "GLW"),
    _row("raw umber", "PBr7", (1, 3), "GLWHN", "sources agree"),
    _row("burnt umber", "PBr7", (1, 3), "GLWH", "sources agree"),
    _row("raw sienna", "PBr7", (1, 4), "GLWT"),
    _row("burnt sienna", "PBr7 PR102", (1, 5), "GLWT"),
    _row("yellow ochre", "PY43", (3, 7), "GLWT"),
    _row("iron oxide yellow", "PY42", (3, 6), "GLW"),
    _row("iron oxide red", "PR101 PR102", (3, 6), "GLW"),
    _row("cadmium yellow", "PY35 PY37", (4, 8), "GLWH", "sources differ"),
    _row("cadmium orange", "PO20", (4, 8), "GLWH", "sources differ"),
    _row("cadmium red", "PR108", (4, 8), "GLWN", "sources differ"),
    _row("lead antimonate yellow", "PY41", (2, 4), "W", "one source"),
    _row("arylide yellow", "PY1 PY3 PY74", (6, 12), "GLW", "sources agree"),
    _row("bismuth yellow", "PY184", (4, 6), "G", "one source"),
    _row("cobalt yellow", "PY40", (2, 3), "LWH"),
    _row("alizarin crimson", "PR83", (6, 12), "GLWH", "sources agree"),
    _row("quinacridone rose", "PV19 PR122", (6, 12), "GLN", "sources agree"),
    _row("pyrrole red", "PR254", (4, 6), "GL"),
    _row("perylene", "PR179 PR149", (4, 6), "GL"),
    _row("vermilion", "PR106", (1, 8), "HT", "sources contradict each other"),
    _row("ultramarine blue", "PB29", (2, 7), "GLWTN", "sources differ"),
    _row("cobalt blue", "PB28", (2, 5), "GLWHN"),
    _row("cerulean", "PB35 PB36", (3, 8), "LW"),
    _row("Prussian blue", "PB27", (2, 3), "GW", "sources agree"),
    _row("phthalocyanine blue", "PB15", (2, 6), "GLW", "sources differ"),
    _row("phthalocyanine green", "PG7 PG36", (2, 6), "GLWN", "sources differ"),
    _row("viridian", "PG18", (4, 7), "LW"),
    _row("chromium oxide green", "PG17", (3, 6), "L", "one source"),
    _row("green earth", "PG23", (4, 12), "LWT", "very wide: one of eight was the slowest of all"),
    _row("manganese violet", "PV16", (2, 3), "GLWH", "sources agree"),
    _row("cobalt violet", "PV14 PV49", (3, 6), "GLWH"),
    _row("Van Dyke brown", "NBr8", (6, 12), "LH"),
)
"""The table; a colour index name may stand in several rows."""

SLOW: Final = DaysRange(6, 12)
"""Days of a paint that the table does not know. Source: the slowest rows of section B3; planning rule, ours."""

ANY_PAINT: Final = DaysRange(2, 12)
"""Days of a thin film of any pigment. Source: trade facts B2.1, a maker's drying guide."""

ALKYD: Final = DaysRange(18 / 24, 24 / 24)
"""Days of paint with an alkyd medium, 18 to 24 h. Source: trade facts B2.11, a web answer page (second-hand)."""
