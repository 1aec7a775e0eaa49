"""Plans drawn by chance, with names made to hurt."""

import datetime as dt
from itertools import accumulate, count

from hypothesis import strategies as st

from coach.plan import units
from coach.plan.commission import (
    CHECKS,
    Canvas,
    CanvasSize,
    MarkedBox,
    MarkedHead,
    Mixture,
    Paint,
    Pass,
    Passage,
    Plan,
    runs_of,
)
from coach.plan.delivery import After, DayRange, Days, Forecast, Repeat
from coach.plan.strategy import ORDERS
from coach.plan.value_range import ValueRange
from coach.text import sanitized

HOSTILE = (
    "no", "Yes", "~", "null", "1:30", "0x1F", "1e3", ".5", "-", "- dash", "--- x", "...", "? x", ": x", "a: b", "a:",
    "a #b", "#b", "'", "''", '"', "it's", 'say "so"', "{x}", "[x]", "a, b", "&a", "*a", "!x", "%x", "@x", "`x`", "|",
    "> x", "<<", "=", "2027-05-01", "🎨 é", "e\u0301", "\ufeffx", "x\uffff", "\u200b", "x" * 300, "🎨" * 300,
    "\ufeff" * 300, "\\n", "a / b", "a/b", "/", "until 2027-01-01",
)  # fmt: skip

_LIVE = st.text(min_size=1, max_size=12) | st.sampled_from(HOSTILE)
NAMES = _LIVE.map(lambda text: " ".join(sanitized(text).split())).filter(bool)


def _names(least: int, most: int) -> st.SearchStrategy[list[str]]:
    return st.lists(NAMES, min_size=least, max_size=most, unique_by=str.casefold)


def _decimal(least: int, most: int) -> st.SearchStrategy[float]:
    return st.decimals(least, most, places=3, allow_nan=False).map(float)


_DAY = st.dates(dt.date(2020, 1, 1), dt.date(2040, 1, 1))
_FRIDAYS = st.just(Repeat("FREQ=WEEKLY;BYDAY=MO,FR", dt.date(2027, 1, 8)))
_AREA = st.builds(
    lambda number, unit: units.area_cm2(f"{number} {unit}"), _decimal(1, 999), st.sampled_from(["cm2", "in2", "mm2"])
)
_SIZE = st.builds(
    lambda width, height, unit: CanvasSize(width * unit, height * unit),
    st.integers(10, 150),
    st.integers(10, 150),
    st.sampled_from([10.0, 25.4]),
)


_CHECK = st.sampled_from(CHECKS)
_WIDTH = st.builds(
    lambda figure, unit: units.length_mm(f"{figure} {unit}") or 1.0, _decimal(1, 9), st.sampled_from(["mm", "cm", "in"])
)
_BOX = st.builds(
    lambda left, top, width, height: MarkedBox(left, top, left + width, top + height),
    *[st.integers(0, 4000)] * 2,
    *[st.integers(1, 4000)] * 2,
)


@st.composite
def _ranges(draw: st.DrawFn) -> tuple[DayRange, ...]:
    steps = draw(st.lists(st.integers(1, 9), max_size=4).map(lambda days: days + days))
    edges = [dt.date(2027, 1, 1) + dt.timedelta(days) for days in accumulate(steps)]
    return tuple(DayRange(*sorted(pair)) for pair in zip(edges[::2], edges[1::2], strict=True))


