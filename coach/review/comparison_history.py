"""What comparisons of canvases tell over days: what is out, what drifts, what is mended, what is meant."""

import datetime as dt
import enum
from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot
from typing import Final, NamedTuple

from coach.journal.compared import Difference, KeptComparison, difference_between
from coach.journal.reading import Reading, local_time
from coach.plan.commission import RETURN_TO, Address, Plan
from coach.session.journal_state import JournalState
from coach.session.records import ComparisonRecord, Shape
from coach.session.wet_and_dry import feature
from coach.text import counted, joined

_SET_BY_HAND_MM: Final = 1.5
"""So far a feature or landmark may lie elsewhere by the hand that set it. Source: the aim of the comparison, ours."""

ALL_OVER: Final = "all over"
"""Stands for the name of a passage where a canvas differs in all of them alike."""


class Standing(enum.StrEnum):
    """How a difference between two canvases stands now."""

    OUT = "out"
    DRIFTS = "drifts"
    MARKED = "marked"
    REPAINTED = "repainted"
    MENDED = "mended"
    MEANT = "meant"
    AGREES = "agrees"
    GONE = "gone"


@dataclass(frozen=True, slots=True)
class DayDifference:
    """What a comparison told of a difference: when its photos were taken, how large it is and between what it lies.

    The figures are CIEDE2000; millimetres for a feature or a landmark.
    """

    when: dt.datetime
    difference: float
    interval: tuple[float, float]
    called: bool
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class DifferenceHistory:
    """A difference between two canvases over days.

    Attributes:
        pass_: The pass; empty for a feature, a landmark, and what differs all over.
        passage: The passage, the feature or the landmark.
        canvases: The two canvases.
        days: What each comparison told of it, in order; at least one.
        standing: How it stands now.
        growing: Whether the last comparison found it larger than an earlier one, beyond what the photos leave open.
        words: The same in short.
    """

    pass_: str
    passage: str
    canvases: tuple[str, str]
    days: tuple[DayDifference, ...]
    standing: Standing
    growing: bool
    words: str

    @property
    def name(self) -> str:
        """The passage with its pass."""
        return f"{self.passage} ({self.pass_})" if self.pass_ else self.passage

    @property
    def sentence(self) -> str:
        """The words with what they are of; those of a feature name it themselves where it is out."""
        is_named = self.standing is Standing.OUT and not self.pass_
        return self.words if is_named else f"{self.name}: {self.words}"


@dataclass(frozen=True, slots=True, kw_only=True)
class ComparisonHistory:
    """All comparisons of a journal: how many there were, when the last was, and every difference, gravest first."""

    comparisons: int
    last: dt.datetime | None
    differences: tuple[DifferenceHistory, ...]

    def standing(self, wanted: Standing) -> tuple[DifferenceHistory, ...]:
        """Return the differences that stand so."""
        return tuple(one for one in self.differences if one.standing is wanted)

    @property
    def sentences(self) -> tuple[str, ...]:
        """The same for the painter, the most important first; none where nothing was compared."""
        if self.last is None:
            return ()
        out, drifting = self.standing(Standing.OUT), self.standing(Standing.DRIFTS)
        often = {1: "once", 2: "twice"}.get(self.comparisons, f"{self.comparisons} times")
        what = f"{counted(len(out), 'difference')} {'is' if len(out) == 1 else 'are'} out" if out else ""
        if not any(self.standing(one) for one in (Standing.OUT, Standing.MARKED, Standing.REPAINTED)):
            what = "nothing is out"
        lists = [(words, [one.name for one in self.standing(standing)]) for standing, words in _LISTED.items()]
        return (
            f"Canvases compared {often}, last on {_day(self.last)}{what and f': {what}'}.",
            *(f"{one.sentence}." for one in (*out, *drifting)),
            *(f"{words}: {joined(names)}." for words, names in lists if names),
        )


_LISTED: Final = {
    Standing.MARKED: "To come again",
    Standing.REPAINTED: "Painted again since, compare once more",
    Standing.MENDED: "Mended",
    Standing.MEANT: "Meant so",
}
"""What is listed by name, under these words."""


class _Looked(NamedTuple):
    """A comparison, and when its photos were taken."""

    when: dt.datetime
    found: KeptComparison


def comparison_history(plan: Plan | None, state: JournalState) -> ComparisonHistory:
    """Return what the comparisons of a journal tell.

    Photos that were compared twice count as they were compared last.

    Args:
        plan: The plan; None where it is not known, so that nothing has gone from it.
        state: What the journal adds up to.
    """
    latest: dict[tuple[frozenset[str], ...], _Looked] = {}
    for record in state.comparisons:
        photos = frozenset(photo.sha256 for photo in record.found.photos)
        latest[frozenset(record.found.canvases), photos] = _Looked(taken(record), record.found)
    looked = sorted(latest.values(), key=lambda one: one.when)
    known = None if plan is None else {(one.name, own.name) for one in plan.passes for own in one.passages}
    painted = _painted(state) if looked else {}
    found = [_history(difference, own, state, known, painted) for difference, own in _days(looked).items()]
    order = list(Standing)
    found.sort(key=lambda one: (order.index(one.standing), not one.growing, -one.days[-1].difference))
    return ComparisonHistory(
        comparisons=len(looked), last=looked[-1].when if looked else None, differences=tuple(found)
    )


