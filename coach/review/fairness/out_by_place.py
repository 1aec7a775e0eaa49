"""Whether the canvas that led a run or the one that followed is out more often when the canvases are compared."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from coach.journal.compared import Difference, KeptComparison, difference_between
from coach.plan.commission import Address
from coach.review.fairness.run_times import RunTimes
from coach.session.journal_state import JournalState
from coach.session.wet_and_dry import feature

_Run = tuple[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class OutByPlace:
    """In how many runs the canvas that was out had led its run, or had followed.

    A run counts once, where a comparison called one of its passages and one canvas is known to be out in it.

    Attributes:
        leading: Runs in which it had led.
        following: Runs in which it had followed.
        p: How likely either would be as lopsided where the place does not matter and one canvas may well be out more
            often than the other; two-sided, exact or too large.
        leads_more: Whether it had led more often than that.
    """

    leading: int
    following: int
    p: float
    leads_more: bool


class _Out(NamedTuple):
    """A run in which one canvas of two is out: the two, and whether it had led."""

    pair: tuple[str, str]
    led: bool


def out_by_place(state: JournalState, runs: Sequence[RunTimes]) -> OutByPlace | None:
    """Return where what comparisons found out lay; None where nothing was compared.

    Args:
        state: What the journal adds up to.
        runs: The runs painted, in order.

    Source:
        Binomial test (textbook). A canvas that led more runs and is out more often for a reason of its own is out more
        often where it led; so the chance of a run is that of the canvas that led most.
    """
    if not state.comparisons:
        return None
    found = list(_out_runs(state, runs))
    count, leading = len(found), sum(one.led for one in found)
    if not count:
        return OutByPlace(leading=0, following=0, p=1.0, leads_more=False)
    shares = {pair: _led_share(runs, pair) for pair in {one.pair for one in found}}
    most = sum(max(shares[one.pair], 1 - shares[one.pair]) for one in found) / count
    more, fewer = at_least(leading, count, most), at_least(count - leading, count, most)
    return OutByPlace(
        leading=leading, following=count - leading, p=min(1.0, 2 * min(more, fewer)), leads_more=more < fewer
    )


def at_least(least: int, tries: int, chance: float) -> float:
    """Return how likely at least so many of some tries come out where each does so with this chance."""
    from scipy.special import betainc  # noqa: PLC0415  scipy is loaded for it

    return 1.0 if least == 0 else float(betainc(least, tries - least + 1, chance))


def _out_runs(state: JournalState, runs: Iterable[RunTimes]) -> Iterator[_Out]:
    orders = {(run.pass_name, run.run_no): run.order for run in runs if len(run.order) > 1}
    for (pair, run), outs in _outs(state).items():
        order = orders.get(run, ())
        one, other = pair
        if one in order and other in order and outs[one] != outs[other]:
            first = min(pair, key=order.index)
            yield _Out(pair, outs[first] > outs[one if first == other else other])


def _outs(state: JournalState) -> dict[tuple[tuple[str, str], _Run], Counter[str]]:
    """Return for two canvases and a run how many of its passages are out on either."""
    whose: dict[Difference, str] = {}
    for record in state.comparisons:
        for one in record.found.passages:
            difference = difference_between(one.pass_name, one.passage, record.found.canvases)
            if one.is_called and difference not in state.meant:
                whose[difference] = _canvas_out(state, record.found, difference[:2]) or whose.get(difference, "")
    found: dict[tuple[tuple[str, str], _Run], Counter[str]] = {}
    for (pass_name, passage, pair), canvas in whose.items():
        painted = state.record_of((pass_name, passage, canvas))
        if painted is not None:
            found.setdefault((pair, (pass_name, painted.turn.run)), Counter())[canvas] += 1
    return found


def _canvas_out(state: JournalState, found: KeptComparison, address: Address) -> str:
    """Return the canvas that is marked for return, or else that leaves the photo's order; empty where neither tells."""
    marked = {canvas for pass_name, passage, canvas in state.marks if (feature(pass_name), passage) == address}
    named = {one.canvas for one in found.off_values if (one.pass_name, one.passage) == address}
    for canvases in (marked & {*found.canvases}, named):
        if len(canvases) == 1:
            return canvases.pop()
    return ""


def _led_share(runs: Iterable[RunTimes], pair: tuple[str, str]) -> float:
    """Return in which part of the runs that two canvases share the first of them came first."""
    one, other = pair
    first = [run.order.index(one) < run.order.index(other) for run in runs if {one, other} <= {*run.order}]
    return sum(first) / len(first) if first else 1.0
