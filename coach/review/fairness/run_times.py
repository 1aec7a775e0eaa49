"""The painted runs that a review looks at: who led, and how long each canvas took."""

from dataclasses import dataclass
from math import log

from coach.errors import CoachError
from coach.review.statistics.number_check import check_positive


@dataclass(frozen=True, slots=True, kw_only=True)
class RunTimes:
    """One run as it was painted.

    Attributes:
        pass_name: Name of the pass.
        run_no: Number of the run in the plan, from 1.
        order: Canvas names by first touch, each once; the first one led.
        minutes: Minutes of each turn, in the same order; above 0.
        planned_min: Minutes planned for the run on one canvas; above 0.
    """

    pass_name: str
    run_no: int
    order: tuple[str, ...]
    minutes: tuple[float, ...]
    planned_min: float

    def __post_init__(self) -> None:
        """Refuse a run that cannot have been painted.

        Raises:
            CoachError: No canvas, a canvas twice, a different number of minutes, minutes that are not above 0
                or no finite number, or a run number below 1.
        """
        where = f"pass {self.pass_name}, run {self.run_no}"
        if not self.order or len(set(self.order)) != len(self.order):
            raise CoachError("a run names each of its canvases once", where=where)
        if len(self.minutes) != len(self.order):
            raise CoachError(f"{len(self.order)} canvases but {len(self.minutes)} times", where=where)
        check_positive([self.run_no], where=where)
        check_positive(self.minutes, where=where)
        check_positive([self.planned_min], where=where)

    @property
    def mean_min(self) -> float:
        """Mean of the minutes of its turns: what the run weighs, whoever led.

        One canvas alone would not do: the one that followed profits from what the first one taught.
        """
        return sum(self.minutes) / len(self.minutes)

    def logs(self) -> tuple[float, ...]:
        """Return the natural logarithm of each turn's minutes, in the order painted."""
        return tuple(map(log, self.minutes))