def taken(record: ComparisonRecord) -> dt.datetime:
    """Return when the canvases looked so: when the last photo was taken, at the latest when it was recorded."""
    recorded = local_time(record.at)
    times = [dt.datetime.fromisoformat(photo.taken) for photo in record.found.photos if photo.taken]
    return min(max(times, default=recorded), recorded)


def _told(looked: _Looked) -> Iterator[tuple[Difference, DayDifference]]:
    """Yield every difference that a comparison looked at, and what it told of it."""
    found, when = looked.found, looked.when
    for one in found.passages:
        difference = difference_between(one.pass_name, one.passage, found.canvases)
        yield difference, DayDifference(when, one.difference, (one.low, one.high), one.is_called, one.words)
    for shift in (*found.landmarks, *found.moved):
        mm = round(hypot(shift.right_mm, shift.down_mm), 1)
        bounds = max(0.0, mm - _SET_BY_HAND_MM), mm + _SET_BY_HAND_MM
        yield (
            difference_between("", shift.name, found.canvases),
            DayDifference(when, mm, bounds, bool(shift.words), shift.words),
        )
    if found.all_over is not None:
        size, _, is_called, words = found.all_over
        yield difference_between("", ALL_OVER, found.canvases), DayDifference(when, size, (0.0, size), is_called, words)


def _days(looked: Iterable[_Looked]) -> dict[Difference, list[DayDifference]]:
    """Return what was told of each difference; a feature that is named no more lies where it should."""
    days: dict[Difference, list[DayDifference]] = {}
    moved: set[Difference] = set()
    for one in looked:
        told = dict(_told(one))
        moved |= {difference_between("", shift.name, one.found.canvases) for shift in one.found.moved}
        pair = difference_between("", "", one.found.canvases).canvases
        told |= {
            calm: DayDifference(one.when, 0.0, (0.0, _SET_BY_HAND_MM), False, "")
            for calm in moved
            if calm.canvases == pair and calm not in told
        }
        for difference, day in told.items():
            days.setdefault(difference, []).append(day)
    return days


def _history(
    difference: Difference,
    days: Sequence[DayDifference],
    state: JournalState,
    known: Container[Address] | None,
    painted: Mapping[Shape, Reading],
) -> DifferenceHistory:
    last = days[-1]
    smaller = [one.when for one in days[:-1] if last.interval[0] > one.interval[1]]
    again = _to_come_again(difference, state)
    ended = [painted.get((*difference[:2], canvas)) for canvas in difference.canvases]
    later = [local_time(reading) for reading in ended if reading is not None]
    repainted = max((when for when in later if when > last.when), default=None)
    standing = Standing.OUT if last.called else Standing.AGREES
    if known is not None and difference.pass_name and difference[:2] not in known:
        standing = Standing.GONE
    elif difference in state.meant:
        standing = Standing.MEANT
    elif last.called and again:
        standing = Standing.MARKED
    elif last.called and repainted:
        standing = Standing.REPAINTED
    elif not last.called and smaller:
        standing = Standing.DRIFTS
    elif not last.called and any(one.called for one in days):
        standing = Standing.MENDED
    return DifferenceHistory(
        pass_=difference.pass_name,
        passage=difference.name,
        canvases=difference.canvases,
        days=tuple(days),
        standing=standing,
        growing=bool(smaller),
        words=_words(standing, days, again, repainted, smaller),
    )


def _to_come_again(difference: Difference, state: JournalState) -> list[str]:
    """Return the canvases on which a passage is marked for return and not painted again yet."""
    return [
        canvas
        for pass_name, passage, canvas in state.marks
        if (feature(pass_name), passage) == difference[:2]
        and canvas in difference.canvases
        and (RETURN_TO + pass_name, passage, canvas) not in state.places
    ]


def _painted(state: JournalState) -> dict[Shape, Reading]:
    """Return when each passage of the plan was painted last on each canvas, returns to it included."""
    return {
        (feature(record.turn.pass_name), passage, record.turn.canvas): record.ended
        for record in state.turns
        if record.is_painted
        for passage in record.turn.passages
    }


def _words(
    standing: Standing,
    days: Sequence[DayDifference],
    again: Sequence[str],
    repainted: dt.datetime | None,
    smaller: Sequence[dt.datetime],
) -> str:
    last, out = days[-1], [one.when for one in days if one.called]
    than = f"than on {_day(smaller[0])}" if smaller else ""
    return {
        Standing.OUT: f"{last.words}, more {than}" if smaller else last.words,
        Standing.DRIFTS: f"drifts apart: less alike {than}",
        Standing.MARKED: f"comes again on {' and '.join(again)}",
        Standing.REPAINTED: f"painted again on {_day(repainted or last.when)}: compare it again",
        Standing.MENDED: f"out on {_day(out[-1] if out else last.when)}, mended by {_day(last.when)}",
        Standing.MEANT: "meant so",
        Standing.AGREES: "agrees",
        Standing.GONE: "no longer in the plan",
    }[standing]


def _day(when: dt.datetime) -> str:
    return f"{when.day} {when:%b}"
