"""A plan proposed from a photo as data for machines and as a table of its mixtures."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from coach.composition.proposal.mixtures import ProposedPile
from coach.plan.commission import Plan
from coach.text import counted

COLUMNS: Final = ("mixture", "passages", "parts", "mean_off", "farthest_off")
"""Columns of the table of mixtures; how far off the colours of the passages lie is CIEDE2000."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MixtureRow:
    """A proposed mixture: what it is mixed to, and how far the colours of its passages lie from that, CIEDE2000."""

    mixture: str
    passages: int
    lab: tuple[float, float, float]
    parts: Mapping[str, float]
    spread_mean: float
    spread_worst: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ProposalReport:
    """What was written: the files, and what the plan holds."""

    plan: str
    shapes: str
    passes: int
    passages: int
    checks: int
    runs: int
    minutes: int
    mixtures: tuple[MixtureRow, ...]


def proposal_report(plan: Plan, piles: Sequence[ProposedPile], plan_name: str, shapes_name: str) -> ProposalReport:
    """Return the report on a proposed plan; minutes are those of one canvas."""
    painted = [run for run in plan.runs if not run.is_check]
    return ProposalReport(
        plan=plan_name,
        shapes=shapes_name,
        passes=len(plan.passes),
        passages=sum(len(run.passages) for run in painted),
        checks=len(plan.runs) - len(painted),
        runs=len(painted),
        minutes=sum(run.planned_s for run in plan.runs) // 60,
        mixtures=tuple(
            MixtureRow(
                mixture=pile.mixture.name,
                passages=pile.passages,
                lab=pile.lab,
                parts=dict(pile.mixture.parts),
                spread_mean=pile.spread_mean,
                spread_worst=pile.spread_worst,
            )
            for pile in piles
        ),
    )


def proposal_rows(report: ProposalReport) -> list[tuple[str, ...]]:
    """Return the mixtures as texts under `COLUMNS`; one without a recipe is mixed to match."""
    return [
        (
            row.mixture,
            str(row.passages),
            " + ".join(f"{count:g} {paint}" for paint, count in row.parts.items()) or "mix to match",
            f"{row.spread_mean:.1f}",
            f"{row.spread_worst:.1f}",
        )
        for row in report.mixtures
    ]


def proposal_line(report: ProposalReport) -> str:
    """Return in a sentence what was written."""
    return (
        f"{report.plan} and {report.shapes} written: {counted(report.passages, 'passage')} in "
        f"{counted(report.runs, 'run')}, {counted(report.checks, 'check')}, {report.minutes / 60:.1f} h a canvas. "
        "The parts are a start: correct each pile by eye."
    )
