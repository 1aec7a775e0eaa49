"""The situation in words: times, places, warnings. Pure text, one line each."""

from coach.forecast.layers import Openness
from coach.journal.events import Turn
from coach.journal.reading import local_time
from coach.limits.cautions import END_OF_SESSION
from coach.plan.commission import Canvas, Passage, Plan
from coach.session.records import Absence, Phase, TurnRecord
from coach.session.situation import Situation
from coach.session.wet_and_dry import WetEdge
from coach.text import clock, span

RAGS = END_OF_SESSION[0].text
"""Shown at the end of a session."""


def placed_name(canvas: Canvas) -> str:
    """Return the canvas's name with an arrow, or a number, for its place on the easel."""
    match canvas.place:
        case "left":
            return f"← {canvas.name}"
        case "right":
            return f"{canvas.name} →"
        case None:
            return canvas.name
        case number:
            return f"{number}: {canvas.name}"


def passage_line(passage: Passage, plan: Plan) -> str:
    """Return what to mix for a passage: its name, value, mixture with its parts, area."""
    facts = []
    if passage.value is not None:
        facts.append(f"value {passage.value:g}")
    if passage.mixture is not None:
        mixture = plan.mixture_named(passage.mixture)
        parts = " + ".join(f"{count:g} {paint}" for paint, count in mixture.parts) if mixture else ""
        facts.append(f"{passage.mixture} ({parts})" if parts else passage.mixture)
    if passage.area_cm2 is not None:
        facts.append(f"{passage.area_cm2:.3g} cm²")
    return f"{passage.name}: {', '.join(facts)}" if facts else passage.name


def before_line(record: TurnRecord) -> str:
    """Return what another canvas of the run took and what was noted there."""
    role = "led" if record.turn.place == 1 else "followed"
    said = f"{record.turn.canvas} {role}: {clock(record.worked_ms)}"
    if record.is_skipped:
        said = f"{record.turn.canvas}: skipped"
    marked = " · marked for return" if record.is_marked else ""
    return said + marked + "".join(f" · “{note}”" for note in record.notes)


def coming_line(turns: tuple[Turn, ...]) -> str:
    """Return the next turns."""
    if not turns:
        return "next: nothing; this is the last turn"
    said = (f"{turn.canvas}, {' + '.join(turn.passages)}" for turn in turns)
    return "next: " + " · then: ".join(said)


def hours_line(situation: Situation) -> str:
    """Return block and day so far, and who led how often."""
    limits = situation.plan.limits
    leads = ", ".join(
        f"{canvas.name} {count}" for canvas, count in zip(situation.plan.canvases, situation.leads, strict=True)
    )
    coming = situation.next_rest
    due = f"in {span(coming.in_ms)}" if coming.in_ms else "now"
    return (
        f"block {span(situation.block_ms)} · rest of {span(coming.rest_ms)} {due}"
        f" · day {span(situation.day_ms)} of {span(limits.day_s * 1000)} · led: {leads}"
    )


def is_finished(situation: Situation) -> bool:
    """Return whether nothing is left to paint, also not on a canvas that is away."""
    return situation.turn is None and not (situation.away and situation.done_frac < 1)


def head_line(situation: Situation) -> str:
    """Return where the work stands: phase, pass, turn, share done, commission."""
    turn = situation.turn
    at = f"{turn.pass_name} · " if turn else ""
    count = f"turn {situation.turn_no} of {situation.turn_count}" if turn else f"{situation.turn_count} turns"
    done_frac = min(situation.done_frac, 0.99) if turn else 1  # nothing is all done while a turn is left
    phase = "finished" if is_finished(situation) else situation.phase.value
    said = f"{phase} · {at}{count} · {done_frac:.0%} done"
    return f"{said} · {situation.plan.commission}" if situation.plan.commission else said


def time_words(situation: Situation) -> str:
    """Return the words that stand largest after canvas and passage: the time on the turn, or of the rest."""
    match situation.phase:
        case Phase.RESTING:
            return f"Rest {clock(situation.off_ms)}"
        case Phase.PAUSED:
            return f"Pause {clock(situation.off_ms)}"
        case _:
            return clock(situation.turn_ms)


def time_line(situation: Situation) -> str:
    """Return what the time is measured against."""
    if situation.turn is None:
        return ""
    planned = f"of {span(situation.turn.planned_s * 1000)} planned"
    match situation.phase:
        case Phase.RESTING:
            left = situation.rest_left_ms
            return f"{span(left)} of rest left" if left > 0 else "rested; go on when you like"
        case Phase.PAUSED:
            return f"{clock(situation.turn_ms)} {planned}"
        case Phase.NOT_BEGUN:
            begun = f"{clock(situation.turn_ms)} so far, " if situation.turn_ms else ""
            return f"{begun}{planned} · Space begins a session"
        case _:
            return planned


def edge_line(edge: WetEdge) -> str:
    """Return what is wrong below a passage ahead."""
    if edge.dry_from is not None:
        possible, planned = edge.dry_from
        return (
            f"{edge.passage} lies over {edge.below} on {edge.canvas}, which is dry to touch from"
            f" {possible:%d %b} at the earliest, {planned:%d %b} by the table: wait, or feel it"
        )
    if edge.openness is Openness.SET:
        return f"{edge.passage} was to meet {edge.below} wet on {edge.canvas}, which has set by now"
    return f"{edge.passage} is to meet {edge.below} wet on {edge.canvas}, which sets soon"


def asked_line(record: TurnRecord) -> str:
    """Return the question whether a passage is dry to touch."""
    turn = record.turn
    return (
        f"is {turn.pass_name}, {turn.passages[-1]} of {local_time(record.ended):%d %b} on {turn.canvas} dry to touch?"
    )


def forgotten_line(record: TurnRecord) -> str:
    """Return what is said of a turn that took too long to be believed."""
    passages = " + ".join(record.turn.passages)
    return f"{passages} on {record.turn.canvas} took {span(record.worked_ms)} by the clock. Forgot the key?"


def night_line(situation: Situation) -> str:
    """Return how long to stay off before the next day's work."""
    between = span(situation.plan.limits.between_days_s * 1000)
    return f"{span(situation.night_left_ms)} more off would keep {between} between two days"


def away_line(situation: Situation) -> str:
    """Return which canvases are away and until when."""
    until = dict(situation.plan.away)
    return "away: " + ", ".join(f"{canvas.name} until {until[canvas.name].isoformat()}" for canvas in situation.away)


def absence_line(absence: Absence) -> str:
    """Return how long the coach was away and what that counted as."""
    if absence.ended_session:
        return f"the coach was closed for {span(absence.away_ms)}: the last session ended when it was last seen"
    if absence.away_ms == 0:
        return "the time away is not known: the clock was set back"
    return f"away {span(absence.away_ms)}, not counted as work"