@st.composite
def _passes(draw: st.DrawFn, canvases: list[str], mixtures: list[str]) -> tuple[Pass, ...]:
    passes: list[Pass] = []
    for name in draw(_names(1, 3)):
        passages: list[Passage] = []
        for shape in draw(_names(1, 4)):
            earlier = [(one.name, passage.name) for one in passes for passage in one.passages if not passage.check]
            layer = draw(st.none() | st.sampled_from(earlier)) if earlier else None
            is_over = draw(st.booleans())
            passages.append(
                Passage(
                    shape,
                    planned_s=draw(st.none() | st.integers(1, 86400)),
                    value=draw(st.none() | _decimal(0, 10)),
                    area_cm2=draw(st.none() | _AREA),
                    mixture=draw(st.none() | (st.sampled_from(mixtures) if mixtures else NAMES)),
                    beside=draw(st.none() | st.sampled_from([p.name for p in passages])) if passages else None,
                    difficulty=draw(st.sampled_from([1.0, 0.5, 2.25])),
                    over=layer if is_over else None,
                    into=None if is_over else layer,
                    shapes=draw(st.sampled_from([(), (f"k{len(passages) + 1}", f"k{len(passages) + 100}")])),
                    brush_mm=draw(st.none() | _WIDTH),
                )
            )
        passages[0] = passages[0]._replace(lead=draw(st.none() | st.sampled_from(canvases)))
        if draw(st.booleans()):
            names = {passage.name.casefold() for passage in passages}
            look = Passage(draw(NAMES.filter(lambda name: name.casefold() not in names)), check=draw(_CHECK))  # noqa: B023  drawn at once
            passages.append(look._replace(planned_s=draw(st.none() | st.integers(1, 900))))
        passes.append(Pass(name, tuple(passages), runs_of(name, tuple(passages))))
    return tuple(passes)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    canvases, paints = draw(_names(1, 3)), draw(_names(0, 3))
    mixtures = tuple(
        Mixture(name, tuple(zip(paints, count(0.5, 0.75), strict=False)), draw(st.sampled_from([None, "lean", "fat"])))
        for name in (draw(_names(0, 3)) if paints else [])
    )
    also: list[tuple[Days, int]] = [(days, draw(st.integers(0, 86400))) for days in draw(_ranges())]
    also += [(days, 3600) for days in draw(st.lists(_FRIDAYS, max_size=1))]
    return Plan(
        commission=draw(st.just("") | NAMES),
        due=draw(st.none() | _DAY),
        canvases=tuple(
            Canvas(name, draw(st.sampled_from([None, "left", "1"])), draw(st.none() | _SIZE)) for name in canvases
        ),
        passes=draw(_passes(canvases, [mixture.name for mixture in mixtures])),
        photo=draw(st.sampled_from([None, "sitter #1.jpg"])),
        heads=tuple(MarkedHead(name, draw(_BOX)) for name in draw(_names(0, 2))),
        keeps=tuple(draw(st.lists(_BOX, max_size=2))),
        crop=draw(st.none() | _BOX),
        shapes=draw(st.sampled_from([None, "no #1.shapes.svg"])),
        values=draw(st.sampled_from([None, ValueRange((0.0, 10.0), (2.125, 9.5))])),
        photos=draw(st.sampled_from([None, "no #1 photos"])),
        rights=draw(st.just("") | NAMES),
        consent=draw(st.just("") | NAMES),
        brushes_mm=tuple(draw(st.lists(_WIDTH, max_size=3, unique=True))),
        order=draw(st.none() | st.sampled_from(ORDERS)),
        seed=draw(st.integers(0, 2**31 - 1)),
        batch=draw(st.integers(1, 100)),
        away=tuple((name, draw(_DAY)) for name in canvases if len(name) < 200 and draw(st.booleans())),
        week_s=draw(st.none() | st.tuples(*[st.sampled_from([0, 3600, 5400])] * 7)),
        after=After(draw(st.none() | st.integers(0, 99)), draw(st.none() | st.integers(0, 9)), None),
        palette=tuple(
            Paint(name, draw(st.none() | NAMES), draw(st.none() | _decimal(1, 9)), draw(st.none() | _decimal(1, 90)))
            for name in paints
        ),
        mixtures=mixtures,
        off=(*draw(_ranges()), *draw(st.lists(_FRIDAYS, max_size=1))),
        also=tuple(also),
        forecast=Forecast(draw(st.booleans()), draw(st.integers(0, 9)), draw(_decimal(5, 40)), "alkyd", 60.5),
        learn_from=draw(st.sampled_from([(), ("no.journal", "a #b.journal")])),
    )
