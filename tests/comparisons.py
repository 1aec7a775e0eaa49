"""Comparisons of two canvases for tests: what photos could have told, and a sitting in which something is painted."""

import datetime as dt
from collections.abc import Sequence

from coach.compare.findings import Compared, Comparison, Moved, NotCompared, OffValue
from coach.journal.compared import KeptPhoto
from coach.session import moves
from tests.sessions import Easel

PAIR = ("Hall", "School")
BEGINNING = dt.datetime(2027, 1, 15, 10, tzinfo=dt.timezone(dt.timedelta(hours=1)))


def photos(number: int = 0) -> tuple[KeptPhoto, KeptPhoto]:
    """Return two photos; others, taken so many hours later, by their number."""
    times = (BEGINNING + dt.timedelta(hours=number, minutes=minutes) for minutes in (0, 2))
    one, other = (
        KeptPhoto(f"{number}-{own}.jpg", f"{2 * number + own:064x}", at.isoformat()) for own, at in enumerate(times)
    )
    return one, other


def read_as(passage: str, size: float = 3.1, pass_: str = "eyes") -> Compared:
    """Return a passage whose difference is so large, give or take 0.7."""
    return Compared(
        pass_=pass_,
        passage=passage,
        difference=size,
        interval=(size - 0.7, size + 0.7),
        lab_difference=(3.0, 0.2, -0.1),
        called=size >= 1.8,
        words="Hall is lighter than School" if size >= 1.8 else "no difference the photos can show",
    )


def compared(
    shapes: Sequence[Compared] = (), moved_mm: float = 5.0, canvases: tuple[str, str] = PAIR, *, exchanged: bool = True
) -> Comparison:
    """Return what two photos could tell of two canvases."""
    eye = Moved(feature="left eye", canvas="Hall", right_mm=moved_mm, down_mm=0.0, words="left eye: further right")
    return Comparison(
        canvases=canvases,
        photos=("one.jpg", "two.jpg"),
        exchanged=exchanged,
        shapes=tuple(shapes),
        moved=(eye,) if moved_mm else (),
        off_values=(OffValue(canvas="Hall", pass_="nose", passage="tip", steps=0.7, words="Hall: too light"),),
        readings=(),
        not_compared=(NotCompared(pass_="nose", passage="wing", why="not finished on both canvases"),),
        light_ratio=0.82,
        remarks=(),
    )


def painted(turns: int) -> Easel:
    """Return a sitting in which so many turns are done, nine minutes each."""
    easel = Easel()
    easel.session.make(moves.go_on)
    for _ in range(turns):
        easel.clock.go(minutes=9)
        easel.session.make(moves.go_on)
    return easel
