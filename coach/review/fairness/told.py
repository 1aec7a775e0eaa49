"""The whole review of fairness: how the lead was shared, and what that was worth."""

from collections.abc import Sequence
from dataclasses import replace

from coach.review.fairness.fair_review import review_fairness
from coach.review.fairness.fairness_figures import Fairness
from coach.review.fairness.from_painted import balance_sentences
from coach.review.fairness.run_times import RunTimes


def fairness_told(runs: Sequence[RunTimes]) -> Fairness:
    """Return the review of the runs; its sentences tell of the balance as well, the most important first.

    Raises:
        CoachError: The runs contradict each other.
    """
    review, balance = review_fairness(runs), balance_sentences(tuple(runs))
    return replace(review, sentences=(*balance[:1], *review.sentences, *balance[1:]))
