"""The sign-flip (randomisation) test: could the differences have come out like this by chance alone?"""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from coach.review.statistics.number_check import check_finite, check_positive

MOST_EXACT = 20
"""Up to so many differences all 2^n sign patterns are counted (issue 3)."""

DRAWS = 10_000
"""Patterns drawn where there are more differences than that (issue 3)."""

TIE_FRAC = 1e-12
"""Sums closer than this, against the sum of all sizes, are ties: most fractions are not exact in a float."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SignFlip:
    """Outcome of a sign-flip test.

    Attributes:
        p: Two-sided p, above 0 and at most 1.
        patterns: Sign patterns counted: 2^n, or the number drawn.
        is_exact: All patterns were counted.
    """

    p: float
    patterns: int
    is_exact: bool


def sign_flip(differences: Sequence[float], *, seed: int, draws: int = DRAWS) -> SignFlip:
    """Return the share of sign patterns whose sum is at least as far from zero as the observed one.

    Ties count as at least as extreme; a difference of zero leaves p as it is.

    Args:
        differences: One a run, any unit; whole numbers are compared exactly. None at all gives p = 1.
        seed: Seed of the drawn patterns; without influence up to MOST_EXACT differences.
        draws: Patterns to draw beyond that.

    Returns:
        p exactly, or as (1 + hits) / (1 + draws).

    Raises:
        CoachError: A difference is not a finite number, or draws is below 1.

    Source:
        R. A. Fisher, The Design of Experiments (1935), sec. 21. Drawn p: Phipson & Smyth (2010), Stat. Appl.
        Genet. Mol. Biol. 9:39 (from memory).
    """
    check_finite(differences, where="differences")
    check_positive([draws], where="draws")
    limit = _limit(differences)
    if len(differences) <= MOST_EXACT:
        patterns = 2 ** len(differences)
        hits = patterns if limit <= 0 else 2 * _count_at_least(differences, limit)
        return SignFlip(p=hits / patterns, patterns=patterns, is_exact=True)
    hits = _count_drawn(differences, limit, seed, draws)
    return SignFlip(p=(1 + hits) / (1 + draws), patterns=draws, is_exact=False)


def _limit(differences: Sequence[float]) -> float:
    observed = abs(sum(differences))
    if all(isinstance(d, int) for d in differences):
        return observed
    return observed - TIE_FRAC * sum(map(abs, differences))


def _signed_sums(differences: Sequence[float]) -> list[float]:
    sums: list[float] = [0]
    for d in differences:
        sums = [s + d for s in sums] + [s - d for s in sums]
    return sums


def _count_at_least(differences: Sequence[float], limit: float) -> int:
    half = len(differences) // 2
    right = sorted(_signed_sums(differences[half:]))
    return sum(len(right) - bisect_left(right, limit - s) for s in _signed_sums(differences[:half]))


def _count_drawn(differences: Sequence[float], limit: float, seed: int, draws: int) -> int:
    # One random byte picks the signs of eight differences at once, so ten thousand runs are still quick.
    tables = [_signed_sums(differences[i : i + 8]) for i in range(0, len(differences), 8)]
    tables[-1] *= 256 // len(tables[-1])
    chance = Random(seed)  # noqa: S311 - repeatable statistics, no secret
    hits = 0
    for _ in range(draws):
        signs = chance.getrandbits(8 * len(tables)).to_bytes(len(tables), "little")
        hits += abs(sum(map(list.__getitem__, tables, signs))) >= limit
    return hits
