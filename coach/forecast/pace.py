"""How long the painter takes against the plan: as a person, pass by pass, and apart for leading and following turns.

The model: ln(worked / planned) of a turn is mu + a(pass) + d where its canvas leads, - d where it follows, + noise. All
of it is believed to be normal before the log is read, and the log moves it by Bayes' rule. A trend over the passes is
not in it.

Source:
    Trade facts K4 (formulas and check figures), J and K1 to K6 (why people need longer than they plan, and how often
    the day named is met).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt
from typing import TYPE_CHECKING, Final

from coach.forecast.outlook import TurnTime

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

USUAL_FRAC: Final = 1.3
"""What painters take against their plan before any log. Source: trade facts K4; J says 1.64 of students."""

PAINTER_SD: Final = 0.35
"""Spread of painters about it, on the log scale. Source: trade facts K4, as the four that follow."""

PASS_SD: Final = 0.20
"""Spread of passes about their painter; a pass that is not begun has it whole."""

ROLE_SD: Final = 0.08
"""Spread of half the difference between leading and following turns."""

NOISE_SD: Final = 0.35
"""Spread of one turn about its pass and role, before any log."""

NOISE_PRIOR_TURNS: Final = 10
"""It holds as if this many turns had shown it."""

TOLD_FROM_TURNS: Final = 8
"""From so many turns on the painter's own pace is told. Source: ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """What is believed of the painter's pace, on the log scale.

    Attributes:
        passes: Names of the passes that have timed turns.
        mean: Means of mu, of d, and of what each of those passes adds.
        cov: How they vary together, as many rows and columns.
        noise_sd: Spread of one turn about its pass and role.
        pass_sd: Spread of what a pass without timed turns adds.
        turns: How many turns it was learned from.
        taken_frac: Worked over planned time of those turns; None without any.
    """

    passes: tuple[str, ...]
    mean: tuple[float, ...]
    cov: tuple[tuple[float, ...], ...]
    noise_sd: float
    pass_sd: float
    turns: int
    taken_frac: float | None

    @property
    def median_frac(self) -> float:
        """The factor of a pass that is not begun, as likely to be too small as too great."""
        return exp(self.mean[0])

    def log_factor(self, pass_name: str, *, is_lead: bool | None = None) -> tuple[float, float]:
        """Return mean and spread of the logarithm of a pass's factor; None leaves the role out."""
        size = len(self.mean)
        weights = [0.0] * size
        weights[0], weights[1] = 1.0, 0.0 if is_lead is None else (1.0 if is_lead else -1.0)
        own_var = 0.0
        if pass_name in self.passes:
            weights[2 + self.passes.index(pass_name)] = 1.0
        else:
            own_var = self.pass_sd**2
        mean = sum(weight * own for weight, own in zip(weights, self.mean, strict=True))
        var = sum(weights[i] * weights[j] * self.cov[i][j] for i in range(size) for j in range(size))
        return mean, sqrt(var + own_var)

    def drawn(self, z: "NDArray[np.float64]") -> "NDArray[np.float64]":
        """Return draws of mu, d and the passes, a row each, from as many rows of standard normal numbers."""
        import numpy as np  # noqa: PLC0415  painting never waits for a numeric library

        if not any(map(any, self.cov)):
            return np.asarray(np.array(self.mean)[:, None] + 0.0 * z)
        return np.asarray(np.array(self.mean)[:, None] + np.linalg.cholesky(np.array(self.cov)) @ z)


PLANNED_PACE: Final = Pace(
    passes=(), mean=(0.0, 0.0), cov=((0.0, 0.0), (0.0, 0.0)), noise_sd=0.0, pass_sd=0.0, turns=0, taken_frac=None
)
"""Every turn takes just what is planned: plain arithmetic."""


def pace_of(turns: Sequence[TurnTime]) -> Pace:
    """Return the pace learned from turns that count.

    Args:
        turns: Of earlier commissions and of this one, outliers left out; the order does not matter.
    """
    import numpy as np  # noqa: PLC0415  painting never waits for a numeric library

    passes = tuple(dict.fromkeys(turn.pass_name for turn in turns))
    noise_sd = _noise_sd(turns)
    prior_sd = np.array([PAINTER_SD, ROLE_SD, *[PASS_SD] * len(passes)])
    precision = np.diag(prior_sd**-2.0)
    pull = np.zeros(len(prior_sd))
    pull[0] = log(USUAL_FRAC) / PAINTER_SD**2
    if turns:
        rows = np.zeros((len(turns), len(prior_sd)))
        rows[:, 0] = 1
        rows[:, 1] = [1 if turn.is_lead else -1 for turn in turns]
        rows[np.arange(len(turns)), [2 + passes.index(turn.pass_name) for turn in turns]] = 1
        precision += rows.T @ rows / noise_sd**2
        pull += rows.T @ np.array([turn.log_ratio for turn in turns]) / noise_sd**2
    cov = np.linalg.inv(precision)
    planned_s = sum(turn.planned_s for turn in turns)
    return Pace(
        passes=passes,
        mean=tuple((cov @ pull).tolist()),
        cov=tuple(map(tuple, cov.tolist())),
        noise_sd=noise_sd,
        pass_sd=PASS_SD,
        turns=len(turns),
        taken_frac=sum(turn.worked_s for turn in turns) / planned_s if turns else None,
    )


def _noise_sd(turns: Sequence[TurnTime]) -> float:
    """Return the spread of one turn: `NOISE_SD` at first, then more and more what the log shows within a cell."""
    cells: dict[tuple[str, bool], list[float]] = {}
    for turn in turns:
        cells.setdefault((turn.pass_name, turn.is_lead), []).append(turn.log_ratio)
    spread = sum((own - sum(cell) / len(cell)) ** 2 for cell in cells.values() for own in cell)
    freedom = NOISE_PRIOR_TURNS + len(turns) - len(cells)
    return sqrt((NOISE_PRIOR_TURNS * NOISE_SD**2 + spread) / freedom)
