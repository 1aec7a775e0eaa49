"""How long the painter takes for the features, against what is first guessed of shapes: told by earlier journals."""

from collections.abc import Iterable, Iterator
from contextlib import suppress
from math import exp, sqrt
from typing import Final

from coach.composition.proposal.shape_parts import OnCanvas
from coach.forecast.outlook import TurnTime, sorted_turns
from coach.forecast.pace import TOLD_FROM_TURNS, pace_of
from coach.plan.problems import PlanError
from coach.plan.reading import read_plan
from coach.session.journal_state import JournalState
from coach.shapes.features import Feature

_EDGE_CM_PER_ROOT: Final = 7.0
"""The edge of a shape against the root of its area, where only the area is known: about twice that of a disc. Ours."""

_GUESS: Final = OnCanvas(mm_per_px=1.0)


def own_pace(states: Iterable[JournalState]) -> dict[str, float]:
    """Return what the painter takes against the first guess, by feature; empty where the journals tell too little.

    Counted are turns whose pass is named for a feature and whose passages state their areas. The model is that of the
    forecast: a pace of the painter, and what each feature adds.

    Args:
        states: What the journals of earlier commissions add up to.
    """
    turns = sorted_turns([turn for state in states for turn in _turns(state)]).counted
    if len(turns) < TOLD_FROM_TURNS:
        return {}
    pace = pace_of(turns)
    return {feature.value: exp(pace.log_factor(feature.value)[0]) for feature in Feature}


def _turns(state: JournalState) -> Iterator[TurnTime]:
    with suppress(PlanError):  # a plan that is read no more tells no areas
        plan = read_plan(state.plan_text, "")
        areas = {(one.name, own.name): own.area_cm2 for one in plan.passes for own in one.passages}
        for record in state.turns:
            turn = record.turn
            feature = _feature(turn.pass_name)
            cm2 = [area for name in turn.passages if (area := areas.get((turn.pass_name, name)))]
            if record.is_painted and feature is not None and len(cm2) == len(turn.passages):
                guess_min = sum(_GUESS.minutes(feature, own, _EDGE_CM_PER_ROOT * sqrt(own)) for own in cm2)
                yield TurnTime(
                    pass_name=feature.value,
                    is_lead=turn.place == 1,
                    planned_s=round(60 * guess_min),
                    worked_s=record.worked_ms / 1000,
                )


def _feature(pass_name: str) -> Feature | None:
    last = pass_name.rpartition(" ")[2]
    return Feature(last) if last in set(Feature) else None
