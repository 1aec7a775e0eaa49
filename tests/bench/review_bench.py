"""The fairness report held against simulated painters whose gains are known, each figure with its target.

Coverage of its 95 % intervals, false claims, power; how far one wild turn moves an estimate; and how often a sentence
is false that may be so in one work of twenty.
"""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from math import log
from random import Random
from typing import Final

from coach.review.fairness.figures import FairnessReport
from coach.review.fairness.report import report
from coach.review.fairness.robust_fit import Estimate, holm
from coach.review.fairness.run_times import RunTimes
from coach.review.fairness.time_model import TimeModel, fit_times
from tests.simulated_runs import TWO, Truth

WORKS: Final = 2000
"""Works a cell and set of seeds."""

SEEDS: Final = (1, 2, 3)
"""Sets of seeds."""

REVIEWS: Final = 300
"""Reports whose sentences are read, a set of seeds."""

_FORM: Final = "{:<66} {:>8} {:>16} {:<6}"
_HELD, _FALSE_MOST, _POWER_LEAST = (92.0, 98.0), 6.5, 65.0
_LIKELY: Final = 0.05
_ABC: Final = ("A", "B", "C", "D", "E")

_NULL: Final = {
    f"{runs} runs on {canvases}, noise {noise}": Truth(canvases=_ABC[:canvases], runs=runs, noise=noise)
    for runs, canvases, noise in (
        (8, 2, 0.1),
        (20, 2, 0.1),
        (20, 2, 0.3),
        (60, 2, 0.2),
        (20, 3, 0.1),
        (20, 4, 0.1),
        (20, 5, 0.1),
    )
}
_NULL["20 runs on 2, one turn in ten a day later"] = Truth(later_frac=0.1)
_PASSES: Final = {
    f"{runs} runs in {passes} passes, shared error {round(100 * error)} %": Truth(
        runs=runs, passes=passes, pass_noise=error
    )
    for runs, passes in ((20, 3), (40, 5), (40, 12))
    for error in (0.0, 0.15, 0.3)
}
_TRUE: Final = {
    f"{runs} runs on {canvases}, noise {noise}": Truth(
        canvases=_ABC[:canvases],
        runs=runs,
        noise=noise,
        follow_frac=0.9,
        rate_frac=0.95,
        slower={"A": 1.1},
        pass_noise=0.15,
    )
    for runs, canvases, noise in ((10, 2, 0.1), (20, 2, 0.2), (40, 2, 0.1), (20, 3, 0.2), (20, 5, 0.1))
}
_SAVED: Final = Truth(follow_frac=0.92)


