"""Several canvases compared by photos of two at a time: each pair twice, with places exchanged, and pair after pair."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from coach.compare.comparison import judged
from coach.compare.findings import Comparison
from coach.compare.pair import ReadPair, chained, read_pair
from coach.compare.subject import Outlines, Painted, Photographed
from coach.plan.commission import Address
from coach.text import joined

Reasons = Callable[[tuple[str, str]], Mapping[Address, str]]
"""Answers which passages of two canvases cannot be compared, and why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainOfPairs:
    """What photos of several canvases tell.

    Attributes:
        pairs: Each two canvases: first those that were photographed side by side, then those told apart by others.
        missing: What is still to be photographed, a sentence each; empty where all canvases are told.
    """

    pairs: tuple[Comparison, ...]
    missing: tuple[str, ...]


def compare_chain(
    photos: Sequence[Photographed], painted: Sequence[Painted], outlines: Outlines, reasons: Reasons
) -> ChainOfPairs:
    """Return what photos of two canvases each tell of all of them.

    Raises:
        ComparisonError: Two photos cannot be compared; the sentence says why.
    """
    shown: dict[frozenset[str], list[Photographed]] = {}
    for photo in photos:
        shown.setdefault(frozenset(photo.canvases), []).append(photo)
    found: dict[frozenset[str], ReadPair] = {}
    missing = []
    for canvases, own in shown.items():
        second = next((photo for photo in own if photo.left != own[0].left), None)
        if second is None:
            left = next(one for one in own[0].canvases if one != own[0].left)
            missing.append(
                f"{joined(own[0].canvases)}: exchange them and take one more photo, with {left} on the left."
            )
        else:
            found[canvases] = read_pair((own[0], second), _of(own[0].canvases, painted, reasons), outlines)
    names = list(dict.fromkeys(one for photo in photos for one in photo.canvases))
    _grow(found, painted, outlines, reasons)
    apart = [one for one in names if frozenset((names[0], one)) not in found and one != names[0]]
    if apart:
        needed = f"{len(names)} canvases need {2 * (len(names) - 1)} photos: each canvas beside the next one, twice, "
        missing.append(f"{needed}with their places exchanged. {joined(apart)} cannot be held against {names[0]} yet.")
    pairs = tuple(judged(pair, _of(pair.canvases, painted, reasons)) for pair in found.values())
    return ChainOfPairs(pairs=pairs, missing=tuple(missing))


def _grow(
    found: dict[frozenset[str], ReadPair], painted: Sequence[Painted], outlines: Outlines, reasons: Reasons
) -> None:
    """Add each two canvases that stand at the ends of two pairs that share a third one."""
    before = -1
    while before != len(found):
        before = len(found)
        for (one, first), (other, second) in combinations(list(found.items()), 2):
            ends = one ^ other
            if len(ends) == len(one) and ends not in found:
                canvases = next(name for name in first.canvases if name in ends), next(iter(ends & other))
                found[ends] = chained(first, second, _of(canvases, painted, reasons), outlines)


def _of(canvases: tuple[str, str], painted: Sequence[Painted], reasons: Reasons) -> list[Painted]:
    """Return the passages as these two canvases allow them to be compared."""
    why = reasons(canvases)
    return [replace(one, why_not=why.get((one.pass_, one.passage), one.why_not)) for one in painted]