def review_figures(works: int = WORKS, seeds: Sequence[int] = SEEDS) -> Iterator[str]:
    """Return the lines of the table: figure, share in percent, target, met or missed."""
    yield _FORM.format(f"review: figure ({works} works, seeds {' '.join(map(str, seeds))})", "%", "target", "").rstrip()
    for seed in seeds:
        yield from _claims(works, seed)
        yield from _coverage(works, seed)
        for name, truth in (("", _SAVED), (", one canvas 30 % slower", replace(_SAVED, slower={"Hall": 1.3}))):
            found = 100 * sum(_p(model.follow) < _LIKELY for model in _models(truth, works, seed)) / works
            yield _line(f"power for 8 % saved, 20 runs, noise 0.1{name}", found, _POWER_LEAST, 100.0)
        yield _line(
            "turns of 20 runs that move an estimate by half its error", _moved(max(1, works // 100), seed), 0.0, 0.0
        )
        for name, share in false_sentences(max(1, works * REVIEWS // WORKS), seed).items():
            yield _line(f"false sentences of {name}", 100 * share, 0.0, _FALSE_MOST)


def _line(name: str, value: float, least: float, most: float) -> str:
    bound = f"at least {least:.0f}" if most == 100.0 else f"{least:.0f} to {most:.0f}" if least else f"at most {most}"
    return _FORM.format(name, f"{value:.1f}", bound, "met" if least <= value <= most else "missed").rstrip()


def _models(truth: Truth, works: int, seed: int) -> Iterator[TimeModel]:
    for no in range(works):
        yield fit_times(truth.painted(seed * 1_000_003 + no), truth.canvases)


def _p(estimate: Estimate | None) -> float:
    return 1.0 if estimate is None else estimate.p


def _claims(works: int, seed: int) -> Iterator[str]:
    for name, truth in (_NULL | _PASSES).items():
        counts: Counter[str] = Counter()
        for model in _models(truth, works, seed):
            counts["place"] += _p(model.follow) < _LIKELY
            counts["canvas"] += min(holm([one.p for one in model.canvases]), default=1.0) < _LIKELY
            counts["practice"] += _p(model.practice) < _LIKELY
            counts["a later day"] += _p(model.later) < _LIKELY
        for what, count in counts.items() if truth.later_frac else list(counts.items())[:3]:
            yield _line(f"false claims of {what}, {name}", 100 * count / works, 0.0, _FALSE_MOST)


def _coverage(works: int, seed: int) -> Iterator[str]:
    for name, truth in _TRUE.items():
        counts: Counter[str] = Counter()
        for model in _models(truth, works, seed):
            counts["place"] += _holds(model.follow, log(truth.follow_frac))
            # The first canvas is the slower one: of two, the second is told against it.
            apart = log(1.1) * (1 if len(truth.canvases) == 2 else 1 / len(truth.canvases))
            counts["canvas"] += _holds(model.canvases[-1] if model.canvases else None, -apart)
            counts["practice"] += _holds(model.practice, log(truth.rate_frac))
        for what, count in counts.items():
            yield _line(f"intervals of {what} that hold, {name}", 100 * count / works, *_HELD)


def _holds(estimate: Estimate | None, true: float) -> bool:
    if estimate is None:
        return True
    low, high = estimate.ends()
    return low <= true <= high


def _moved(works: int, seed: int) -> float:
    """Return the percentage of turns that, ten times as long, move an estimate by more than half its error."""
    moved = turns = 0
    for no in range(works):
        runs = replace(_SAVED, passes=3).painted(seed * 1_000_003 + no)
        before = _estimates(fit_times(runs, TWO))
        for at, run in enumerate(runs):
            for place in range(len(run.order)):
                minutes = tuple(m * (10 if k == place else 1) for k, m in enumerate(run.minutes))
                after = _estimates(fit_times((*runs[:at], replace(run, minutes=minutes), *runs[at + 1 :]), TWO))
                moved += any(abs(b.value - a.value) > a.se / 2 for a, b in zip(before, after, strict=True))
                turns += 1
    return 100 * moved / turns


def _estimates(model: TimeModel) -> list[Estimate]:
    return [one for one in (model.follow, *model.canvases, model.practice) if one is not None]


def any_truth(chance: Random) -> Truth:
    """Return a painter of any habits, on two to four canvases."""
    canvases, uneven = _ABC[: chance.choice((2, 2, 2, 3, 4))], chance.random() < 0.3
    marked = chance.choice(((0.0, 0.0), (0.2, 0.2), (0.35, 0.1)))
    return Truth(
        canvases=canvases,
        runs=chance.randint(3, 60),
        passes=chance.randint(1, 8),
        follow_frac=chance.choice((1.0, 1.0, 0.95, 0.92, 0.85, 1.08)),
        slower={canvases[-1]: chance.choice((1.0, 1.0, 1.03, 1.15, 1.4))},
        rate_frac=chance.choice((1.0, 1.0, 0.97, 0.9)),
        noise=chance.choice((0.05, 0.1, 0.2, 0.3)),
        run_noise=chance.choice((0.0, 0.15, 0.3)),
        pass_noise=chance.choice((0.0, 0.15, 0.3)),
        later_frac=chance.choice((0.0, 0.15)),
        marked_frac=marked,
        lead=(lambda no: int(no % 3 == 0)) if uneven else None,
    )


def false_sentences(reviews: int, seed: int) -> dict[str, float]:
    """Return for each subject the share of reports in which a sentence about it is false; and contradictions."""
    counts = dict.fromkeys(("fairness", "place", "canvas", "practice", "marks", "one against another"), 0)
    for no in range(reviews):
        chance = Random(seed * 1_000_003 + no)  # noqa: S311  repeatable data, no secret
        truth = any_truth(chance)
        runs = truth.painted(no)
        told = report(runs, to_come=chance.choice((0, 20)), canvases=truth.canvases)
        for subject in falsehoods(told, truth, runs):
            counts[subject] += 1
    return {subject: count / reviews for subject, count in counts.items()}


def falsehoods(told: FairnessReport, truth: Truth, runs: Sequence[RunTimes]) -> set[str]:
    """Return the subjects of which a sentence says what is not true."""
    slowest, factor = truth.canvases[-1], truth.slower[truth.canvases[-1]]
    count = len(truth.canvases)
    found = set()
    for sentence in told.sentences:
        if sentence.startswith("Fair: "):
            found |= _false_fairness(sentence, runs, truth.canvases)
        elif sentence.startswith(("Going second ", "Following ", "Whether ")) and not _is_true(
            sentence, truth.follow_frac
        ):
            found.add("place")
        elif sentence.startswith("Practice: ") and not _is_true(sentence, truth.rate_frac):
            found.add("practice")
        elif took := re.match(r"(\w+) took about .* (?:than|of) (.+), whoever led", sentence):
            # Of two canvases one is told against the other, of more each against the mean of all.
            mean = factor ** (1 / count) if took[2] not in truth.canvases else factor if took[2] == slowest else 1.0
            if not _is_true(sentence, (factor if took[1] == slowest else 1.0) / mean):
                found.add("canvas")
        elif "took the same time, give or take 5 %, whoever led" in sentence and factor > 1.05 + 1e-9:
            found.add("canvas")
        elif sentence.startswith("A canvas that had to wait"):
            found.add("place")
        elif sentence.startswith("Return marks fell") and truth.marked_frac[0] == truth.marked_frac[1]:
            found.add("marks")
    return found | ({"one against another"} if _disagrees(told) else set())


def _is_true(sentence: str, ratio: float) -> bool:
    """Return whether what a sentence says of a ratio of times holds."""
    change = 100 * (ratio - 1)
    if "give or take 5 %" in sentence or "less than 5 % either way" in sentence:
        return abs(change) <= 5 + 1e-9
    if within := re.search(r"between (\d+) % less and (\d+) % more", sentence):
        return -int(within[1]) <= change <= int(within[2])
    if times := re.search(r"([\d.]+) to ([\d.]+) times", sentence):
        return float(times[1]) - 0.01 <= ratio <= float(times[2]) + 0.01
    if ends := re.search(r"\((?:up to|(\d+) to) (\d+) %\)", sentence):
        size = -change if "saved" in sentence or "less time" in sentence else change
        return int(ends[1] or 0) - 1e-9 <= size <= int(ends[2]) + 1e-9 and size != 0
    return True


def _false_fairness(sentence: str, runs: Sequence[RunTimes], canvases: Sequence[str]) -> set[str]:
    """Check the answer by adding the minutes up again."""
    led = {name: sum(run.mean_min for run in runs if run.order[0] == name) for name in canvases}
    apart = (max(led.values()) - min(led.values())) / sum(led.values())
    answer = sentence.removeprefix("Fair: ").split(".")[0]
    best = "the least possible" in sentence
    right = {"yes": apart <= 0.0201 or best, "nearly": 0.0199 <= apart <= 0.0501, "no": apart >= 0.0499}
    return set() if right[answer] else {"fairness"}


def _disagrees(told: FairnessReport) -> bool:
    """Return whether one sentence says what another denies."""
    fair = told.balance is not None and told.balance.fair == "yes" and told.balance.apart_frac <= 0.02
    spared = [share.minutes_spared for share in told.canvases if share.minutes_spared is not None]
    # Fair to two percent of the minutes: what was spared differs by as little.
    uneven = bool(spared) and max(spared) - min(spared) > 0.021 * sum(share.minutes for share in told.canvases)
    by_led = sorted(told.canvases, key=lambda share: share.minutes_led)
    order = [share.minutes_spared or 0.0 for share in by_led]
    turned = len(spared) == 2 and (order[0] - order[-1]) * sum(spared) < 0
    finished = told.runs_to_come == 0 and any("to come" in said or " yet" in said for said in told.sentences)
    return (fair and uneven) or turned or finished
